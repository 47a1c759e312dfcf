"""Drilling templates at full size, one file for each paper: what the installer tapes to the post.

Every sheet proves its own size (`scale_proof`), is never scaled to fit, and says in numbers what
it shows in lines. A face that is larger than the paper is cut into overlapping sheets. Where each
hole lies on its page comes back as data, so that the file can be read back and held against it.
Frame: mm on the page, origin in its lower left corner; faces have their own (see `face`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hangpost.generators.hardware.design import Template
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.face import Face
from hangpost.generators.writers.hole_marks import distance_table, hole_table
from hangpost.generators.writers.ink import Place, Text, together
from hangpost.generators.writers.paper import TRUE, Paper, Printer, pdf
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.stamp import Stamp, numbered, site_symbol
from hangpost.generators.writers.table import Table, paragraph, shelved
from hangpost.generators.writers.template_layout import ColumnLayout, Layout, Shown, StripLayout
from hangpost.generators.writers.template_pages import PageMark, TemplatePage
from hangpost.generators.writers.tiles import DoesNotFitError, Tiling, Window, shown, tiling
from hangpost.generators.writers.wrap import faces
from hangpost.parts.loop import Box

GAP = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateBook:
    """All templates of a job on one paper."""

    paper: Paper
    printer: Printer
    stamp: Stamp
    drawn: tuple[Sheet, ...]  # still without their feet, which say whether a check fails
    pages: tuple[TemplatePage, ...]

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets with their feet."""
        return numbered(self.drawn, self.stamp, self.printer.field(self.paper))

    def pdf(self) -> bytes:
        """The file."""
        return pdf(
            self.sheets,
            title=f"Drilling templates 1:1, {self.paper.name} - {self.stamp.job}",
            subject=f"input {self.stamp.site_sha256}; print at actual size, 100 %",
            maker=self.stamp.maker,
            printer=self.printer,
        )

    def pages_of(self, template_id: str) -> tuple[TemplatePage, ...]:
        """The pages that show this template."""
        return tuple(p for p in self.pages if p.template == template_id)


