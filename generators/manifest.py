"""pack.json: everything in a pack as data, for other programs and for `hangpost verify`.

Millimetres, newtons, degrees, kilograms; the plan frame of the right hand.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from importlib.metadata import version
from math import isfinite
from typing import Any, Final

from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.gaps import gaps
from hangpost.generators.hardware.design import Bought, Design, LeafDesign, Template
from hangpost.generators.hardware.slack import slack
from hangpost.generators.manifest_part import Data, frame_data, part_data
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.writers.template_pages import TemplatePage
from hangpost.generators.writers.template_record import drawn_data
from hangpost.parts.part import Part

PLACES: Final = 6  # decimals: a nanometre
SCHEMA: Final = "pack.schema.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateFile:
    """A template on one paper: the file, its pages, its DXF, and the printer it was made for."""

    paper: str
    path: str
    pages: tuple[TemplatePage, ...]
    dxf: str
    printer: tuple[float, float] = (1.0, 1.0)


def manifest(
    design: Design,
    *,
    site_sha256: str,
    checks: Sequence[Check],
    clearances: Sequence[Clearance],
    files: Mapping[str, bytes],
    part_files: Mapping[str, Mapping[str, str]],
    template_files: Mapping[str, Sequence[TemplateFile]],
) -> Data:
    """The pack as data, keys in the order in which a person reads them.

    `files` is everything in the pack but pack.json itself; the two other mappings say which of
    them belong to a part (by its mark) and to a template (by its id).
    """
    first, *_ = design.leaves
    return {
        "hangpost": version("hangpost"),
        "job": design.site.job,
        "site_sha256": site_sha256,
        **_leaf(first),
        "leaves": [
            {"name": leaf.name, **_leaf(leaf), **_around(design.site, hung, leaf)}
            for hung, leaf in zip(design.site.leaves, design.leaves, strict=True)
        ],
        "parts": [
            part_data(
                part,
                quantity,
                part_files.get(part.mark, {}),
                least_hole=design.shop.cutting.least_hole(part.thickness),
            )
            for part, quantity in design.parts
        ],
        "templates": [
            {
                **_template(template, template_files.get(template.id, ())),
                "drawn": drawn_data(template, design.shop),
            }
            for leaf in design.leaves
            for template in _for_hand(leaf)
        ],
        "bought": [_bought(thing) for leaf in design.leaves for thing in leaf.bought],
        "assembly": _assembly(design, files),
        "checks": [_check(check) for check in checks],
        "clearances": [_clearance(row) for row in clearances],
        "files": _files(files),
    }


def as_bytes(data: Mapping[str, Any]) -> bytes:
    """pack.json itself: the same data gives the same bytes."""
    text = json.dumps(_rounded(data), indent=1, ensure_ascii=True, allow_nan=False)
    return (text + "\n").encode("ascii")


def _rounded(value: Any) -> Any:
    """Numbers to so many places, minus nought made nought, what is no number made null."""
    if isinstance(value, float):
        return round(value, PLACES) + 0.0 if isfinite(value) else None
    if isinstance(value, Mapping):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_rounded(item) for item in value]
    return value


def _leaf(leaf: LeafDesign) -> Data:
    toward = "actuator" if leaf.mount.direction == "pull" else "away"
    return {
        "hand": leaf.hand,
        "opening": {"toward": toward, "angle": float(leaf.mount.opening)},
        "mount": leaf.mount.data(),
    }


def _around(site: Site, hung: HungLeaf, leaf: LeafDesign) -> Data:
    beyond = hung.opening.clear_beyond
    closing = gaps(
        leaf.problem,
        leaf.mount,
        latch_gap=site.latch_gap,
        clear_beyond=None if beyond is None else float(beyond),
    )
    return {
        "shift": leaf.shift,
        "reasons": list(leaf.reasons),
        "gaps": [gap.data() for gap in closing],
        "slots": [each.data() for each in slack(leaf.fixings, leaf.mount)],
    }


def with_files(data: Data, files: Mapping[str, bytes]) -> Data:
    """The same data for a pack of these files, pack.json left out."""
    return {**data, "files": _files(files)}


def _files(files: Mapping[str, bytes]) -> list[Data]:
    return [
        {"path": path, "sha256": sha256(data).hexdigest(), "bytes": len(data)}
        for path, data in sorted(files.items())
    ]


def _template(template: Template, files: Sequence[TemplateFile]) -> Data:
    papers = [
        {
            "paper": file.paper,
            "file": file.path,
            "printer": list(file.printer),
            "pages": [page.data() for page in file.pages],
        }
        for file in files
    ]
    return {
        "id": template.id,
        "part": template.part_id,
        "face": template.face,
        "datum": template.datum,
        "height": template.height,
        "wrap_diameter": template.wrap_diameter,
        "holes": [
            {
                "name": hole.name,
                "at": [hole.u, hole.v],
                "diameter": hole.diameter,
                "pilot": hole.pilot,
                "depth": hole.depth,
                "slot_length": hole.slot_length,
                "slot_angle": hole.slot_angle,
                "last": hole.last,
            }
            for hole in template.holes
        ],
        "file": papers[0]["file"] if papers else None,
        "pages": papers[0]["pages"] if papers else [],
        "dxf": files[0].dxf if files else None,
        "papers": papers,
    }


def _for_hand(leaf: LeafDesign) -> list[Template]:
    if leaf.hand == "right":
        return list(leaf.templates)
    return [template.mirrored() for template in leaf.templates]


def _bought(thing: Bought) -> Data:
    return {
        "name": thing.name,
        "quantity": thing.quantity,
        "grade": thing.grade,
        "finish": thing.finish,
        "note": thing.note,
    }


def _assembly(design: Design, files: Mapping[str, bytes]) -> Data:
    """What stands in the assembly, where, with every leaf closed and with every leaf open."""
    states = {"closed": "fabricate/assembly.step", "open": "fabricate/assembly-open.step"}
    pieces = []
    for leaf in design.leaves:
        open_angle = leaf.mount.curve[-1].angle
        for placed in leaf.placed:
            item = placed.for_hand(leaf.hand).item
            pieces.append(
                {
                    "name": f"{leaf.name} {placed.name}".strip(),
                    "part": item.mark if isinstance(item, Part) else None,
                    "rides": placed.rides,
                    "closed": frame_data(leaf.standing(placed, 0.0)),
                    "open": frame_data(leaf.standing(placed, open_angle)),
                }
            )
    written = {state: path for state, path in states.items() if path in files}
    return {"files": written, "pieces": pieces}


def _check(check: Check) -> Data:
    return {
        "id": check.id,
        "what": check.what,
        "value": check.value,
        "limit": check.limit,
        "unit": check.unit,
        "at_least": check.at_least,
        "utilisation": check.utilisation,
        "status": check.status,
        "source": check.source,
        "working": check.working,
        **({"would_do": check.would_do} if check.would_do else {}),
    }


def _clearance(row: Clearance) -> Data:
    return {
        "pair": list(row.pair),
        "least": row.least,
        "at_angle": row.at_angle,
        "overlap": row.overlap,
        "touching": row.touching,
    }
