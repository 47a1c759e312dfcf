"""Closed-form kinematics: exact triangles, the mirror of pull and push, and plain calculus."""

from math import isclose, sqrt
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.pivots import kinematics as k
from hangpost.generators.pivots.mount import Mount

from .judged_gates import designed

coordinate = st.floats(min_value=60.0, max_value=900.0)
offset = st.floats(min_value=60.0, max_value=260.0)
far = st.floats(min_value=450.0, max_value=1200.0)


def pins(p: float, g: float, between: float) -> tuple[float, float, float, float]:
    """Two pins at distances p and g from the axis, the post pivot `between` degrees ahead."""
    px, py = k.turned(p, 0.0, between)
    return float(px), float(py), g, 0.0


# Integer triangles (handbook of mathematics: sides with a right angle, with 60 and 120 degrees).
# Their leverage is p g sin a / L, from the area of the same triangle.
@pytest.mark.parametrize(
    ("p", "g", "between", "length", "leverage"),
    [
        (3.0, 4.0, 90.0, 5.0, 12.0 / 5.0),
        (5.0, 8.0, 60.0, 7.0, 40.0 * sqrt(3.0) / 2.0 / 7.0),
        (3.0, 5.0, 120.0, 7.0, 15.0 * sqrt(3.0) / 2.0 / 7.0),
    ],
)
def test_integer_triangles(
    p: float, g: float, between: float, length: float, leverage: float
) -> None:
    four = pins(p, g, between)

    assert isclose(float(k.length(*four, 0.0)), length, rel_tol=1e-14)
    assert isclose(float(k.leverage(*four, 0.0)), leverage, rel_tol=1e-14)


def test_opening_turns_the_leaf_towards_the_post_pivot_when_pulled() -> None:
    # 5-8-7 opened by pulling from 120 to 60 degrees between the pins: 129 is 5^2 + 8^2 + 5 x 8.
    four = pins(5.0, 8.0, 120.0)

    assert isclose(float(k.length(*four, 0.0)), sqrt(129.0), rel_tol=1e-14)
    assert isclose(float(k.length(*four, 60.0)), 7.0, rel_tol=1e-14)


@given(setback=offset, standoff=offset, along=far, off=st.floats(0.0, 200.0))
def test_pushing_is_pulling_run_backwards(
    setback: float, standoff: float, along: float, off: float
) -> None:
    opening = 97.0
    t = k.swing("pull", opening, 1.0)
    px, py = k.turned(-setback, standoff, -opening)

    pull = k.length(-setback, standoff, along, off, t)
    push = k.length(px, py, along, off, t - opening)
    assert np.allclose(pull, push, rtol=1e-12, atol=1e-9)
    arms = (
        k.leverage(-setback, standoff, along, off, t),
        k.leverage(px, py, along, off, t - opening),
    )
    assert np.allclose(arms[0], arms[1], rtol=1e-9, atol=1e-6)


@given(p=offset, g=far, between=st.floats(20.0, 160.0))
def test_leverage_is_how_fast_the_length_changes(p: float, g: float, between: float) -> None:
    four, step = pins(p, g, between), 1e-3

    change = float(k.length(*four, -step) - k.length(*four, step)) / (2.0 * np.radians(step))
    assert isclose(float(k.leverage(*four, 0.0)), change, rel_tol=1e-5, abs_tol=1e-5)


@given(p=coordinate, g=coordinate, first=st.floats(1.0, 178.0), span=st.floats(0.5, 120.0))
def test_least_leverage_is_at_an_end_and_none_exceeds_the_shorter_radius(
    p: float, g: float, first: float, span: float
) -> None:
    last = min(first + span, 179.0)
    four = pins(p, g, last)
    arms = k.leverage(*four, np.linspace(0.0, last - first, 200))

    assert arms.min() >= min(arms[0], arms[-1]) - 1e-9
    assert arms.max() <= min(p, g) + 1e-9


def test_leverage_peaks_where_the_actuator_is_square_to_the_shorter_radius() -> None:
    p, g = 180.0, 900.0
    four = pins(p, g, float(np.degrees(np.arccos(p / g))))

    assert isclose(float(k.leverage(*four, 0.0)), p, rel_tol=1e-14)


def test_leverage_is_negative_past_dead_centre() -> None:
    four = pins(180.0, 900.0, 10.0)

    assert k.leverage(*four, 9.0) > 0.0
    assert k.leverage(*four, 11.0) < 0.0


def test_tying_gives_the_length_asked_for() -> None:
    qx, qy, gy = 190.0, 145.0, 62.0
    gx = k.tie_distance(qx, qy, gy, 800.0)

    assert isclose(float(np.hypot(gx - qx, gy - qy)), 800.0, rel_tol=1e-14)
    assert np.isnan(k.tie_distance(qx, qy, gy, 50.0))


def test_swing_has_both_ends_and_the_sign_of_its_direction() -> None:
    angles = k.swing("push", 92.3, 1.0)

    assert (angles[0], angles[-1]) == (0.0, -92.3)
    assert np.abs(np.diff(angles)).max() <= 1.0


def test_work_at_the_pin_is_work_at_the_hinge() -> None:
    # Virtual work over a whole swing: thrust times travel is the integral of torque over angle.
    four, thrust = (-160.0, 175.0, 960.0, 64.0), 2500.0
    t = np.linspace(0.0, 93.0, 9301)
    torque = k.torque(thrust, k.leverage(*four, t))
    work = np.sum((torque[1:] + torque[:-1]) / 2.0 * np.diff(np.radians(t)))
    travel = float(k.length(*four, 0.0) - k.length(*four, 93.0))

    assert isclose(work, thrust * travel, rel_tol=1e-7)
    assert isclose(float(k.pin_force(torque[0], k.leverage(*four, 0.0))), thrust, rel_tol=1e-12)
    speed = float(k.edge_speed(16.0, 160.0, 3300.0))
    assert isclose(speed, float(np.radians(k.leaf_speed(16.0, 160.0))) * 3300.0, rel_tol=1e-12)


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_how_far_an_actuator_turns_is_the_argument_of_its_two_pins(way: float) -> None:
    """By complex numbers: the direction from post pin to leaf pin, over the whole swing."""
    post, leaf, angles = complex(-150.0, 190.0), complex(880.0, 61.0), np.linspace(0.0, 96.0, 97)
    span = leaf * np.exp(1j * np.radians(way * angles)) - post
    points = tuple(SimpleNamespace(angle=way * angle) for angle in angles)
    still = SimpleNamespace(
        post_pivot=(post.real, post.imag), leaf_pivot=(leaf.real, leaf.imag), curve=points
    )

    assert Mount.turn.fget(still) == pytest.approx(np.ptp(np.degrees(np.angle(span))))


@pytest.mark.parametrize("angle", [0.0, 31.0, 84.0])
def test_tube_and_rod_lie_along_the_line_of_the_pins(angle: float) -> None:
    """In the assembly: the tube begins at the post pin, the rod at the leaf pin, both on one line."""
    leaf = designed().leaves[0]
    turn = angle if leaf.mount.direction == "pull" else -angle
    post = complex(*leaf.mount.post_pivot)
    pin = complex(*leaf.mount.leaf_pivot) * np.exp(1j * np.radians(turn))
    for rides, at in (("tube", post), ("rod", pin)):
        frame = leaf.pose(rides, turn)
        ahead = complex(*frame.direction((1.0, 0.0, 0.0))[:2])
        assert complex(*frame.origin[:2]) == pytest.approx(at)
        assert abs(ahead / ((pin - post) / abs(pin - post)) - 1.0) < 1e-9
