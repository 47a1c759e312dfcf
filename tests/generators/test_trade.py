"""Bought things by the words of the counter: lengths that a merchant has, in the thread's own unit.

Lengths of ISO 888:2012 (nominal lengths of bolts) are from memory; inch lengths are common
practice, no source.
"""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import bolt_through, lag_into, usual
from hangpost.generators.hardware.pins import pin_list
from hangpost.generators.hardware.tightening import grade_words
from hangpost.generators.hardware.trade import fastener_words, in_both, u_bolt_words, washer_words
from hangpost.generators.hardware.u_bolted import u_bolt
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.actuator import Eye
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.shop import Drawings
from hangpost.generators.survey.starter import starter
from hangpost.parts.u_bolt import UBolt

SHOP = read_shop(None)
METRIC = SHOP.model_copy(
    update={
        "fasteners": SHOP.fasteners.model_copy(
            update={"bolts": ("M10", "M12"), "lags": ("M10", "M12"), "u_bolts": ("M10",)}
        )
    }
)


def mm(words: str) -> float:
    """A length as a person reads it: "1 7/8 in", "60 mm"."""
    number, unit = words.rsplit(" ", 1)
    value = sum(Fraction(piece) for piece in number.split())
    return float(value) * {"in": 25.4, "mm": 1.0}[unit]


@pytest.mark.parametrize(
    ("size", "grip", "words"),
    [
        ("3/8", 160.0, "hex bolt 3/8 x 7 in"),
        ("1/2", 60.0, "hex bolt 1/2 x 3 1/2 in"),
        ("M10", 160.0, "hex bolt M10 x 180 mm"),
        ("M12", 50.0, "hex bolt M12 x 80 mm"),
        ("1/2", 400.0, "hex bolt 1/2 x 16 3/4 in, cut to length"),
        ("M12", 400.0, "hex bolt M12 x 425 mm, cut to length"),
    ],
)
def test_bom_bolts_are_asked_for_in_lengths_that_go_with_their_thread(size, grip, words):
    """BOM-02. Grip, two washers, nut and thread: 160 + 2 x 2.11 + 1.4 x 9.53 = 177.6, so 7 in."""
    shop = METRIC if size.startswith("M") else SHOP

    assert fastener_words(bolt_through(size, grip, shop), shop) == words


@pytest.mark.parametrize(
    ("grade", "size", "words"),
    [
        ("ASTM A307", "1/2", "ASTM A307"),
        ("ASTM A307", "M12", "ISO 898-1 class 5.8, for ASTM A307"),  # 415 MPa; 4.6 has 400
        ("ASTM A325", "M12", "ISO 898-1 class 10.9, for ASTM A325"),  # 830 MPa; 8.8 has 800
        ("ISO 898-1 8.8", "M12", "ISO 898-1 8.8"),
        ("ISO 898-1 8.8", "3/8", "ASTM A325, for ISO 898-1 8.8"),
        ("ISO 898-1 10.9", "3/8", "ISO 898-1 10.9"),  # none stands as much
        ("ISO 3506 A2-70", "3/8", "ISO 3506 A2-70"),
        ("what is at hand", "M12", "what is at hand"),
    ],
)
def test_a_grade_of_another_thread_is_answered_with_the_least_that_stands_as_much(
    grade, size, words
):
    """BOM-02. Ultimate strengths: ASTM A307 60 ksi and A325 120 ksi by AISC 360, ISO 898-1."""
    fasteners = SHOP.fasteners.model_copy(update={"bolt_grade": grade})

    assert grade_words(size, SHOP.model_copy(update={"fasteners": fasteners})) == words


def test_lags_are_asked_for_in_lengths_that_go_with_their_thread():
    assert fastener_words(lag_into("1/2", 130.0, SHOP), SHOP) == "lag screw 1/2 x 5 in"
    assert fastener_words(lag_into("M12", 128.0, METRIC), METRIC) == "lag screw M12 x 120 mm"


def test_lengths_of_the_shop_file_stand_for_either_thread():
    fasteners = METRIC.fasteners.model_copy(update={"bolt_lengths": (75.0, 185.0)})
    shop = METRIC.model_copy(update={"fasteners": fasteners})

    assert fastener_words(bolt_through("M10", 40.0, shop), shop) == "hex bolt M10 x 75 mm"
    assert fastener_words(bolt_through("1/2", 160.0, shop), shop) == "hex bolt 1/2 x 7 9/32 in"


@given(st.sampled_from(["3/8", "3/4", "M12"]), st.floats(1.0, 500.0))
def test_a_bolt_is_never_shorter_than_what_it_holds(size, grip):
    shop = METRIC if size.startswith("M") else SHOP
    bolt = bolt_through(size, grip, shop)
    said = re.fullmatch(r"hex bolt \S+ x (.+?)(, cut to length)?", fastener_words(bolt, shop))

    assert said and mm(said[1]) == pytest.approx(bolt.length, abs=0.01)
    assert bolt.length >= grip + 2 * bolt.head.washer_thickness + bolt.diameter


