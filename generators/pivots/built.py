"""The gate as it is really built: errors in, true figures out, many gates in one expression.

The order of work decides who pays for an error. The post bracket is drilled where the template
says, from the post's edges, so the post pivot follows the post and not the hinge axis. The leaf
pivot is tied on site, with the actuator drawn in to its spare and the leaf at that end of its
swing, so it takes up whatever went before; the other end of the swing does not. What cannot be
tied, because the holes in the leaf exist already, keeps its place.

Left out, because they move no pin in plan by a figure that counts: lean (the offsets are taken at
the pin's own height), sag, obstacles' own places, the size of a square post.
Plan frame, mm, degrees. True = drawn + error; a row of errors is one gate.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np

from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.constraints import CONSTRAINTS, Constraint, positions_at
from hangpost.generators.pivots.errors import Source, diameter_error
from hangpost.generators.pivots.kinematics import Array, Real
from hangpost.generators.pivots.pairs import Pairs, position
from hangpost.generators.pivots.problem import Problem

STROKE = "stroke"
JUDGED = ("leverage", "dead centre", "folded clearance", "body clearance", "ear clearance")
RULES: tuple[Constraint, ...] = tuple(c for c in CONSTRAINTS if c.name in JUDGED)
ROUND_POST = ("post.circumference", "post.measured", "post.size")


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """Errors by source; one array for each, one entry for each gate."""

    sources: tuple[Source, ...]
    values: Mapping[str, Array]

    def __getitem__(self, name: str) -> Real:
        """The errors of a source, 0 when it is none of them."""
        return self.values.get(name, 0.0)

    @property
    def diameter(self) -> Real:
        """Errors of a round post's diameter."""
        for source in self.sources:
            if source.name in ROUND_POST:
                return np.asarray(self[source.name]) * diameter_error(source)
        return 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """Many gates as built: the true pins, and what comes of them."""

    problem: Problem  # its figures are arrays, one entry for each gate
    pairs: Pairs
    figures: Mapping[str, Array]  # by name: constraints' values, lengths, angles

    def spare(self, name: str, limit: float | None = None) -> Array:
        """What is left of a constraint beyond its own limit, or beyond another."""
        if limit is None:
            limit = limits(self.problem)[name]
        return self.figures[name] - limit


def limits(problem: Problem) -> dict[str, float]:
    """What each judged figure must not be under, reserves included."""
    found = {rule.name: float(rule.limit(problem)) for rule in RULES}
    return {STROKE: problem.limits.margin, **found}


def scales() -> dict[str, float]:
    """How much of each judged figure weighs as much as a millimetre."""
    return {STROKE: 1.0, **{rule.name: rule.scale for rule in RULES}}


def built(problem: Problem, drawn: Pairs, errors: Errors, between: tuple[float, ...] = ()) -> Built:
    """The gates that come of drawn pairs and errors, whose arrays broadcast.

    `between` are further angles at which clearances are looked at, beside the two ends.
    """
    gates, pairs = _true_pins(problem, drawn, errors)
    at_open = kinematics.open_angle(problem.direction, problem.opening)
    closed, opened = errors["leaf set closed"], at_open + errors["leaf set open"]
    tied, far = (opened, closed) if problem.direction == "pull" else (closed, opened)
    # Zero stands for the pair's own shape, so that constraints see arrays of one length.
    zero = np.zeros(np.broadcast(pairs.px, pairs.gx).shape)
    angles = tuple(np.asarray(angle + zero) for angle in (tied, far, *between))
    positions = positions_at(pairs, angles)
    actuator = gates.actuator
    far_length = positions[1].length + errors["pins in their holes"]
    figures = {rule.name: rule.value(gates, pairs, positions) for rule in RULES}
    figures[STROKE] = actuator.retracted + actuator.stroke - far_length
    figures["tied length"] = positions[0].length
    figures["far length"] = far_length
    figures["along the leaf"] = pairs.gx
    figures["post pivot along the leaf"] = pairs.px - drawn.px
    figures["post pivot off the leaf"] = pairs.py - drawn.py
    figures |= _angles(problem, drawn, gates, pairs, positions[0].length, tied)
    figures |= _from_paper(problem, drawn, gates, pairs, errors)
    return Built(problem=gates, pairs=pairs, figures=figures)


