"""What a shop can cut, bend and galvanise, and the rules for bought fasteners.

Numbers come from fabricators' design guides and the trade; where nothing stands behind one the
test says "common practice, no source".
"""

import pytest

from hangpost.generators.strength import fastenings, workshop
from hangpost.generators.strength.inch import INCH


@pytest.mark.parametrize(
    ("thickness", "die", "flange"), [(6.0, 48.0, 33.9), (6.0, 30.0, 24.0), (3.0, 24.0, 17.0)]
)
def test_least_flange_spans_the_die(thickness: float, die: float, flange: float) -> None:
    """GEO-09, DXF-11: design guides: 4 t; die / sqrt 2 is common practice, no source."""
    assert workshop.least_flange(thickness, die=die) == pytest.approx(flange, abs=0.06)


def test_usual_die_is_eight_thicknesses() -> None:
    """Common practice, no source."""
    assert workshop.die_opening(6.0) == 48.0
    assert workshop.die_opening(12.0) == 120.0


def test_hole_stays_clear_of_the_bend() -> None:
    """GEO-09, DXF-11: design guides: 2 t from the start of the radius, 2 t + R from the bend line."""
    assert workshop.hole_to_bend(6.0, 9.0) == 21.0
    assert workshop.hole_to_bend_at(6.0, 9.0, 90.0) == pytest.approx(12.0 + 15.0)


@pytest.mark.parametrize(
    ("process", "hole"), [("laser", 8.0), ("waterjet", 8.0), ("plasma", 12.0), ("hand", 2.0)]
)
def test_smallest_hole_by_process(process: str, hole: float) -> None:
    """DXF-14: laser 1 t (design guide); plasma 1.5 t (memory); waterjet 1 t (shop checklist); drills any."""
    assert workshop.least_hole(8.0, process) == hole


def test_smallest_laser_hole_of_thin_sheet_is_a_millimetre() -> None:
    """Design guide: 1 mm at least."""
    assert workshop.least_hole(0.5, "laser") == 1.0


def test_hole_to_edge_and_web() -> None:
    """Design guide: max(1.5 t, 1 diameter) to the edge; web 1 t (checklist)."""
    assert workshop.hole_to_edge(6.0, 8.0) == 9.0
    assert workshop.hole_to_edge(6.0, 13.5) == 13.5
    assert workshop.web(6.0) == 6.0


def test_unknown_process_is_answered_with_the_known() -> None:
    with pytest.raises(KeyError, match="plasma"):
        workshop.least_hole(6.0, "chisel")


def test_least_radius_is_larger_along_the_grain() -> None:
    """Design guides: max(0.5 t, 0.8 mm) for low-carbon steel, conservatively 1 t."""
    assert workshop.least_radius(6.0, along_grain=False) == 3.0
    assert workshop.least_radius(6.0, along_grain=True) == 6.0
    assert workshop.least_radius(1.0, along_grain=False) == 0.8


def test_relief_reaches_past_the_bend() -> None:
    """GEO-09, DXF-11: common practice, no source."""
    assert workshop.relief_width(6.0) == 6.0
    assert workshop.relief_width(1.0) == 1.5
    assert workshop.relief_depth(6.0, 9.0) == 15.0


def test_flat_fits_the_sheet_either_way_round() -> None:
    assert workshop.fits_sheet(900, 2000, (2500, 1250), margin=10)
    assert not workshop.fits_sheet(1240, 2000, (2500, 1250), margin=10)


def test_zinc_takes_room() -> None:
    """Galvanising practice: bolts 1/16 in, moving pins to 2 mm; vents a quarter of the tube."""
    assert workshop.zinc_hole_growth(12.7, moving=False) == pytest.approx(INCH / 16)
    assert workshop.zinc_hole_growth(12.7, moving=True) == 2.0
    assert workshop.zinc_vent_hole(80) == 20
    assert workshop.zinc_vent_hole(25) == 10
    assert (workshop.zinc_corner_crop(6), workshop.zinc_corner_crop(4)) == (19, 13)


def test_treated_timber_gets_no_plain_or_plated_steel() -> None:
    """BOM-02: IRC R317.3 practice (memory) and association pages: hot-dip or stainless only."""
    allowed = fastenings.allowed_finishes("treated timber", "galvanised")

    assert "hot-dip" in allowed
    assert not {"plain", "zinc-plated"} & set(allowed)
    assert "preservative" in fastenings.reason("treated timber", "painted")


def test_galvanised_steel_gets_galvanised_or_stainless() -> None:
    """BOM-02."""
    assert "zinc-plated" not in fastenings.allowed_finishes("steel", "galvanised")
    assert "zinc-plated" in fastenings.allowed_finishes("steel", "painted")


def test_unknown_host_is_answered_with_the_known() -> None:
    with pytest.raises(KeyError, match="treated timber"):
        fastenings.allowed_finishes("chalk", "bare")


@pytest.mark.parametrize(("outside", "covers"), [(38.0, False), (70.0, True)])
def test_washer_must_cover_its_slot_at_both_ends(outside: float, covers: bool) -> None:
    """DXF-12: AISC J3.2. Slot 13.5 wide, 24 between centres: a round 38 mm washer shows daylight."""
    assert (fastenings.washer_cover(outside, 13.5, 24.0) >= 0) is covers
    assert (
        fastenings.washer_cover(fastenings.washer_needed(13.5, 24.0, cover=1.0), 13.5, 24.0) == 1.0
    )


def test_washer_stays_on_its_plate() -> None:
    to_bend, to_edge = fastenings.washer_stays_on(40, 24, to_bend=25, to_edge=30)

    assert (to_bend, to_edge) == (5, -2)


def test_bolt_shows_two_threads() -> None:
    """Common practice, no source."""
    assert fastenings.bolt_length(50, 10, 5, 1.75) == pytest.approx(68.5)


def test_tightening_says_where_its_figure_comes_from() -> None:
    assert "maker" in fastenings.tightening("treated timber", 10_000, 12)
    assert fastenings.tightening("steel", 20_000, 12).startswith("about 48 N m")
