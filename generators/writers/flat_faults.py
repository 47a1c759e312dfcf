"""What is wrong with a flat pattern before a cutter finds out: open, crossing or stray loops.

A cutting table follows every line it is given, so a pattern is held against this list first
and a faulty one is never written. Frame and units: those of the pattern, mm.
"""

from functools import lru_cache
from itertools import combinations
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from hangpost.parts.flat import FlatPattern
from hangpost.parts.loop import Box, Loop, Point

CHORD = 0.01  # arcs are judged as polygons this close to them
LEAST_EDGE = 0.01  # a shorter edge is a slip of the pen
JOIN = 0.01  # how near a bend line must end to the outline

Array = NDArray[np.float64]


class FaultyPattern(ValueError):
    """A pattern that must not be cut: one line for each fault."""


@lru_cache(maxsize=64)  # a part is cut from three files of one pattern
def refuse_faulty(pattern: FlatPattern) -> None:
    """Raise FaultyPattern with everything that is wrong with the pattern."""
    found = faults(pattern)
    if found:
        raise FaultyPattern("\n".join(f"flat pattern: {fault}" for fault in found))


def faults(pattern: FlatPattern) -> list[str]:
    """Every reason not to cut the pattern; none for a sound one."""
    openings = [(f"window {i + 1}", w) for i, w in enumerate(pattern.windows)]
    openings += [(f"hole {h.name}", h.loop) for h in pattern.holes]
    named = [("outline", pattern.outline), *openings]
    found = [fault for name, loop in named for fault in _loop_faults(name, loop)]
    found += [
        f"hole {h.name}: diameter {h.diameter:g} and slot length {h.slot_length:g} must be sizes"
        for h in pattern.holes
        if not (h.diameter > 0 and h.slot_length >= 0)
    ]
    if found:
        return found  # what follows measures the loops and needs sound ones
    rings = {name: np.array(loop.points(CHORD)) for name, loop in named}
    for (one, a), (two, b) in combinations(named, 2):
        if _apart(a.bounds, b.bounds):
            if one == "outline":
                found.append(f"{two} lies outside the outline")
            continue
        if _come_within(LEAST_EDGE, *_each_with_each(_segments(rings[one]), _segments(rings[two]))):
            found.append(f"{one} and {two} cross, touch or coincide")
        elif one == "outline":
            if not _inside(tuple(rings[two][0]), rings[one]):
                found.append(f"{two} lies outside the outline")
        elif _inside(tuple(rings[two][0]), rings[one]) or _inside(tuple(rings[one][0]), rings[two]):
            found.append(f"{one} and {two} lie one in the other")
    border = _segments(rings["outline"])
    for i, bend in enumerate(pattern.bends):
        for end in (bend.start, bend.end):
            if not _come_within(JOIN, *_each_with_each(np.array([[*end, *end]]), border)):
                found.append(f"bend {i + 1} does not end on the outline at {end[0]:g}, {end[1]:g}")
    return found


def _loop_faults(name: str, loop: Loop) -> list[str]:
    """What is wrong with one loop by itself."""
    numbers = [n for v in loop.vertices for n in (v.x, v.y, v.bulge)]
    if not all(map(isfinite, numbers)):
        return [f"{name}: a coordinate is not a number"]
    if len(loop.vertices) < 2 or loop.area <= 0:
        return [f"{name}: encloses no area counter-clockwise"]
    short = [e for e in loop.edges if not e.chord >= LEAST_EDGE]
    if short:
        x, y = short[0].start
        return [f"{name}: {len(short)} edges shorter than {LEAST_EDGE:g} mm, one at {x:g}, {y:g}"]
    return [f"{name}: crosses itself"] if _crosses_itself(loop) else []


def _crosses_itself(loop: Loop) -> bool:
    """Whether the loop, cut into straight pieces, meets itself anywhere but at its corners."""
    pieces = _segments(np.array(loop.points(CHORD)))
    count = len(pieces)
    if count < 4:
        return False
    i, j = np.triu_indices(count, 2)
    apart = ~((i == 0) & (j == count - 1))  # the first and the last piece are neighbours
    return _come_within(1e-6, pieces[i[apart]], pieces[j[apart]])


def _apart(a: Box, b: Box) -> bool:
    return a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


def _segments(ring: Array) -> Array:
    """Closed ring of points as rows (x0, y0, x1, y1)."""
    return np.hstack([ring, np.roll(ring, -1, axis=0)])


def _each_with_each(a: Array, b: Array) -> tuple[Array, Array]:
    """Every pair of two sets of straight pieces, row by row."""
    i, j = np.indices((len(a), len(b))).reshape(2, -1)
    return a[i], b[j]


def _come_within(gap: float, a: Array, b: Array) -> bool:
    """Whether straight pieces, row by row, come nearer than `gap` anywhere."""
    ends = [(np.minimum(p[:, :2], p[:, 2:]), np.maximum(p[:, :2], p[:, 2:])) for p in (a, b)]
    (a_low, a_high), (b_low, b_high) = ends
    near = ((a_low <= b_high + gap) & (b_low <= a_high + gap)).all(axis=1)  # of most, boxes tell
    return bool((_distance(a[near], b[near]) < gap).any())


def _distance(a: Array, b: Array) -> Array:
    """Distance between straight pieces, row by row; 0 where they cross."""

    def side(p: Array, q: Array, r: Array) -> Array:
        cross: Array = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1])
        return cross - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])

    def off(point: Array, start: Array, end: Array) -> Array:
        way = end - start
        square = np.maximum((way**2).sum(1), 1e-300)
        share = np.clip(((point - start) * way).sum(1) / square, 0.0, 1.0)
        gap = point - start - share[:, None] * way
        return np.asarray(np.hypot(gap[:, 0], gap[:, 1]))

    a0, a1, b0, b1 = a[:, :2], a[:, 2:], b[:, :2], b[:, 2:]
    across = (side(a0, a1, b0) * side(a0, a1, b1) < 0) & (side(b0, b1, a0) * side(b0, b1, a1) < 0)
    ends = [off(a0, b0, b1), off(a1, b0, b1), off(b0, a0, a1), off(b1, a0, a1)]
    return np.asarray(np.where(across, 0.0, np.min(ends, axis=0)))


def _inside(point: Point, ring: Array) -> bool:
    """Whether the point lies in the ring: an upward ray crosses it an odd number of times."""
    x, y = point
    x0, y0, x1, y1 = _segments(ring).T
    spans = (x0 > x) != (x1 > x)
    with np.errstate(divide="ignore", invalid="ignore"):
        height = y0 + (x - x0) * (y1 - y0) / (x1 - x0)
    return bool(np.count_nonzero(spans & (height > y)) % 2)
