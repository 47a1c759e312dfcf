"""Edge distance and pitch of the holes in a plate: the rules every flat part has in common.

Units: mm. A hole's clearance is counted from its edge: 1.2 d0 to the edge and 2.4 d0 between
centres (EN 1993-1-8:2005, Table 3.3) leave 0.7 d0 and 1.4 d0 of metal.
"""

from collections.abc import Sequence
from itertools import combinations
from math import cos, hypot, inf, radians, sin

from hangpost.parts.flat import Hole, Rule
from hangpost.parts.loop import Edge, Loop, Point

EDGE, PITCH = 0.7, 1.4  # shares of the hole, as above


def centres(hole: Hole) -> tuple[Point, Point]:
    """The two arc centres of a slot; the same point twice for a round hole."""
    half = hole.slot_length / 2
    du, dv = half * cos(radians(hole.slot_angle)), half * sin(radians(hole.slot_angle))
    return (hole.u - du, hole.v - dv), (hole.u + du, hole.v + dv)


def to_edge(outline: Loop, hole: Hole) -> float:
    """Metal between a hole's edge and the outline; true of outlines convex about a slot."""
    return min(outline.distance(u, v) for u, v in centres(hole)) - hole.diameter / 2


def between(one: Hole, two: Hole) -> float:
    """Metal between the edges of two holes or slots."""
    a, b = (Edge(*centres(hole), 0.0) for hole in (one, two))
    if a.chord and b.chord and _crossing(a, b):
        return -(one.diameter + two.diameter) / 2
    ends = [_away(a, p) for p in (b.start, b.end)] + [_away(b, p) for p in (a.start, a.end)]
    return min(ends) - (one.diameter + two.diameter) / 2


def _crossing(a: Edge, b: Edge) -> bool:
    """Whether two middle lines cross."""

    def side(line: Edge, point: Point) -> float:
        (x0, y0), (x1, y1) = line.start, line.end
        return (x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)

    return side(a, b.start) * side(a, b.end) < 0 and side(b, a.start) * side(b, a.end) < 0


def opening_rule(opening: Hole, holes: Sequence[Hole], thickness: float) -> Rule:
    """Metal between an opening that takes no fastener and the holes that do."""
    metal = min((between(opening, hole) for hole in holes), default=1e9)
    return ("opening to holes", metal, 1.5 * thickness, "house: plate beside the opening")


def _away(line: Edge, point: Point) -> float:
    """Distance from a point to a slot's middle line, or to a round hole's centre."""
    if not line.chord:
        return hypot(point[0] - line.start[0], point[1] - line.start[1])
    return line.distance(*point)


def rules(outline: Loop, holes: Sequence[Hole], thickness: float) -> tuple[Rule, Rule]:
    """The worst hole to the edge and the worst pair, at least a plate's thickness of metal."""
    edge, pitch = (inf, 1e9, thickness), (inf, 1e9, thickness)  # shortage first
    for hole in holes:
        least = max(EDGE * hole.diameter, thickness)
        metal = to_edge(outline, hole)
        edge = min(edge, (metal - least, metal, least))
    for one, two in combinations(holes, 2):
        least = max(PITCH * max(one.diameter, two.diameter), thickness)
        metal = between(one, two)
        pitch = min(pitch, (metal - least, metal, least))
    return (
        ("hole to edge", edge[1], edge[2], "EN 1993-1-8 Table 3.3 and one plate"),
        ("hole to hole", pitch[1], pitch[2], "EN 1993-1-8 Table 3.3 and one plate"),
    )
