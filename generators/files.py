"""Every file of a pack, written from one design: who gets what, under which name.

fabricate/  one STEP, one cut file a part, the assembly      (the fabricator)
install/    templates on paper and as DXF, installation sheet (the installer)
print/      STL and 3MF of printed parts                      (the maker)
pictures/   each part, the whole gate, the pivot map          (whoever looks)
"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Final

from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.errands import Drafting, Painting, Portraying, Stepping, assembling
from hangpost.generators.hardware.design import Design, LeafDesign, Template
from hangpost.generators.judging.load_list import load_rows, wind_words
from hangpost.generators.manifest import TemplateFile
from hangpost.generators.progress import Report
from hangpost.generators.report.pictures import pivot_maps, portraits
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.calculation import LoadRow, Loads, calculation_sheets
from hangpost.generators.writers.cut_name import cut_name
from hangpost.generators.writers.cut_note import cut_note
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.dxf import Profile, flat_dxf
from hangpost.generators.writers.etching import etching
from hangpost.generators.writers.installation import Gap, installation_sheets
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.lists import bought_csv, cut_csv
from hangpost.generators.writers.mesh import on_bed, stl, three_mf
from hangpost.generators.writers.nesting import TooLargeError, nest_dxf, nests
from hangpost.generators.writers.paper import PAPERS, pdf
from hangpost.generators.writers.print_note import print_note
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.stamp import Stamp, warned
from hangpost.generators.writers.step import revised
from hangpost.generators.writers.template import TemplateBook, template_book
from hangpost.generators.writers.template_dxf import template_dxf
from hangpost.parts.part import Part, PrintedPart

CUT_FILES: Final[tuple[tuple[str, str, Profile], ...]] = (
    ("dxf", "", "cut"),
    ("dxf_full", "-bends", "full"),
    ("dxf_r12", "-r12", "r12"),
)


@dataclass(frozen=True, slots=True)
class Written:
    """The files by path, and which of them belong to which part and template."""

    files: dict[str, bytes] = field(default_factory=dict)
    parts: dict[str, dict[str, str]] = field(default_factory=dict)
    templates: dict[str, list[TemplateFile]] = field(default_factory=dict)
    drawn: dict[str, tuple[Sheet, ...]] = field(default_factory=dict)  # by mark, or "assembly"
    books: dict[str, TemplateBook] = field(default_factory=dict)  # by the path of the file

    def put(self, part: Part, kind: str, path: str, content: bytes) -> None:
        """A file of a part."""
        self.files[path] = content
        self.parts.setdefault(part.mark, {})[kind] = path


def reckoned(design: Design, shelf: Shelf, report: Report) -> Written:
    """What follows from the numbers of the design alone: no solid is needed."""
    written = Written()
    report("writing cut files", 0, 0)
    for part, quantity in design.parts:
        _cut_files(part, quantity, design.shop, shelf, written)
    report("drawing the pivot maps", 0, 0)
    written.files.update(pivot_maps(design))
    return written


def drawn(design: Design, shelf: Shelf, stamp: Stamp, report: Report, written: Written) -> None:
    """The templates, a drawing of each part, and of the whole gate in plan and elevation."""
    report("drawing the templates", 0, 0)
    _templates(design, stamp, written)
    for number, (part, quantity) in enumerate(design.parts):
        report("drawing the parts", number, len(design.parts))
        of = Drawn(part=part, quantity=quantity, look=shelf.look)
        written.drawn[part.mark] = part_sheets(of, design.shop, stamp)
    count = len(design.leaves)
    written.drawn["assembly"] = tuple(
        assembly_sheet(leaf, shelf.look, design.shop, stamp, f"{k} of {count}")
        for k, leaf in enumerate(design.leaves, 1)
    )


def built(
    design: Design,
    checks: Sequence[Check],
    clearances: Sequence[Clearance],
    shelf: Shelf,
    stamp: Stamp,
    report: Report,
    written: Written,
) -> None:
    """What tells of the checks or must say if one fails, and what shows or holds the solids."""
    report("writing the drawings", 0, 0)
    drafts = drawings(design, stamp, written)
    here, there = drafts[1::2], drafts[::2]
    shelf.expect(there)
    report("writing lists", 0, 0)
    _lists(design, stamp, written)
    report("writing the templates", 0, 0)
    for path, book in written.books.items():
        written.files[path] = replace(book, stamp=stamp).pdf()
    report("writing the calculation", 0, 0)
    _calculation(design, checks, stamp, written)
    report("drawing the installation", 0, 0)
    _installation(design, shelf, stamp, clearances, written)
    for number, (part, _) in enumerate(design.parts):
        report("writing parts", number, len(design.parts))
        written.put(part, "picture", f"pictures/{part.mark}.png", shelf.get(Painting(part)))
        _solid_files(part, stamp, shelf, written)
    report("writing the drawings as DXF", 0, 0)
    for draft in here:
        written.files[draft.path] = shelf.get(draft)
    report("writing the assembly", 0, 0)
    for ending, share in (("", 0.0), ("-open", 1.0)):
        whole = revised(shelf.get(assembling(design, share)), stamp.revision)
        written.files[f"fabricate/assembly{ending}.step"] = whole
    report("painting pictures", 0, 0)
    for portrait in portraits(design):
        written.files[portrait.path] = shelf.get(Portraying(portrait))
    for draft in there:
        written.files[draft.path] = shelf.get(draft)


def _cut_files(part: Part, quantity: int, shop: Shop, shelf: Shelf, written: Written) -> None:
    flat = part.flat_pattern()
    if flat is not None:
        mark = etching(flat, part.mark) if shop.drawings.etch else None
        strokes = mark.strokes if mark else ()
        cut = flat.as_cut(shop.cutting.least_hole(flat.thickness))
        name = cut_name(part, quantity, shop)
        drilled = " ".join(hole.name for hole in cut.marked)
        for kind, ending, profile in CUT_FILES:
            made_of = partial(flat_dxf, cut, profile, etched=strokes)
            what = f"{kind}, {'etched' if strokes else 'plain'}, drilled: {drilled or 'none'}"
            content = shelf.file(what, part, made_of)
            written.put(part, kind, f"fabricate/{name}{ending}_mm.dxf", content)


def _solid_files(part: Part, stamp: Stamp, shelf: Shelf, written: Written) -> None:
    step = revised(shelf.get(Stepping(part)), stamp.revision)
    written.put(part, "step", f"fabricate/{part.mark}.step", step)
    if isinstance(part, PrintedPart):
        lying = on_bed(shelf.mesh(part), part.print_frame)
        written.put(part, "stl", f"print/{part.mark}_mm.stl", stl(lying, part.mark))
        whole = three_mf(lying, part.mark, f"{part.material.name}; revision {stamp.revision}")
        written.put(part, "3mf", f"print/{part.mark}_mm.3mf", whole)


def drawings(design: Design, stamp: Stamp, written: Written) -> list[Drafting]:
    """Every drawing on paper, and what is still to be written as DXF, which has no pages."""
    drafts = []
    parts = {part.mark: part for part, _ in design.parts}
    mark = stamp.mark_for("drawing")
    for name, sheets in written.drawn.items():
        path, part = f"fabricate/{name}-drawing", parts.get(name)
        shown = [warned(sheet, stamp) for sheet in sheets]
        written.files[f"{path}.pdf"] = _paper(shown, name, stamp)
        own = {"drawing": f"{path}.pdf"}
        for number, sheet in enumerate(shown, 1):
            kind, ending = ("", "") if number == 1 else (f"_{number}", f"-{number}")
            own[f"drawing_dxf{kind}"] = f"{path}{ending}_mm.dxf"
            drafts.append(Drafting(f"{path}{ending}_mm.dxf", sheet, mark))
        if part is not None:
            written.parts.setdefault(part.mark, {}).update(own)
    return drafts


def _lists(design: Design, stamp: Stamp, written: Written) -> None:
    """What to cut, what to buy, and the flats laid out on the shop's sheet."""
    written.files["fabricate/cut_list.csv"] = cut_csv(design)
    written.files["fabricate/bought_list.csv"] = bought_csv(design)
    written.files["fabricate/lists.pdf"] = _paper(list_sheets(design, stamp), "lists", stamp)
    for path, note in (
        ("fabricate/how-to-cut.txt", cut_note(design.parts, design.shop, stamp.job)),
        ("print/how-to-print.txt", print_note(design.parts, design.shop, stamp.job)),
    ):
        if note is not None:
            written.files[path] = note
    with suppress(TooLargeError):  # an extra; a check says when a flat is larger than the sheet
        for nest in nests(design.parts, design.shop):
            written.files[f"fabricate/nest-{nest.thickness:.4g}_mm.dxf"] = nest_dxf(nest)


