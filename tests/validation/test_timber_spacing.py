"""Distances in timber and what a row of fasteners loses: NDS rules.

The distances themselves are held by libraries in test_codes.py. Two rules of the NDS that no library
at hand has are set down from memory: the run of the row spacing with l/D, and the equation of the
group factor. Of these only properties are held here, the group factor by a model of its own.
"""

from itertools import pairwise

import numpy as np
import pytest

from hangpost.generators.strength import timber_spacing as spacing
from hangpost.generators.strength.inch import INCH, LBF, PSI


@pytest.mark.parametrize(("slenderness", "rows", "edge"), [(5, 100, 36), (7, 30, 36), (7, 90, 45)])
def test_edge_distance_along_the_grain(slenderness: float, rows: float, edge: float) -> None:
    """NDS Table 12.5.1C (read): above l/D 6 at least half the row spacing (12 mm bolt); EN 3 D."""
    assert spacing.edge_parallel(12, slenderness, rows) == edge


def test_rows_stand_no_closer_when_the_bolt_is_more_slender() -> None:
    found = [spacing.row_spacing_across(10, slender / 4) for slender in range(1, 60)]

    assert all(a <= b for a, b in pairwise(found))
    assert found[-1] >= spacing.spacing_in_row(10, across=True)  # and never below the other code's


def test_geometry_factor_falls_to_the_least_and_then_forbids() -> None:
    """NDS 12.5.1: actual over full distance."""
    assert spacing.geometry_factor(60, 48, 24) == 1.0
    assert spacing.geometry_factor(36, 48, 24) == 0.75
    assert spacing.geometry_factor(23, 48, 24) == 0.0


def row(count: int) -> float:
    """Cg of the NDS table's own example: D 1 in, s 4 in, Am 5 in2 (1.4e6 psi), Am/As 12."""
    return spacing.group_factor(
        count=count,
        spacing=4 * INCH,
        diameter=INCH,
        main_stiffness=1.4e6 * PSI * 5 * INCH**2,
        side_stiffness=30e6 * PSI * 5 / 12 * INCH**2,
    )


def on_springs(count: int, main: float, side: float, slip: float, apart: float) -> float:
    """Share of its strength that a row keeps when its fasteners are springs between two bars.

    Both bars stretch between the fasteners; the main one is pulled at one end, the other at the
    other. Equilibrium of the 2 n nodes; the row is spent when its worst spring is.
    """
    stiff = np.zeros((2 * count, 2 * count))

    def spring(i: int, j: int, k: float) -> None:
        stiff[np.ix_([i, j], [i, j])] += k * np.array([[1, -1], [-1, 1]])

    for n in range(count):
        spring(n, count + n, slip)
        if n + 1 < count:
            spring(n, n + 1, main / apart)
            spring(count + n, count + n + 1, side / apart)
    load = np.zeros(2 * count)
    load[0], load[-1] = -1.0, 1.0
    free = np.arange(1, 2 * count)
    move = np.zeros(2 * count)
    move[free] = np.linalg.solve(stiff[np.ix_(free, free)], load[free])
    forces = slip * (move[count:] - move[:count])
    return float(forces.sum() / forces.max() / count)


@pytest.mark.parametrize("count", [2, 3, 4, 8])
@pytest.mark.parametrize(("main", "side"), [(31e6, 55e6), (90e6, 90e6), (400e6, 35e6)])
def test_group_factor_is_that_of_springs_between_bars(count: int, main: float, side: float) -> None:
    """Statics: elastic fasteners of the stated slip modulus between elastic bars (Lantos)."""
    slip = 270_000 * 0.75**1.5 * LBF / INCH
    found = spacing.group_factor(
        count=count, spacing=76.0, diameter=0.75 * INCH, main_stiffness=main, side_stiffness=side
    )

    assert found == pytest.approx(on_springs(count, main, side, slip, 76.0), rel=1e-9)


def test_group_factor_of_one_is_one_and_falls_with_the_number() -> None:
    values = [row(n) for n in range(1, 9)]

    assert values[0] == 1.0
    assert values == sorted(values, reverse=True)
    assert all(v > 0 for v in values)


def test_shear_of_a_post_pulled_across() -> None:
    """NDS Eq. 3.4-6 by hand: 2/3 x 1.1 x 140 x 90 (90/140)2 = 3818 N; full depth is plain shear."""
    assert spacing.connection_shear(1.1, 140, 140, 90) == pytest.approx(3818.6, abs=0.1)
    assert spacing.connection_shear(1.1, 140, 140, 140) == pytest.approx(2 / 3 * 1.1 * 140 * 140)
