"""Wedge shims: they undo the lean, cannot turn or slip, and show their thick end."""

from dataclasses import replace
from math import degrees, hypot, radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts.flat import ParameterError
from hangpost.parts.wedge import VEE, WedgeShim, tilts


@pytest.fixture
def wedge() -> WedgeShim:
    return WedgeShim(
        id="wedge", tilt_u=0.8, tilt_v=-2.1, centre=(-40.0, 95.0), width=90.0, length=130.0,
        height=14.0, bores_at=((-50.0, 60.0), (-30.0, 130.0)), bore=19.0,
    )  # fmt: skip


def test_wedge_is_what_it_says(wedge, sound) -> None:
    sound(wedge)


def test_left_hand_is_the_mirror_image(wedge, handed) -> None:
    handed(wedge)


lean = st.floats(-4, 4)


@given(to_leaf=lean, to_actuator=lean)
def test_tilts_of_the_face_are_those_of_a_post_that_is_turned(
    to_leaf: float, to_actuator: float
) -> None:
    """Reference: scipy's rotation that turns a plumb axis into the leaning one by the short way."""
    from scipy.spatial.transform import Rotation

    axis = np.array([tan(radians(to_leaf)), tan(radians(to_actuator)), 1.0])
    axis /= np.linalg.norm(axis)
    turn = np.cross([0, 0, 1.0], axis)
    size = np.linalg.norm(turn)
    rotation = Rotation.from_rotvec(turn / size * np.arcsin(size) if size > 1e-12 else turn)
    x, y, z = rotation.apply([0, 1.0, 0])  # normal of the face towards the actuator
    u, v = tilts(to_leaf, to_actuator)

    # in the seat frame u = -x, v = z, w = y the face is w = u tan(tilt u) + v tan(tilt v)
    assert tan(radians(u)) == pytest.approx(x / y, abs=1e-9)
    assert tan(radians(v)) == pytest.approx(-z / y, abs=1e-9)


@pytest.mark.parametrize(
    ("to_leaf", "to_actuator"), [(1.5, 2.5), (-3.0, 1.0), (0.0, -2.0), (2.0, 0.3)]
)
def test_seat_is_plumb_on_a_leaning_post(to_leaf: float, to_actuator: float) -> None:
    """MSH-06: the solid, its sloped face laid on the leaning post's face: the seat is plumb to 0.05 degrees."""
    from scipy.spatial.transform import Rotation

    u, v = tilts(to_leaf, to_actuator)
    made = WedgeShim(
        id="w", tilt_u=u, tilt_v=v, width=80, length=120, height=16,
        bores_at=((0.0, -35.0), (0.0, 35.0)), bore=19.0,
    )  # fmt: skip
    flats = [f for f in made.solid().Faces() if f.geomType() == "PLANE"]
    big = sorted(flats, key=lambda f: -f.Area())[:2]
    seat = max(big, key=lambda f: f.Center().z).normalAt()
    sole = min(big, key=lambda f: f.Center().z).normalAt()
    axis = np.array([tan(radians(to_leaf)), tan(radians(to_actuator)), 1.0])
    turn = np.cross([0, 0, 1.0], axis / np.linalg.norm(axis))
    face = Rotation.from_rotvec(
        turn / np.linalg.norm(turn) * np.arcsin(np.linalg.norm(turn))
    ).apply([0, 1.0, 0])

    def world(n) -> np.ndarray:  # seat frame to plan frame
        return np.array([-n.x, n.z, n.y])

    assert -world(sole) == pytest.approx(face, abs=1e-9)  # lies on the post
    off_plumb = degrees(np.arcsin(abs(world(seat)[2])))
    assert off_plumb < 0.05
    between = degrees(np.arccos(-np.dot(world(seat), world(sole))))
    assert between == pytest.approx(
        degrees(np.arctan(hypot(tan(radians(u)), tan(radians(v))))), abs=1e-6
    )


def test_vee_is_at_every_thick_end_and_nowhere_else(wedge: WedgeShim) -> None:
    """MSH-06: face out at the right and at the bottom: thick ends are the left and the top."""
    left, bottom, right, top = wedge.outline.bounds
    inner = [
        v
        for v in wedge.outline.vertices
        if left + 1 < v.x < right - 1 and bottom + 1 < v.y < top - 1
    ]

    found = sorted(
        (v.x, v.y) for v in inner if abs(v.x - left - VEE) < 1e-9 or abs(v.y - top + VEE) < 1e-9
    )
    assert found == [pytest.approx((left + VEE, 95.0)), pytest.approx((-40.0, top - VEE))]
    for x, y in found:
        assert wedge.height - wedge.surface(x, y) > wedge.height - wedge.surface(-40.0, 95.0)


@given(u=lean, v=lean, h=st.floats(18, 21))
@settings(max_examples=50)
def test_volume_is_the_mean_thickness_over_the_net_area(u: float, v: float, h: float) -> None:
    if max(abs(u), abs(v)) < 3 * 0.06:  # a third of it is the tilt
        u = 1.0
    made = WedgeShim(
        id="w",
        tilt_u=u / 3,
        tilt_v=v / 3,
        width=70,
        length=100,
        height=h - 6,
        bores_at=((-9.0, -30.0), (9.0, 30.0)),
        bore=16.0,
    )  # fmt: skip if needed

    assert made.volume == pytest.approx((h - 6) * (made.outline.area - 2 * 201.06), rel=0.03)
    assert made.ends[0] <= made.height - made.surface(9.0, 30.0) <= made.ends[1]


def test_print_pose_has_the_seat_on_the_bed(wedge: WedgeShim) -> None:
    from hangpost.parts.solids import located

    box = located(wedge.solid(), wedge.print_frame).BoundingBox(1e-6)

    assert box.zmin == pytest.approx(0.0, abs=1e-5)
    assert box.zmax == pytest.approx(wedge.thickness, abs=1e-3)


def test_what_turns_slips_or_does_nothing_is_refused(wedge: WedgeShim) -> None:
    with pytest.raises(ParameterError, match="outer bolts apart"):
        replace(wedge, bores_at=wedge.bores_at[:1])
    with pytest.raises(ParameterError, match=r"tilt = 0\.01 degrees"):
        replace(wedge, tilt_u=0.0, tilt_v=0.01)
    with pytest.raises(ParameterError) as told:
        replace(wedge, tilt_v=15.0, height=3.0)
    assert "thin end" in str(told.value) and "tilt short of 10" in str(told.value)
    with pytest.raises(ParameterError, match="thick end"):
        replace(wedge, height=30.0)
    with pytest.raises(ParameterError):
        replace(wedge, tilt_v=float("nan"))