def _calculation(design: Design, checks: Sequence[Check], stamp: Stamp, written: Written) -> None:
    """Loads and every check of strength and making with its numbers."""
    loads = [
        Loads(
            rows=[LoadRow(*row) for row in load_rows(design.site, design.shop, hung, leaf)],
            words=wind_words(design.site, hung, leaf.mount),
        )
        for hung, leaf in zip(design.site.leaves, design.leaves, strict=True)
    ]
    sheets = calculation_sheets(design, checks, loads, stamp)
    written.files["fabricate/calculation.pdf"] = _paper(sheets, "calculation", stamp)


def _installation(
    design: Design,
    shelf: Shelf,
    stamp: Stamp,
    clearances: Sequence[Clearance],
    written: Written,
) -> None:
    """The installer's sheet, with the gaps that are to be found again on site."""
    gaps = [
        Gap(between=" - ".join(c.pair), least=c.least, at_angle=c.at_angle)
        for c in clearances
        if not c.touching
    ]
    sheets = installation_sheets(design, stamp, shelf.look, gaps)
    written.files["install/installation.pdf"] = _paper(sheets, "installation", stamp)


def _paper(sheets: Sequence[Sheet], title: str, stamp: Stamp) -> bytes:
    return pdf(sheets, title=title, subject=f"input {stamp.site_sha256}", maker=stamp.maker)


def _templates(design: Design, stamp: Stamp, written: Written) -> None:
    sheets = [sheet for leaf in design.leaves for sheet in for_hand(leaf)]
    first, *_ = design.shop.drawings.paper
    drawn = {}
    for sheet in sheets:
        drawn[sheet.id] = f"install/{sheet.id}-template_mm.dxf"
        written.files[drawn[sheet.id]] = template_dxf(sheet)
        written.templates[sheet.id] = []
    for paper in design.shop.drawings.paper:
        path = "install/templates.pdf" if paper == first else f"install/templates-{paper}.pdf"
        book = written.books[path] = template_book(sheets, stamp, PAPERS[paper])
        for sheet in sheets:
            pages = tuple(book.pages_of(sheet.id))
            written.templates[sheet.id].append(
                TemplateFile(paper=paper, path=path, pages=pages, dxf=drawn[sheet.id])
            )


def for_hand(leaf: LeafDesign) -> list[Template]:
    """The sheets of a leaf as one looks at its faces."""
    if leaf.hand == "right":
        return list(leaf.templates)
    return [template.mirrored() for template in leaf.templates]
