"""A check in words: units people speak, held against NIST SP 811 (2008), appendix B.8.

There 1 lbf = 4.448 222 N, 1 lbf ft = 1.355 818 N m, 1 psi = 6.894 757 kPa, 1 in = 25.4 mm.
"""

import re
from dataclasses import replace
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.checks import SHARE, Check
from hangpost.generators.survey.display import both, degrees_words, quantity, shop_first
from hangpost.generators.told import figures, name_of, named, told

CHECK = Check(
    id="strength: hanging post torsion",
    what="hanging post twisted: actuator stalled",
    value=909_797.47906,
    limit=385_209.234872,
    unit="N mm",
    source="x",
    warning=True,
)


@pytest.mark.parametrize(
    ("value", "unit", "units", "words"),
    [
        (909_797.479, "N mm", "mm", "909.8 N m"),
        (909_797.479, "N mm", "in", "671 lbf ft"),  # 909.797 / 1.355818 = 671.03
        (22_291_655.5, "N mm", "mm", "22.29 kN m"),
        (22_291_655.5, "N mm", "in", "16441 lbf ft"),  # 22291.66 / 1.355818 = 16441.48
        (982.9, "N", "mm", "982.9 N"),
        (43_689.34, "N", "mm", "43.69 kN"),
        (2002.0, "N", "in", "450.1 lbf"),  # 2002 / 4.448222 = 450.07
        (1.4833, "MPa", "in", "215.1 psi"),  # 1483.3 / 6.894757 = 215.13
        (135.11, "MPa", "in", "19.6 ksi"),  # 135110 / 6894.757 = 19.596
        (135.11, "MPa", "mm", "135.1 MPa"),
        (48.0, "mm", "in", "1.89 in"),
        (548.013, "N/mm", "in", "3129 lbf/in"),  # 548.013 x 25.4 / 4.448222 = 3129.2
        (36.18, "degrees", "in", "36.18 degrees"),
        (0.9168, "", "in", "0.9168"),
    ],
)
def test_a_value_is_told_in_the_unit_people_speak_of(value, unit, units, words):
    assert " ".join(quantity(value, unit, units)).strip() == words


@given(
    value=st.floats(1e-3, 1e9),
    limit=st.floats(1e-3, 1e9),
    unit=st.sampled_from(("N mm", "N", "MPa", "mm", "N/mm", "")),
    units=st.sampled_from(("in", "mm")),
)
def test_value_and_limit_share_a_unit_and_none_has_an_exponent(value, limit, unit, units):
    said = figures(replace(CHECK, value=value, limit=limit, unit=unit), units)
    one, two = re.fullmatch(r"[\d.]+ ?(.*), at most [\d.]+ ?(.*)", said).groups()
    assert one == two
    assert not re.search(r"\de[+-]?\d", said)


def test_a_warning_is_read_in_one_glance_on_a_terminal():
    """The name, what was found, what is allowed and the share stand in one line of 80 columns."""
    line = named(CHECK, "in")
    assert line == "hanging post torsion: 671 lbf ft, at most 284.1 lbf ft, 236 % used"
    assert len(f"  WARN  {line}") <= 80
    assert told(CHECK, "mm") == (
        "Hanging post twisted: actuator stalled: 909.8 N m, at most 385.2 N m is wanted"
    )


def test_a_share_of_what_holds_is_told_in_percent_and_that_a_reserve_stays():
    """Shares of several limits added come to 0.9849 where 1 over a reserve of 1.1 is allowed."""
    added = replace(CHECK, value=0.9849, limit=1 / 1.1, unit=SHARE)
    said = "hanging post torsion: 98.49 %, at most 90.91 % with the reserve, 108 % used"
    assert [named(added, units) for units in ("in", "mm")] == [said, said]


def test_what_is_short_of_a_least_of_nought_is_not_told_as_unused():
    """A leaf 4.8 mm into its post, at least 0: no share of that is 0 % used."""
    room = replace(CHECK, value=-4.8, limit=0.0, unit="mm", at_least=True)
    assert room.utilisation == inf and named(room, "mm") == (
        "hanging post torsion: -4.8 mm, at least 0 mm"
    )
    assert replace(room, value=0.0).utilisation == replace(room, value=3.0).utilisation == 0.0


def test_what_was_not_judged_has_no_figures():
    lost = replace(CHECK, value=nan)
    assert named(lost, "in") == "hanging post torsion"
    assert told(lost, "in") == "Hanging post twisted: actuator stalled"


def test_less_than_half_a_sixteenth_is_not_told_as_nothing():
    assert both(0.3, "mm") == "0.3 mm (0.012 in)"
    assert both(0.3, "in") == "0.012 in (0.3 mm)"
    assert both(0.0, "in") == "0 in (0 mm)"


def test_a_sentence_says_the_readers_unit_first():
    said = (
        "The least leverage is 156.4 mm (6 3/16 in); it takes 188 N m (138.7 lbf ft), 2224 N "
        "(500 lbf) and -5 mm (-3/16 in), the best there is (173.8 mm (6 13/16 in)); in 99 of 100."
    )
    assert shop_first(said, "mm") == said
    assert shop_first(said, "in") == (
        "The least leverage is 6 3/16 in (156.4 mm); it takes 138.7 lbf ft (188 N m), 500 lbf "
        "(2224 N) and -3/16 in (-5 mm), the best there is (6 13/16 in (173.8 mm)); in 99 of 100."
    )


# Factors of NIST SP 811 (2008), appendix B.8: 25.4 mm/in, 4.4482216 N/lbf, 0.45359237 kg/lb,
# 1.355818 N m/(lbf ft).
@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("bent over the gap of 16.9 mm beside", "bent over the gap of 11/16 in (16.9 mm) beside"),
        ("at 145 and 1195 mm, by", "at 5 11/16 and 47 1/16 in (145 and 1195 mm), by"),
        ("a bar 60 x 10 mm of", "a bar 2 3/8 x 3/8 in (60 x 10 mm) of"),
        ("moves at up to 233 mm/s; no", "moves at up to 9.173 in/s (233 mm/s); no"),
        ("it weighs 11.21 kg, and", "it weighs 24.71 lb (11.21 kg), and"),
        ("moment 1418 N m against", "moment 1046 lbf ft (1418 N m) against"),
        ("an actuator of 350 N thrust", "an actuator of 78.68 lbf (350 N) thrust"),
        ("in one another by 19646 mm3", "in one another by 1.199 in3 (19646 mm3)"),
        # told in both already, or the name of a thing, or no length at all
        ("1/2 in (12.7 mm) plate", "1/2 in (12.7 mm) plate"),
        ("12.7 mm (1/2 in) plate", "1/2 in (12.7 mm) plate"),
        ("hex bolt M10 x 240 mm", "hex bolt M10 x 240 mm"),
        ("bearing 5.2 N/mm2 on 40 mm2", "bearing 5.2 N/mm2 on 40 mm2"),
    ],
)
def test_who_works_in_inches_reads_no_bare_millimetres(said: str, read: str) -> None:
    assert shop_first(said, "in") == read
    assert shop_first(said, "mm") == said


def test_one_degree_is_singular_and_a_leaf_is_set_off_from_its_bracket() -> None:
    assert [degrees_words(a) for a in (0.0, 0.96, 1.6, 39.0)] == [
        "0 degrees", "1 degree", "2 degrees", "39 degrees",
    ]  # fmt: skip
    of_two = replace(CHECK, id="strength: left-hand leaf leaf bracket pin shear")
    assert name_of(of_two) == "left-hand leaf, leaf bracket pin shear"
    assert name_of(CHECK) == "hanging post torsion"
