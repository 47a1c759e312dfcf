"""What was set down from memory with no outside number at hand: properties that must hold.

The table generators/strength/remembered.csv says what hangs on each. No test here holds the number.
"""

from itertools import pairwise
from math import pi

import numpy as np
import pytest
from scipy.integrate import quad

from hangpost.generators.strength import timber_spacing, wind
from hangpost.generators.strength.tables import row, table

# Outside of the pin in its hole and its wall, mm: nominal sizes of the trade, no source at hand.
PINS = {"5": (5.0, 1.0), "6": (6.0, 1.2), "8": (8.0, 1.5), "1/4": (6.35, 1.22)}


@pytest.mark.parametrize("name", ["species", "bolt_grades", "steels"])
def test_rows_from_memory_stand_in_the_table(name: str) -> None:
    said = " ".join(table("remembered")).lower().replace("-", " ")
    for key, entry in table(name).items():
        if "memory" in (entry.get("status"), entry.get("strength_status")):
            words = key.lower().replace("-", " ")
            parts = words.replace(" south", "").replace("sae ", "")

            assert parts in said or words in said, key


@pytest.mark.parametrize("size", table("spring_pins"))
def test_spring_pins_shear_as_hardened_steel_would(size: str) -> None:
    """Half the double shear over the pin's ring: 0.6 of 1000 to 1600 MPa, spring steel's range.

    Mild steel (S355, EN 10025-2: 0.6 x 490 MPa) would not reach it, and a solid pin would be more.
    """
    outside, wall = PINS[size]
    half = float(row("spring_pins", size)["double_shear"]) / 2

    assert 0.6 * 490 < 0.6 * 1000 < half / (pi * (outside - wall) * wall) < 0.6 * 1600
    assert half < 0.6 * 1600 * pi / 4 * outside**2


def test_pins_of_one_standard_are_of_one_steel() -> None:
    stress = [float(row("spring_pins", s)["double_shear"]) / 2 / (pi * (o - w) * w)
              for s, (o, w) in PINS.items() if s != "1/4"]  # fmt: skip

    assert max(stress) / min(stress) < 1.06


def test_wind_on_an_open_leaf_is_between_a_bar_and_a_solid_sign() -> None:
    """A long flat plate across the wind has Cd 2.0 (Hoerner, Fluid-Dynamic Drag, 1965, 3-16: 1.98).

    A step of the figure, 0.2, is what the force may fall by as the solid share grows.
    """
    solid = wind.force_coefficient(1.0)
    shares = np.linspace(0.01, 1.0, 397)
    found = [wind.force_coefficient(float(s)) for s in shares]

    assert max(found) <= 2.0
    assert min(found) >= solid - 0.2
    forces = [s * c for s, c in zip(shares, found, strict=True)]
    assert all(b > a - 0.2 * s for (a, b), s in zip(pairwise(forces), shares, strict=False))
    assert max(forces) == forces[-1]


@pytest.mark.parametrize(("count", "depth", "critical"), [(1, 38.0, 90.0), (3, 89.0, 52.0)])
def test_row_torn_out_is_the_shear_on_its_planes(count: int, depth: float, critical: float) -> None:
    """Two planes a fastener; the shear falls evenly from Fv at the fastener to 0 a spacing away."""
    fv = 1.2
    plane, _ = quad(lambda x: fv * (1 - x / critical) * depth, 0.0, critical)

    found = timber_spacing.row_tear_out(fv, depth, count, critical)
    assert found == pytest.approx(2 * plane * count)