def template_book(
    templates: Sequence[Template], stamp: Stamp, paper: Paper, printer: Printer = TRUE
) -> TemplateBook:
    """Every template on this paper; `printer` says how much the printer stretches."""
    desk = _Desk(stamp, paper, printer)
    sheets: list[Sheet] = []
    pages: list[TemplatePage] = []
    loose: list[Table] = []
    for template in templates:
        for face in faces(template, stamp.units):
            drawn, tables = desk.face_sheets(face, len(pages))
            sheets += [sheet for sheet, _ in drawn]
            pages += [page for _, page in drawn]
            loose += tables
    for sheet in desk.number_sheets(loose):
        pages.append(
            TemplatePage(page=len(pages) + 1, template="", kind="numbers", tile="", turned=False)
        )
        sheets.append(sheet)
    return TemplateBook(
        paper=paper,
        printer=printer,
        stamp=stamp,
        drawn=tuple(sheets),
        pages=tuple(pages),
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    """Lays faces out on one paper for one printer."""

    stamp: Stamp
    paper: Paper
    printer: Printer

    @property
    def strip(self) -> StripLayout:
        return StripLayout(self.paper, self.printer)

    def sheet(self, layout: Layout, title: str, items: Iterable[Item]) -> Sheet:
        return Sheet(
            width=self.paper.width,
            height=self.paper.height,
            title=title,
            items=(*items, *layout.proof(), *layout.code(self.stamp, title), *layout.banner()),
        )

    def face_sheets(
        self, face: Face, before: int
    ) -> tuple[list[tuple[Sheet, TemplatePage]], list[Table]]:
        """The sheets of one face, and the tables that found no room on them."""
        layout, cut, turned = self._cut(face)
        tables = face_tables(face)
        drawn = []
        for k, window in enumerate(cut.windows, 1):
            place = _place(layout.area, window, turned)
            lines, labels = shown(face, cut, window)
            items: list[Item] = [i.placed(place) for i in lines]
            items += [label.placed(place).upright for label in labels]
            if k == len(cut.windows):  # tables below the drawing as far as there is room
                left, bottom, right, _ = layout.area
                used = together(i.box for i in items)
                on_page, tables = shelved(tables, (left + 1, bottom, right, used[1] - GAP))
                items += on_page
            tile = f"{k}/{len(cut.windows)}"
            items += layout.head(Shown(face=face, cut=cut, window=window, turned=turned))
            page = TemplatePage(
                page=before + k,
                template=face.template.id,
                kind=face.kind,
                tile=tile,
                turned=turned,
                marks=self._marks(face, lines, place),
            )
            title = f"template {face.template.id}, {face.kind}, part {tile}"
            drawn.append((self.sheet(layout, title, items), page))
        return drawn, tables

    def _marks(self, face: Face, drawn: Sequence[Item], place: Place) -> tuple[PageMark, ...]:
        """Where the holes that were drawn lie in the file."""
        found = []
        for mark in face.marks:
            if mark.items[0] in drawn:
                x, y = self.printer.given(place.point(mark.at), self.paper)
                hole = mark.hole
                found.append(PageMark(hole.name, round(x, 6), round(y, 6), hole.diameter))
        return tuple(found)

    def _cut(self, face: Face) -> tuple[Layout, Tiling, bool]:
        """The layout, upright or on its side, that takes the fewest sheets."""
        best: tuple[Layout, Tiling, bool] | None = None
        for layout in (self.strip, ColumnLayout(self.paper, self.printer)):
            left, bottom, right, top = layout.area
            for turned in (False, True):
                room = (top - bottom, right - left) if turned else (right - left, top - bottom)
                try:
                    cut = tiling(face, *room)
                except DoesNotFitError:
                    continue
                shows = (Shown(face=face, cut=cut, window=w, turned=turned) for w in cut.windows)
                if not all(layout.holds(each) for each in shows):
                    continue
                if best is None or len(cut.windows) < len(best[1].windows):
                    best = (layout, cut, turned)
        if best is None:
            raise DoesNotFitError(f"{face.title}: no place for a seam on {self.paper.name}")
        return best

    def number_sheets(self, loose: Sequence[Table]) -> list[Sheet]:
        """Pages for the tables that found no room, the cautions and the site record."""
        left, bottom, right, _ = self.strip.area
        top = self.strip.top
        heading = Text((left, top - 4.0), "Numbers and cautions for the templates", 3.8, bold=True)
        found: list[Sheet] = []
        items: list[Item] = [heading]
        rest, y = [table.narrowed(right - left) for table in loose], top - 8.0
        while rest:
            on_page, rest = shelved(rest, (left, bottom, right, y))
            if rest and not on_page:
                raise ValueError("a table is larger than the paper")
            items += on_page
            y = together(i.box for i in on_page)[1] - GAP
            if rest:
                found.append(self.sheet(self.strip, "numbers", items))
                items, y = [heading], top - 8.0
        block, tall = caution_block(self.stamp, right - left)
        if y - tall < bottom:
            found.append(self.sheet(self.strip, "numbers", items))
            items, y = [heading], top - 8.0
        items += [i.placed(Place(left, y)) for i in block]
        found.append(self.sheet(self.strip, "numbers and cautions", items))
        return found


def _place(area: Box, window: Window, turned: bool) -> Place:
    """The window's upper edge goes to the top of the area, centred across."""
    left, _, right, top = area
    u0, v0, u1, v1 = window.box
    if turned:  # the face's v points to the left of the page
        return Place((left + right - (v1 - v0)) / 2 + v1, top - u1, angle=90.0)
    return Place((left + right - (u1 - u0)) / 2 - u0, top - v1)


def caution_block(stamp: Stamp, room: float) -> tuple[list[Item], float]:
    """Cautions for whoever drills and the site record, hanging from the origin; their height."""
    side = 52.0
    found: list[Item] = []
    y = 0.0
    for caution in cautions("drilling", "timber"):
        lines, tall = paragraph(f"{caution.id}  {caution.text}", (0.0, y), room - side - 4, 2.3)
        found += lines
        y -= tall + 0.8
    code, holds = site_symbol(stamp, "templates", (room - side, -side), side)
    shift = -code.box[3]
    found.append(code.placed(Place(0.0, shift - 0.5)))
    low = code.box[1] + shift
    found.append(Text((code.box[0], low - 3.5), f"this symbol holds the {holds}", 2.1))
    return found, max(-y, -low + 6)


def face_tables(face: Face) -> list[Table]:
    """The numbers of a face: where its holes lie, and the true distances between them."""
    of = f"{face.template.id}, {face.kind}"
    holes = [m.hole for m in face.marks]
    points = [(m.hole.name, m.at) for m in face.marks]
    if not holes:
        return []
    flat = " on the paper laid flat" if face.kind == "wrap" else ""
    words = f"True distances{flat} ({of})"
    origin = "the datum" if face.kind != "wrap" else "the datum line, around the post"
    return [
        hole_table(holes, f"{origin} ({of})", face.units),
        distance_table(points, words, face.units),
    ]
