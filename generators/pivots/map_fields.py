"""The fields behind the pivot map: what every constraint leaves at every post pivot of a grid.

Plan frame, mm.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np

from hangpost.generators.pivots.constraints import CONSTRAINTS, least_over, margins, stroke
from hangpost.generators.pivots.contours import Point
from hangpost.generators.pivots.kinematics import Array, swing
from hangpost.generators.pivots.pairs import Pairs, position, tie
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.search import axis, ranges

ROUGH: Final = 90  # of the look around that finds what is worth showing
ACROSS: Final = 180  # grid lines of the map along its longer side
SHAPE: Final = 1.07  # width of the map over its height
FILLED: Final = (0.55, 0.72)  # share of the width and of the height that what is shown may fill
LEAST: Final = 40.0  # mm; no map is narrower
LOOKS: Final = 6  # steps of the swing at which the map looks
FAR: Final = 60.0  # mm; margins count no more than this, so that no cliff bends a line


def window(problem: Problem, shown: Sequence[Point], whole: bool) -> tuple[Array, Array]:
    """The grid lines of the part worth looking at: the usable places and the marks, with a rim.

    Without usable places all that the shop can reach is worth looking at, if `whole`.
    """
    across, along = ranges(problem)
    xs, ys = axis(across, ROUGH), axis(along, ROUGH)
    usable = (
        least_over(list(fields_of(problem, tied_pairs(problem, xs, ys), xs, ys).values())) >= 0.0
    )
    points = list(shown)
    if usable.any():
        rows, columns = np.nonzero(usable)
        points += [(float(xs[c]), float(ys[r])) for r, c in zip(rows, columns, strict=True)]
    filled = FILLED
    if not usable.any() and whole:
        points += [(across[0], along[0]), (across[1], along[1])]
        filled = (1.0, 1.0)
    px, py = [x for x, _ in points], [y for _, y in points]
    # Of the shape of the sheet, with room around for the names of the edges.
    wide, tall = max(px) - min(px), max(py) - min(py)
    width = max(wide / filled[0], SHAPE * tall / filled[1], LEAST)
    height = width / SHAPE
    x, y = (max(px) + min(px)) / 2.0, (max(py) + min(py)) / 2.0
    step = width / ACROSS
    return (
        axis((x - width / 2.0, x + width / 2.0), round(width / step) + 1),
        axis((y - height / 2.0, y + height / 2.0), round(height / step) + 1),
    )


def fields_of(problem: Problem, pairs: Pairs, xs: Array, ys: Array) -> dict[str, Array]:
    """What every constraint leaves everywhere, each by its scale."""
    looks = swing(problem.direction, problem.opening, problem.opening / LOOKS)
    found = margins(problem, pairs, tuple(float(angle) for angle in looks))
    if problem.fixed.gx is None:
        # The tied end keeps its spare exactly, everywhere: a plain without an edge.
        far = (position(pairs, problem.extended_at),)
        found["stroke"] = stroke(problem, pairs, far) - problem.limits.margin
    return {c.name: tame(found[c.name] / c.scale, xs, ys) for c in CONSTRAINTS}


def tied_pairs(problem: Problem, xs: Array, ys: Array) -> Pairs:
    """Every post pivot of the grid with the leaf pivot tied to it."""
    return tie(problem, np.tile(xs, ys.size), np.repeat(ys, xs.size))


def tame(field: Array, xs: Array, ys: Array) -> Array:
    """A field as rows along y, without cliffs and without holes."""
    shaped = np.broadcast_to(field, (xs.size * ys.size,)).reshape(ys.size, xs.size)
    return np.asarray(np.clip(np.nan_to_num(shaped, nan=-FAR), -FAR, FAR))


def scale_of(name: str) -> float:
    """How much of a constraint weighs as much as a millimetre."""
    return next(c.scale for c in CONSTRAINTS if c.name == name)
