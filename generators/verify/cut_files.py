"""Cut files and template DXF held against pack.json.

What counts is what a cutter would do with the file: which loops it would follow, where the holes
would be and how large, and how much is left of the plate. Units: mm.
"""

from collections.abc import Iterator, Sequence
from math import isclose, pi
from typing import Final

from hangpost.generators.verify.dxf_reader import DxfFile, Entity, Opening, opening, read_dxf
from hangpost.generators.verify.listed import (
    ListedBend,
    ListedFlat,
    ListedHole,
    ListedPart,
    ListedTemplate,
)

NEAR: Final = 0.01  # mm
CUTTERS: Final = {"LWPOLYLINE", "POLYLINE", "CIRCLE"}
MILLIMETRES: Final = 4  # INSUNITS


def cut_faults(data: bytes, part: ListedPart, kind: str) -> Iterator[str]:
    """What is wrong with a cut file of a part; `kind` is dxf, dxf_full or dxf_r12."""
    file, flat = read_dxf(data), part.flat
    if flat is None:
        yield "the part is not cut from sheet"
        return
    yield from _units(file, old=kind == "dxf_r12")
    loops = [e for e in file.entities if e.layer == "CUT"]
    strange = sorted({e.kind for e in loops} - CUTTERS)
    if strange:
        yield f"on layer CUT: {', '.join(strange)}"
    if any(not e.closed for e in loops):
        yield "on layer CUT: a loop that does not close"
    loops = [e for e in loops if e.closed and e.kind in CUTTERS]
    outer = max(loops, key=_area, default=None)
    if outer is None or not _area(outer) > 0:
        yield "nothing to cut"
        return
    yield from _outline(file, outer, flat)
    inner = [e for e in loops if e is not outer]
    cut, marked = ([h for h in part.holes if h.drilled is way] for way in (False, True))
    wanted = [
        Opening(h.flat_at or (0.0, 0.0), h.diameter, h.slot_length, h.flat_angle % 180) for h in cut
    ]
    names = [f"hole {h.name}" for h in cut]
    drawn = [found for e in inner if (found := opening(e)) is not None]
    yield from opening_faults(names, wanted, drawn)
    count = len(wanted) + flat.windows
    if len(inner) != count:
        yield f"{len(inner)} openings are drawn, {count} belong to the part"
    net = _area(outer) - sum(map(_area, inner))
    left = flat.area + sum(pi * h.diameter**2 / 4 for h in marked)
    if not isclose(net, left, rel_tol=1e-5):
        yield f"area {net:.2f} mm2, should be {left:.2f}"
    if kind == "dxf_full":
        yield from _bends(file, flat.bends)
    allowed = {"dxf": ("CUT",), "dxf_r12": ("CUT", "ETCH")}.get(kind)
    if allowed and any(e.layer not in allowed for e in file.entities):
        yield "something else than the cut lines is drawn"
    yield from _etched(file, flat)
    yield from _marked(file, marked) if kind != "dxf" else ()


def template_faults(data: bytes, template: ListedTemplate) -> Iterator[str]:
    """What is wrong with the DXF of a template: holes at their distances from the datum."""
    file = read_dxf(data)
    yield from _units(file, old=False)
    drawn = [
        found for e in file.entities if e.layer == "HOLES" and (found := opening(e)) is not None
    ]
    wanted = [Opening(h.at, h.diameter) for h in template.holes]
    names = [f"hole {h.name}" for h in template.holes]
    yield from opening_faults(names, wanted, drawn)
    if len(drawn) != len(wanted):
        yield f"{len(drawn)} holes are drawn, {len(wanted)} belong to the template"


def opening_faults(
    names: Sequence[str], wanted: Sequence[Opening], drawn: Sequence[Opening]
) -> Iterator[str]:
    """Every wanted opening that is not drawn where and as it should be."""
    for name, want in zip(names, wanted, strict=True):
        if any(_same(want, found) for found in drawn):
            continue
        near = min(drawn, key=lambda f: _apart(f, want), default=None)
        told = "" if near is None else f"; the nearest is {_said(near)}"
        yield f"{name} should be {_said(want)}{told}"


