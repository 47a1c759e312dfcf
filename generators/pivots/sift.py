"""Which of many post pivots are usable: blocks that fit the cache, the cheap questions first.

A block of candidates loses those that fail before it goes on to dearer constraints. Plan frame,
mm. The order of the candidates is kept, so that ties always fall the same way.
"""

from dataclasses import dataclass

import numpy as np

from hangpost.generators.pivots.constraints import (
    AT_ENDS,
    AT_POST,
    CLEARANCES,
    FOLDED,
    SLACK,
    Constraint,
    leverage,
    positions_at,
)
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.pairs import Pairs, bracket_moment, tie
from hangpost.generators.pivots.problem import Problem

BLOCK = 8192  # candidates at a time: the arrays of a stage stay in the cache
STAGES: tuple[tuple[Constraint, ...], ...] = ((*AT_POST, FOLDED), AT_ENDS, CLEARANCES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Usable:
    """Pairs that keep every constraint, with what a rule may choose by."""

    pairs: Pairs
    least: Array  # least leverage of the swing
    moment: Array  # on the post bracket

    @property
    def count(self) -> int:
        """How many there are."""
        return int(self.least.size)


def sift(problem: Problem, px: Array, py: Array, angles: tuple[float, ...]) -> Usable:
    """The usable among post pivots, in the order given."""
    return _weighed(problem, _through(problem, tie(problem, px, py), angles, STAGES), angles)


def sift_grid(problem: Problem, xs: Array, ys: Array, angles: tuple[float, ...]) -> Usable:
    """The usable of a grid of post pivots, row by row."""
    rows = max(1, BLOCK // xs.size)
    found = []
    for first in range(0, ys.size, rows):
        block = ys[first : first + rows]
        pairs = tie(problem, np.tile(xs, block.size), np.repeat(block, xs.size))
        found.append(_through(problem, pairs, angles, STAGES[:-1]))
    # What is left is little, and the clearances are many short steps: once for all of it.
    pairs = _through(problem, joined(found), angles, STAGES[-1:])
    return _weighed(problem, pairs, angles)


def _through(
    problem: Problem,
    pairs: Pairs,
    angles: tuple[float, ...],
    stages: tuple[tuple[Constraint, ...], ...],
) -> Pairs:
    for stage in stages:
        positions = positions_at(pairs, angles)
        kept = np.ones(pairs.px.shape, dtype=np.bool_)
        for constraint in stage:
            kept &= constraint.margin(problem, pairs, positions) >= -SLACK
        pairs = pairs.take(kept)
    return pairs


def _weighed(problem: Problem, pairs: Pairs, angles: tuple[float, ...]) -> Usable:
    positions = positions_at(pairs, angles)
    return Usable(
        pairs=pairs,
        least=leverage(problem, pairs, positions),
        moment=bracket_moment(problem, pairs, positions[:2]),
    )


def joined(found: list[Pairs]) -> Pairs:
    """Several lots of pairs as one."""
    return Pairs(
        px=np.concatenate([pairs.px for pairs in found]),
        py=np.concatenate([pairs.py for pairs in found]),
        gx=np.concatenate([pairs.gx for pairs in found]),
        gy=np.concatenate([pairs.gy for pairs in found]),
    )


def gathered(found: list[Usable]) -> Usable:
    """Several lots of usable pairs as one."""
    return Usable(
        pairs=joined([usable.pairs for usable in found]),
        least=np.concatenate([usable.least for usable in found]),
        moment=np.concatenate([usable.moment for usable in found]),
    )
