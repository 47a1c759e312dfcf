"""What an actuator's thrust does to its two pins over the swing.

Frame: the plan frame (origin on the hinge axis, x along the closed leaf, y towards the actuator,
z up); force vectors are what the pin does to the bracket. Units: N, mm, degrees.
Thrust is positive when the actuator pushes its pins apart (extends), negative when it pulls.
Source: statics. What loads there are, and their factors: judging/loads.py.
"""

from math import ceil

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def swing_angles(opening: float, *, step: float = 0.25) -> Floats:
    """Angles from closed to open, both ends included, at most `step` apart."""
    return np.linspace(0.0, opening, max(2, ceil(abs(opening) / step) + 1))


def leaf_pin_path(leaf_pivot: tuple[float, float], angles: Floats) -> Floats:
    """Plan position of the leaf pin at each angle, one row each."""
    turn = np.radians(angles)
    x, y = leaf_pivot
    return np.column_stack(
        (x * np.cos(turn) - y * np.sin(turn), x * np.sin(turn) + y * np.cos(turn))
    )


def thrust_directions(
    post_pivot: tuple[float, float], leaf_pivot: tuple[float, float], angles: Floats
) -> Floats:
    """Unit vectors from the post pin to the leaf pin at each angle, one row each."""
    line = leaf_pin_path(leaf_pivot, angles) - np.asarray(post_pivot)
    return np.asarray(line / np.linalg.norm(line, axis=1, keepdims=True))


def leverages(
    post_pivot: tuple[float, float], leaf_pivot: tuple[float, float], angles: Floats
) -> Floats:
    """Moment arm of the thrust about the hinge axis at each angle, signed."""
    unit = thrust_directions(post_pivot, leaf_pivot, angles)
    px, py = post_pivot
    return np.asarray(px * unit[:, 1] - py * unit[:, 0])


def post_pin_forces(
    post_pivot: tuple[float, float],
    leaf_pivot: tuple[float, float],
    angles: Floats,
    thrust: float,
) -> Floats:
    """Plan force on the post bracket at each angle: an extending actuator pushes it away."""
    return -thrust * thrust_directions(post_pivot, leaf_pivot, angles)


def leaf_pin_forces(
    post_pivot: tuple[float, float],
    leaf_pivot: tuple[float, float],
    angles: Floats,
    thrust: float,
) -> Floats:
    """Plan force on the leaf bracket at each angle, in the leaf's own turned frame."""
    unit = thrust * thrust_directions(post_pivot, leaf_pivot, angles)
    turn = np.radians(angles)
    return np.column_stack(
        (
            unit[:, 0] * np.cos(turn) + unit[:, 1] * np.sin(turn),
            -unit[:, 0] * np.sin(turn) + unit[:, 1] * np.cos(turn),
        )
    )