@pytest.mark.parametrize("post", ["timber", "round_steel", "square_steel"])
@pytest.mark.parametrize("shop", [SHOP, METRIC])
def test_nothing_on_the_list_is_asked_for_in_the_unit_of_another_thread(post, shop):
    site = site_from_bytes(starter(post=post).encode())
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    other = " in" if shop is METRIC else " mm"
    bought = [b.name for leaf in design.leaves for b in leaf.bought]
    fasteners = [n for n in bought if n.startswith(("hex bolt", "lag screw", "washer for"))]
    threaded = [n for n in fasteners if " pin" not in n]

    assert len(threaded) >= 3
    assert not [n for n in threaded if other in n]
    for name in (n for n in bought if n.startswith(("clevis pin", "bush"))):
        assert re.search(r"\d in \(.* mm\)", name), name  # the drawings of both shops are in inches


def test_a_pin_is_asked_for_by_the_yield_of_its_merchant_and_its_bush_clears_the_leaf():
    """45 ksi is 310 MPa (1 ksi = 6.894757 MPa, NIST SP 811); a bush is no wider than its eye."""
    eye = Eye(pin=12.7, thickness=19.0, radius=18.0, to_body=45.0)
    for units, said in (("in", "at least 45 ksi (310 MPa)"), ("mm", "at least 310 MPa")):
        shop = SHOP.model_copy(update={"drawings": Drawings(units=units)})
        pin, _, bush = pin_list(eye, 60.0, 8.0, shop)
        assert said in pin.grade
        assert "36 mm" in bush.note and "outside" in bush.note


def test_other_things_are_told_in_both_units():
    """A 1/2 in wide washer is 1 3/8 in (ASME B18.22.1, memory), an M12 one 37 mm (ISO 7093-1)."""
    half, twelve = (bolt_through(s, 60.0, SHOP) for s in ("1/2", "M12"))

    assert washer_words(half) == "washer for 1/2, 1 3/8 in outside"
    assert washer_words(twelve) == "washer for M12, 37 mm outside"
    assert in_both(12.0, "in") == "0.472 in (12 mm)" and in_both(12.7, "mm") == "12.7 mm (0.5 in)"
    assert in_both(41.275, "in") == "1 5/8 in (41.3 mm)"
    bolt = UBolt(size="1/2", outside=88.9)
    said = u_bolt_words(bolt, 30.0)
    assert said.startswith(f"U-bolt 1/2, {in_both(round(bolt.inside, 1), 'in')} inside, legs ")
    leg = mm(said.partition("legs ")[2].partition(" (")[0])
    assert bolt.leg(30.0) <= leg < bolt.leg(30.0) + 25.4 / 16


@pytest.mark.parametrize(
    ("size", "outside", "least"),
    [("M10", 42.4, 26.67), ("M10", 48.3, 26.67), ("3/8", 42.2, 25.4), ("M12", 48.3, 32.0)],
)
def test_legs_keep_their_distance_from_the_locking_bolt_between_them(size, outside, least):
    """AISC 360-16 J3.3: hole centres 2 2/3 d apart. On a thinner tube the bend is a little loose."""
    bolt = u_bolt(size, outside)

    assert bolt.pitch / 2 >= least - 0.005
    assert outside + 1.0 <= bolt.inside <= outside + 4.0
    assert u_bolt(size, 88.9) == UBolt(size=size, outside=88.9)


@pytest.mark.parametrize(("shop", "step"), [(SHOP, 25.4 / 16), (METRIC, 1.0)])
def test_locking_bolts_are_cut_to_whole_marks(shop, step):
    text = starter(post="round_steel").replace('#fixing = "saddle"', 'fixing = "clamp"')
    site = site_from_bytes(text.encode())
    solved = solve_gate(site, shop)
    (leaf,) = design_gate(site, shop, solved, [usual(shop)] * len(solved)).leaves
    (said,) = {b.name for b in leaf.bought if "full thread" in b.name}
    (bent,) = {b.grade for b in leaf.bought if b.name.startswith("U-bolt")}
    length = mm(said.partition(" x ")[2].partition(",")[0])

    assert bent == grade_words("M10" if shop is METRIC else "1/2", shop)
    assert length / step == pytest.approx(round(length / step), abs=1e-6)


@pytest.mark.parametrize(
    ("size", "nut", "pitch"),
    [("3/8", 11.8, 1.588), ("1/2", 15.2, 1.954), ("3/4", 22.4, 2.54), ("M12", 14.9, 1.75)],
)
def test_through_bolts_come_out_of_the_ring_of_their_nut(
    size: str, nut: float, pitch: float
) -> None:
    """Greatest heights of nuts with a locking ring, ASME B18.16.6 and ISO 7040 (memory)."""
    for grip in (51.0, 63.5, 97.0, 128.3, 141.0, 183.0):
        bolt = bolt_through(size, grip, SHOP)

        assert bolt.length - grip - 2 * bolt.head.washer_thickness >= nut + pitch, grip
