"""What to cut, what to print and what to buy: the same rows as CSV and on paper.

Lengths in mm in the CSV, so that a column adds up; prices only where the shop file has them.
"""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO
from math import pi

from hangpost.generators.hardware.design import Design
from hangpost.generators.spreadsheet import safe
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.cut_name import cut_name
from hangpost.generators.writers.etching import etching
from hangpost.parts.flat import FlatPattern, Hole
from hangpost.parts.loop import Loop
from hangpost.parts.part import Part
from hangpost.parts.weld_ear import SEAMS, WeldEar


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """One part that is made: what it is cut or printed from and how much work it is."""

    mark: str
    kind: str
    process: str
    quantity: int
    material: str
    thickness: float
    blank: tuple[float, float]  # overall size of the flat, or of the block
    cut_length: float  # along every edge, one part
    holes: int
    bends: int
    mass: float  # one part
    finish: str
    marking: str  # how the part gets its mark
    file: str
    price: float | None  # all of them


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyRow:
    """One thing that is bought."""

    name: str
    quantity: int
    grade: str
    finish: str
    note: str
    price: float | None  # all of them


def cut_rows(design: Design) -> tuple[CutRow, ...]:
    """Every part that is made, in the order of the design."""
    return tuple(_cut_row(part, count, design.shop) for part, count in design.parts)


def _cut_row(part: Part, quantity: int, shop: Shop) -> CutRow:
    flat = part.flat_pattern()
    printed = part.process == "print"
    return CutRow(
        mark=part.mark,
        kind=part.kind,
        process="print" if printed else shop.cutting.process,
        quantity=quantity,
        material=part.material.name if printed else f"{part.material.name}, {shop.steel.grade}",
        thickness=part.thickness,
        blank=(flat.length, flat.width) if flat else part.extent[:2],
        cut_length=cut_length(_as_cut(flat, shop)) if flat else 0.0,
        holes=len(part.bores),
        bends=len(flat.bends) if flat else 0,
        mass=part.mass,
        finish="" if printed else shop.finish,
        marking=_marking(part, flat, shop),
        file=f"print/{part.mark}_mm.stl"
        if printed
        else f"fabricate/{cut_name(part, quantity, shop)}_mm.dxf",
        price=None if flat is None else _part_price(part, flat, quantity, shop),
    )


def _marking(part: Part, flat: FlatPattern | None, shop: Shop) -> str:
    if flat is None:
        return ""
    if not shop.drawings.etch:
        return "by hand"
    mark = etching(flat, part.mark)
    return f"etched {plain(mark.height)} mm high" if mark else "by hand: no place to etch it"


def _as_cut(flat: FlatPattern, shop: Shop) -> FlatPattern:
    return flat.as_cut(shop.cutting.least_hole(flat.thickness))


def cut_length(flat: FlatPattern) -> float:
    """Length of every cut: outline, windows, holes and slots."""
    loops = sum(_around(loop) for loop in (flat.outline, *flat.windows))
    return loops + sum(_edge(hole) for hole in flat.holes)


def _around(loop: Loop) -> float:
    return sum(edge.length for edge in loop.edges)


def _edge(hole: Hole) -> float:
    return pi * hole.diameter + 2 * hole.slot_length


def _part_price(part: Part, flat: FlatPattern, quantity: int, shop: Shop) -> float | None:
    """Steel of the blank, cutting, holes, bends, welds, finish; None when nothing is priced."""
    prices = shop.prices
    if prices is None:
        return None
    blank = flat.length * flat.width * flat.thickness * part.material.density
    work = (
        (prices.steel, blank),
        (prices.cut, cut_length(_as_cut(flat, shop)) / 1000),
        (prices.hole, len(flat.holes)),
        (prices.bend, len(flat.bends)),
        (prices.finish, part.mass),
        (prices.weld, _welded(part) / 1000),
    )
    priced = [price * amount for price, amount in work if price is not None]
    return quantity * sum(priced) if priced else None


def _welded(part: Part) -> float:
    """Length of weld that the part is fixed with."""
    return SEAMS * part.weld_length if isinstance(part, WeldEar) else 0.0


def buy_rows(design: Design) -> tuple[BuyRow, ...]:
    """Everything that is bought, equal things of both leaves counted together."""
    counted: dict[tuple[str, str, str, str], int] = {}
    for thing in (each for leaf in design.leaves for each in leaf.bought):
        key = (thing.name, thing.grade, thing.finish, thing.note)
        counted[key] = counted.get(key, 0) + thing.quantity
    each = design.shop.prices.fastener if design.shop.prices else None
    return tuple(
        BuyRow(
            name=name,
            quantity=count,
            grade=grade,
            finish=finish,
            note=note,
            price=each * count if each is not None and _is_fastener(name) else None,
        )
        for (name, grade, finish, note), count in counted.items()
    )


def _is_fastener(name: str) -> bool:
    """Bolts, lags and pins have a price in the shop file; washers, nuts and sleeves do not."""
    return not {"bolt", "screw", "pin", "U-bolt"}.isdisjoint(name.split(" for ")[0].split())


def total(rows: Sequence[CutRow | BuyRow]) -> float | None:
    """The sum of the prices that are known, or None when there is none."""
    known = [row.price for row in rows if row.price is not None]
    return sum(known) if known else None


def cut_csv(design: Design) -> bytes:
    """The cut list."""
    currency = design.shop.prices.currency if design.shop.prices else ""
    head = (
        *("mark", "kind", "process", "quantity", "material", "thickness_mm"),
        *("blank_length_mm", "blank_width_mm", "cut_length_mm_each", "holes_each", "bends_each"),
        *(
            "mass_kg_each",
            "mass_kg_all",
            "finish",
            "part_mark",
            "file",
            f"price {currency}".strip(),
        ),
    )
    rows = [
        (
            *(r.mark, r.kind, r.process, str(r.quantity), r.material, _number(r.thickness)),
            *(_number(r.blank[0]), _number(r.blank[1]), _number(r.cut_length, 1)),
            *(str(r.holes), str(r.bends), _number(r.mass, 3), _number(r.mass * r.quantity, 3)),
            *(r.finish, r.marking, r.file, _money(r.price)),
        )
        for r in cut_rows(design)
    ]
    return _csv((head, *rows))


def bought_csv(design: Design) -> bytes:
    """The list of what is bought."""
    currency = design.shop.prices.currency if design.shop.prices else ""
    head = ("name", "quantity", "grade", "finish", "note", f"price {currency}".strip())
    rows = [
        (r.name, str(r.quantity), r.grade, r.finish, r.note, _money(r.price))
        for r in buy_rows(design)
    ]
    return _csv((head, *rows))


def _number(value: float, places: int = 2) -> str:
    return plain(value + 1e-9, places=places)


def _money(price: float | None) -> str:
    return "" if price is None else f"{price:.2f}"


def _csv(rows: Sequence[Sequence[str]]) -> bytes:
    stream = StringIO()
    csv.writer(stream, lineterminator="\r\n").writerows([safe(c) for c in row] for row in rows)
    return stream.getvalue().encode("utf-8")
