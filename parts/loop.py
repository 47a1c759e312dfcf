"""Closed outlines of straight lines and true arcs, the one shape language of every flat thing.

A loop is a list of vertices; each carries the bulge of the edge that leaves it, as DXF
defines it: bulge = tan(sweep / 4), positive where the edge turns counter-clockwise, 0 for a
straight line. Loops run counter-clockwise, so material lies to the left of the way.
Units: mm. Nothing here needs a CAD kernel.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import atan, atan2, cos, hypot, pi, sin, tan
from typing import NamedTuple

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, bottom, right, top


class Vertex(NamedTuple):  # a sheet has tens of thousands: a record of this kind is the quickest
    """A corner (x, y) and the bulge of the edge that leaves it."""

    x: float
    y: float
    bulge: float = 0.0

    @property
    def point(self) -> Point:
        """The corner without its bulge."""
        return (self.x, self.y)


class Edge(NamedTuple):
    """One line or arc of a loop, from start to end."""

    start: Point
    end: Point
    bulge: float

    @property
    def sweep(self) -> float:
        """Turn of the arc in radians, 0 for a line."""
        return 4 * atan(self.bulge)

    @property
    def length(self) -> float:
        """Length along the edge."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @property
    def chord(self) -> float:
        """Straight distance between the ends."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def radius(self) -> float:
        """Radius of the arc; a line has none and raises ZeroDivisionError."""
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @property
    def centre(self) -> Point:
        """Centre of the arc."""
        (x0, y0), (x1, y1), b = self.start, self.end, self.bulge
        k = (1 - b**2) / (4 * b)
        return ((x0 + x1) / 2 - k * (y1 - y0), (y0 + y1) / 2 + k * (x1 - x0))

    def at(self, share: float) -> Point:
        """The point a share (0 to 1) of the way along."""
        (x0, y0), (x1, y1) = self.start, self.end
        if not self.bulge:
            return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
        cx, cy = self.centre
        turn = atan2(y0 - cy, x0 - cx) + share * self.sweep
        return (cx + self.radius * cos(turn), cy + self.radius * sin(turn))

    def distance(self, x: float, y: float) -> float:
        """Least distance from a point to this edge."""
        (x0, y0), (x1, y1) = self.start, self.end
        if not self.bulge:
            along = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / self.chord**2
            px, py = self.at(min(1.0, max(0.0, along)))
            return hypot(x - px, y - py)
        cx, cy = self.centre
        found = [hypot(x - a, y - b) for a, b in (self.start, self.end)]
        ways = (atan2(y - cy, x - cx), atan2(cy - y, cx - x))
        return min(*found, *(hypot(x - a, y - b) for a, b in self.farthest(*ways)))

    def heading(self, share: float) -> Point:
        """Unit direction of the way, a share (0 to 1) along the edge."""
        (x0, y0), (x1, y1) = self.start, self.end
        turn = atan2(y1 - y0, x1 - x0) + (share - 0.5) * self.sweep
        return (cos(turn), sin(turn))

    def extremes(self) -> Iterator[Point]:
        """Both ends, and where an arc is farthest left, right, down and up."""
        yield self.start
        yield self.end
        yield from self.farthest(0.0, pi / 2, pi, -pi / 2)

    def farthest(self, *turns: float) -> Iterator[Point]:
        """The points where an arc's outside looks towards `turns` (radians), those it has."""
        if not self.bulge:
            return
        (cx, cy), r, sweep = self.centre, self.radius, self.sweep
        start = atan2(self.start[1] - cy, self.start[0] - cx)
        for turn in turns:
            along = (turn - start) % (2 * pi)
            if sweep < 0:
                along = along - 2 * pi if along else 0.0
            if abs(along) <= abs(sweep):
                yield (cx + r * cos(turn), cy + r * sin(turn))


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline; the last vertex joins the first."""

    vertices: tuple[Vertex, ...]

    @property
    def edges(self) -> tuple[Edge, ...]:
        """Every edge in order."""
        following = (*self.vertices[1:], *self.vertices[:1])
        pairs = zip(self.vertices, following, strict=True)
        return tuple(Edge(a.point, b.point, a.bulge) for a, b in pairs)

    @property
    def area(self) -> float:
        """Area inside, exact for arcs; positive when the loop runs counter-clockwise."""
        total = 0.0
        for edge in self.edges:
            (x0, y0), (x1, y1) = edge.start, edge.end
            total += (x0 * y1 - x1 * y0) / 2
            if edge.bulge:
                total += edge.radius**2 * (edge.sweep - sin(edge.sweep)) / 2
        return total

    @property
    def moments(self) -> Point:
        """Area times the place of its centre in x and in y, exact for arcs."""
        mx = my = 0.0
        for edge in self.edges:
            (x0, y0), (x1, y1) = edge.start, edge.end
            twice = x0 * y1 - x1 * y0
            mx += twice * (x0 + x1) / 6
            my += twice * (y0 + y1) / 6
            if edge.bulge:  # the segment between chord and arc
                (cx, cy), r, half = edge.centre, edge.radius, edge.sweep / 2
                (ax, ay), segment = edge.at(0.5), r**2 * (2 * half - sin(2 * half)) / 2
                mx += segment * cx + 2 / 3 * r**2 * sin(half) ** 3 * (ax - cx)
                my += segment * cy + 2 / 3 * r**2 * sin(half) ** 3 * (ay - cy)
        return (mx, my)

    def inset_area(self, inset: float) -> float:
        """Area once every edge has come in by `inset` (out, if negative), corners mitred.

        Each edge loses its length times the inset; a corner of turn a gives back tan(a/2), an
        arc half its sweep, times the inset squared. True while no edge vanishes.
        """
        length = sum(e.length for e in self.edges)
        back = sum(e.sweep / 2 for e in self.edges if e.bulge)
        for was, now in zip((self.edges[-1], *self.edges[:-1]), self.edges, strict=True):
            (ax, ay), (bx, by) = was.heading(1.0), now.heading(0.0)
            back += tan(atan2(ax * by - ay * bx, ax * bx + ay * by) / 2)
        return self.area - length * inset + back * inset**2

    @property
    def bounds(self) -> Box:
        """Left, bottom, right, top, arcs included."""
        points = [point for edge in self.edges for point in edge.extremes()]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))

    def distance(self, x: float, y: float) -> float:
        """Least distance from a point to the outline."""
        return min(e.distance(x, y) for e in self.edges)

    def support(self, dx: float, dy: float) -> float:
        """Greatest value of x dx + y dy on the outline, arcs included."""
        turn = atan2(dy, dx)
        points = [p for e in self.edges for p in (e.start, *e.farthest(turn))]
        return max(x * dx + y * dy for x, y in points)

    def moved(self, dx: float, dy: float) -> "Loop":
        """The same outline shifted."""
        return Loop(tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in self.vertices))

    def mapped(self, to: Callable[[float, float], Point]) -> "Loop":
        """The outline through a rigid map that keeps its hand (a turn or a shift)."""
        return Loop(tuple(Vertex(*to(v.x, v.y), v.bulge) for v in self.vertices))

    def mirrored(self, *, across_x: bool) -> "Loop":
        """Mirror image: x changes sign, or y when `across_x` is false; still counter-clockwise."""
        sx, sy = (-1.0, 1.0) if across_x else (1.0, -1.0)
        edges = self.edges[::-1]
        return Loop(tuple(Vertex(sx * e.end[0], sy * e.end[1], e.bulge) for e in edges))

    def tidied(self) -> "Loop":
        """The same outline without corners that lie in the middle of a straight line."""
        before = (self.edges[-1], *self.edges[:-1])
        kept = [
            Vertex(*now.start, now.bulge)
            for was, now in zip(before, self.edges, strict=True)
            if was.bulge or now.bulge or abs(_cross(was, now)) > 1e-9 * was.chord * now.chord
        ]
        return Loop(tuple(kept))

    def points(self, tolerance: float) -> list[Point]:
        """A polygon whose corners lie on the outline, arcs cut to `tolerance` mm of chord error."""
        found: list[Point] = []
        for edge in self.edges:
            steps = 1
            if edge.bulge:
                step = 4 * (tolerance / (2 * edge.radius)) ** 0.5
                steps = max(2, int(abs(edge.sweep) / step) + 1)
            found += [edge.at(i / steps) for i in range(steps)]
        return found


def _cross(was: Edge, now: Edge) -> float:
    (ax, ay), (bx, by), (cx, cy) = was.start, now.start, now.end
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx)


def rectangle(left: float, bottom: float, right: float, top: float, radius: float = 0.0) -> Loop:
    """An upright rectangle, its corners rounded when a radius is given."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return rounded([(x, y, radius) for x, y in corners])


