"""Drilling templates on paper held against pack.json: are sheets and holes true to size.

Every sheet must be the paper it says, must not be scaled by anything, and must carry its two
check bars at their length. Every hole is looked for among the circles that are drawn, and the
places that pack.json gives for a page must be those of the template, shifted and turned.
Units: mm.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot, pi
from typing import Final

from hangpost.generators.verify.listed import (
    ListedDrilling,
    ListedMark,
    ListedPage,
    ListedPaper,
    ListedTemplate,
)
from hangpost.generators.verify.pdf_reader import PdfFile, Ring
from hangpost.generators.writers.hole_marks import drill_cells, placed_words
from hangpost.generators.writers.paper import BAR_X, BAR_Y, PAPERS
from hangpost.generators.writers.template_pages import PageMark
from hangpost.generators.writers.wrap import PAPER_THICKNESS
from hangpost.parts.loop import Point

NEAR: Final = 0.05  # mm on paper
SHEET: Final = 0.01  # mm of the sheet itself


def paper_faults(file: PdfFile, paper: str) -> Iterator[str]:
    """What is wrong with the sheets of a template file, whatever is drawn on them."""
    if file.scaled:
        yield "lets the printer scale it (PrintScaling)"
    if file.own_unit:
        yield "is scaled by a unit of its own (UserUnit)"
    wide, high = PAPERS[paper].width, PAPERS[paper].height
    for number, page in enumerate(file.pages, 1):
        true = (0.0, 0.0, wide, high)
        boxes = (page.media, page.crop)
        if any(abs(a - b) > SHEET for box in boxes for a, b in zip(box, true, strict=True)):
            yield f"page {number}: is not the whole of a sheet of {paper}"
        elif abs(page.size[0] - wide) > SHEET or abs(page.size[1] - high) > SHEET or page.rotation:
            yield f"page {number}: comes out turned or scaled"
        for name, length, axis in (("x", BAR_X, 0), ("y", BAR_Y, 1)):
            if not any(_is_bar(line, length, axis) for line in page.lines):
                yield f"page {number}: the check bar in {name} is not {length:g} mm long"


def hole_faults(file: PdfFile, template: ListedTemplate, paper: ListedPaper) -> Iterator[str]:
    """What is wrong with the holes of a template in one of its files."""
    shown: dict[str, set[str]] = {}
    for page in paper.pages:
        number = page.page
        if not 1 <= number <= len(file.pages):
            yield f"page {number} is missing"
            continue
        marks = [_as_printed(mark, paper) for mark in page.marks]
        for mark in marks:
            shown.setdefault(page.kind, set()).add(mark.hole)
            if not any(_is_mark(ring, mark) for ring in file.pages[number - 1].rings):
                yield (
                    f"page {number}: hole {mark.hole} is not drawn with diameter "
                    f"{mark.diameter:g} at {mark.x:.2f}, {mark.y:.2f}"
                )
        yield from _place_faults(page, marks, template)
    names = {hole.name for hole in template.holes}
    kind = "wrap" if template.wrap_diameter else "entry"
    for name in sorted(names - shown.get(kind, set())):
        yield f"hole {name} is on no page"
    yield from _number_faults(file, template)


def _as_printed(mark: ListedMark, paper: ListedPaper) -> PageMark:
    """A mark where the printer puts it down for which the file was made."""
    sheet, (a, d) = PAPERS[paper.paper], paper.printer
    x = sheet.width / 2 + (mark.x - sheet.width / 2) * a
    y = sheet.height / 2 + (mark.y - sheet.height / 2) * d
    return PageMark(hole=mark.hole, x=x, y=y, diameter=mark.diameter)


def _is_bar(line: tuple[Point, Point], length: float, axis: int) -> bool:
    (x0, y0), (x1, y1) = line
    ways = (abs(x1 - x0), abs(y1 - y0))
    return abs(ways[axis] - length) <= NEAR and ways[1 - axis] <= SHEET


def _is_mark(ring: Ring, mark: PageMark) -> bool:
    off = hypot(ring.at[0] - mark.x, ring.at[1] - mark.y)
    return off <= NEAR and abs(ring.diameter - mark.diameter) <= NEAR


def _place_faults(
    page: ListedPage, marks: Sequence[PageMark], template: ListedTemplate
) -> Iterator[str]:
    """Whether the marks of a page lie to each other as the holes of the template do."""
    holes, around = {hole.name: hole for hole in template.holes}, template.wrap_diameter
    number, whole = page.page, pi * (around + PAPER_THICKNESS) if around else 0.0
    shifts: list[tuple[str, Point]] = []
    for mark in marks:
        at = _in_face(mark.hole, page.kind, holes, around)
        if at is None:
            yield f"page {number}: there is no hole {mark.hole}"
            continue
        if holes[mark.hole if mark.hole in holes else mark.hole[:-1]].depth and (
            page.kind == "exit" or mark.hole not in holes
        ):
            yield f"page {number}: hole {mark.hole} does not go through and has no exit"
        if mark.diameter != holes[mark.hole if mark.hole in holes else mark.hole[:-1]].diameter:
            yield f"page {number}: hole {mark.hole} has another diameter than in the template"
        u, v = (mark.y, -mark.x) if page.turned else (mark.x, mark.y)  # as the face counts
        shifts.append((mark.hole, (u - at[0], v - at[1])))
    for (one, a), (two, b) in pairwise(shifts):
        aside, along = abs(a[0] - b[0]), abs(a[1] - b[1])
        if whole:
            aside = min(aside % whole, -aside % whole)
        if hypot(aside, along) > NEAR:
            yield f"page {number}: holes {one} and {two} do not lie to each other as they should"


def _in_face(
    name: str, kind: str, holes: dict[str, ListedDrilling], around: float | None
) -> Point | None:
    """Where a mark lies in its face: exit faces are mirrored, wrapped ones stretched."""
    if around:
        stretch = (around + PAPER_THICKNESS) / around
        if name in holes:
            return (holes[name].at[0] * stretch, holes[name].at[1])
        entry = holes.get(name.removesuffix("x"))  # where a straight hole comes out again
        return None if entry is None else ((pi * around / 2 - entry.at[0]) * stretch, entry.at[1])
    if name not in holes:
        return None
    u, v = holes[name].at
    return (-u, v) if kind == "exit" else (u, v)


def _number_faults(file: PdfFile, template: ListedTemplate) -> Iterator[str]:
    """Whether the rows of the hole table are printed, so that a tape can overrule the paper."""
    words = " ".join(" ".join(page.text.split()) for page in file.pages)
    for hole in template.holes:
        rows = [_row(hole, inch=inch) for inch in (True, False)]  # the shop's unit stands first
        if not any(row in words for row in rows):
            yield f"the row of hole {hole.name} in the table is not {rows[1].strip()!r}"


def _row(hole: ListedDrilling, *, inch: bool) -> str:
    """The start of a hole's row: its name, where it lies, its drill."""
    placed = placed_words(*hole.at, inch=inch)
    return " ".join((hole.name, *placed, *drill_cells(hole.diameter, inch=inch), ""))
