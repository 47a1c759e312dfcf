"""Contours of a grid: rings and lines where a surface has a height, against closed forms."""

from math import isclose, pi

import numpy as np
import pytest
from shapely import Polygon

from hangpost.generators.pivots.contours import length, lines, middle, rings


def test_outline_of_a_cone_is_a_circle() -> None:
    xs, ys = np.linspace(-3.0, 4.0, 141), np.linspace(-2.0, 2.0, 81)
    heights = 1.5 - np.hypot(xs[None, :] - 0.5, ys[:, None])
    (ring,) = rings(xs, ys, heights, 0.0)

    assert ring[0] == ring[-1]
    assert isclose(Polygon(ring).area, pi * 1.5**2, rel_tol=2e-3)
    assert isclose(length(ring), 2.0 * pi * 1.5, rel_tol=2e-3)
    assert Polygon(ring).exterior.is_ccw  # the higher ground lies to the left


def test_region_that_reaches_the_rim_closes_along_it_and_a_hole_is_a_ring_of_its_own() -> None:
    xs, ys = np.linspace(0.0, 30.0, 61), np.linspace(0.0, 20.0, 41)
    hole = np.hypot(xs[None, :] - 12.0, ys[:, None] - 9.0) - 4.0
    found = rings(xs, ys, hole, 0.0)
    areas = sorted(Polygon(ring).area for ring in found)

    assert len(found) == 2
    assert isclose(areas[1], 600.0, rel_tol=1e-4)
    assert isclose(areas[0], pi * 16.0, rel_tol=5e-3)


def test_level_lines_of_a_slope_are_where_the_slope_has_that_height() -> None:
    xs, ys = np.linspace(0.0, 9.0, 10), np.linspace(0.0, 5.0, 6)
    heights = 2.0 * xs[None, :] + 3.0 * ys[:, None]
    (line,) = lines(xs, ys, heights, 10.3)

    assert all(isclose(2.0 * x + 3.0 * y, 10.3) for x, y in line)
    x, y = middle(line)
    assert isclose(2.0 * x + 3.0 * y, 10.3)


@pytest.mark.parametrize("falling", [False, True])
@pytest.mark.parametrize(("level", "cut_off"), [(0.1, 1.0), (-0.1, -1.0)])
def test_saddle_hangs_together_as_its_middle_says(
    falling: bool, level: float, cut_off: float
) -> None:
    xs = ys = np.array([0.0, 1.0])
    heights = np.array([[1.0, -1.0], [-1.0, 1.0]])
    heights = heights[:, ::-1] if falling else heights
    found = list(lines(xs, ys, heights, level))

    # The middle of the cell is at 0: above -0.1 the two low corners are cut off, else the high.
    assert len(found) == 2
    for line in found:
        x, y = middle(line)
        assert heights[round(y), round(x)] == cut_off
