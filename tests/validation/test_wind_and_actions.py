"""Wind pressures and forces against worked examples, and the pins' forces against statics."""

from math import atan2, cos, degrees, radians, sin

import numpy as np
import pytest

from hangpost.generators.strength import actions, wind
from hangpost.generators.strength.factors import factor
from hangpost.generators.strength.inch import INCH, LBF

MPH = 0.44704
PSF = LBF / (12 * INCH) ** 2
FOOT = 12 * INCH


@pytest.mark.parametrize(
    ("mph", "kz", "kd", "psf"),
    [
        (155, 1.083, 0.85, 56.62),  # sign sheet, ASCE 7-10 29.4
        (90, 1.01, 0.85, 17.80),  # wall sheet, ASCE 7-05
        (90, 0.85, 0.85, 14.98),
        (115, 0.85, 0.85, 24.46),
    ],
)
def test_velocity_pressure(mph: float, kz: float, kd: float, psf: float) -> None:
    """The SI form rounds 0.61329 to 0.613 and the sheets round Kz: 0.1 %."""
    found = wind.velocity_pressure(mph * MPH, exposure=kz, direction=kd)

    assert found / PSF == pytest.approx(psf, rel=1e-3)


@pytest.mark.parametrize(
    ("exposure", "feet", "kz"),
    [("D", 20, 1.083), ("B", 15, 0.575), ("C", 15, 0.849), ("C", 6, 0.849)],
)
def test_exposure_coefficient(exposure: str, feet: float, kz: float) -> None:
    """ASCE 7-10 (20 ft, D: in the sign sheet; the others computed apart); constant below 15 ft."""
    assert wind.exposure_coefficient(feet * FOOT, exposure) == pytest.approx(kz, abs=6e-4)


def test_force_on_a_solid_sign() -> None:
    """Sign sheet: q 56.62 psf, G 0.85, Cf 1.8, 7.48 ft2: 648 lbf, 389 with the 0.6 of ASD."""
    force = wind.leaf_force(56.62 * PSF, 7.48 * FOOT**2, 1.0, coefficient=1.8, gust=0.85)

    assert force / LBF == pytest.approx(648, abs=0.6)
    assert force * factor("load.survival_wind_strength_level") / LBF == pytest.approx(389, abs=0.6)


def test_force_coefficient_of_a_solid_leaf() -> None:
    """1.8, read in the sign sheet; the open leaf's are held by test_remembered.py."""
    assert wind.force_coefficient(1.0) == wind.force_coefficient(0.7) == 1.8


def test_torque_of_wind_on_a_leaf() -> None:
    """12 x 5 ft, solidity 0.4, q 14.98 psf, Cf 1.6: 575 lbf at 6 ft = 3451 lbf ft."""
    force = wind.leaf_force(14.98 * PSF, 60 * FOOT**2, 0.4, coefficient=wind.force_coefficient(0.4))
    torque = wind.leaf_torque(force, 12 * FOOT)

    assert force / LBF == pytest.approx(575.2, abs=0.1)
    assert torque / (LBF * FOOT) == pytest.approx(3451, abs=1)
    assert wind.leaf_torque(force, 12 * FOOT, eccentricity=0.2) == pytest.approx(1.4 * torque)


@pytest.mark.parametrize(
    ("a", "b", "theta", "arm"),
    [(5, 8, 60, 4.9487), (3, 5, 120, 1.8558), (200, 500, 60, 198.6799), (250, 600, 110, 194.5152)],
)
def test_leverage_of_integer_triangles(a: float, b: float, theta: float, arm: float) -> None:
    """Law of cosines: a b sin t / L; post pin on the x axis, leaf pin at t from it."""
    leaf = (b * cos(radians(theta)), b * sin(radians(theta)))

    found = actions.leverages((a, 0.0), leaf, np.array([0.0]))

    assert found[0] == pytest.approx(arm, rel=1e-4)


def test_thrust_points_from_pin_to_pin_and_pushes_both_away() -> None:
    post, leaf, angles = (-120.0, 180.0), (900.0, 60.0), actions.swing_angles(95)

    on_post = actions.post_pin_forces(post, leaf, angles, 2500)
    on_leaf = actions.leaf_pin_forces(post, leaf, angles, 2500)

    assert angles[0] == 0 and angles[-1] == 95 and np.diff(angles).max() <= 0.25
    assert np.hypot(*on_post.T) == pytest.approx(np.full(len(angles), 2500.0))
    assert np.hypot(*on_leaf.T) == pytest.approx(np.full(len(angles), 2500.0))
    assert on_leaf[0] == pytest.approx(-on_post[0])  # one frame at the closed leaf
    direction = atan2(leaf[1] - post[1], leaf[0] - post[0])
    assert degrees(atan2(*-on_post[0][::-1])) == pytest.approx(degrees(direction))


def test_torque_of_the_pin_force_is_thrust_times_leverage() -> None:
    post, leaf, angles = (-120.0, 180.0), (900.0, 60.0), np.array([30.0])
    force = -actions.post_pin_forces(post, leaf, angles, 2500)[0]  # on the leaf, plan frame
    x, y = actions.leaf_pin_path(leaf, angles)[0]

    assert x * force[1] - y * force[0] == pytest.approx(
        2500 * actions.leverages(post, leaf, angles)[0]
    )
