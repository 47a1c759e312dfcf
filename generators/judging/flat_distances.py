"""Distances on a flat pattern: opening to outline, opening to opening, opening to bend.

An opening is a stretch (a point for a round hole, the line between the arc centres of a slot)
with a radius; the outline's arcs are taken as short chords. No opening crosses an outline, so the
distance of two stretches is that of an end of one from the other. Units: mm. Frame: the flat's.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, inf, radians, sin

import numpy as np
import numpy.typing as npt

from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.loop import Loop, Point

PIECES = 8  # chords for an arc

Stretch = tuple[Point, Point]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Near:
    """The least distance found and the name of the hole it belongs to."""

    distance: float
    hole: str


def stretch(hole: Hole) -> Stretch:
    """The line between the arc centres."""
    du = cos(radians(hole.slot_angle)) * hole.slot_length / 2
    dv = sin(radians(hole.slot_angle)) * hole.slot_length / 2
    return (hole.u - du, hole.v - dv), (hole.u + du, hole.v + dv)


def chords(loop: Loop) -> list[Stretch]:
    """The outline as straight stretches."""
    found: list[Stretch] = []
    for edge in loop.edges:
        count = 1 if edge.bulge == 0 else PIECES
        at = [edge.at(k / count) for k in range(count + 1)]
        found += pairwise(at)
    return found


def hole_to_edge(flat: FlatPattern, lines: list[Stretch]) -> Near:
    """Least metal between an opening and the outline or a window."""
    return _least(
        (float(np.min(apart(stretch(hole), lines))) - hole.diameter / 2, hole.name)
        for hole in flat.holes
    )


def hole_to_hole(flat: FlatPattern) -> Near:
    """Least metal between two openings."""
    found = []
    for i, one in enumerate(flat.holes[:-1]):
        others = flat.holes[i + 1 :]
        away = apart(stretch(one), [stretch(other) for other in others])
        found += [
            (float(d) - (one.diameter + other.diameter) / 2, f"{one.name} and {other.name}")
            for d, other in zip(away, others, strict=True)
        ]
    return _least(found)


def hole_to_bend(flat: FlatPattern) -> Near:
    """Least flat metal between an opening and the start of a bend."""
    lines = [(bend.start, bend.end) for bend in flat.bends]
    half = np.array([bend.allowance / 2 for bend in flat.bends])
    return _least(
        (float(np.min(apart(stretch(hole), lines) - half)) - hole.diameter / 2, hole.name)
        for hole in flat.holes
    )


def flange_height(flat: FlatPattern, bend: Bend) -> float:
    """The lower of the two sides of a square bend, outside: flat part, radius and thickness."""
    (ax, ay), (bx, by) = bend.start, bend.end
    long = hypot(bx - ax, by - ay)
    nx, ny = -(by - ay) / long, (bx - ax) / long
    off = [(v.x - ax) * nx + (v.y - ay) * ny for v in flat.outline.vertices]
    sides = [max(off), -min(off)]
    return min(sides) - bend.allowance / 2 + bend.radius + flat.thickness


def apart(one: Stretch, others: list[Stretch]) -> Floats:
    """Distance of one stretch from each of the others, which it does not cross."""
    ends = np.array(one)
    a, b = (np.array(side) for side in zip(*others, strict=True))
    theirs = np.minimum(_from(ends[0], a, b), _from(ends[1], a, b))
    if one[0] == one[1]:
        return theirs
    start, end = ends[:1], ends[1:]
    ours = np.minimum(_from(a, start, end), _from(b, start, end))
    return np.asarray(np.minimum(theirs, ours))


def _from(p: Floats, a: Floats, b: Floats) -> Floats:
    """Distance of a point (or points) from straight stretches (or one)."""
    along = b - a
    size = np.maximum((along**2).sum(axis=1), 1e-30)
    t = np.clip(((p - a) * along).sum(axis=1) / size, 0.0, 1.0)
    off = p - a - t[:, None] * along
    return np.asarray(np.hypot(off[:, 0], off[:, 1]))


def _least(found: Iterable[tuple[float, str]]) -> Near:
    distance, name = min(found, default=(inf, ""))
    return Near(distance, name)
