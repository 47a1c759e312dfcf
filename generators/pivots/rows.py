"""Constraints in sentences for people: one row each, for one pair over its whole swing.

Lengths in mm with inches beside them, to the nearest 1/16. mm, N, degrees.
"""

from collections.abc import Callable

import numpy as np

from hangpost.generators.pivots.constraints import (
    CONSTRAINTS,
    Constraint,
    body_to_leaf,
    body_to_walls,
)
from hangpost.generators.pivots.kinematics import swing, turned
from hangpost.generators.pivots.mount import Row
from hangpost.generators.pivots.pairs import Pairs, Position, position
from hangpost.generators.pivots.plan_shapes import Bar, bar_to_box
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.display import both, plain, quantity

STEP = 0.5  # degrees


def mm(length: float) -> str:
    """A length in both systems."""
    return both(length, "mm")


def rows(problem: Problem, pair: Pairs) -> tuple[Row, ...]:
    """Every constraint of a single pair, at its tightest over the swing."""
    angles = swing(problem.direction, problem.opening, STEP)
    dense = (position(pair, angles),)
    return tuple(_row(problem, pair, dense, constraint, angles) for constraint in CONSTRAINTS)


def _row(
    problem: Problem,
    pair: Pairs,
    dense: tuple[Position],
    constraint: Constraint,
    angles: np.typing.NDArray[np.float64],
) -> Row:
    values = np.atleast_1d(constraint.value(problem, pair, dense))
    index = int(np.argmin(values) if constraint.sense == "least" else np.argmax(values))
    value, limit = float(values[index]), float(constraint.limit(problem))
    angle = float(angles[index]) if values.size == angles.size else 0.0
    return Row(
        name=constraint.name,
        value=value,
        limit=limit,
        unit=constraint.unit,
        sense=constraint.sense,
        at_angle=angle,
        sentence=_SENTENCES[constraint.name](problem, pair, value, limit, angle),
    )


def _stroke(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    end = "open" if abs(angle) > p.opening / 2.0 else "closed"
    if value < 0.0 and abs(angle - p.retracted_at) < p.opening / 2.0:
        return (
            f"The actuator cannot draw in far enough for the leaf to be {end}, by {mm(-value)};"
            f" {mm(limit)} must be left over at each end."
        )
    if value < 0.0:
        return (
            f"The actuator is {mm(-value)} short of travel with the leaf {end};"
            f" {mm(limit)} must be left over at each end."
        )
    return f"At the tighter end {mm(value)} of travel is left; at least {mm(limit)} must be."


def _dead_centre(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"At {plain(abs(angle), places=1)} degrees open the two pins come within"
        f" {plain(value, places=1)} degrees of lying in line with the hinge axis;"
        f" at least {plain(limit, places=1)} degrees keep the actuator from losing its hold."
    )


def _leverage(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    need, thrust = p.torque * p.torque_factor, p.actuator.thrust
    foot, pounds = quantity(need, "N mm", "in")[0], quantity(thrust, "N", "in")[0]
    return (
        f"The least leverage is {mm(value)}; moving the leaf takes"
        f" {plain(need / 1000.0, places=0)} N m ({foot} lbf ft) with its factor, for which"
        f" {plain(thrust, places=0)} N ({pounds} lbf) of thrust need {mm(limit)}."
    )


def _folded(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"With the actuator folded along the leaf the post pivot is {mm(value)} from the leaf's"
        f" face; at least {mm(limit)} is wanted."
    )


def _body(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    at = (position(pair, angle),)
    gaps = {"leaf": body_to_leaf(p, pair, at), **body_to_walls(p, pair, at)}
    name = min(gaps, key=lambda key: float(np.min(gaps[key])))
    if value < 0.0:
        return (
            f"The actuator runs {mm(-value)} into the {name} at {plain(abs(angle), places=1)}"
            f" degrees open; at least {mm(limit)} must be clear."
        )
    return (
        f"The actuator comes to {mm(value)} from the {name} at {plain(abs(angle), places=1)}"
        f" degrees open; at least {mm(limit)} must be clear."
    )


def _ear(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    if value < 0.0:
        return (
            f"The brackets' ears foul the actuator's body or the leaf by {mm(-value)} at"
            f" {plain(abs(angle), places=1)} degrees open; at least {mm(limit)} must be clear."
        )
    return (
        f"The brackets' ears keep {mm(value)} from the actuator's body and from the leaf, least at"
        f" {plain(abs(angle), places=1)} degrees open; at least {mm(limit)} must be clear."
    )


def _on_leaf(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"The leaf pivot lands {mm(value)} inside the nearer end of the rail; its bracket needs"
        f" {mm(limit)} of rail to either side."
    )


def _pin_room(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"The post pivot stands {mm(value)} off the post; at least {mm(limit)} lets the eye turn"
        " and the ear be bent."
    )


def _reach(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"The post bracket carries its pin {mm(value)} off the post's face;"
        f" the shop's limit is {mm(limit)}."
    )


def _overhang(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    where = f"{mm(value)} beside the post" if value > 0.0 else "over the post's face"
    return f"The post pivot lies {where}; the shop's limit is {mm(limit)} beside it."


def _leaf_reach(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    return (
        f"The leaf bracket carries its pin {mm(value)} off the leaf's face;"
        f" the shop's limit is {mm(limit)}."
    )


def _speed(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    limited = (
        f"the site allows {limit:.0f} mm/s" if np.isfinite(limit) else "the site sets no limit"
    )
    return f"The latch edge moves at up to {value:.0f} mm/s; {limited}."


def _time(p: Problem, pair: Pairs, value: float, limit: float, angle: float) -> str:
    limited = f"the site allows {limit:.0f} s" if np.isfinite(limit) else "the site sets no limit"
    return f"The leaf takes {value:.0f} s from closed to open; {limited}."


_SENTENCES: dict[str, Callable[[Problem, Pairs, float, float, float], str]] = {
    "pin room": _pin_room,
    "reach": _reach,
    "overhang": _overhang,
    "folded clearance": _folded,
    "stroke": _stroke,
    "leverage": _leverage,
    "speed": _speed,
    "time": _time,
    "on the leaf": _on_leaf,
    "leaf reach": _leaf_reach,
    "dead centre": _dead_centre,
    "body clearance": _body,
    "ear clearance": _ear,
}


def leaf_to_post(problem: Problem) -> Row:
    """The leaf itself against the hanging post over the swing: the gate's own business.

    No pivot can mend it, so it stops no search; but a leaf that binds on its post will not open.
    """
    angles = swing(problem.direction, problem.opening, STEP)
    leaf = problem.leaf
    x, y = turned(0.0, leaf.axis_offset, angles)
    ux, uy = turned(1.0, 0.0, angles)
    bar = Bar(
        x=x, y=y, ux=ux, uy=uy, start=leaf.hinge_edge, end=leaf.width, half=leaf.thickness / 2.0
    )
    gaps = bar_to_box(bar, problem.post.outline)
    index = int(np.argmin(gaps))
    value, angle = float(gaps[index]), float(angles[index])
    if value >= 0.0:
        said = f"The leaf keeps {mm(value)} from the hanging post over its swing"
    else:
        said = f"The leaf runs {mm(-value)} into the hanging post before it is open"
    return Row(
        name="leaf to post",
        value=value,
        limit=0.0,
        unit="mm",
        sense="least",
        at_angle=angle,
        sentence=f"{said}, nearest at {plain(abs(angle), places=1)} degrees open.",
    )
