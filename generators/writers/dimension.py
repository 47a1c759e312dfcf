"""A dimension: extension lines, a line with two heads, and the figure above it.

Frame: mm on the sheet. It stays one record until it is written, so that the DXF gets a real
dimension and the PDF the same lines.
"""

from dataclasses import dataclass, replace
from math import hypot
from typing import Final, Literal

from hangpost.generators.writers.ink import (
    Place,
    Stroke,
    Text,
    arrow_head,
    line,
    together,
    turn,
)
from hangpost.parts.loop import Box, Point

SMALL: Final = 2.2  # lettering of dimensions on drawings


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension between two points, measured along `angle` degrees; its line passes `through`.

    `along` shifts the figure from the middle of the line; `size` is that of the lettering.
    """

    first: Point
    second: Point
    through: Point
    text: str
    angle: float = 0.0
    size: float = 2.6
    along: float = 0.0

    @property
    def ends(self) -> tuple[Point, Point]:
        """The two ends of the dimension line."""
        c, s = turn(self.angle)
        level = -s * self.through[0] + c * self.through[1]
        along = [c * p[0] + s * p[1] for p in (self.first, self.second)]
        a, b = ((c * t - s * level, s * t + c * level) for t in along)
        return a, b

    @property
    def label(self) -> Text:
        """The figure, above its line; beside it when the line is too short for it."""
        (ax, ay), (bx, by) = self.ends
        c, s = turn(self.angle)
        lift = 0.35 * self.size
        mid = ((ax + bx) / 2 + c * self.along, (ay + by) / 2 + s * self.along)
        at = (mid[0] - s * lift, mid[1] + c * lift)
        return Text(at, self.text, self.size, "centre", angle=self.angle)

    @property
    def drawn(self) -> tuple["Stroke | Text", ...]:
        """Extension lines, line, two arrow heads and the figure."""
        a, b = self.ends
        apart = hypot(b[0] - a[0], b[1] - a[1])
        head = 0.9 * self.size
        inside = apart > 2.6 * head
        far = 0.0 if inside else 2.2 * head
        way = (1.0, 0.0) if apart < 1e-9 else ((b[0] - a[0]) / apart, (b[1] - a[1]) / apart)
        sign = 1.0 if inside else -1.0
        label = self.label
        c, s = turn(self.angle)
        reach = [  # along the line: where it starts and ends, stretched under a figure outside
            c * p[0] + s * p[1] for p in (a, b, self._figure_end(-1), self._figure_end(1))
        ]
        level = -s * a[0] + c * a[1]
        low, high = min(reach[:2]) - far, max(reach[:2]) + far
        if abs(self.along) > 0:
            low, high = min(low, reach[2]), max(high, reach[3])
        start, end = (
            (c * low - s * level, s * low + c * level),
            (
                c * high - s * level,
                s * high + c * level,
            ),
        )
        heads = (
            arrow_head(a, (-sign * way[0], -sign * way[1]), head),
            arrow_head(b, (sign * way[0], sign * way[1]), head),
        )
        tails = tuple(
            extension
            for p, q in ((self.first, a), (self.second, b))
            if (extension := _extension(p, q)) is not None
        )
        return (*tails, line(start, end), *heads, label)

    def _figure_end(self, side: int) -> Point:
        label = self.label
        c, s = turn(self.angle)
        half = side * label.width / 2
        return (label.at[0] + c * half, label.at[1] + s * half)

    @property
    def box(self) -> Box:
        """The box it covers."""
        return together(item.box for item in self.drawn)

    def placed(self, place: Place) -> "Dimension":
        """The same elsewhere."""
        return replace(
            self,
            first=place.point(self.first),
            second=place.point(self.second),
            through=place.point(self.through),
            angle=self.angle + place.angle,
        )


def _extension(point: Point, end: Point) -> Stroke | None:
    """From a little beside the point to a little past the dimension line."""
    dx, dy = end[0] - point[0], end[1] - point[1]
    apart = hypot(dx, dy)
    if apart < 1.0:
        return None
    ux, uy = dx / apart, dy / apart
    return line((point[0] + 0.8 * ux, point[1] + 0.8 * uy), (end[0] + 1.5 * ux, end[1] + 1.5 * uy))


def fitted(
    first: Point,
    second: Point,
    through: Point,
    text: str,
    angle: float = 0.0,
    side: Literal[-1, 1] = 1,
) -> Dimension:
    """A dimension whose figure stands past one end (`side`) when it is too wide for its line."""
    plain = Dimension(first, second, through, text, angle, SMALL)
    (ax, ay), (bx, by) = plain.ends
    apart = abs(bx - ax) + abs(by - ay)
    width = Text((0.0, 0.0), text, SMALL).width
    if apart > width + 4.4:  # both heads beside the figure
        return plain
    past = side * (apart / 2 + width / 2 + 2.6 * SMALL)
    return Dimension(first, second, through, text, angle, SMALL, past)
