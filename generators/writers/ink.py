"""The marks that a sheet is made of: strokes, circles, lettering.

Frame: mm on the paper, origin in its lower left corner, y up. Items are frozen records; each
can say which box it covers and can be placed elsewhere: scaled, turned and shifted, but never
mirrored, so that lettering stays readable. Lettering keeps its size when a drawing is scaled.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, pi, radians, sin, tan
from typing import Final, Literal

from hangpost.generators.writers.fonts import BELOW, CAPITAL, width
from hangpost.parts.loop import Box, Edge, Loop, Point, Vertex

Pen = Literal["hair", "thin", "thick", "hidden", "centre", "phantom"]
Anchor = Literal["left", "centre", "right"]

# Two widths of line and the usual dashes (ISO 128-2), plus a hairline that hides no hole.
PEN_WIDTH: Final[dict[Pen, float]] = {
    "hair": 0.09,
    "thin": 0.18,
    "thick": 0.40,
    "hidden": 0.18,
    "centre": 0.13,
    "phantom": 0.18,
}
PEN_DASH: Final[dict[Pen, tuple[float, ...]]] = {
    "hair": (),
    "thin": (),
    "thick": (),
    "hidden": (2.0, 1.0),
    "centre": (6.0, 1.2, 1.2, 1.2),
    "phantom": (6.0, 1.2, 1.2, 1.2, 1.2, 1.2),
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where a drawing goes: scaled, turned by `angle` degrees about its origin, then shifted."""

    x: float
    y: float
    scale: float = 1.0
    angle: float = 0.0

    def point(self, p: Point) -> Point:
        """The point on the paper."""
        (found,) = self.points((p,))
        return found

    def points(self, points: Iterable[Point]) -> list[Point]:
        """All of them on the paper."""
        if self.angle == 0.0 and self.scale == 1.0:
            return [(self.x + px, self.y + py) for px, py in points]
        c, s = turn(self.angle)
        c, s = c * self.scale, s * self.scale
        return [(self.x + c * px - s * py, self.y + s * px + c * py) for px, py in points]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line, an arc or a run of both: each vertex carries the bulge of the edge after it."""

    vertices: tuple[Vertex, ...]
    pen: Pen = "thin"
    closed: bool = False
    filled: bool = False

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The edges in order."""
        edges = Loop(self.vertices).edges
        return edges if self.closed else edges[:-1]

    @property
    def box(self) -> Box:
        """The box it covers, pen width left out."""
        points = [v.point for v in self.vertices]
        if any(v.bulge for v in self.vertices):
            points += [p for e in self.edges if e.bulge for p in e.extremes()]
        return bounds(points)

    def placed(self, place: Place) -> "Stroke":
        """The same elsewhere."""
        moved = place.points(v.point for v in self.vertices)
        bulges = (v.bulge for v in self.vertices)
        vertices = (Vertex(x, y, b) for (x, y), b in zip(moved, bulges, strict=True))
        return Stroke(tuple(vertices), self.pen, self.closed, self.filled)


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre: Point
    diameter: float
    pen: Pen = "thin"
    filled: bool = False

    @property
    def box(self) -> Box:
        """The box it covers."""
        (x, y), r = self.centre, self.diameter / 2
        return (x - r, y - r, x + r, y + r)

    def placed(self, place: Place) -> "Circle":
        """The same elsewhere."""
        centre = place.point(self.centre)
        return replace(self, centre=centre, diameter=self.diameter * place.scale)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering; `at` is on its base line, at its left end, middle or right end."""

    at: Point
    text: str
    size: float = 2.6
    anchor: Anchor = "left"
    bold: bool = False
    angle: float = 0.0

    @property
    def width(self) -> float:
        """Its length on the paper."""
        return width(self.text, self.size, bold=self.bold)

    @property
    def box(self) -> Box:
        """The box it covers, tails of letters included."""
        shift = {"left": 0.0, "centre": 0.5, "right": 1.0}[self.anchor] * self.width
        place = Place(*self.at, angle=self.angle)
        low, high = -BELOW * self.size, CAPITAL * self.size
        ends = (-shift, self.width - shift)
        return bounds(place.points((x, y) for x in ends for y in (low, high)))

    def placed(self, place: Place) -> "Text":
        """The same elsewhere, turned with the drawing but not scaled."""
        return replace(self, at=place.point(self.at), angle=self.angle + place.angle)

    @property
    def upright(self) -> "Text":
        """The same turned about the middle of its box where it would stand on its head."""
        if not 90.0 < self.angle % 360 < 270.0:
            return self
        left, bottom, right, top = self.box
        x, y = self.at
        return replace(self, at=(left + right - x, bottom + top - y), angle=self.angle - 180.0)


def bounds(points: Iterable[Point]) -> Box:
    """The box around points."""
    found = list(points)
    xs, ys = [p[0] for p in found], [p[1] for p in found]
    return (min(xs), min(ys), max(xs), max(ys))


def together(boxes: Iterable[Box]) -> Box:
    """The box around boxes."""
    found = list(boxes)
    lows, highs = [(b[0], b[1]) for b in found], [(b[2], b[3]) for b in found]
    return bounds([*lows, *highs])


def line(start: Point, end: Point, pen: Pen = "thin") -> Stroke:
    """A straight line."""
    return Stroke((Vertex(*start), Vertex(*end)), pen)


def path(points: Iterable[Point], pen: Pen = "thin", *, closed: bool = False) -> Stroke:
    """Straight lines through points."""
    return Stroke(tuple(Vertex(*p) for p in points), pen, closed)


def outline(loop: Loop, pen: Pen = "thin") -> Stroke:
    """The edge of a loop, arcs kept."""
    return Stroke(loop.vertices, pen, closed=True)


def frame(box: Box, pen: Pen = "thin") -> Stroke:
    """The edge of a box."""
    left, bottom, right, top = box
    return path(((left, bottom), (right, bottom), (right, top), (left, top)), pen, closed=True)


def arc(centre: Point, radius: float, start: float, sweep: float, pen: Pen = "thin") -> Stroke:
    """An arc from `start` degrees through `sweep` degrees, in pieces of at most 90."""
    count = max(1, int(abs(sweep) / 90.0 - 1e-9) + 1)
    bulge = tan(radians(sweep) / count / 4)
    points = [
        (centre[0] + radius * cos(a), centre[1] + radius * sin(a))
        for a in (radians(start + sweep * k / count) for k in range(count + 1))
    ]
    return Stroke(tuple(Vertex(x, y, bulge) for x, y in points), pen)


def arrow_head(tip: Point, way: Point, size: float) -> Stroke:
    """A filled arrow head whose tip points along `way` (a unit vector)."""
    (x, y), (dx, dy) = tip, way
    back = (x - size * dx, y - size * dy)
    half = size / 6
    return Stroke(
        (
            Vertex(x, y),
            Vertex(back[0] - half * dy, back[1] + half * dx),
            Vertex(back[0] + half * dy, back[1] - half * dx),
        ),
        "hair",
        closed=True,
        filled=True,
    )


def arrow(start: Point, end: Point, size: float = 3.0, pen: Pen = "thin") -> tuple[Stroke, Stroke]:
    """A line with an arrow head at its end."""
    towards = atan2(end[1] - start[1], end[0] - start[0])
    way = (cos(towards), sin(towards))
    return line(start, end, pen), arrow_head(end, way, size)


def heading(start: Point, end: Point) -> float:
    """Direction from one point to another in degrees."""
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))


def turn(angle: float) -> Point:
    """Cosine and sine of an angle in degrees, exact for quarter turns."""
    quarter, rest = divmod(angle, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    radian = angle * pi / 180
    return (cos(radian), sin(radian))
