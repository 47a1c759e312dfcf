"""From a survey's numbers to the two pins: search, choose, and say why.

`solve` is what the command and the pack call. Plan frame of the right hand; mm, N, degrees.
"""

import numpy as np

from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.constraints import folded_clearance, overhang
from hangpost.generators.pivots.kinematics import Array, extended_angle, swing
from hangpost.generators.pivots.mount import CurvePoint, Mount, RunnerUp
from hangpost.generators.pivots.pairs import Pairs, carried, position, root_x
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.rows import leaf_to_post, mm, rows
from hangpost.generators.pivots.search import Score, lightest_bracket, missed_angles, settle
from hangpost.generators.pivots.sift import Usable

__all__ = ["Mount", "curve", "mount", "runners_up", "solve"]

GRID = 1000
RUNNERS_UP = 5


def solve(
    problem: Problem, *, score: Score = lightest_bracket, grid: int = GRID, step: float = 1.0
) -> Mount:
    """The pivots of a gate, chosen by `score`; raises NoPivots with the ways out if there are none.

    `grid` is the number of post pivots tried along each free axis, `step` that of the curve.
    """
    found = settle(problem, score, grid)
    if found is None:
        # A hopeless gate is rare, and its explanation is long: read the code for it only then.
        from hangpost.generators.pivots.ways_out import no_pivots

        raise no_pivots(problem)
    chosen, usable, best = found
    return mount(problem, chosen, best, step=step, runners_up=runners_up(problem, chosen, usable))


def mount(
    problem: Problem,
    chosen: Usable,
    best: float,
    *,
    step: float = 1.0,
    runners_up: tuple[RunnerUp, ...] = (),
) -> Mount:
    """Every figure of one pair; `best` is the best least leverage it was chosen from."""
    pair, actuator = chosen.pairs, problem.actuator
    closed = position(pair, 0.0)
    opened = position(pair, kinematics.open_angle(problem.direction, problem.opening))
    short, long = sorted((float(closed.length[0]), float(opened.length[0])))
    least = float(chosen.least[0])
    root = float(root_x(problem, pair.px)[0])
    tip = problem.brackets.ear_tip
    return Mount(
        direction=problem.direction,
        opening=problem.opening,
        post_pivot=(float(pair.px[0]), float(pair.py[0])),
        leaf_pivot=(float(pair.gx[0]), float(pair.gy[0])),
        height=problem.height,
        closed_length=float(closed.length[0]),
        open_length=float(opened.length[0]),
        stroke_used=long - short,
        margin_retracted=short - actuator.retracted,
        margin_extended=actuator.retracted + actuator.stroke - long,
        leverage_closed=float(closed.leverage[0]),
        leverage_open=float(opened.leverage[0]),
        required_leverage=problem.needed_leverage,
        best_leverage=best,
        folded_clearance=float(
            folded_clearance(problem, pair, (position(pair, problem.retracted_at),))[0]
        ),
        post_face=problem.post.face,
        root=(root - tip, root + tip),
        overhang=float(overhang(problem, pair, ())[0]),
        leaf_reach=float(pair.gy[0]) - problem.leaf.face,
        bracket_moment=float(chosen.moment[0]),
        swing_time=(long - short) / actuator.speed,
        edge_speed=float(kinematics.edge_speed(actuator.speed, least, problem.leaf.width)),
        curve=curve(problem, pair, step),
        rows=rows(problem, pair),
        leaf_to_post=leaf_to_post(problem),
        runners_up=runners_up,
        why=_why(problem, chosen, best),
    )


def curve(problem: Problem, pair: Pairs, step: float) -> tuple[CurvePoint, ...]:
    """The gate from closed to open."""
    angles = swing(problem.direction, problem.opening, step)
    at = position(pair, angles)
    torque = kinematics.torque(problem.actuator.thrust, at.leverage)
    speed = kinematics.edge_speed(problem.actuator.speed, at.leverage, problem.leaf.width)
    table = np.column_stack((angles, at.length, at.leverage, torque, speed)).tolist()
    return tuple(
        CurvePoint(angle=a, length=length, leverage=r, torque=m, edge_speed=v)
        for a, length, r, m, v in table
    )


def runners_up(problem: Problem, chosen: Usable, usable: Usable) -> tuple[RunnerUp, ...]:
    """Other usable pairs: the most leverage that brackets of growing length can give.

    Along the trade-off a longer bracket always buys more leverage; a pair that costs length for
    nothing is left out, and so is one that comes too near to something in the middle of its swing.
    """
    length = np.ceil(carried(problem, usable.pairs))  # to the millimetre
    order = np.lexsort((-usable.least, length))
    rising = length[order]
    rows = order[np.concatenate(([True], rising[1:] > rising[:-1]))]  # the best of each length
    peak = np.maximum.accumulate(usable.least[rows])
    front = rows[np.concatenate(([True], peak[1:] > peak[:-1]))]
    others = [
        _runner_up(problem, chosen, usable, int(front[place]))
        for place in _spread(length[front], RUNNERS_UP)
        if not missed_angles(problem, usable.pairs.one(int(front[place])))
    ]
    here = (float(chosen.pairs.px[0]), float(chosen.pairs.py[0]))
    return tuple(o for o in others if np.hypot(*np.subtract(o.post_pivot, here)) > 1.0)


def _spread(values: Array, count: int) -> list[int]:
    """Indices of rising values that lie about evenly between the first and the last."""
    wanted = np.linspace(values[0], values[-1], count)
    return sorted({int(np.argmin(np.abs(values - want))) for want in wanted})


def _runner_up(problem: Problem, chosen: Usable, usable: Usable, index: int) -> RunnerUp:
    pair = usable.pairs.one(index)
    least = float(usable.least[index])
    more = least - float(chosen.least[0])
    far = float((carried(problem, pair) - carried(problem, chosen.pairs))[0])
    gain = f"{mm(abs(more))} {'more' if more >= 0.0 else 'less'} leverage"
    cost = f"a pin carried {mm(abs(far))} {'further' if far >= 0.0 else 'less far'}"
    return RunnerUp(
        post_pivot=(float(pair.px[0]), float(pair.py[0])),
        leaf_pivot=(float(pair.gx[0]), float(pair.gy[0])),
        leverage_least=least,
        reach=float(pair.py[0]) - problem.post.face,
        overhang=float(overhang(problem, pair, ())[0]),
        bracket_moment=float(usable.moment[index]),
        sentence=f"{gain} for {cost}.",
    )


def _why(problem: Problem, chosen: Usable, best: float) -> str:
    least, moment = float(chosen.least[0]), float(chosen.moment[0]) / 1000.0
    share = 100.0 * least / best
    at = position(chosen.pairs, extended_angle(problem.direction, problem.opening))
    spare = problem.actuator.retracted + problem.actuator.stroke - float(at.length[0])
    if all(v is not None for v in (problem.fixed.px, problem.fixed.py)):
        return (
            f"The post pivot is there already; with it the least leverage is {mm(least)},"
            f" with {mm(spare)} of stroke left when the actuator is longest."
        )
    return (
        f"Of all usable pairs the best least leverage is {mm(best)}. Among those with at least"
        f" nine tenths of it this one bends its post bracket least: {moment:.0f} N m at full"
        f" thrust, for a least leverage of {mm(least)} ({share:.0f} % of the best), with"
        f" {mm(spare)} of stroke left when the actuator is longest."
    )
