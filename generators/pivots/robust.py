"""The pair that stands a sloppy tape best, among the usable.

For each candidate every judged figure has a 1 % worst case over the errors of tape, template,
drill and brake; the least of their spares counts, in mm or what weighs as much. Among the usable
pairs with at least nine tenths of the best least leverage the one with the best such spare is
chosen; pairs within half a millimetre of it are equals, and of these the one that bends its
bracket least. Should even the best of them have no spare left, all usable pairs compete. The
lightest of all is that which bends its bracket least among those with any such spare.

Errors are carried through by straight lines here, for hundreds of candidates at once; the winner
is then judged by Monte Carlo (`uncertainty`). Plan frame, mm.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np

from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.linear import propagate, worst_spare
from hangpost.generators.pivots.pairs import ends
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.search import missed_angles, ranges
from hangpost.generators.pivots.sift import Usable, gathered, sift

SHARE: Final = 0.9  # of the best least leverage
EQUAL: Final = 0.5  # mm of worst case that make no difference; house
COARSE: Final = 80  # candidates weighed first
LINES: Final = 9  # of the lattices that close in
ROUNDS: Final = 4
FINEST: Final = 0.1  # mm between the lattice lines at the end
MOST_TRIES: Final = 12  # times that angles may join the ends before the search is given up


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """Usable pairs with the 1 % worst case of their least spare."""

    usable: Usable
    worst: Array


def most_robust(
    problem: Problem, usable: Usable, best_leverage: float, sources: tuple[Source, ...]
) -> Usable | None:
    """The chosen pair, alone; None when no usable pair keeps clear in the middle of its swing."""
    floors = (SHARE * best_leverage, 0.0)
    return _kept_clear(problem, lambda angles: _choose(problem, usable, floors, sources, angles))


def lightest_sure(problem: Problem, usable: Usable, sources: tuple[Source, ...]) -> Usable | None:
    """The pair that bends its bracket least, whatever its leverage beyond what is needed.

    Of those that errors leave something in 99 of 100 gates; without any, as `most_robust`.
    """
    return _kept_clear(
        problem, lambda angles: _choose(problem, usable, (0.0,), sources, angles, enough=0.0)
    )


def _kept_clear(
    problem: Problem, choose: Callable[[tuple[float, ...]], Usable | None]
) -> Usable | None:
    """What is chosen once every angle where a choice came too near has been looked at."""
    angles: tuple[float, ...] = ends(problem)
    for _ in range(MOST_TRIES):
        chosen = choose(angles)
        if chosen is None:
            return None
        missed = missed_angles(problem, chosen.pairs)
        if not missed:
            return chosen
        angles = (*angles, *missed)
    return None


def _choose(
    problem: Problem,
    usable: Usable,
    floors: tuple[float, ...],
    sources: tuple[Source, ...],
    angles: tuple[float, ...],
    enough: float = inf,
) -> Usable | None:
    """By the least leverage that is asked for first, and the worst case that is `enough`."""
    for floor in floors:
        field = _thinned(_strong(usable, floor))
        if len(angles) > 2:
            field = sift(problem, field.pairs.px, field.pairs.py, angles)
        if not field.count:
            continue
        weighed = _weigh(problem, field, sources, angles)
        safest = _closed_in(problem, weighed, sources, angles, floor, top=None)
        top = min(float(safest.worst.max()), enough)
        if top < 0.0 < floor:
            continue  # even the best of the strong ones has no spare
        lightest = _closed_in(problem, safest, sources, angles, floor, top=top)
        return _pick(lightest.usable, _best(lightest, top))
    return None


def _closed_in(
    problem: Problem,
    weighed: Weighed,
    sources: tuple[Source, ...],
    angles: tuple[float, ...],
    floor: float,
    top: float | None,
) -> Weighed:
    """More candidates, ever closer about the best of them."""
    across, along = ranges(problem)
    area = (across[1] - across[0]) * (along[1] - along[0]) or max(
        across[1] - across[0], along[1] - along[0]
    )
    half = 2.0 * float(np.sqrt(area / COARSE))
    for _ in range(ROUNDS):
        at = _best(weighed, top)
        x, y = float(weighed.usable.pairs.px[at]), float(weighed.usable.pairs.py[at])
        xs, ys = _lattice(problem.fixed.px, x, half), _lattice(problem.fixed.py, y, half)
        near = sift(problem, np.tile(xs, ys.size), np.repeat(ys, xs.size), angles)
        near = _strong(near, floor)
        if near.count:
            more = _weigh(problem, near, sources, angles)
            weighed = Weighed(
                usable=gathered([weighed.usable, more.usable]),
                worst=np.concatenate((weighed.worst, more.worst)),
            )
        half = max(half / 4.0, FINEST * (LINES - 1) / 2.0)
    return weighed


def _best(weighed: Weighed, top: float | None) -> int:
    """The safest, or of those as good as `top` the one that bends its bracket least."""
    if top is None:
        return int(np.argmax(weighed.worst))
    # What is equal must not be on the wrong side of nothing left.
    good = max(top - EQUAL, min(top, 0.0))
    light = np.where(weighed.worst >= good, weighed.usable.moment, np.inf)
    return int(np.argmin(light))


def _weigh(
    problem: Problem, usable: Usable, sources: tuple[Source, ...], angles: tuple[float, ...]
) -> Weighed:
    straight = propagate(problem, usable.pairs, sources, angles[2:])
    return Weighed(usable=usable, worst=worst_spare(problem, straight))


def _lattice(fixed: float | None, middle: float, half: float) -> Array:
    if fixed is not None:
        return np.array([fixed])
    spread = np.linspace(middle - half, middle + half, LINES)
    return np.unique(np.round(spread / FINEST)) / round(1.0 / FINEST)


def _strong(usable: Usable, floor: float) -> Usable:
    return _pick(usable, np.flatnonzero(usable.least >= floor))


def _thinned(usable: Usable) -> Usable:
    """At most `COARSE` of them, evenly through their order."""
    if usable.count <= COARSE:
        return usable
    return _pick(usable, np.linspace(0, usable.count - 1, COARSE).round().astype(np.intp))


def _pick(usable: Usable, which: int | np.typing.NDArray[np.intp]) -> Usable:
    index = np.atleast_1d(np.asarray(which, dtype=np.intp))
    return Usable(
        pairs=usable.pairs.take(index), least=usable.least[index], moment=usable.moment[index]
    )