def circle(x: float, y: float, diameter: float) -> Loop:
    """A full circle as two half arcs."""
    r = diameter / 2
    return Loop((Vertex(x + r, y, 1.0), Vertex(x - r, y, 1.0)))


def slot(x: float, y: float, diameter: float, length: float, angle: float = 0.0) -> Loop:
    """A slot about (x, y): `length` between its arc centres, lying `angle` degrees from +x."""
    if not length:
        return circle(x, y, diameter)
    c, s = cos(angle * pi / 180), sin(angle * pi / 180)
    half, r = length / 2, diameter / 2
    corners = ((-half, -r, 0.0), (half, -r, 1.0), (half, r, 0.0), (-half, r, 1.0))
    return Loop(tuple(Vertex(x + c * a - s * b, y + s * a + c * b, k) for a, b, k in corners))


def rounded(corners: Iterable[tuple[float, float, float]]) -> Loop:
    """A polygon whose corners (x, y, radius) are rounded by tangent arcs, inward or outward."""
    path = list(corners)
    found: list[Vertex] = []
    for i, (x, y, radius) in enumerate(path):
        (ax, ay, _), (bx, by, _) = path[i - 1], path[(i + 1) % len(path)]
        la, lb = hypot(x - ax, y - ay), hypot(bx - x, by - y)
        ux, uy, vx, vy = (x - ax) / la, (y - ay) / la, (bx - x) / lb, (by - y) / lb
        turn = atan2(ux * vy - uy * vx, ux * vx + uy * vy)
        if not radius or abs(turn) < 1e-9:
            found.append(Vertex(x, y))
            continue
        cut = radius * tan(abs(turn) / 2)
        found.append(Vertex(x - ux * cut, y - uy * cut, tan(turn / 4)))
        found.append(Vertex(x + vx * cut, y + vy * cut))
    return Loop(tuple(found))
