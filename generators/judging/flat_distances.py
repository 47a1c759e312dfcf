"""Distances on a flat pattern: opening to outline, opening to opening, opening to bend.

An opening is a stretch (a point for a round hole, the line between the arc centres of a slot)
with a radius; the outline's arcs are taken as short chords. Units: mm. Frame: the flat's own.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, inf, radians, sin

from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.loop import Loop, Point

PIECES = 8  # chords for an arc

Stretch = tuple[Point, Point]


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
    best = Near(inf, "")
    for hole in flat.holes:
        own = stretch(hole)
        metal = min(apart(own, line) for line in lines) - hole.diameter / 2
        if metal < best.distance:
            best = Near(metal, hole.name)
    return best


def hole_to_hole(flat: FlatPattern) -> Near:
    """Least metal between two openings."""
    best = Near(inf, "")
    for i, one in enumerate(flat.holes):
        for other in flat.holes[i + 1 :]:
            metal = apart(stretch(one), stretch(other)) - (one.diameter + other.diameter) / 2
            if metal < best.distance:
                best = Near(metal, f"{one.name} and {other.name}")
    return best


def hole_to_bend(flat: FlatPattern) -> Near:
    """Least flat metal between an opening and the start of a bend."""
    best = Near(inf, "")
    for hole in flat.holes:
        for bend in flat.bends:
            line = (bend.start, bend.end)
            metal = apart(stretch(hole), line) - bend.allowance / 2 - hole.diameter / 2
            if metal < best.distance:
                best = Near(metal, hole.name)
    return best


def flange_height(flat: FlatPattern, bend: Bend) -> float:
    """The lower of the two sides of a square bend, outside: flat part, radius and thickness."""
    (ax, ay), (bx, by) = bend.start, bend.end
    long = hypot(bx - ax, by - ay)
    nx, ny = -(by - ay) / long, (bx - ax) / long
    off = [(v.x - ax) * nx + (v.y - ay) * ny for v in flat.outline.vertices]
    sides = [max(off), -min(off)]
    return min(sides) - bend.allowance / 2 + bend.radius + flat.thickness


def apart(a: Stretch, b: Stretch) -> float:
    """Distance between two straight stretches; 0 where they cross."""
    if _cross(a, b):
        return 0.0
    return min(_from(a[0], b), _from(a[1], b), _from(b[0], a), _from(b[1], a))


def _from(p: Point, line: Stretch) -> float:
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    t = 0.0 if size == 0 else ((p[0] - ax) * dx + (p[1] - ay) * dy) / size
    t = min(max(t, 0.0), 1.0)
    return hypot(p[0] - ax - t * dx, p[1] - ay - t * dy)


def _cross(a: Stretch, b: Stretch) -> bool:
    def side(o: Point, p: Point, q: Point) -> float:
        return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])

    return side(*a, b[0]) * side(*a, b[1]) < 0 and side(*b, a[0]) * side(*b, a[1]) < 0