def _true_pins(problem: Problem, drawn: Pairs, errors: Errors) -> tuple[Problem, Pairs]:
    post, leaf, actuator = problem.post, problem.leaf, problem.actuator
    # A hinge further off than measured is a post further back.
    shift_x = -np.asarray(errors["hinge.to_leaf_face"]) - np.asarray(errors.diameter) / 2.0
    shift_y = np.asarray(errors["hinge.to_actuator_face"])
    box = post.outline
    datum_x = post.middle if box.rounding > 0.0 else box.right
    along = drawn.px - datum_x + errors["template on the post's edge"]
    along = along + errors["holes in the post"] + errors["post bracket, across"]
    out = drawn.py - post.face + errors["post bracket, reach"] + errors["seat on the post"]
    x, y = kinematics.turned(along, out, errors["post face square to the leaf"])
    px, py = np.asarray(datum_x + shift_x + x), np.asarray(post.face + shift_y + y)

    face_moves = np.asarray(errors["leaf.axis_offset"]) + errors["leaf.thickness"] / 2.0
    retracted = actuator.retracted + np.asarray(errors["actuator.retracted"])
    gates = replace(
        problem,
        post=replace(
            post,
            outline=replace(
                box,
                xmin=_each(box.xmin + shift_x),
                xmax=_each(box.xmax + shift_x),
                ymin=_each(box.ymin + shift_y),
                ymax=_each(box.ymax + shift_y),
            ),
        ),
        leaf=replace(
            leaf,
            thickness=_each(leaf.thickness + errors["leaf.thickness"]),
            axis_offset=_each(leaf.axis_offset + errors["leaf.axis_offset"]),
        ),
        actuator=replace(
            actuator,
            retracted=_each(retracted),
            stroke=_each(actuator.stroke + errors["actuator.stroke"]),
        ),
    )
    gy = np.asarray(drawn.gy + face_moves + errors["leaf bracket, reach"])
    if problem.fixed.gx is not None:
        gx = np.asarray(drawn.gx + errors["fixed.leaf_pivot"])
    else:
        at = problem.retracted_at
        set_by = "leaf set open" if problem.direction == "pull" else "leaf set closed"
        qx, qy = kinematics.on_leaf(px, py, at + errors[set_by])
        tied = retracted + problem.limits.margin + errors["spare when the leaf is tied"]
        gx = kinematics.tie_distance(qx, qy, gy, tied)
    px, py, gx, gy = np.broadcast_arrays(px, py, gx, gy)
    return gates, Pairs(px=px, py=py, gx=gx, gy=gy)


def _each(values: Any) -> float:
    """An array in the place of a number: numpy's broadcasting makes one formula do for all."""
    return cast("float", values)


def _angles(
    problem: Problem, drawn: Pairs, gates: Problem, pairs: Pairs, tied_length: Array, tied: Real
) -> dict[str, Array]:
    """The far end's angle when the rod is run out by the stroke on the sheet, unseen."""
    near, far = (
        position(drawn, angle).length for angle in (problem.retracted_at, problem.extended_at)
    )
    turned = angle_at(pairs, tied_length + (far - near))
    sign = 1.0 if problem.direction == "pull" else -1.0
    # Pulled: what is left to the closed stop. Pushed: how far the leaf stands open.
    return {"far angle": sign * turned}


def angle_at(pairs: Pairs, length: Real) -> Array:
    """The opening angle at which the pins are a length apart; nan when they never are."""
    p, g = np.hypot(pairs.px, pairs.py), np.hypot(pairs.gx, pairs.gy)
    cosine = (p * p + g * g - np.square(length)) / (2.0 * p * g)
    inside = np.where(np.abs(cosine) <= 1.0, cosine, np.nan)
    start = np.arctan2(pairs.py, pairs.px) - np.arctan2(pairs.gy, pairs.gx)
    return np.asarray(np.degrees(start - np.arccos(inside)))


def _from_paper(
    problem: Problem, drawn: Pairs, gates: Problem, pairs: Pairs, errors: Errors
) -> dict[str, Array]:
    """Had the leaf been drilled from its template: how far off, and how wide it would open."""
    paper = drawn.gx + errors["template along the leaf"] + errors["holes in the leaf"]
    paper = np.asarray(paper + np.zeros(pairs.gx.shape))
    untied = replace(pairs, gx=paper)
    spare = problem.limits.margin + errors["spare when the leaf is tied"]
    angle = angle_at(untied, gates.actuator.retracted + spare)
    sign = 1.0 if problem.direction == "pull" else -1.0
    return {"slot": pairs.gx - paper, "paper angle": sign * angle}
