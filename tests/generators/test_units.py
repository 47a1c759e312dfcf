# ruff: noqa: RUF001 - primes and dashes are what people type
"""Quantities as people write them, there and back."""

from fractions import Fraction
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.survey.display import both, inches, plain, say
from hangpost.generators.survey.units import (
    BARE,
    FACTORS,
    POUND_FORCE,
    Kind,
    Measure,
    QuantityError,
    Units,
    parse,
)


def is_read_or_refused(text: str, kind: Kind, units: Units) -> bool:
    """Tell whether a text makes a finite number or a reason in words, and nothing else."""
    try:
        return isfinite(parse(text, kind, units))
    except QuantityError as reason:
        return bool(str(reason))


LENGTHS = [
    ("5 1/2", 139.7),
    ("5-1/2 in", 139.7),
    ("5½", 139.7),
    ("5 ½″", 139.7),
    ("⅜", 9.525),
    ("63-1/2in", 1612.9),
    ("5' 3-1/2\"", 1612.9),
    ("5′ 3½″", 1612.9),
    ("5 ft 3 1/2 in", 1612.9),
    ("5'3.5", 1612.9),
    ("5 feet 3.5 inches", 1612.9),
    ("7-0-1/2ft", 2146.3),
    ("1612.9mm", 1612.9),
    ("161.29 cm", 1612.9),
    ("161,29 cm", 1612.9),
    ("1.6129 m", 1612.9),
    ("12 ft", 3657.6),
    ("-6 3/8", -161.925),
    ("−6 3/8", -161.925),
    ("3''", 76.2),
    (" 0,125 in ", 3.175),
    (".5", 12.7),
    (2, 50.8),
    (2.5, 63.5),
]


# 25.4 mm to the inch, exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(("text", "millimetres"), LENGTHS)
def test_a_length_is_read_as_it_is_written(text: str | float, millimetres: float) -> None:
    """IN-01: feet, fractions, glyphs, decimal commas."""
    assert parse(text, "length", "in") == pytest.approx(millimetres, abs=1e-9)


# NIST SP 811, Appendix B: exact and rounded conversion factors.
@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("180 lb", "mass", 81.6466266),
        ("1 lbf", "force", 4.448222),
        ("560 lb", "force", 560 * 4.4482216152605),
        ("2.5 kN", "force", 2500.0),
        ("1 kgf", "force", 9.80665),
        ("25 mph", "wind", 25 * 447.04),
        ("90 km/h", "wind", 25_000.0),
        ("30 ft/min", "speed", 30 * 5.08),
        ("16 mm/s", "speed", 16.0),
        ("0.6 in/s", "speed", 15.24),
        ("1 ksi", "stress", 6.894757),
        ("250 N/mm²", "stress", 250.0),
        ("95°", "angle", 95.0),
        ("95 deg", "angle", 95.0),
        ("35 %", "share", 0.35),
        ("2 min", "time", 120.0),
    ],
)
def test_every_kind_of_quantity_takes_its_units(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind, "in") == pytest.approx(value, rel=2e-7)


@pytest.mark.parametrize(
    ("kind", "in_inches", "in_mm"),
    [
        ("length", 25.4, 1.0),
        ("mass", 0.45359237, 1.0),
        ("force", POUND_FORCE, 1.0),
        ("speed", 25.4, 1.0),
        ("wind", 447.04, 1000.0),
    ],
)
def test_a_bare_number_is_in_the_units_of_the_file(
    kind: Kind, in_inches: float, in_mm: float
) -> None:
    assert parse(1, kind, "in") == pytest.approx(in_inches, abs=1e-9)
    assert parse("1", kind, "mm") == pytest.approx(in_mm, abs=1e-9)


@pytest.mark.parametrize(
    ("given_", "kind", "why"),
    [
        ("", "length", "is empty"),
        ("  ", "length", "is empty"),
        ("about 5", "length", "cannot be read"),
        ("5' 14\"", "length", "twelve inches or more"),
        ("5' 3 mm", "length", "feet and inches"),
        ("1,250", "length", "thousands or decimals"),
        ("1,250.5 mm", "length", "unit of length"),
        ("5 3/2", "length", "fraction of one or more"),
        ("5'14\"", "length", "twelve inches or more"),
        ("1/0", "length", "divides by zero"),
        ("1e3", "length", "unit of length"),
        ("5 furlongs", "length", '"furlongs" where a unit of length'),
        ("20 kg", "force", "unit of force"),
        ("20 lbf", "mass", "unit of mass"),
        ("5 5", "length", "unit of length"),
        ("0x10", "length", "unit of length"),
        ("٣", "length", "cannot be read"),  # an Arabic digit three
        ("5 ± 1 ± 1", "length", "more than one plus-minus"),
        ("5 ± -1", "length", "negative plus-minus"),
        ("9" * 61, "length", "longer than"),
        (True, "length", "is not a length"),
        (None, "length", "is not a length"),
        ([5], "length", "is not a length"),
        (float("nan"), "length", "not a finite number"),
        (float("inf"), "mass", "not a finite number"),
        (10**400, "length", "too large"),
    ],
)
def test_what_is_no_quantity_is_refused_in_words(given_: object, kind: Kind, why: str) -> None:
    """IN-01: what can be read two ways or not at all is refused."""
    with pytest.raises(QuantityError, match=why):
        parse(given_, kind, "in")


