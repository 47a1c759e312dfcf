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
from hangpost.generators.writers.ink import Place, Text, arrow, frame, together
from hangpost.generators.writers.page_map import page_map
from hangpost.generators.writers.paper import TRUE, Paper, Printer, pdf
from hangpost.generators.writers.scale_proof import Proof, banner
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.stamp import Stamp, numbered, site_symbol
from hangpost.generators.writers.table import Table, paragraph, shelved
from hangpost.generators.writers.template_pages import PageMark, TemplatePage
from hangpost.generators.writers.tiles import Tiling, Window, shown, tiling
from hangpost.generators.writers.wrap import faces
from hangpost.parts.loop import Box, Point

HEADER = 24.0  # height of the head of a sheet
GAP = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateBook:
    """All templates of a job on one paper."""

    paper: Paper
    printer: Printer
    stamp: Stamp
    sheets: tuple[Sheet, ...]
    pages: tuple[TemplatePage, ...]

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
    field = printer.field(paper)
    return TemplateBook(
        paper=paper,
        printer=printer,
        stamp=stamp,
        sheets=numbered(sheets, stamp, field),
        pages=tuple(pages),
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    """Lays faces out on one paper for one printer."""

    stamp: Stamp
    paper: Paper
    printer: Printer

    @property
    def field(self) -> Box:
        return self.printer.field(self.paper)

    @property
    def area(self) -> Box:
        """What is left for a drawing between head, scale proof and foot."""
        left, bottom, right, top = Proof(self.field).area
        return (left, bottom, right, top - HEADER - (0.0 if self.printer.is_true else 5.0))

    def sheet(self, title: str, items: Iterable[Item]) -> Sheet:
        proof = Proof(self.field).items()
        return Sheet(
            width=self.paper.width,
            height=self.paper.height,
            title=title,
            items=(*items, *proof, *self._banner()),
        )

    def _banner(self) -> tuple[Item, ...]:
        if self.printer.is_true:
            return ()
        left, _, right, top = self.field
        said = banner(self.printer)
        box = (left + 0.3, top - 5.0, right - 0.3, top - 0.3)
        middle = ((left + right) / 2, top - 3.7)
        return (frame(box, "thick"), Text(middle, said, 3.0, "centre", bold=True))

    def face_sheets(
        self, face: Face, before: int
    ) -> tuple[list[tuple[Sheet, TemplatePage]], list[Table]]:
        """The sheets of one face, and the tables that found no room on them."""
        cut, turned = self._cut(face)
        tables = face_tables(face)
        drawn = []
        for k, window in enumerate(cut.windows, 1):
            place = self._place(window, turned)
            lines, labels = shown(face, cut, window)
            items: list[Item] = [i.placed(place) for i in (*lines, *labels)]
            if k == len(cut.windows):
                on_page, tables = self._below(tables, together(i.box for i in items))
                items += on_page
            tile = f"{k}/{len(cut.windows)}"
            title = f"template {face.template.id}, {face.kind}, part {tile}"
            items += self._head(face, turned, cut, window)
            marks = tuple(
                PageMark(
                    hole=m.hole.name,
                    x=round(x, 6),
                    y=round(y, 6),
                    diameter=m.hole.diameter,
                )
                for m in face.marks
                if any(i in lines for i in m.items[:1])
                for x, y in [self.printer.given(place.point(m.at), self.paper)]
            )
            page = TemplatePage(
                page=before + k,
                template=face.template.id,
                kind=face.kind,
                tile=tile,
                turned=turned,
                marks=marks,
            )
            drawn.append((self.sheet(title, items), page))
        return drawn, tables

    def _cut(self, face: Face) -> tuple[Tiling, bool]:
        """The face upright or on its side, whichever takes fewer sheets."""
        left, bottom, right, top = self.area
        upright = tiling(face, right - left, top - bottom)
        aside = tiling(face, top - bottom, right - left)
        turned = len(aside.windows) < len(upright.windows)
        return (aside, True) if turned else (upright, False)

    def _place(self, window: Window, turned: bool) -> Place:
        """The window's upper left corner goes to the upper left of the area, centred across."""
        left, _, right, top = self.area
        u0, v0, u1, v1 = window.box
        if turned:  # the face's v points to the left of the page
            spare = (right - left) - (v1 - v0)
            return Place(left + spare / 2 + v1, top - u1, angle=90.0)
        spare = (right - left) - (u1 - u0)
        return Place(left + spare / 2 - u0, top - v1)

    def _below(self, tables: list[Table], used: Box) -> tuple[list[Item], list[Table]]:
        """Tables set below the drawing as far as there is room."""
        left, bottom, right, _ = self.area
        return shelved(tables, (left + 1, bottom, right, used[1] - GAP))

    def _head(self, face: Face, turned: bool, cut: Tiling, window: Window) -> tuple[Item, ...]:
        left, _, right, top = self.field
        top -= 0.0 if self.printer.is_true else 6.0
        kind = {"entry": "ENTRY FACE", "exit": "EXIT FACE", "wrap": "WRAP-AROUND"}[face.kind]
        found: list[Item] = [
            Text((left, top - 4.0), face.title, 3.8, bold=True),
            Text((left, top - 8.6), f"1:1 DRILLING TEMPLATE - {kind} as you look at it", 2.8),
        ]
        room = right - left - 44.0
        y = top - 10.4
        for remark in face.remarks:
            lines, tall = paragraph(remark, (left, y), room, 2.2)
            found += lines
            y -= tall
        found += self._up(turned, (right - 9.0, top - 18.0))
        if face.facing:
            found.append(Text((right, top - 22.6), face.facing.upper(), 3.2, "right", bold=True))
        if len(cut.windows) > 1:
            found += page_map(cut, (right - 40.0, top - 18.0), turned, window)
        return tuple(found)

    def _up(self, turned: bool, at: Point) -> tuple[Item, ...]:
        x, y = at
        if turned:
            way = arrow((x + 7, y + 5), (x - 8, y + 5), 5.0, "thick")
            return (*way, Text((x, y + 7.5), "UP", 4.0, "centre", bold=True))
        way = arrow((x, y), (x, y + 16), 5.0, "thick")
        return (*way, Text((x + 2.5, y + 5), "UP", 4.0, bold=True))

    def number_sheets(self, loose: Sequence[Table]) -> list[Sheet]:
        """Pages for the tables that found no room, the cautions and the site record."""
        left, bottom, right, _ = self.area
        top = self.field[3] - (0.0 if self.printer.is_true else 6.0)
        heading = Text((left, top - 4.0), "Numbers and cautions for the templates", 3.8, bold=True)
        found: list[Sheet] = []
        items: list[Item] = [heading]
        rest, y = list(loose), top - 8.0
        while rest:
            on_page, rest = shelved(rest, (left, bottom, right, y))
            if rest and not on_page:
                raise ValueError("a table is larger than the paper")
            items += on_page
            y = together(i.box for i in on_page)[1] - GAP
            if rest:
                found.append(self.sheet("numbers", items))
                items, y = [heading], top - 8.0
        block, tall = caution_block(self.stamp, right - left)
        if y - tall < bottom:
            found.append(self.sheet("numbers", items))
            items, y = [heading], top - 8.0
        items += [i.placed(Place(left, y)) for i in block]
        found.append(self.sheet("numbers and cautions", items))
        return found


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
    flat = " on the paper laid flat" if face.kind == "wrap" else ""
    words = f"True distances{flat} ({of})"
    origin = "the datum" if face.kind != "wrap" else "the datum line, around the post"
    return [hole_table(holes, f"{origin} ({of})"), distance_table(points, words)]
