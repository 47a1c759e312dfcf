"""Where on a flat a part's mark is etched, and how large: as large as may be, clear of everything.

The mark stands on one line or two, level or upright, in the panel that has room for it: off the
edges, off the bends' whole width, off the washers that will sit on the holes. Where letters of the
least height find no place there is no mark, and drawing and list say so. Frame: the flat's own,
marked face up. Units: mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import hypot
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.writers.lettering import Strokes, etched, length_of
from hangpost.parts.flat import FlatPattern
from hangpost.parts.loop import Box, Loop, Point

CLEAR: Final = 3.0  # house: off edges, windows and the width of a bend
WASHER: Final = 0.5  # of the hole's diameter: a washer (ISO 7089) is about twice as wide
HEIGHTS: Final = (8.0, 6.0, 5.0, 4.0, 3.0)  # house: what a laser's stroke leaves readable
LINES: Final = 1.7  # from one base line to the next, in heights
_STEP: Final = 1.0  # of the search

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Counts = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Etching:
    """A mark on a flat: its lines, the lower left corner as one reads it, height and direction."""

    lines: tuple[str, ...]
    at: Point
    height: float
    upright: bool

    @property
    def strokes(self) -> Strokes:
        """What the machine follows."""
        found: list[tuple[Point, ...]] = []
        for k, words in enumerate(reversed(self.lines)):
            off = k * LINES * self.height
            x, y = self.at
            at = (x - off, y) if self.upright else (x, y + off)
            found += etched(words, at, self.height, 90.0 if self.upright else 0.0)
        return tuple(found)


@lru_cache(maxsize=200)  # the cut files, the drawing and the list ask for the same
def etching(flat: FlatPattern, mark: str) -> Etching | None:
    """The mark on a flat at the greatest height that finds a place, or None."""
    left, bottom, right, top = flat.outline.bounds
    us, vs = np.arange(left, right, _STEP), np.arange(bottom, top, _STEP)
    blocked = _blocked(flat, us, vs)
    counted = np.cumsum(np.cumsum(blocked.astype(np.int64), axis=0), axis=1)
    sums: Counts = np.pad(counted, ((1, 0), (1, 0)))
    for height in HEIGHTS:
        for lines in _broken(mark):
            long = max(length_of(words, height) for words in lines)
            tall = height * (1 + LINES * (len(lines) - 1))
            for upright in (False, True):
                size = (tall, long) if upright else (long, tall)
                corner = _spot(sums, size, (us, vs))
                if corner is not None:
                    at = (corner[0] + tall, corner[1]) if upright else corner
                    return Etching(lines, at, height, upright)
    return None


def _broken(mark: str) -> Iterator[tuple[str, ...]]:
    """The mark on one line, then on two, broken after the hyphen nearest its middle."""
    yield (mark,)
    breaks = [k + 1 for k, sign in enumerate(mark) if sign == "-" and 0 < k < len(mark) - 1]
    if breaks:
        k = min(breaks, key=lambda at: abs(at - len(mark) / 2))
        yield (mark[:k], mark[k:])


def _spot(sums: Counts, size: Point, steps: tuple[Floats, Floats]) -> Point | None:
    """Lower left corner of a free box of this size, as near to the middle of the blank as may be.

    `sums` counts the blocked steps to the left of and below each.
    """
    us, vs = steps
    wide, high = (int(np.ceil(s / _STEP)) + 1 for s in size)
    if wide > len(us) or high > len(vs):
        return None
    counts = sums[wide:, high:] - sums[:-wide, high:] - sums[wide:, :-high] + sums[:-wide, :-high]
    free = np.argwhere(counts == 0)
    if not len(free):
        return None
    middle = (np.array([len(us) - wide, len(vs) - high])) / 2
    i, j = min(free.tolist(), key=lambda at: hypot(at[0] - middle[0], at[1] - middle[1]))
    return (float(us[i]), float(vs[j]))


def _blocked(flat: FlatPattern, us: Floats, vs: Floats) -> Flags:
    """Which points of a grid no stroke may come to."""
    u, v = (np.asarray(a) for a in np.meshgrid(us, vs, indexing="ij"))
    slack = _STEP  # half the diagonal of a step, and the chords of the arcs, with some to spare
    found: Flags = ~_inside(flat.outline, u, v)
    for loop in (flat.outline, *flat.windows):
        found |= _near(loop, u, v, CLEAR + slack)
    for window in flat.windows:
        found |= _inside(window, u, v)
    for hole in flat.holes:
        found |= _inside(hole.loop, u, v)
        found |= _near(hole.loop, u, v, max(CLEAR, WASHER * hole.diameter) + slack)
    for bend in flat.bends:
        away = _off(bend.start, bend.end, u, v)
        found |= away < bend.allowance / 2 + CLEAR + slack
    return found


def _near(loop: Loop, u: Floats, v: Floats, least: float) -> Flags:
    points = loop.points(0.1)
    found = np.zeros(u.shape, dtype=np.bool_)
    for start, end in zip(points, [*points[1:], points[0]], strict=True):
        box: Box = (
            min(start[0], end[0]) - least,
            min(start[1], end[1]) - least,
            max(start[0], end[0]) + least,
            max(start[1], end[1]) + least,
        )
        columns = slice(*np.searchsorted(u[:, 0], (box[0], box[2])).tolist())
        rows = slice(*np.searchsorted(v[0], (box[1], box[3])).tolist())
        part = (columns, rows)
        found[part] |= _off(start, end, u[part], v[part]) < least
    return found


def _off(start: Point, end: Point, u: Floats, v: Floats) -> Floats:
    """Distance of points from a straight piece."""
    wu, wv = end[0] - start[0], end[1] - start[1]
    square = max(wu * wu + wv * wv, 1e-30)
    share = np.clip(((u - start[0]) * wu + (v - start[1]) * wv) / square, 0.0, 1.0)
    return np.asarray(np.hypot(u - start[0] - share * wu, v - start[1] - share * wv))


def _inside(loop: Loop, u: Floats, v: Floats) -> Flags:
    """Whether points lie in a loop: a ray to the right crosses it an odd number of times."""
    points = loop.points(0.1)
    odd = np.zeros(u.shape, dtype=np.bool_)
    for (au, av), (bu, bv) in zip(points, [*points[1:], points[0]], strict=True):
        if av == bv:
            continue
        spans = (v < av) != (v < bv)
        odd ^= spans & (u < au + (v - av) * (bu - au) / (bv - av))
    return odd
