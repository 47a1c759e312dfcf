"""The tables of the trade against outside numbers, each with where it was read."""

from itertools import pairwise
from math import pi
from pathlib import Path

import pytest

from hangpost.parts import tables

INCH = 25.4


# PS 20 American Softwood Lumber Standard, size table as reprinted by engineeringtoolbox.com.
@pytest.mark.parametrize(
    ("nominal", "dry", "green"),
    [(4, 3.5, 3.5625), (6, 5.5, 5.5), (8, 7.25, 7.5)],
)
def test_dressed_sizes_are_those_of_ps_20(nominal: int, dry: float, green: float) -> None:
    assert tables.dressed(nominal) == pytest.approx(dry * INCH, abs=1e-9)
    assert tables.dressed(nominal, green=True) == pytest.approx(green * INCH, abs=1e-9)


# PS 20, same table: nominal 5 and 6 lose 1/2 in; 7 to 15 lose 3/4 in dry and 1/2 in green.
@pytest.mark.parametrize("nominal", [5, 6, 8, 10, 12])
def test_timbers_follow_the_dressing_rule_of_ps_20(nominal: int) -> None:
    off_dry = 0.5 if nominal <= 6 else 0.75

    assert tables.dressed(nominal) == pytest.approx((nominal - off_dry) * INCH, abs=1e-9)
    assert tables.dressed(nominal, green=True) == pytest.approx((nominal - 0.5) * INCH, abs=1e-9)


# ASME B36.10M as reprinted in the shapes data of the open library steelsnakes (PIPE.json).
@pytest.mark.parametrize(
    ("nps", "outside", "wall_40", "wall_80"),
    [
        ("3", 3.5, 0.216, 0.300),
        ("3-1/2", 4.0, 0.226, 0.318),
        ("4", 4.5, 0.237, 0.337),
        ("5", 5.563, 0.258, 0.375),
        ("6", 6.625, 0.280, 0.432),
    ],
)
def test_pipes_are_those_of_b36_10(
    nps: str, outside: float, wall_40: float, wall_80: float
) -> None:
    pipe = tables.pipe(nps)

    assert pipe.outside == pytest.approx(outside * INCH, abs=1e-9)
    assert pipe.wall("40") == pytest.approx(wall_40 * INCH, abs=1e-9)
    assert pipe.wall("80") == pytest.approx(wall_80 * INCH, abs=1e-9)


# Weight of schedule 40 pipe in lb/ft, ASME B36.10M table (public reprint). Steel 490 lb/ft3;
# the table rounds to four figures, so a third of a per cent covers it. This checks the rows whose
# diameter and wall were set down from memory by something that was read.
@pytest.mark.parametrize(
    ("nps", "pounds_per_foot"),
    [("2-1/2", 5.793), ("3-1/2", 9.109), ("4", 10.79), ("5", 14.62), ("6", 18.97)],
)
def test_pipe_weight_agrees_with_the_table_of_weights(nps: str, pounds_per_foot: float) -> None:
    pipe = tables.pipe(nps)
    outside, wall = pipe.outside / INCH, pipe.wall("40") / INCH
    weight = pi * (outside - wall) * wall * 12 * 490 / 1728

    assert weight == pytest.approx(pounds_per_foot, rel=0.0035)


# ISO 273 fine / medium / coarse as tabulated at engineeringhardware.com.
@pytest.mark.parametrize(
    ("size", "fine", "medium", "coarse"),
    [
        ("M6", 6.4, 6.6, 7.0),
        ("M8", 8.4, 9.0, 10.0),
        ("M12", 13.0, 13.5, 14.5),
        ("M14", 15.0, 15.5, 16.5),
        ("M16", 17.0, 17.5, 18.5),
    ],
)
def test_metric_holes_are_those_of_iso_273(
    size: str, fine: float, medium: float, coarse: float
) -> None:
    assert [tables.hole(size, fit) for fit in ("close", "normal", "loose")] == [
        fine,
        medium,
        coarse,
    ]


# ASME B18.2.8 normal series, metric drill of Machinery's Handbook 31 p. 1741 and 1743, Table 3a:
# the nearest metric drill, so a tenth of a millimetre covers the difference.
@pytest.mark.parametrize(
    ("size", "drill"),
    [("1/4", 7.1), ("3/8", 10.2), ("7/16", 11.8), ("1/2", 14.25), ("5/8", 17.5), ("3/4", 20.5)],
)
def test_inch_normal_holes_are_near_the_metric_drill(size: str, drill: float) -> None:
    assert tables.hole(size, "normal") == pytest.approx(drill, abs=0.18)


# ASME B18.2.8 normal series, drill in inches, same pages.
@pytest.mark.parametrize(("size", "drill"), [("1/4", 9 / 32), ("5/16", 11 / 32), ("7/16", 15 / 32)])
def test_inch_normal_holes_are_those_of_b18_2_8(size: str, drill: float) -> None:
    assert tables.hole(size, "normal") == pytest.approx(drill * INCH, abs=1e-9)


# ASME B18.2.8 loose series, least and greatest hole, same pages.
@pytest.mark.parametrize(
    ("size", "least", "greatest"),
    [
        ("1/4", 0.297, 0.311),
        ("5/16", 0.359, 0.373),
        ("7/16", 0.484, 0.500),
        ("5/8", 0.734, 0.754),
        ("3/4", 0.906, 0.926),
    ],
)
def test_inch_loose_holes_lie_between_least_and_greatest(
    size: str, least: float, greatest: float
) -> None:
    # the series is named by its least hole; the page gives three places
    assert tables.hole(size, "loose") / INCH == pytest.approx(least, abs=0.0005)
    assert tables.hole(size, "loose") / INCH < greatest


def test_every_hole_grows_with_its_series_and_its_size() -> None:
    for standard in ("ISO 273", "ASME B18.2.8"):
        fits = [fit for fit in tables.hole_fits() if fit.standard == standard]

        assert all(tables.shank(f.size) < f.close < f.normal < f.loose for f in fits)
        assert all(a.normal < b.normal for a, b in pairwise(fits))


@pytest.mark.parametrize("diameter", [9.525, 12.0, 12.7, 13.3, 20.0, 40.0])
def test_a_pin_of_any_diameter_gets_room(diameter: float) -> None:
    assert 0.3 <= tables.pin_hole(diameter) - diameter <= 3.0


def test_a_pipe_is_found_by_name_and_by_diameter() -> None:
    assert tables.pipe("DN 80") == tables.pipe("3") == tables.pipe_by_outside(88.5)
    assert tables.pipe("2 1/2").nps == "2-1/2"
    assert tables.pipe_by_outside(80.0) is None


def test_an_unlisted_size_is_refused_with_the_listed_ones() -> None:
    with pytest.raises(tables.SizeError, match="7 is not listed; 1, 2, 3"):
        tables.dressed(7)
    with pytest.raises(tables.SizeError, match="M7 is not listed"):
        tables.hole("M7")
    with pytest.raises(tables.SizeError, match="9 is not listed"):
        tables.pipe("9")


@pytest.mark.parametrize(
    ("name", "standard"),
    [("timber_sizes", "PS 20"), ("pipe", "ASME B36.10M"), ("hole_fits", "ISO 273")],
)
def test_each_table_names_its_standard_and_says_what_was_read(name: str, standard: str) -> None:
    first, *_ = Path(tables.__file__).with_name(f"{name}.csv").read_text("utf-8").splitlines()

    assert first.startswith(f"# {standard}")
    assert {row["status"] for row in tables.rows(name)} <= {"read", "part", "library", "memory"}
