"""What stands on the pages of a PDF, read by PDFium: paper, circles, straight lines and words.

PDFium shares no code with the library that writes our sheets, and is what many people print
with. Units: mm from the lower left corner of the page, as a printer would put it down.
"""

import re
import zlib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Any, Final

from hangpost.generators.verify.problem import Unreadable
from hangpost.parts.loop import Point

MM: Final = 25.4 / 72  # of a PDF point
ROUND: Final = 0.01  # mm: how far from round a circle may be drawn
LARGEST: Final = 50_000_000  # bytes that one stream may unpack to
DEEP: Final = 8  # drawings within drawings

# FPDF_SEGMENT_* and FPDF_PAGEOBJ_* of PDFium's public headers.
_LINE, _BEZIER, _MOVE = 0, 1, 2
_PATH, _FORM = 2, 5

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Ring:
    """A full circle that is drawn."""

    at: Point
    diameter: float


@dataclass(frozen=True, slots=True)
class PdfPage:
    """One page."""

    size: Point  # of the sheet that comes out
    media: tuple[float, float, float, float]
    crop: tuple[float, float, float, float]
    rotation: int
    rings: tuple[Ring, ...]
    lines: tuple[tuple[Point, Point], ...]
    text: str


@dataclass(frozen=True, slots=True)
class PdfFile:
    """The pages, and whether the file leaves the size to the printer's driver."""

    pages: tuple[PdfPage, ...]
    scaled: bool
    own_unit: bool  # whether a page counts in another unit than the PDF point


def read_pdf(data: bytes, stretch: Point = (1.0, 1.0)) -> PdfFile:
    """The file as a printer puts it down that stretches so much, from the middle of the sheet.

    Raises Unreadable.
    """
    import pypdfium2
    from pypdfium2 import raw

    try:
        document = pypdfium2.PdfDocument(data)
        pages = tuple(_page(document[k], stretch) for k in range(len(document)))
        scaled = bool(raw.FPDF_VIEWERREF_GetPrintScaling(document.raw))
    except pypdfium2.PdfiumError as error:
        raise Unreadable(f"cannot be read ({error})") from error
    document.close()
    return PdfFile(pages, scaled, _has_own_unit(data))


def _has_own_unit(data: bytes) -> bool:
    """Whether a page has a UserUnit, which PDFium passes over and printers may not."""
    if b"/UserUnit" in data:
        return True
    for packed in re.finditer(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
        with suppress(zlib.error):
            if b"/UserUnit" in zlib.decompressobj().decompress(packed[1], LARGEST):
                return True
    return False


def _page(page: Any, stretch: Point) -> PdfPage:
    from pypdfium2 import raw

    rings: list[Ring] = []
    lines: list[tuple[Point, Point]] = []
    count = raw.FPDFPage_CountObjects(page.raw)
    objects = [raw.FPDFPage_GetObject(page.raw, k) for k in range(count)]
    width, height = page.get_size()
    (a, d), (x, y) = stretch, (width / 2, height / 2)
    for path in _paths(objects, (a, 0.0, 0.0, d, x * (1 - a), y * (1 - d)), 0):
        ring = _ring(path)
        if ring is not None:
            rings.append(ring)
        lines += _straight(path)
    words = page.get_textpage().get_text_bounded()
    return PdfPage(
        size=(width * MM, height * MM),
        media=_box(page.get_mediabox()),
        crop=_box(page.get_cropbox()),
        rotation=page.get_rotation(),
        rings=tuple(rings),
        lines=tuple(lines),
        text=words,
    )


def _box(box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    left, bottom, right, top = (b * MM for b in box)
    return (left, bottom, right, top)


Path = list[tuple[int, Point]]  # kind of step and the point it leads to, control points left out


def _paths(objects: list[Any], matrix: Matrix, depth: int) -> Iterator[Path]:
    """Every path, in mm on the page; drawings within the drawing are opened."""
    from ctypes import byref

    from pypdfium2 import raw

    for item in objects:
        kind = raw.FPDFPageObj_GetType(item)
        if kind not in (_PATH, _FORM):
            continue
        own = raw.FS_MATRIX()
        raw.FPDFPageObj_GetMatrix(item, byref(own))
        placed = _after(matrix, (own.a, own.b, own.c, own.d, own.e, own.f))
        if kind == _PATH:
            yield list(_steps(item, placed))
        elif depth < DEEP:
            count = raw.FPDFFormObj_CountObjects(item)
            inner = [raw.FPDFFormObj_GetObject(item, k) for k in range(count)]
            yield from _paths(inner, placed, depth + 1)


def _after(outer: Matrix, inner: Matrix) -> Matrix:
    """The inner matrix first, then the outer one."""
    a, b, c, d, e, f = inner
    oa, ob, oc, od, oe, of = outer
    return (
        a * oa + b * oc,
        a * ob + b * od,
        c * oa + d * oc,
        c * ob + d * od,
        e * oa + f * oc + oe,
        e * ob + f * od + of,
    )


def _steps(item: Any, matrix: Matrix) -> Iterator[tuple[int, Point]]:
    from ctypes import byref, c_float

    from pypdfium2 import raw

    a, b, c, d, e, f = matrix
    beziers = 0
    start: Point | None = None
    for k in range(raw.FPDFPath_CountSegments(item)):
        segment = raw.FPDFPath_GetPathSegment(item, k)
        x, y = c_float(), c_float()
        raw.FPDFPathSegment_GetPoint(segment, byref(x), byref(y))
        kind = raw.FPDFPathSegment_GetType(segment)
        point = ((a * x.value + c * y.value + e) * MM, (b * x.value + d * y.value + f) * MM)
        beziers = beziers + 1 if kind == _BEZIER else 0
        if kind == _MOVE:
            start = point
        if kind != _BEZIER or beziers % 3 == 0:  # two of three are control points
            yield kind, point
        if raw.FPDFPathSegment_GetClose(segment) and start is not None:
            yield _LINE, start


def _ring(path: Path) -> Ring | None:
    """The circle that a path draws, or None."""
    points = [point for kind, point in path if kind == _BEZIER]
    if len(points) < 4:
        return None
    if any(kind == _LINE and _apart(p, points[-1]) > ROUND for kind, p in path):
        return None
    x = sum(p[0] for p in points) / len(points)
    y = sum(p[1] for p in points) / len(points)
    away = [hypot(p[0] - x, p[1] - y) for p in points]
    radius = sum(away) / len(away)
    if max(abs(a - radius) for a in away) > ROUND or radius < ROUND:
        return None
    return Ring((x, y), 2 * radius)


def _apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _straight(path: Path) -> Iterator[tuple[Point, Point]]:
    for (_, start), (kind, end) in pairwise(path):
        if kind == _LINE and start != end:
            yield start, end
