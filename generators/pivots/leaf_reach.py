"""How far the leaf pivot stands off the leaf: as little as may be, and more where that alone helps.

A pin close to the leaf bends its bracket least, so the search keeps it there. With some gates no
pair is usable then, but one is a little farther out; the least such reach is found by steps and
halving, each tried by the whole search, and some room is added. mm.
"""

from dataclasses import replace
from math import ceil
from typing import Final

from hangpost.generators.pivots.pairs import least_leaf_reach
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.search import lightest_bracket, settle
from hangpost.generators.pivots.sift import Usable

Settled = tuple[Usable, Usable, float]

STEPS: Final = 8  # to the longest that the shop allows
LINES: Final = 300  # of the search grid while reaches are tried
ROOM: Final = 15  # mm beyond the least, so that there is a choice and the errors of tape have room


def farther_out(problem: Problem, lines: int) -> tuple[Problem, Settled] | None:
    """The problem with a longer reach that has usable pairs, and these; None where none has."""
    if problem.fixed.gy is not None:
        return None
    least, most = ceil(least_leaf_reach(problem)), int(problem.brackets.max_leaf_reach)
    tried = [least + round((most - least) * k / STEPS) for k in range(1, STEPS + 1)]
    good = next((reach for reach in tried if _settled(problem, reach, LINES)), None)
    if good is None:
        return None
    bad = max(reach for reach in (least, *tried) if reach < good)
    while good - bad > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if _settled(problem, middle, LINES) else (good, middle)
    for reach in (min(good + ROOM, most), good):
        found = _settled(problem, reach, lines)
        if found is not None:
            return _reaching(problem, reach), found
    return None


def _settled(problem: Problem, reach: int, lines: int) -> Settled | None:
    return settle(_reaching(problem, reach), lightest_bracket, lines)


def _reaching(problem: Problem, reach: int) -> Problem:
    """The problem with a leaf bracket that carries its pin so far off the leaf, at least."""
    return replace(problem, brackets=replace(problem.brackets, least_leaf_reach=float(reach)))