@pytest.mark.parametrize(
    ("text", "units", "value", "spread"),
    [
        ("5 1/2 +- 1/16", "in", 139.7, 1.5875),
        ("5 1/2 ± 1/16", "in", 139.7, 1.5875),
        ("5 1/2 in +/- 2 mm", "in", 139.7, 2.0),
        ("140 mm ± 1", "in", 140.0, 1.0),
        ("140 ± 1", "mm", 140.0, 1.0),
        ("5' 3\" ± 1/8", "mm", 1600.2, 3.175),
    ],
)
def test_a_plus_minus_travels_with_its_value(
    text: str, units: Units, value: float, spread: float
) -> None:
    measure = parse(text, "length", units)

    assert measure == pytest.approx(value, abs=1e-9)
    assert measure.plus_minus == pytest.approx(spread, abs=1e-9)


@given(st.fractions(min_value=-4000, max_value=4000, max_denominator=1))
def test_a_whole_inch_comes_back_exactly(size: Fraction) -> None:
    shown = inches(float(size) * 25.4)

    assert parse(shown.text, "length", "in") == pytest.approx(float(size) * 25.4, abs=1e-6)
    assert shown.error == pytest.approx(0.0, abs=1e-6)


@given(
    st.floats(min_value=-60_000, max_value=60_000),
    st.sampled_from([16, 32, 64]),
    st.booleans(),
)
def test_inches_come_back_within_half_a_part_and_tell_the_error(
    length: float, parts: int, feet: bool
) -> None:
    shown = inches(length, parts=parts, feet=feet)
    again = float(parse(shown.text, "length", "in"))

    assert abs(shown.error) <= 25.4 / parts / 2 + 1e-9
    assert again == pytest.approx(length + shown.error, abs=1e-6)
    assert not shown.text.startswith("-0") or "/" in shown.text


@given(st.sampled_from(sorted(FACTORS)), st.sampled_from(["in", "mm"]), st.integers(1, 99_999))
def test_what_is_said_is_read_again(kind: Kind, units: Units, thousandths: int) -> None:
    value = thousandths / 1000 * FACTORS[kind][BARE[units][kind]]

    assert parse(say(value, kind, units), kind, units) == pytest.approx(value, rel=1e-6)


@given(st.text(max_size=80), st.sampled_from(sorted(FACTORS)), st.sampled_from(["in", "mm"]))
def test_any_text_is_read_or_refused(text: str, kind: Kind, units: Units) -> None:
    assert is_read_or_refused(text, kind, units)


@given(st.text(alphabet="0123456789 -/.,'\"½±+inftmc", max_size=24))
def test_near_quantities_are_read_or_refused(text: str) -> None:
    assert is_read_or_refused(text, "length", "in")


def test_both_systems_stand_side_by_side() -> None:
    assert both(139.7, "in") == "5 1/2 in (139.7 mm)"
    assert both(139.7, "mm") == "139.7 mm (5 1/2 in)"
    assert inches(3746.5, feet=True).text == "12' 3 1/2\""
    assert plain(-0.0001) == "0"
    assert (plain(-1e308), plain(999_999_999_999.0)) == ("-1.000e+308", "999999999999")


def test_a_half_is_printed_alike_whatever_dust_it_carries() -> None:
    said = {plain(way * value) for way in (1, -1) for value in (28.825, 28.825 - 4e-10, 28.8250004)}
    assert said == {"28.83", "-28.83"}


def test_a_copy_keeps_the_plus_minus() -> None:
    import copy
    import pickle

    measure = Measure(10.0, 0.5)

    assert copy.deepcopy(measure).plus_minus == 0.5
    assert pickle.loads(pickle.dumps(measure)).plus_minus == 0.5
