"""Sheets on paper: exact sizes, vector only, the same bytes every time.

The page boxes are the paper's own size, the viewer is told not to scale, and no matrix ever
scales the drawing: a printer that stretches is answered by moving the points themselves. Frame:
mm, origin in the lower left corner. Sizes: ISO 216 (A4, A3), ASME Y14.1 (letter, tabloid).
"""

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from math import cos, sin, tan
from typing import TYPE_CHECKING, Final

from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.fonts import registered
from hangpost.generators.writers.ink import PEN_DASH, PEN_WIDTH, Circle, Pen, Stroke, Text
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.parts.loop import Box, Edge, Point

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

MM: Final = 72 / 25.4  # PDF points in a mm
MARGIN: Final = 10.0  # house: nothing is drawn nearer to the edge; printers cannot reach it
BAR_X: Final = 150.0  # nominal length of the check bar across the sheet
BAR_Y: Final = 200.0  # nominal length of the check bar along the sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A size of paper, upright."""

    name: str
    width: float
    height: float


PAPERS: Final[dict[str, Paper]] = {
    paper.name: paper
    for paper in (
        Paper(name="a4", width=210.0, height=297.0),
        Paper(name="a3", width=297.0, height=420.0),
        Paper(name="letter", width=215.9, height=279.4),
        Paper(name="tabloid", width=279.4, height=431.8),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """How much a printer stretches what it is given, across and along the sheet."""

    x: float = 1.0
    y: float = 1.0

    @classmethod
    def measured(cls, bar_x: float, bar_y: float) -> "Printer":
        """The printer that made the two check bars come out this long."""
        return cls(x=bar_x / BAR_X, y=bar_y / BAR_Y)

    @property
    def is_true(self) -> bool:
        """Whether it prints to size."""
        return self.x == 1.0 and self.y == 1.0

    def given(self, point: Point, paper: Paper | Sheet) -> Point:
        """Where a point must be drawn so that it comes out where it belongs."""
        cx, cy = paper.width / 2, paper.height / 2
        return (cx + (point[0] - cx) / self.x, cy + (point[1] - cy) / self.y)

    def field(self, paper: Paper) -> Box:
        """What may be drawn on so that nothing is sent to the printer's margin."""
        wide, high = (paper.width / 2 - MARGIN), (paper.height / 2 - MARGIN)
        cx, cy = paper.width / 2, paper.height / 2
        wide, high = min(wide, wide * self.x), min(high, high * self.y)
        return (cx - wide, cy - high, cx + wide, cy + high)


TRUE: Final = Printer()
DAY: Final = "SOURCE_DATE_EPOCH"


def pdf(
    sheets: Sequence[Sheet], *, title: str, subject: str, maker: str, printer: Printer = TRUE
) -> bytes:
    """The sheets as one PDF file; `maker` is the tool and its version."""
    from reportlab.pdfgen.canvas import Canvas

    stream = BytesIO()
    with _no_date():
        canvas = Canvas(
            stream,
            pageCompression=1,
            invariant=1,
            pdfVersion=(1, 6),
            lang="en-GB",
            initialFontSize=8,
        )
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor(maker)
    canvas.setCreator(maker)
    canvas.setProducer(maker)
    canvas.setViewerPreference("PrintScaling", "None")
    for sheet in sheets:
        canvas.setPageSize((sheet.width * MM, sheet.height * MM))
        canvas.setCropBox((0, 0, sheet.width * MM, sheet.height * MM))
        canvas.setLineCap(0)
        _Pencil(canvas, sheet, printer).draw(sheet.items)
        canvas.showPage()
    with _binary():
        canvas.save()
    return stream.getvalue()


@contextmanager
def _no_date() -> Iterator[None]:
    """No day from outside: the library would take one from a variable of reproducible builds."""
    day = os.environ.pop(DAY, None)
    try:
        yield
    finally:
        if day is not None:
            os.environ[DAY] = day


@contextmanager
def _binary() -> Iterator[None]:
    """Pages as bytes and not spelled out in letters, the library's switch put back."""
    from reportlab import rl_config

    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


@dataclass(frozen=True, slots=True)
class _Pencil:
    """Draws items on one page of a canvas."""

    canvas: "Canvas"
    sheet: Sheet
    printer: Printer

    def draw(self, items: Sequence[Item]) -> None:
        for item in items:
            if isinstance(item, Dimension):
                self.draw(item.drawn)
            elif isinstance(item, Stroke):
                self._stroke(item.edges, item.pen, item.closed, item.filled)
            elif isinstance(item, Circle):
                self._circle(item)
            elif isinstance(item, Text):
                self._text(item)
            else:
                self._modules(item)

    def _at(self, point: Point) -> Point:
        x, y = self.printer.given(point, self.sheet)
        return (x * MM, y * MM)

    def _stroke(self, edges: Sequence[Edge], pen: Pen, closed: bool, filled: bool) -> None:
        if len(edges) == 1 and not edges[0].bulge:
            self._pen(pen)
            self.canvas.line(*self._at(edges[0].start), *self._at(edges[0].end))
            return
        code = [f"{self._spelled(edges[0].start)} m"]
        for edge in edges:
            if edge.bulge:
                code += [f"{' '.join(map(self._spelled, piece))} c" for piece in _beziers(edge)]
            elif not (closed and edge is edges[-1]):
                code.append(f"{self._spelled(edge.end)} l")
        if closed:
            code.append("h")
        self._pen(pen)
        self._path(code, stroke=True, fill=filled)

    def _circle(self, item: Circle) -> None:
        (x, y), r = item.centre, item.diameter / 2
        halves = (Edge((x + r, y), (x - r, y), 1.0), Edge((x - r, y), (x + r, y), 1.0))
        self._stroke(halves, item.pen, True, item.filled)

    def _text(self, item: Text) -> None:
        canvas = self.canvas
        canvas.setFont(registered(item.bold), item.size * MM)
        write = {
            "left": canvas.drawString,
            "centre": canvas.drawCentredString,
            "right": canvas.drawRightString,
        }[item.anchor]
        if not item.angle:
            write(*self._at(item.at), item.text)
            return
        canvas.saveState()
        canvas.translate(*self._at(item.at))
        canvas.rotate(item.angle)
        write(0, 0, item.text)
        canvas.restoreState()

    def _modules(self, item: Modules) -> None:
        code = []
        for left, bottom, right, top in item.blocks:
            (x0, y0), (x1, y1) = self._at((left, bottom)), self._at((right, top))
            code.append(f"{x0:.4f} {y0:.4f} {x1 - x0:.4f} {y1 - y0:.4f} re")
        self._path(code, stroke=False, fill=True)

    def _path(self, code: list[str], *, stroke: bool, fill: bool) -> None:
        """Path operators of ISO 32000-1, 8.5.2, spelled here: a symbol has thousands of them."""
        from reportlab.pdfgen.pathobject import PDFPathObject

        self.canvas.drawPath(PDFPathObject(code), stroke=int(stroke), fill=int(fill))

    def _spelled(self, point: Point) -> str:
        x, y = self._at(point)
        return f"{x:.4f} {y:.4f}"

    def _pen(self, pen: Pen) -> None:
        self.canvas.setLineWidth(PEN_WIDTH[pen] * MM)
        self.canvas.setDash([d * MM for d in PEN_DASH[pen]])


def _beziers(edge: Edge) -> list[tuple[Point, Point, Point]]:
    """An arc as cubic pieces of at most 45 degrees: 4e-6 of the radius off, at most."""
    from math import atan2, ceil, pi

    (cx, cy), r = edge.centre, edge.radius
    count = max(1, ceil(abs(edge.sweep) / (pi / 4) - 1e-9))
    step = edge.sweep / count
    handle = 4 / 3 * tan(step / 4) * r
    first = atan2(edge.start[1] - cy, edge.start[0] - cx)
    pieces = []
    for k in range(count):
        a, b = first + k * step, first + (k + 1) * step
        p, q = (cx + r * cos(a), cy + r * sin(a)), (cx + r * cos(b), cy + r * sin(b))
        one = (p[0] - handle * sin(a), p[1] + handle * cos(a))
        two = (q[0] + handle * sin(b), q[1] - handle * cos(b))
        pieces.append((one, two, edge.end if k == count - 1 else q))
    return pieces
