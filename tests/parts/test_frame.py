"""Placements: rigid, chainable, mirrored so that a mirrored part lands on its mirror image."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.frame import Frame, Vector, cross, turned

length = st.floats(-1000, 1000)
point = st.tuples(length, length, length)
angle = st.floats(-180, 180)


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    a, b, c = (radians(draw(angle)) for _ in range(3))
    u = (cos(a) * cos(b), sin(a) * cos(b), -sin(b))
    p: Vector = (-sin(a), cos(a), 0.0)
    q = cross(u, p)
    v = tuple(cos(c) * x + sin(c) * y for x, y in zip(p, q, strict=True))
    return Frame(draw(point), u, (v[0], v[1], v[2]))


@given(frame=frames(), p=point)
def test_matrix_maps_like_the_frame(frame: Frame, p: Vector) -> None:
    image = np.array(frame.matrix) @ np.array([*p, 1.0])

    assert image[:3] == pytest.approx(frame.point(p), abs=1e-6)
    assert np.linalg.det(np.array(frame.matrix)) == pytest.approx(1.0)


@given(outer=frames(), inner=frames(), p=point)
def test_frame_in_a_frame_is_one_after_the_other(outer: Frame, inner: Frame, p: Vector) -> None:
    assert outer.after(inner).point(p) == pytest.approx(outer.point(inner.point(p)), abs=1e-6)


@given(frame=frames(), p=point)
def test_mirrored_part_in_mirrored_frame_is_the_mirror_image(frame: Frame, p: Vector) -> None:
    x, y, z = frame.point(p)
    image = frame.mirrored().point((-p[0], p[1], p[2]))

    assert image == pytest.approx((-x, y, z), abs=1e-6)
    assert np.linalg.det(np.array(frame.mirrored().matrix)) == pytest.approx(1.0)
    assert frame.mirrored().mirrored().point(p) == pytest.approx((x, y, z), abs=1e-6)


@given(t=angle, r=st.floats(1, 500))
def test_turned_is_counter_clockwise_about_z(t: float, r: float) -> None:
    assert turned(t, (3.0, 4.0, 5.0)).point((r, 0, 7)) == pytest.approx(
        (3 + r * cos(radians(t)), 4 + r * sin(radians(t)), 12)
    )


def test_located_solid_agrees_with_the_frame() -> None:
    """The kernel's own move of a solid ends where the frame says."""
    from hangpost.parts.solids import block, located

    frame = Frame((10.0, 20.0, 30.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    centre = located(block((0, 0, 0), (2, 4, 6)), frame).Center()

    assert (centre.x, centre.y, centre.z) == pytest.approx(frame.point((1, 2, 3)))
