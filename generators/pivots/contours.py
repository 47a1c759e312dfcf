"""Lines of equal height through a grid of heights: marching squares, straight between corners.

The corners of a cell are compared with the level; each side whose ends lie on different sides of
it is crossed where a straight line between them would be. Around the grid everything counts as
far below, so the lines of a region that reaches the rim close along the rim.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from hangpost.generators.pivots.kinematics import Array

Point = tuple[float, float]
Line = tuple[Point, ...]
Side = tuple[int, int, int]  # row and column of its first corner; 0 along x, 1 along y

# Sides of a cell: bottom, right, top, left. For each pattern of corners above the level (bit 0
# lower left, then anticlockwise) the sides that a line joins.
JOINS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),), 2: ((0, 1),), 3: ((3, 1),), 4: ((1, 2),), 6: ((0, 2),), 7: ((3, 2),),
    8: ((2, 3),), 9: ((2, 0),), 11: ((2, 1),), 12: ((1, 3),), 13: ((1, 0),), 14: ((0, 3),),
}  # fmt: skip
# Two opposite corners above: the middle of the cell says whether they hang together.
SADDLES: dict[tuple[int, bool], tuple[tuple[int, int], ...]] = {
    (5, True): ((3, 2), (1, 0)), (5, False): ((3, 0), (1, 2)),
    (10, True): ((0, 3), (2, 1)), (10, False): ((0, 1), (2, 3)),
}  # fmt: skip


def rings(xs: Array, ys: Array, heights: Array, level: float) -> tuple[Line, ...]:
    """Closed outlines of where `heights` (rows along y) are above the level; first = last point."""
    rim = float(np.min(heights, initial=level)) - 1.0
    padded = np.pad(heights, 1, constant_values=rim)
    # The rim lies on the grid's own border, a hair outside, so that outlines follow it.
    hair = 1e-6 * (float(np.ptp(xs)) + float(np.ptp(ys)) + 1.0)
    wide_x = np.concatenate(([xs[0] - hair], xs, [xs[-1] + hair]))
    wide_y = np.concatenate(([ys[0] - hair], ys, [ys[-1] + hair]))
    return tuple(lines(wide_x, wide_y, padded, level))


def lines(xs: Array, ys: Array, heights: Array, level: float) -> Iterator[Line]:
    """Lines of one level, the higher ground on their left; those that close end as they began."""
    above = heights > level
    bits = (
        above[:-1, :-1] * 1 + above[:-1, 1:] * 2 + above[1:, 1:] * 4 + above[1:, :-1] * 8
    ).astype(np.intp)
    after: dict[Side, Side] = {}
    for row, column in np.argwhere((bits > 0) & (bits < 15)):
        r, c = int(row), int(column)
        pattern = int(bits[r, c])
        sides: tuple[Side, ...] = ((r, c, 0), (r, c + 1, 1), (r + 1, c, 0), (r, c, 1))
        joins = JOINS.get(pattern)
        if joins is None:
            middle = bool(heights[r : r + 2, c : c + 2].mean() > level)
            joins = SADDLES[pattern, middle]
        for first, last in joins:
            after[sides[last]] = sides[first]
    yield from _chained(after, xs, ys, heights, level)


def _chained(
    after: dict[Side, Side], xs: Array, ys: Array, heights: Array, level: float
) -> Iterator[Line]:
    ends = set(after.values())
    starts = [side for side in after if side not in ends]  # open lines first, then the closed
    while after:
        here = starts.pop() if starts else next(iter(after))
        chain = [here]
        while here in after:
            here = after.pop(here)
            chain.append(here)
        yield tuple(_crossing(side, xs, ys, heights, level) for side in chain)


def _crossing(side: Side, xs: Array, ys: Array, heights: Array, level: float) -> Point:
    row, column, along_y = side
    other = (row + along_y, column + 1 - along_y)
    low, high = float(heights[row, column]), float(heights[other])
    share = (level - low) / (high - low) if high != low else 0.5
    x, y = float(xs[column]), float(ys[row])
    if along_y:
        return (x, y + share * (float(ys[row + 1]) - y))
    return (x + share * (float(xs[column + 1]) - x), y)


def length(line: Line) -> float:
    """How long a line is."""
    return float(sum(np.hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line)))


def middle(line: Line) -> Point:
    """The point halfway along a line."""
    half, gone = length(line) / 2.0, 0.0
    for a, b in pairwise(line):
        step = float(np.hypot(b[0] - a[0], b[1] - a[1]))
        if step > 0.0 and gone + step >= half:
            share = (half - gone) / step
            return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        gone += step
    return line[0]
