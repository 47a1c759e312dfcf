"""Pairs of pivots as arrays, and where everything is at one angle of the swing.

The leaf pivot follows from the post pivot: the installer ties it where the actuator is shortest,
and it stands off the leaf just enough for the eye and the body to clear the leaf's face. Plan
frame, mm, degrees. "On the leaf" means the frame of the leaf at that angle, in which the leaf lies
along x as when it is closed.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.kinematics import Array, Real
from hangpost.generators.pivots.plan_shapes import Bar
from hangpost.generators.pivots.problem import Problem

# mm that the sweep of the solids takes off for the facets of their meshes (see writers/mesh.py):
# a pair chosen here keeps its limits there too.
FACETS: Final = 0.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Candidate pairs; four arrays of one length."""

    px: Array
    py: Array
    gx: Array
    gy: Array

    def take(
        self, which: Array | np.typing.NDArray[np.bool_] | np.typing.NDArray[np.intp]
    ) -> "Pairs":
        """The pairs that a mask or a list of indices names."""
        return Pairs(px=self.px[which], py=self.py[which], gx=self.gx[which], gy=self.gy[which])

    def one(self, index: int) -> "Pairs":
        """A single pair, still as arrays."""
        return self.take(np.array([index]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """All candidates at one angle, or one candidate at all angles: shapes broadcast."""

    angle: Real
    qx: Array  # the post pivot on the leaf
    qy: Array
    length: Array
    leverage: Array
    ux: Array  # direction from the post pivot to the leaf pivot, on the leaf
    uy: Array
    cosine: Real
    sine: Real

    @property
    def vx(self) -> Array:
        """The direction from post pivot to leaf pivot in the plan, along x."""
        return np.asarray(self.cosine * self.ux - self.sine * self.uy)

    @property
    def vy(self) -> Array:
        """The same along y."""
        return np.asarray(self.sine * self.ux + self.cosine * self.uy)

    def body_on_leaf(self, problem: Problem) -> Bar:
        """The actuator's body as seen from the leaf."""
        return _body(problem, self.qx, self.qy, self.ux, self.uy)

    def body_at_ears(self, problem: Problem, pairs: Pairs) -> Bar:
        """The body in the plan, no wider than it is at the height where the ears begin."""
        actuator = problem.actuator
        height = min(actuator.post_eye.thickness, actuator.leaf_eye.thickness) / 2.0
        half = max(actuator.body_radius**2 - height**2, 0.0) ** 0.5
        return replace(self.body_in_plan(problem, pairs), half=half)

    def body_in_plan(self, problem: Problem, pairs: Pairs) -> Bar:
        """The actuator's body in the plan."""
        return _body(problem, pairs.px, pairs.py, self.vx, self.vy)

    def rod_in_plan(self, problem: Problem, pairs: Pairs) -> Bar:
        """The bare rod from the body to the leaf pivot in the plan."""
        actuator = problem.actuator
        return Bar(
            x=pairs.px,
            y=pairs.py,
            ux=self.vx,
            uy=self.vy,
            start=actuator.body_end,
            end=self.length,
            half=actuator.rod_radius,
        )


def _body(problem: Problem, x: Array, y: Array, ux: Array, uy: Array) -> Bar:
    actuator = problem.actuator
    return Bar(
        x=x,
        y=y,
        ux=ux,
        uy=uy,
        start=actuator.post_eye.to_body,
        end=actuator.body_end,
        half=actuator.body_radius,
    )


def position(pairs: Pairs, angle: Real) -> Position:
    """Where a pair stands at an opening angle."""
    radians = np.radians(angle)
    c, s = np.cos(radians), np.sin(radians)
    qx, qy = c * pairs.px + s * pairs.py, c * pairs.py - s * pairs.px
    dx, dy = pairs.gx - qx, pairs.gy - qy
    length = np.sqrt(dx * dx + dy * dy)
    ux, uy = dx / length, dy / length
    return Position(
        angle=angle,
        qx=qx,
        qy=qy,
        length=length,
        leverage=qy * ux - qx * uy,
        ux=ux,
        uy=uy,
        cosine=c,
        sine=s,
    )


def ends(problem: Problem) -> tuple[float, float]:
    """The signed angles of the two ends: closed and open."""
    return 0.0, kinematics.open_angle(problem.direction, problem.opening)


def tie(problem: Problem, px: Array, py: Array) -> Pairs:
    """The pairs that belong to post pivots; what is fixed of the leaf pivot stays as it is."""
    qx, qy = kinematics.on_leaf(px, py, problem.retracted_at)
    fixed = problem.fixed
    gy = np.full_like(qy, fixed.gy) if fixed.gy is not None else least_standoff(problem, qy)
    if fixed.gx is not None:
        gx = np.full_like(qx, fixed.gx)
    else:
        gx = kinematics.tie_distance(qx, qy, gy, problem.tied_length)
    return Pairs(px=px, py=py, gx=gx, gy=gy)


def least_leaf_reach(problem: Problem) -> float:
    """How far off the leaf's face its pivot must stand for the eye to turn; mm."""
    eye = problem.actuator.leaf_eye.radius + problem.brackets.swing_room
    return max(eye, problem.brackets.least_leaf_reach)


def least_standoff(problem: Problem, qy: Array) -> Array:
    """The least gy at which bracket, eye and body fit beside the leaf with the actuator shortest.

    The body comes nearest to the leaf at its far end, `gap` from the leaf pivot along the line of
    the pins; its radius is taken square to the leaf, which is on the safe side by its slope.
    """
    leaf, actuator = problem.leaf, problem.actuator
    bracket = leaf.face + least_leaf_reach(problem)
    share = (problem.tied_length - actuator.body_end) / problem.tied_length
    body = leaf.face + problem.limits.body_clearance + FACETS + actuator.body_radius
    return np.maximum(bracket, (body - share * qy) / (1.0 - share))


def root_x(problem: Problem, px: Array) -> Array:
    """Middle of the root from which the ears of the post bracket grow, on the post's face.

    Straight behind the pin where the seat fits. As far as a pin goes past the post towards the
    leaf, so far its root goes back from the edge, to the middle at most: a flatter ear leaves the
    body of the actuator room to swing down beside the post. An ear that is cut to a round post
    grows from its nearest line.
    """
    post = problem.post
    if post.outline.rounding > 0.0 and problem.brackets.cut_to_post:
        return np.full_like(px, post.middle)
    half = np.minimum(problem.brackets.seat_half_width, post.width / 2.0)
    last = post.outline.right - half
    back = np.maximum(post.middle, 2.0 * last - px)
    return np.asarray(np.where(px > last, back, np.maximum(px, post.outline.left + half)))


def carried(problem: Problem, pairs: Pairs) -> Array:
    """How far the post bracket carries its pin, from the middle of the root."""
    return np.asarray(np.hypot(pairs.px - root_x(problem, pairs.px), pairs.py - problem.post.face))


def bracket_moment(problem: Problem, pairs: Pairs, positions: tuple[Position, ...]) -> Array:
    """The most that the actuator's thrust bends the post bracket's ears at their root, in N mm."""
    ax, ay = pairs.px - root_x(problem, pairs.px), pairs.py - problem.post.face
    arms = [np.abs(ax * at.vy - ay * at.vx) for at in positions]
    most = arms[0]
    for arm in arms[1:]:
        most = np.maximum(most, arm)
    return problem.actuator.thrust * most
