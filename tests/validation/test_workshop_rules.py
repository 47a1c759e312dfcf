"""What a shop can bend, and the rules for bought fasteners.

Numbers come from fabricators' design guides and the trade; where nothing stands behind one the
test says "common practice, no source".
"""

import pytest

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
