"""How wide an ear may grow from its root without coming near the actuator's body.

The solver has made sure that the narrowest root works; a wider root is stiffer, so it is widened
on each side as far as the swing leaves room. Plan frame, mm.
"""

from collections.abc import Callable, Sequence

import numpy as np

from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.plan_shapes import Bar
from hangpost.generators.pivots.problem import Problem
from hangpost.parts.frame import turned
from hangpost.parts.hull import Disc, hull

STEP = 1.0  # degrees of the swing
FINE = 0.25  # mm, to which a root end is found
SHIFT = 1.0  # mm, by which a root is moved
CHORD = 0.05  # mm, to which arcs become corners


def widest_root(
    problem: Problem,
    mount: Mount,
    widest: tuple[float, float],
    rise: Callable[[float], float],
    tip: float,
) -> tuple[float, float]:
    """Least and greatest x of the widest root inside `widest` that keeps the body's clearance.

    `rise` says how far off the post's face the root lies at an x: where the bend ends and the
    ear begins, or the surface of a round post. `tip` is the ear's radius about its pin.
    """
    low, high = narrowest_root(mount, tip)
    low, high = max(low, widest[0]), min(high, widest[1])
    bar = _body_over_swing(problem, mount)

    def good(left: float, right: float) -> bool:
        ends = [(x, mount.post_face + rise(x), 0.0) for x in (left, right)]
        room = _room(bar, mount, (*ends, (*mount.post_pivot, tip)))
        return room >= problem.limits.body_clearance - 1e-6

    low, high = _shifted(low, high, widest, good)
    low = _pushed(low, widest[0], lambda end: good(end, high))
    return low, _pushed(high, widest[1], lambda end: good(low, end))


def narrowest_root(mount: Mount, tip: float) -> tuple[float, float]:
    """Least and greatest x of a root as wide as the tip, where the search has put it."""
    middle = (mount.root[0] + mount.root[1]) / 2
    return middle - tip, middle + tip


def _shifted(
    low: float, high: float, widest: tuple[float, float], good: Callable[[float, float], bool]
) -> tuple[float, float]:
    """The narrowest root, moved away from the leaf or else towards it until it is clear.

    A plate thicker than the search for the pins reckoned with bends further out, where the ear
    is nearer to the body. Where nothing is clear the root stays, and the sweep tells.
    """
    for way, room in ((-1.0, low - widest[0]), (1.0, widest[1] - high)):
        for step in range(int(room / SHIFT) + 1):
            by = way * SHIFT * step
            if good(low + by, high + by):
                return low + by, high + by
    return low, high


def room_beside(problem: Problem, mount: Mount, discs: Sequence[Disc]) -> float:
    """Least distance over the swing from the actuator's body to the band around discs (x, y, r).

    Never more than it is: the widest gap between the two along any direction square to an edge.
    """
    return _room(_body_over_swing(problem, mount), mount, discs)


def _room(bar: Bar, mount: Mount, discs: Sequence[Disc]) -> float:
    px, py = mount.post_pivot
    band = np.array(hull(tuple((x - px, y - py, r) for x, y, r in discs)).points(CHORD))
    along, across = np.array([bar.ux, bar.uy]).T, np.array([-np.asarray(bar.uy), bar.ux]).T
    corners = np.stack(
        [s * along + t * across for s in (bar.start, bar.end) for t in (-bar.half, bar.half)],
        axis=1,
    )  # one row an angle, four corners each
    edges = np.roll(band, -1, axis=0) - band
    normals = np.stack([edges[:, 1], -edges[:, 0]], axis=1)
    normals /= np.hypot(normals[:, 0], normals[:, 1])[:, None]
    off_band = (corners @ normals.T).min(axis=1) - (band @ normals.T).max(axis=0)
    gap = off_band.max(axis=1)
    for way in (along, -along, across, -across):
        off_bar = (way @ band.T).min(axis=1) - np.einsum("ij,ikj->ik", way, corners).max(axis=1)
        gap = np.maximum(gap, off_bar)
    return float(gap.min())


def _pushed(start: float, goal: float, good: Callable[[float], bool]) -> float:
    """The end moved from `start` towards `goal` as far as it stays good, by bisection."""
    if good(goal):
        return goal
    while abs(goal - start) > FINE:
        middle = (start + goal) / 2
        start, goal = (middle, goal) if good(middle) else (start, middle)
    return start


def _body_over_swing(problem: Problem, mount: Mount) -> Bar:
    """The actuator's body about the post pin at every angle of the swing."""
    post = mount.post_pivot
    leaf_pivot = (*mount.leaf_pivot, 0.0)
    ways = []
    for angle in swing(problem.direction, problem.opening, STEP):
        x, y, _ = turned(float(angle)).point(leaf_pivot)
        ways.append((x - post[0], y - post[1]))
    way = np.array(ways)
    way /= np.hypot(way[:, 0], way[:, 1])[:, None]
    return Bar(
        x=0.0,
        y=0.0,
        ux=way[:, 0],
        uy=way[:, 1],
        start=problem.actuator.post_eye.to_body,
        end=problem.actuator.body_end,
        half=problem.actuator.body_radius,
    )
