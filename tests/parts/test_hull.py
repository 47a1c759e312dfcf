"""The band around discs against the belt formula and a convex-hull library."""

from math import asin, cos, pi, sin, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hangpost.parts.ear import ear_path
from hangpost.parts.hull import Disc, hull
from hangpost.parts.loop import Loop, Vertex


@given(r=st.floats(2, 60), share=st.floats(0.05, 1.0), c=st.floats(1.1, 9))
def test_two_discs_are_an_open_belt(r: float, share: float, c: float) -> None:
    """Open belt of two pulleys: 2 sqrt(C^2-(R-r)^2) + pi (R+r) + 2 (R-r) asin((R-r)/C); memory."""
    small, apart = r * share, c * r
    belt = hull(((10.0, -4.0, r), (10.0 + apart, -4.0, small)))
    straight = sqrt(apart**2 - (r - small) ** 2)
    length = 2 * straight + pi * (r + small) + 2 * (r - small) * asin((r - small) / apart)

    assert sum(e.length for e in belt.edges) == pytest.approx(length)
    assert belt.area > 0


disc = st.tuples(
    st.floats(-200, 200), st.floats(-200, 200), st.sampled_from([0.0, 5.0, 22.0, 41.5])
)


@given(discs=st.lists(disc, min_size=2, max_size=5))
@settings(max_examples=150)
def test_band_is_the_convex_hull_of_its_discs(discs: list[Disc]) -> None:
    """Reference: scipy.spatial.ConvexHull of 720 points on every disc."""
    from scipy.spatial import ConvexHull

    for i, a in enumerate(discs):
        for b in discs[i + 1 :]:
            assume(sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) > 1.0)
    turns = np.linspace(0, 2 * pi, 721)[:-1]
    points = np.array([(x + r * cos(t), y + r * sin(t)) for x, y, r in discs for t in turns])
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    assume(spread[1] > 20)  # not all on one line

    reference = ConvexHull(points).volume
    band = hull(tuple(discs))

    assert band.area == pytest.approx(reference, rel=2e-4, abs=1.0)
    left, bottom, right, top = band.bounds
    assert left == pytest.approx(min(x - r for x, _, r in discs), abs=1e-6)
    assert bottom == pytest.approx(min(y - r for _, y, r in discs), abs=1e-6)
    assert right == pytest.approx(max(x + r for x, _, r in discs), abs=1e-6)
    assert top == pytest.approx(max(y + r for _, y, r in discs), abs=1e-6)


@given(discs=st.lists(disc, min_size=2, max_size=4, unique_by=lambda d: (d[0], d[1])))
@settings(max_examples=60)
def test_band_does_not_depend_on_the_order_of_its_discs(discs: list[Disc]) -> None:
    one, two = hull(tuple(discs)), hull(tuple(reversed(discs)))

    assert one.area == pytest.approx(two.area, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("pin_u", [-12.0, 25.0, 61.0])
@pytest.mark.parametrize("way", [-1.0, 1.0])
@pytest.mark.parametrize("over", [0.0, 7.0])
def test_an_ear_is_the_band_about_root_and_tip_even_where_the_tip_touches_the_roots_line(
    pin_u: float, way: float, over: float
) -> None:
    """Against the convex hull of shapely; a tip beside the root hides that end of it."""
    left, right, line, tip = 0.0, 48.0, 10.0, 20.0
    v = line + way * (tip + over)
    path = ear_path(left, right, line, (pin_u, v), tip)
    first, last = (right, left) if way > 0 else (left, right)
    loop = Loop((Vertex(last, line), Vertex(first, line), *path))
    disc = shapely.Point(pin_u, v).buffer(tip, quad_segs=4000)
    band = shapely.union(disc, shapely.LineString([(left, line), (right, line)])).convex_hull

    assert loop.area == pytest.approx(band.area, rel=1e-6)
