"""Everything on paper that goes into a pack besides the templates, as files by their paths.

Drawings (PDF and DXF) of every part, the assembly, the lists, the flats laid out on the shop's
sheet, and the installation sheet.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from hangpost.generators.hardware.design import Design
from hangpost.generators.survey.display import plain
from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.installation import Gap, installation_sheets
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.lists import bought_csv, cut_csv
from hangpost.generators.writers.nesting import TooLargeError, nest_dxf, nests
from hangpost.generators.writers.paper import pdf
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.sheet_dxf import sheet_dxf
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq

Report = Callable[[str, int, int], None]


def paperwork(
    design: Design,
    stamp: Stamp,
    solids: Callable[[Part], "cq.Shape"],
    gaps: Sequence[Gap],
    report: Report,
) -> Mapping[str, bytes]:
    """The files by path; `gaps` are the least distances over the swing."""
    files: dict[str, bytes] = {}
    parts = design.parts
    for number, (part, count) in enumerate(parts):
        report("drawing parts", number, len(parts))
        drawn = Drawn(part=part, quantity=count, solid=solids(part))
        files |= drawing_files(
            f"fabricate/{part.mark}-drawing", part_sheets(drawn, design.shop, stamp), stamp
        )
    report("drawing the assembly", 0, 0)
    whole = [assembly_sheet(leaf, solids, design.shop, stamp) for leaf in design.leaves]
    files |= drawing_files("fabricate/assembly-drawing", whole, stamp)
    files["fabricate/cut_list.csv"] = cut_csv(design)
    files["fabricate/bought_list.csv"] = bought_csv(design)
    files["fabricate/lists.pdf"] = _pdf("lists", list_sheets(design, stamp), stamp)
    files |= nest_files(design)
    report("drawing the installation sheet", 0, 0)
    sheets = installation_sheets(design, stamp, solids, gaps)
    files["install/installation.pdf"] = _pdf("installation", sheets, stamp)
    return files


def drawing_files(path: str, sheets: Sequence[Sheet], stamp: Stamp) -> dict[str, bytes]:
    """A drawing as one PDF and one DXF for each of its sheets."""
    name = path.rsplit("/", 1)[-1]
    files = {f"{path}.pdf": _pdf(name, sheets, stamp)}
    for k, sheet in enumerate(sheets, 1):
        number = f"-{k}" if len(sheets) > 1 else ""
        files[f"{path}{number}_mm.dxf"] = sheet_dxf(sheet)
    return files


def nest_files(design: Design) -> dict[str, bytes]:
    """The flats of each thickness on the shop's sheet; nothing when one is larger than it."""
    try:
        found = nests(design.parts, design.shop.sheet)
    except TooLargeError:
        return {}  # an extra: the check of flats against the sheet says so with its numbers
    return {
        f"fabricate/nest-{plain(nest.thickness).replace('.', '_')}_mm.dxf": nest_dxf(nest)
        for nest in found
    }


def _pdf(name: str, sheets: Sequence[Sheet], stamp: Stamp) -> bytes:
    return pdf(
        sheets,
        title=f"{name} - {stamp.job}",
        subject=f"input {stamp.site_sha256}",
        maker=stamp.maker,
    )
