"""The paper of the pivot map: its sheet, its lines and colours, and the gate drawn on it.

Lines differ by their dashes and regions by their hatching, so that it is read without colour.
Pixels, y down.
"""

import textwrap
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from hangpost.generators.pivots.contours import Point
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.svg import Attributes, tag, words

SHEET: Final = (1000.0, 760.0)
FRAME: Final = (70.0, 96.0, 600.0, 560.0)  # left, top, width and height of the map at most
COLUMN: Final = 710.0  # x of the right-hand column
LINE: Final = 17.0  # between two lines of text
INK, GREY, TINT, DEEP, EDGE = "#1a1a1a", "#5b6470", "#dbe7f3", "#a9c6e3", "#0b3d6e"
DASHES: Final = ("", "9 4", "2 4", "12 4 2 4", "5 3", "14 5", "1 3", "8 3 2 3 2 3")
TURNS: Final = (45.0, -45.0, 0.0, 90.0)  # of hatchings
HALO: Attributes = {"stroke": "#ffffff", "stroke-width": 4, "paint-order": "stroke"}
SMALL: Attributes = {"font-size": 13, "fill": INK}
Look = dict[str, str | float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """From plan to paper."""

    left: float
    bottom: float
    x0: float
    y0: float
    factor: float  # pixels for a millimetre

    def __call__(self, at: Point) -> Point:
        """Where a point of the plan lies on the sheet."""
        x = self.left + (at[0] - self.x0) * self.factor
        return (x, self.bottom - (at[1] - self.y0) * self.factor)

    def line(self, points: Iterable[Point]) -> list[Point]:
        """The same for a line."""
        return [self(at) for at in points]


def gate(problem: Problem, scale: Scale) -> str:
    """Post, closed leaf and hinge axis."""
    box, leaf = problem.post.outline, problem.leaf
    (x0, y0), (x1, y1) = scale((box.left, box.top)), scale((box.right, box.bottom))
    round_ = box.rounding * scale.factor
    post: Look = {"x": x0, "y": y0, "width": x1 - x0, "height": y1 - y0, "rx": round_}
    (lx0, ly0), (lx1, ly1) = scale((leaf.hinge_edge, leaf.face)), scale((leaf.width, leaf.back))
    door: Look = {"x": lx0, "y": ly0, "width": lx1 - lx0, "height": ly1 - ly0}
    look: Look = {"fill": "#e6e2dc", "stroke": GREY, "stroke-width": 1.5}
    hx, hy = scale((0.0, 0.0))
    axis = tag("circle", {"cx": hx, "cy": hy, "r": 5, "fill": "#ffffff", "stroke": INK})
    return (
        tag("rect", {**post, **look})
        + tag("rect", {**door, **look})
        + axis
        + tag("circle", {"cx": hx, "cy": hy, "r": 1.5, "fill": INK})
    )


def text_lines(at: Point, said: str, width: int, style: Attributes) -> list[str]:
    """Words wrapped to a width, line under line."""
    wrapped = textwrap.wrap(said, width)
    return [words((at[0], at[1] + LINE * i), line, style) for i, line in enumerate(wrapped)]