def _same(a: Opening, b: Opening) -> bool:
    turn = abs(a.angle - b.angle) % 180
    return (
        _apart(a, b) <= NEAR
        and abs(a.diameter - b.diameter) <= NEAR
        and abs(a.length - b.length) <= NEAR
        and (a.length < NEAR or min(turn, 180 - turn) < 0.05)
    )


def _apart(a: Opening, b: Opening) -> float:
    return float(((a.at[0] - b.at[0]) ** 2 + (a.at[1] - b.at[1]) ** 2) ** 0.5)


def _said(o: Opening) -> str:
    slot = f", slotted {o.length:.3f} at {o.angle:.2f} degrees" if o.length > NEAR else ""
    return f"diameter {o.diameter:.3f} at {o.at[0]:.3f}, {o.at[1]:.3f}{slot}"


def _area(entity: Entity) -> float:
    if entity.kind == "CIRCLE":
        return pi * entity.diameter**2 / 4
    return abs(entity.loop.area) if len(entity.vertices) > 1 else 0.0


def _units(file: DxfFile, *, old: bool) -> Iterator[str]:
    if old:
        return  # R12 has no unit; its name says mm
    if file.number("$INSUNITS") != MILLIMETRES or file.number("$MEASUREMENT") != 1:
        yield "the file does not say that it is in millimetres"


def _outline(file: DxfFile, outer: Entity, flat: ListedFlat) -> Iterator[str]:
    left, bottom, right, top = outer.loop.bounds
    if abs(left) > NEAR or abs(bottom) > NEAR:
        yield f"the lower left corner is at {left:.3f}, {bottom:.3f}, should be at 0, 0"
    size, should = (right - left, top - bottom), (flat.length, flat.width)
    if any(abs(a - b) > NEAR for a, b in zip(size, should, strict=True)):
        yield f"{size[0]:.3f} x {size[1]:.3f} mm, should be {should[0]:.3f} x {should[1]:.3f}"
    told = file.corner("$EXTMAX")
    if told is None or abs(told[0] - right) > NEAR or abs(told[1] - top) > NEAR:
        yield "the extents in the header are not those of the outline"


def _bends(file: DxfFile, bends: Sequence[ListedBend]) -> Iterator[str]:
    drawn = [e for e in file.entities if e.layer in ("BEND_UP", "BEND_DOWN")]
    if len(drawn) != len(bends):
        yield f"{len(drawn)} bend lines are drawn, {len(bends)} belong to the part"
    for number, bend in enumerate(bends, 1):
        layer = "BEND_UP" if bend.up else "BEND_DOWN"
        if not any(e.layer == layer and _joins(e, bend.start, bend.end) for e in drawn):
            yield f"bend {number} is not drawn where it should be"


def _etched(file: DxfFile, flat: ListedFlat) -> Iterator[str]:
    """Etched strokes are open lines on the plate."""
    strokes = [e for e in file.entities if e.layer == "ETCH"]
    if any(e.closed or e.kind not in ("LINE", "LWPOLYLINE", "POLYLINE") for e in strokes):
        yield "on layer ETCH: something else than open lines"
    corners = [v for e in strokes for v in e.vertices]
    if any(not (0 < v.x < flat.length and 0 < v.y < flat.width) for v in corners):
        yield "on layer ETCH: a stroke beside the plate"


def _marked(file: DxfFile, holes: Sequence[ListedHole]) -> Iterator[str]:
    """Every hole that is drilled has a cross at its centre."""
    strokes = [e for e in file.entities if e.layer == "ETCH" and len(e.vertices) == 2]
    middles = [
        ((a.x + b.x) / 2, (a.y + b.y) / 2) for a, b in (stroke.vertices for stroke in strokes)
    ]
    for hole in holes:
        x, y = hole.flat_at or (0.0, 0.0)
        if sum(abs(x - u) <= NEAR and abs(y - v) <= NEAR for u, v in middles) < 2:
            yield f"hole {hole.name} is drilled and has no cross at {x:.3f}, {y:.3f}"


def _joins(line: Entity, start: Sequence[float], end: Sequence[float]) -> bool:
    """Whether a line runs from one point to the other, either way."""
    if len(line.vertices) != 2:
        return False
    a, b = (v.point for v in line.vertices)
    return any(
        max(abs(p[0] - start[0]), abs(p[1] - start[1]), abs(q[0] - end[0]), abs(q[1] - end[1]))
        <= NEAR
        for p, q in ((a, b), (b, a))
    )
