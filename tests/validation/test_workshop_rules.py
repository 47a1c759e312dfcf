"""What a shop can bend, and the rules for bought fasteners.

Numbers come from fabricators' design guides and the trade; where nothing stands behind one the
test says "common practice, no source".
"""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import affinity, box

from hangpost.generators.strength import fastenings, workshop


def test_least_radius_is_larger_along_the_grain() -> None:
    """Design guides: max(0.5 t, 0.8 mm) for low-carbon steel, conservatively 1 t."""
    assert workshop.least_radius(6.0, along_grain=False) == 3.0
    assert workshop.least_radius(6.0, along_grain=True) == 6.0
    assert workshop.least_radius(1.0, along_grain=False) == 0.8


def test_flat_fits_the_sheet_either_way_round() -> None:
    assert workshop.fits_sheet(900, 2000, (2500, 1250), margin=10)
    assert not workshop.fits_sheet(1240, 2000, (2500, 1250), margin=10)


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


def test_tightening_says_where_its_figure_comes_from() -> None:
    assert "maker" in fastenings.tightening("treated timber", 10_000, 12)
    assert fastenings.tightening("steel", 20_000, 12).startswith("about 48 N m")


@given(st.floats(5, 400), st.floats(5, 400), st.floats(50, 300), st.floats(50, 300))
@example(100.0, 100.0, 55.0, 55.0)
def test_a_block_turned_as_told_lies_on_the_bed_and_else_no_turn_helps(
    length: float, width: float, along: float, across: float
) -> None:
    """MSH-02: by shapely, which turns the rectangle."""
    block, bed = box(0, 0, *sorted((length, width))[::-1]), sorted((along, across))[::-1]
    turn = workshop.turn_on_bed(length, width, (along, across))

    def sides(degrees: float) -> tuple[float, float]:
        left, low, right, high = affinity.rotate(block, degrees).bounds
        return right - left, high - low

    if turn is None:
        for tenth in range(0, 901):
            took = sides(tenth / 10)
            assert not (took[0] <= bed[0] and took[1] <= bed[1])
        return
    took = sides(turn)
    assert took[0] <= bed[0] + 1e-6 and took[1] <= bed[1] + 1e-6
    assert workshop.across_bed(length, width, turn) == pytest.approx(took[1])


@pytest.mark.parametrize(
    ("length", "turned"), [(219.0, False), (222.0, True), (240.0, True), (262.0, None)]
)
def test_a_long_block_lies_across_the_corners_of_a_square_bed(
    length: float, turned: bool | None
) -> None:
    """On a square at 45 degrees (length + width) / sqrt 2 is to fit: 311.1 - 50 = 261.1."""
    turn = workshop.turn_on_bed(length, 50.0, (220.0, 220.0))

    assert (None if turn is None else turn > 0.0) == turned
