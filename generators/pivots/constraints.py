"""What makes a pair of pivots usable: thirteen constraints, each a name, a value and a limit.

Every constraint is one function that gives its value for arrays of candidates, so that the search,
the pivot map, the explanation of a hopeless gate and the final table all read the same formula.
Plan frame, mm, degrees, mm/s. The figures that depend on the whole swing have their extremes at
its ends (see `kinematics`); the clearances are taken at the ends by the search and at every half
degree for the pair that is chosen.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hangpost.generators.pivots.kinematics import Array, Real
from hangpost.generators.pivots.pairs import (
    FACETS,
    Pairs,
    Position,
    position,
    root_x,
)
from hangpost.generators.pivots.plan_shapes import (
    Bar,
    Ear,
    bar_to_box,
    bar_to_line,
    bars_to_ear,
    point_to_box,
)
from hangpost.generators.pivots.problem import Problem

SLACK = 1e-6  # mm; what rounding may cost a figure that lies on its limit

Positions = tuple[Position, ...]
Value = Callable[[Problem, Pairs, Positions], Array]


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraint:
    """One thing that a usable pair must keep; `scale` is how much of the unit weighs as 1 mm."""

    name: str
    value: Value
    limit: Callable[[Problem], float]
    unit: Literal["mm", "degrees", "mm/s", "s"] = "mm"
    sense: Literal["least", "most"] = "least"
    scale: float = 1.0

    def margin(self, problem: Problem, pairs: Pairs, positions: Positions) -> Array:
        """What is left beyond the limit, zero or more where it is kept; nan counts as not kept."""
        value = self.value(problem, pairs, positions)
        left = value - self.limit(problem)
        return left if self.sense == "least" else -left


def least_over(values: list[Array]) -> Array:
    """The least of several arrays, place by place; nan wins."""
    least = values[0]
    for value in values[1:]:
        least = np.minimum(least, value)
    return least


def stroke(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Spare travel at whichever end has less."""
    actuator = problem.actuator
    spare = [at.length - actuator.retracted for at in positions]
    spare += [actuator.retracted + actuator.stroke - at.length for at in positions]
    return least_over(spare)


