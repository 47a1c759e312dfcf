"""What the sweep does not measure in full: pairs far apart, and rows that cannot be the worst."""

from itertools import combinations
from math import dist
from typing import Any

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.generators.clearance import Bodies, Moving, sweep
from hangpost.generators.clearance.meeting import FAR
from hangpost.parts.frame import Frame, turned

EARS = (
    [(-40, -20, 12), (60, 20, 18)],
    [(-40, -20, -18), (60, 20, -12)],
    [(50, -20, -18), (60, 20, 18)],
)


def still(angle: float) -> Frame:
    return Frame()


def moving(name: str, mesh: trimesh.Trimesh, pose: Any = still) -> Moving:
    return Moving(name=name, vertices=mesh.vertices, faces=mesh.faces, pose=pose)


def solid(mesh: trimesh.Trimesh) -> manifold3d.Manifold:
    return manifold3d.Manifold(
        manifold3d.Mesh64(np.array(mesh.vertices), np.array(mesh.faces, dtype=np.uint64))
    )


@settings(max_examples=40, deadline=None)
@given(
    turn=st.floats(-180, 180),
    far=st.floats(FAR + 50, 2500),
    side=st.floats(-180, 180),
    up=st.floats(-60, 60),
)
def test_what_is_far_is_told_no_farther_than_it_is(
    turn: float, far: float, side: float, up: float
) -> None:
    """The gap of two hollow things, against the gap that another library finds (manifold)."""
    fork = trimesh.boolean.union([trimesh.creation.box(bounds=b) for b in EARS], engine="manifold")
    ring = trimesh.creation.annulus(r_min=7, r_max=19, height=22)
    place = turned(side).after(Frame(origin=(far + 80, 0.0, up)))
    ring.apply_transform(np.array(place.after(turned(turn)).matrix))
    (row,) = sweep([moving("fork", fork), moving("ring", ring)], [0.0], [("fork", "ring")])
    true = solid(fork).min_gap(solid(ring), 3000.0)
    assert true > FAR
    assert row.least <= true + 1e-6
    assert row.least >= 0.97 * true  # the mouth of the fork is 24 wide: 1 in 100 at the nearest


At = st.tuples(*[st.integers(-300, 300)] * 3)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(At, st.integers(5, 80)), min_size=3, max_size=6, unique=True))
def test_the_tightest_pair_is_found_among_all(balls: list[tuple[Any, int]]) -> None:
    """Balls: the nearest two are seldom those whose boxes are nearest."""
    bodies = []
    for k, (at, radius) in enumerate(balls):
        mesh = trimesh.creation.icosphere(subdivisions=3, radius=radius)
        bodies.append(moving(str(k), mesh, lambda _, at=at: Frame(origin=at)))
    pairs = list(combinations([body.name for body in bodies], 2))
    row = Bodies(bodies).tightest(0.0, pairs)
    assert row is not None
    room = min(dist(a, b) - r - s for (a, r), (b, s) in combinations(balls, 2))
    if room > 1:
        assert row.least == pytest.approx(room, abs=0.8)  # a facet's rise: 80 (1 - cos 4.5 deg) / 2
    elif room < -1:
        assert row.overlap > 0
    assert Bodies(bodies).tightest(0.0, []) is None


def test_the_end_of_the_swing_is_told_with_its_own_distance() -> None:
    """Far away a few per cent do not matter, but a number belongs to the angle beside it."""
    arm = trimesh.creation.box(bounds=[(500, -20, 0), (900, 20, 30)])
    post = trimesh.creation.box(bounds=[(-40, 1300, 0), (40, 1400, 60)])
    bodies = [moving("arm", arm, turned), moving("post", post)]
    (row,) = sweep(bodies, [float(a) for a in range(93)], [("arm", "post")])
    (there,) = sweep(bodies, [row.at_angle], [("arm", "post")])
    assert row.least == pytest.approx(there.least)


def test_two_far_boxes_are_measured_exactly() -> None:
    one = trimesh.creation.box(bounds=[(0, 0, 0), (10, 10, 10)])
    two = trimesh.creation.box(bounds=[(400, 300, 10), (410, 310, 20)])
    (row,) = sweep([moving("one", one), moving("two", two)], [0.0], [("one", "two")])
    assert row.least == pytest.approx(dist((10, 10), (400, 300)))
