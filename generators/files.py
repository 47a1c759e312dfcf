"""Every file of a pack, written from one design: who gets what, under which name.

fabricate/  one STEP, one cut file a part, the assembly      (the fabricator)
install/    the drilling templates on paper and as DXF        (the installer)
print/      STL and 3MF of printed parts                      (the maker)
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import isfinite

from hangpost.generators import assembly
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.hardware.design import Design, LeafDesign, Template
from hangpost.generators.manifest import TemplateFile
from hangpost.generators.pivots.mount import Row
from hangpost.generators.shelf import Shelf
from hangpost.generators.swing import clearance_checks, reached, seated, swung
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.mesh import on_bed, stl, three_mf
from hangpost.generators.writers.paper import PAPERS
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.step import part_step
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.template_dxf import template_dxf
from hangpost.parts.part import Part, PrintedPart

Report = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Written:
    """The files by path, and which of them belong to which part and template."""

    files: dict[str, bytes] = field(default_factory=dict)
    parts: dict[str, dict[str, str]] = field(default_factory=dict)
    templates: dict[str, list[TemplateFile]] = field(default_factory=dict)


def judged(
    design: Design, shelf: Shelf, report: Report
) -> tuple[tuple[Check, ...], tuple[Clearance, ...]]:
    """Every check of the design, and the least distances over the swing."""
    checks: list[Check] = []
    clearances: list[Clearance] = []
    for number, leaf in enumerate(design.leaves):
        report("swinging the gate", number, len(design.leaves))
        rows = (*leaf.mount.rows, leaf.mount.leaf_to_post)
        checks += [_from_row(row, leaf) for row in rows if isfinite(row.limit)]
        swept = swung(leaf, shelf.mesh)
        tools, still = reached(leaf, shelf.mesh), seated(leaf, shelf.mesh)
        checks += clearance_checks(leaf, design.shop, swept, tools, still)
        clearances += swept
    return tuple(checks), tuple(clearances)


def write(
    design: Design, checks: Sequence[Check], shelf: Shelf, stamp: Stamp, report: Report
) -> Written:
    """All files of the pack but pack.json."""
    written = Written()
    parts = [part for part, _ in design.parts]
    for number, part in enumerate(parts):
        report("writing parts", number, len(parts))
        _part(part, shelf, written)
    report("writing the assembly", 0, 0)
    written.files["fabricate/assembly.step"] = assembly.assembly(design, shelf, 0.0)
    written.files["fabricate/assembly-open.step"] = assembly.assembly(design, shelf, 1.0)
    report("drawing the templates", 0, 0)
    _templates(design, stamp, written)
    return written


def _part(part: Part, shelf: Shelf, written: Written) -> None:
    made: dict[str, str] = {}

    def put(kind: str, path: str, content: bytes) -> None:
        written.files[path] = content
        made[kind] = path

    solid = shelf.solid(part)
    put("step", f"fabricate/{part.mark}.step", part_step(part.mark, solid))
    flat = part.flat_pattern()
    if flat is not None:
        put("dxf", f"fabricate/{part.mark}_mm.dxf", flat_dxf(flat))
        put("dxf_full", f"fabricate/{part.mark}-bends_mm.dxf", flat_dxf(flat, "full"))
        put("dxf_r12", f"fabricate/{part.mark}-r12_mm.dxf", flat_dxf(flat, "r12"))
    if isinstance(part, PrintedPart):
        lying = on_bed(shelf.mesh(part), part.print_frame)
        put("stl", f"print/{part.mark}_mm.stl", stl(lying, part.mark))
        put("3mf", f"print/{part.mark}_mm.3mf", three_mf(lying, part.mark, part.material.name))
    written.parts[part.mark] = made


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
        book = template_book(sheets, stamp, PAPERS[paper])
        written.files[path] = book.pdf()
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


def _from_row(row: Row, leaf: LeafDesign) -> Check:
    where = f"{leaf.name} leaf: " if leaf.name else ""
    return Check(
        id=f"pivots: {row.name}{f' ({leaf.name} leaf)' if leaf.name else ''}",
        what=where + row.sentence,
        value=row.value,
        limit=row.limit,
        unit=row.unit,
        source="hangpost design rule; limits from the shop and site files",
        at_least=row.sense == "least",
    )