def dead_centre(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """How far the pins stay from lying in one line with the hinge axis, as an angle."""
    angles = [
        np.degrees(np.arctan2(at.leverage * at.length, at.qx * pairs.gx + at.qy * pairs.gy))
        for at in positions
    ]
    return least_over([np.minimum(angle, 180.0 - angle) for angle in angles])


def leverage(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The least leverage of the swing."""
    return least_over([at.leverage for at in positions])


def folded_clearance(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Pin centre of the post pivot to the leaf: its face, or its hinge edge when behind that.

    The design asks for it where the actuator lies closest along the leaf; taking every position
    keeps the leaf from coming nearer on its way.
    """
    face, edge = problem.leaf.face, problem.leaf.hinge_edge
    values = []
    for at in positions:
        over = at.qy - face
        behind = np.maximum(edge - at.qx, 0.0)
        # A root, because numpy's hypot takes five times as long and this runs a million times.
        corner = np.sqrt(over * over + behind * behind)
        values.append(np.where(over > 0.0, corner, np.maximum(over, behind)))
    return least_over(values)


def body_to_leaf(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Body of the actuator to the line of the leaf's face."""
    return least_over(
        [bar_to_line(at.body_on_leaf(problem), problem.leaf.face) for at in positions]
    )


def body_to_walls(problem: Problem, pairs: Pairs, positions: Positions) -> dict[str, Array]:
    """Body and rod of the actuator to the post and to each obstacle, by name."""
    gaps = {}
    for name, box in problem.walls():
        bodies = [bar_to_box(at.body_in_plan(problem, pairs), box) for at in positions]
        if name != "post":
            bodies += [bar_to_box(at.rod_in_plan(problem, pairs), box) for at in positions]
        gaps[name] = least_over(bodies)
    return gaps


def body_clearance(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Body of the actuator to the nearest of leaf, post and obstacles."""
    walls = body_to_walls(problem, pairs, positions)
    return least_over([body_to_leaf(problem, pairs, positions), *walls.values()]) - FACETS


def ear_clearance(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Ears of both brackets to the actuator's body, and the post bracket's ears to the leaf."""
    brackets, leaf, actuator = problem.brackets, problem.leaf, problem.actuator
    to_x = root_x(problem, pairs.px) - pairs.px
    roots = [problem.post.face + rise - pairs.py for rise in brackets.root_rises]
    tip = brackets.ear_tip
    leaf_ear = Ear(to_x=0.0, to_y=leaf.face - pairs.gy, half_root=tip, tip=tip)
    bodies = [at.body_at_ears(problem, pairs) for at in positions]
    # From the leaf pivot the body starts further off, the more the rod is out.
    backs = [
        Bar(
            x=0.0,
            y=0.0,
            ux=-at.ux,
            uy=-at.uy,
            start=at.length - actuator.body_end,
            end=at.length,
            half=body.half,
        )
        for at, body in zip(positions, bodies, strict=True)
    ]
    values = bars_to_ear(backs, leaf_ear)
    for to_y in roots:
        values += bars_to_ear(bodies, Ear(to_x=to_x, to_y=to_y, half_root=tip, tip=tip))
        values += [_ear_to_leaf(problem, at, to_x, to_y) for at in positions]
    return least_over(values) - FACETS


def _ear_to_leaf(problem: Problem, at: Position, to_x: Array, to_y: Array) -> Array:
    """The part of the post bracket's ear that is over the leaf, to the leaf's face."""
    tip, face = problem.brackets.ear_tip, problem.leaf.face
    edge = problem.leaf.hinge_edge - tip
    c, s = at.cosine, at.sine
    root_qx, root_qy = at.qx + c * to_x + s * to_y, at.qy + c * to_y - s * to_x
    run = np.where(at.qx == root_qx, 1e-9, at.qx - root_qx)
    crossing = at.qy + np.clip((at.qx - edge) / run, 0.0, 1.0) * (root_qy - at.qy)
    pin = np.where(at.qx >= edge, at.qy, crossing)
    root = np.where(root_qx >= edge, root_qy, crossing)
    over = np.minimum(pin, root) - face - tip
    behind = edge - np.maximum(at.qx, root_qx)
    return np.where(behind > 0.0, np.maximum(behind, over), over)


def on_leaf(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The leaf pivot to the nearer end of the rail that carries it."""
    return np.minimum(pairs.gx - problem.leaf.rail_from, problem.leaf.rail_to - pairs.gx)


def pin_room(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The post pivot to the post or, where ears are bent from a seat, to the plane of its face."""
    to_post = point_to_box(pairs.px, pairs.py, problem.post.outline)
    if problem.brackets.cut_to_post:
        return to_post
    return np.minimum(to_post, reach(problem, pairs, positions))


def reach(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The post pivot to the plane of the post's actuator face."""
    return pairs.py - problem.post.face


def overhang(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """How far the post pivot lies beside the post; below zero over its face."""
    box = problem.post.outline
    return np.maximum(pairs.px - box.right, box.left - pairs.px)


def leaf_reach(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The leaf pivot to the leaf's face."""
    return pairs.gy - problem.leaf.face


def speed(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """The greatest speed of the latch edge, which is where the leverage is least."""
    arm = np.maximum(leverage(problem, pairs, positions), 1e-9)
    return problem.actuator.speed * problem.leaf.width / arm


def time(problem: Problem, pairs: Pairs, positions: Positions) -> Array:
    """Seconds from closed to open at the actuator's own speed."""
    lengths = [at.length for at in positions]
    longest = -least_over([-length for length in lengths])
    travel = longest - least_over(lengths)
    if len(lengths) == 1:  # one pair at all its angles
        travel = np.full_like(travel, np.ptp(lengths[0]))
    return travel / problem.actuator.speed


def _longest_time(problem: Problem) -> float:
    limit = problem.limits.swing_time
    return float("inf") if limit is None else limit


def _most_speed(problem: Problem) -> float:
    limit = problem.limits.edge_speed
    return float("inf") if limit is None else limit


def _pin_room_needed(problem: Problem) -> float:
    eye = problem.actuator.post_eye.radius + problem.brackets.swing_room
    return max(eye, problem.brackets.least_reach)


AT_POST: tuple[Constraint, ...] = (
    Constraint(name="pin room", value=pin_room, limit=_pin_room_needed),
    Constraint(name="reach", value=reach, limit=lambda p: p.brackets.max_reach, sense="most"),
    Constraint(
        name="overhang", value=overhang, limit=lambda p: p.brackets.max_overhang, sense="most"
    ),
)
FOLDED = Constraint(
    name="folded clearance", value=folded_clearance, limit=lambda p: p.limits.folded_clearance
)
AT_ENDS: tuple[Constraint, ...] = (
    Constraint(name="stroke", value=stroke, limit=lambda p: p.limits.margin),
    Constraint(name="leverage", value=leverage, limit=lambda p: p.needed_leverage),
    Constraint(name="speed", value=speed, limit=_most_speed, unit="mm/s", sense="most", scale=5.0),
    Constraint(name="time", value=time, limit=_longest_time, unit="s", sense="most"),
    Constraint(name="on the leaf", value=on_leaf, limit=lambda p: p.brackets.leaf_half_length),
    Constraint(
        name="leaf reach", value=leaf_reach, limit=lambda p: p.brackets.max_leaf_reach, sense="most"
    ),
    Constraint(
        name="dead centre",
        value=dead_centre,
        limit=lambda p: p.limits.dead_centre,
        unit="degrees",
        scale=0.3,
    ),
)
CLEARANCES: tuple[Constraint, ...] = (
    Constraint(
        name="body clearance", value=body_clearance, limit=lambda p: p.limits.body_clearance
    ),
    Constraint(name="ear clearance", value=ear_clearance, limit=lambda p: p.limits.body_clearance),
)
CONSTRAINTS: tuple[Constraint, ...] = (*AT_POST, FOLDED, *AT_ENDS, *CLEARANCES)


def positions_at(pairs: Pairs, angles: tuple[Real, ...]) -> Positions:
    """The candidates at several angles."""
    return tuple(position(pairs, angle) for angle in angles)


def margins(problem: Problem, pairs: Pairs, angles: tuple[float, ...]) -> dict[str, Array]:
    """What every constraint leaves for every candidate: the field that maps are drawn from."""
    positions = positions_at(pairs, angles)
    return {c.name: c.margin(problem, pairs, positions) for c in CONSTRAINTS}
