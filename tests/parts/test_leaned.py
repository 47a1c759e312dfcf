"""A thing that leans: turned about a level axis, without twist."""

from math import radians, tan

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from hangpost.parts.frame import leaned


@pytest.mark.parametrize(("toward_x", "toward_y"), [(0.0, 0.0), (3.0, -2.0), (25.0, 10.0)])
def test_a_lean_is_the_shortest_turn_to_the_new_axis_about_what_is_fixed(
    toward_x: float, toward_y: float
) -> None:
    """Against SciPy's rotation by a vector: its way is the axis, its length the angle."""
    fixed = np.array([110.0, -40.0, 700.0])
    upright = np.array([0.0, 0.0, 1.0])
    axis = np.array([tan(radians(toward_x)), tan(radians(toward_y)), 1.0])
    axis /= np.linalg.norm(axis)
    level = np.cross(upright, axis)
    size = np.linalg.norm(level)
    turn = Rotation.from_rotvec(level / (size or 1.0) * np.arctan2(size, axis[2]))

    matrix = np.array(leaned(toward_x, toward_y, tuple(fixed)).matrix)
    for point in ([0.0, 0.0, 0.0], [300.0, 20.0, 900.0], fixed):
        found = matrix[:3, :3] @ point + matrix[:3, 3]
        assert found == pytest.approx(fixed + turn.apply(np.array(point) - fixed), abs=1e-9)
