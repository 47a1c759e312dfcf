"""How an actuator between two pins turns a hung leaf: closed form, nothing is stepped.

Plan frame: origin on the hinge axis, x along the closed leaf towards the latch post, y square to
the closed leaf, positive towards the actuator. The post pivot (px, py) stands still, the leaf
pivot (gx, gy) is given on the closed leaf. The opening angle t runs from 0 (closed) to +opening
when the leaf is pulled open and to -opening when it is pushed open. Millimetres, newtons, degrees.

With p = |P|, g = |G| and a(t) = angle(G) + t - angle(P) the law of cosines gives

    L(t)^2 = p^2 + g^2 - 2 p g cos a(t)        |dL/dt| = p g |sin a(t)| / L(t)

The post pivot always lies on the anticlockwise side of the leaf pivot, so a(t) runs in (-180, 0):
pulled open the actuator shortens, pushed open it lengthens. The leverage here is positive as long
as the actuator is on its right side of the hinge axis; at zero it is in line with the axis (dead
centre) and below zero it has gone through. Between two angles with positive leverage the length
has no turning point, and the leverage one maximum, min(p, g), so its least is at one of the ends.

Sources: law of cosines and virtual work; checked against integer triangles and a multibody
library in the tests. Every function takes floats or arrays of one shape.
"""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Real = float | Array
Direction = Literal["pull", "push"]


def open_angle(direction: Direction, opening: float) -> float:
    """Signed angle of the open leaf: +opening for pull, -opening for push."""
    return opening if direction == "pull" else -opening


def retracted_angle(direction: Direction, opening: float) -> float:
    """Signed angle at which the actuator is shortest: open for pull, closed for push."""
    return opening if direction == "pull" else 0.0


def extended_angle(direction: Direction, opening: float) -> float:
    """Signed angle at which the actuator is longest: closed for pull, open for push."""
    return 0.0 if direction == "pull" else -opening


def swing(direction: Direction, opening: float, step: float) -> Array:
    """Signed angles from closed to open, both ends included, at most `step` apart."""
    count = max(1, int(np.ceil(opening / step - 1e-9)))
    return np.linspace(0.0, open_angle(direction, opening), count + 1)


def turned(x: Real, y: Real, angle: Real) -> tuple[Array, Array]:
    """The point (x, y) turned about the hinge axis by `angle` degrees."""
    radians = np.radians(angle)
    c, s = np.cos(radians), np.sin(radians)
    return np.asarray(c * x - s * y), np.asarray(s * x + c * y)


def on_leaf(px: Real, py: Real, t: Real) -> tuple[Array, Array]:
    """The post pivot as seen by somebody who rides on the leaf at opening angle t."""
    return turned(px, py, np.negative(t))


def length(px: Real, py: Real, gx: Real, gy: Real, t: Real) -> Array:
    """Pin to pin length at opening angle t."""
    qx, qy = on_leaf(px, py, t)
    return np.asarray(np.hypot(gx - qx, gy - qy))


def angle_of(px: float, py: float, gx: float, gy: float, length: float) -> float:
    """The opening angle at which the pins are so far apart: `length` the other way round."""
    p, g = np.hypot(px, py), np.hypot(gx, gy)
    between = np.arccos(np.clip((p * p + g * g - length * length) / (2 * p * g), -1.0, 1.0))
    return float(np.degrees(np.arctan2(py, px) - np.arctan2(gy, gx) - between))


def leverage(px: Real, py: Real, gx: Real, gy: Real, t: Real) -> Array:
    """Moment arm of the actuator about the hinge axis, |dL/dt| in mm per radian."""
    qx, qy = on_leaf(px, py, t)
    return np.asarray((qy * gx - qx * gy) / np.hypot(gx - qx, gy - qy))


def tie_distance(qx: Real, qy: Real, gy: Real, tied_length: Real) -> Array:
    """Where along the leaf a leaf pivot at gy lands, tied `tied_length` from (qx, qy) on the leaf.

    nan where the length does not reach down to the leaf pivot's line.
    """
    square = np.square(tied_length) - np.square(np.subtract(gy, qy))
    return np.asarray(qx + np.sqrt(np.where(square >= 0.0, square, np.nan)))


def torque(thrust: Real, leverage: Real) -> Array:
    """Torque about the hinge axis in N mm that a thrust gives."""
    return np.asarray(np.multiply(thrust, leverage))


def pin_force(torque: Real, leverage: Real) -> Array:
    """Force in each pin in N that holds a torque in N mm about the hinge axis."""
    return np.asarray(np.divide(torque, leverage))


def leaf_speed(actuator_speed: Real, leverage: Real) -> Array:
    """Turning speed of the leaf in degrees per second."""
    return np.asarray(np.degrees(np.divide(actuator_speed, leverage)))


def edge_speed(actuator_speed: Real, leverage: Real, leaf_width: float) -> Array:
    """Speed of the latch edge in mm/s."""
    return np.asarray(np.divide(actuator_speed, leverage) * leaf_width)
