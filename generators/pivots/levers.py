"""What may be changed about a gate that has no usable pivots, and how to say it.

Each lever is one number of the problem, the way it would change, how far is still in reason and
how much bother a change is beside others; all of these are the house's judgement. mm, N, degrees.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from hangpost.generators.pivots.plan_shapes import Box
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.rows import mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One number that may change, how far is still in reason, and how to say it."""

    change: str
    unit: str
    read: Callable[[Problem], float]
    put: Callable[[Problem, float], Problem]
    towards: float  # +1 or -1
    most: Callable[[Problem], float]
    grain: float  # changes are whole multiples of this
    bother: float  # change that weighs 1
    say: Callable[[Problem, float, float], str]
    touches: tuple[str, ...] = ()  # the only constraints it eases; empty when it moves everything


def _with_opening(problem: Problem, opening: float) -> Problem:
    return replace(problem, opening=opening)


def _with_stroke(problem: Problem, stroke: float) -> Problem:
    # A longer rod needs a longer body: the retracted length grows by as much.
    actuator, more = problem.actuator, stroke - problem.actuator.stroke
    return replace(
        problem, actuator=replace(actuator, stroke=stroke, retracted=actuator.retracted + more)
    )


def _with_thrust(problem: Problem, thrust: float) -> Problem:
    return replace(problem, actuator=replace(problem.actuator, thrust=thrust))


def _with_speed(problem: Problem, speed: float) -> Problem:
    return replace(problem, actuator=replace(problem.actuator, speed=speed))


def _with_reach(problem: Problem, reach: float) -> Problem:
    return replace(problem, brackets=replace(problem.brackets, max_reach=reach))


def _with_overhang(problem: Problem, overhang: float) -> Problem:
    return replace(problem, brackets=replace(problem.brackets, max_overhang=overhang))


def _with_folded(problem: Problem, clearance: float) -> Problem:
    return replace(problem, limits=replace(problem.limits, folded_clearance=clearance))


def _with_margin(problem: Problem, margin: float) -> Problem:
    return replace(problem, limits=replace(problem.limits, margin=margin))


def _with_hinge(problem: Problem, to_actuator_face: float) -> Problem:
    box, shift = problem.post.outline, to_actuator_face - problem.post.face
    outline = Box(
        xmin=box.xmin,
        xmax=box.xmax,
        ymin=box.ymin + shift,
        ymax=box.ymax + shift,
        rounding=box.rounding,
    )
    return replace(problem, post=replace(problem.post, outline=outline))


def _thinnest_folded(problem: Problem) -> float:
    """The pin may come no nearer to the leaf than the body and its clearance. House."""
    least = problem.actuator.body_radius + problem.limits.body_clearance
    return problem.limits.folded_clearance - least


def _hinge(way: str, towards: float, most: Callable[[Problem], float]) -> Lever:
    """The leaf hung otherwise, its axis nearer the post's actuator face or further from it."""
    return Lever(
        change=f"hinge {way} the actuator face",
        unit="mm",
        read=lambda p: p.post.face,
        put=_with_hinge,
        towards=towards,
        most=most,
        grain=1.0,
        bother=10.0,
        say=lambda p, old, new: (
            f"Hanging the leaf with its axis {mm(new)} from the post's actuator face instead of"
            f" {mm(old)} works."
        ),
    )


LEVERS: tuple[Lever, ...] = (
    Lever(
        change="opening",
        unit="degrees",
        read=lambda p: p.opening,
        put=_with_opening,
        towards=-1.0,
        most=lambda p: 0.6 * p.opening,
        grain=0.5,
        bother=5.0,
        say=lambda p, old, new: f"Opening {new:g} degrees instead of {old:g} works.",
    ),
    Lever(
        change="stroke",
        unit="mm",
        read=lambda p: p.actuator.stroke,
        put=_with_stroke,
        towards=1.0,
        most=lambda p: 1.5 * p.actuator.stroke,
        grain=1.0,
        bother=25.0,
        say=lambda p, old, new: (
            f"An actuator with {mm(new)} of stroke instead of {mm(old)}, and as much longer when"
            " drawn in, works."
        ),
    ),
    Lever(
        change="thrust",
        touches=("leverage",),
        unit="N",
        read=lambda p: p.actuator.thrust,
        put=_with_thrust,
        towards=1.0,
        most=lambda p: 4.0 * p.actuator.thrust,
        grain=10.0,
        bother=300.0,
        say=lambda p, old, new: f"An actuator of {new:.0f} N thrust instead of {old:.0f} N works.",
    ),
    Lever(
        change="actuator speed",
        touches=("speed", "time"),
        unit="mm/s",
        read=lambda p: p.actuator.speed,
        put=_with_speed,
        towards=-1.0,
        most=lambda p: 0.8 * p.actuator.speed if p.limits.edge_speed is not None else 0.0,
        grain=0.1,
        bother=3.0,
        say=lambda p, old, new: f"An actuator of {new:.1f} mm/s instead of {old:.1f} mm/s works.",
    ),
    Lever(
        change="reach",
        touches=("reach",),
        unit="mm",
        read=lambda p: p.brackets.max_reach,
        put=_with_reach,
        towards=1.0,
        most=lambda p: 400.0,
        grain=1.0,
        bother=20.0,
        say=lambda p, old, new: (
            f"A deeper bracket works: one that may reach {mm(new)} instead of {mm(old)}"
            " (limits.reach in the shop file)."
        ),
    ),
    Lever(
        change="overhang",
        touches=("overhang",),
        unit="mm",
        read=lambda p: p.brackets.max_overhang,
        put=_with_overhang,
        towards=1.0,
        most=lambda p: 400.0,
        grain=1.0,
        bother=20.0,
        say=lambda p, old, new: (
            f"A longer ear works: one that may carry its pin {mm(new)} beside the post instead"
            f" of {mm(old)} (limits.overhang in the shop file)."
        ),
    ),
    _hinge("nearer", -1.0, lambda p: max(0.0, min(200.0, p.post.face))),
    _hinge("further from", 1.0, lambda p: 200.0),
    Lever(
        change="folded clearance",
        touches=("folded clearance",),
        unit="mm",
        read=lambda p: p.limits.folded_clearance,
        put=_with_folded,
        towards=-1.0,
        most=_thinnest_folded,
        grain=1.0,
        bother=6.0,
        say=lambda p, old, new: (
            f"Letting the post pivot come to {mm(new)} from the leaf's face instead of {mm(old)}"
            " works, if nothing catches there (clearances.folded in the shop file)."
        ),
    ),
    Lever(
        change="margin",
        unit="mm",
        read=lambda p: p.limits.margin,
        put=_with_margin,
        towards=-1.0,
        most=lambda p: p.limits.margin - min(3.0, p.limits.margin),
        grain=0.5,
        bother=3.0,
        say=lambda p, old, new: (
            f"Keeping {mm(new)} of stroke in hand at each end instead of {mm(old)} works"
            " (clearances.stroke_margin in the shop file)."
        ),
    ),
)
