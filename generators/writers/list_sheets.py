"""Cut list and list of bought things on paper, laid on its side. Frame: mm on the sheet."""

from dataclasses import replace

from hangpost.generators.hardware.design import Design
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.drawing import field_of
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.lists import buy_rows, cut_rows, total
from hangpost.generators.writers.paper import PAPERS
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.shop_words import length_words, mass_words, unit_note
from hangpost.generators.writers.stamp import FOOT, Stamp, numbered
from hangpost.generators.writers.table import Align, Table

SIZE = 2.3


def list_sheets(design: Design, stamp: Stamp) -> tuple[Sheet, ...]:
    """The lists of a job, on as many sheets as they need."""
    paper = PAPERS[design.shop.drawings.paper[0]]
    field = field_of(paper)
    left, bottom, right, top = field
    sheets: list[Sheet] = []
    items: list[Item] = []
    y = top

    def close() -> None:
        sheet = Sheet(
            width=paper.height, height=paper.width, title="cut and buying list", items=tuple(items)
        )
        sheets.append(sheet)

    for whole in map(_priced, (cut_table(design, stamp.units), buy_table(design))):
        for table in whole.narrowed(right - left).cut(top - bottom - FOOT - 12.0):
            if y - table.height < bottom + FOOT + 4.0:
                close()
                items, y = [], top
            items += table.items((left, y))
            y -= table.height + 6.0
    items.append(Text((left, bottom + FOOT + 1.5), _sum_words(design, stamp.units), 2.3))
    close()
    return numbered(sheets, stamp, field)


def cut_table(design: Design, units: Units) -> Table:
    """What is cut or printed."""
    rows = tuple(
        (
            r.mark,
            str(r.quantity),
            r.process,
            r.material,
            length_words(r.thickness, units),
            f"{length_words(r.blank[0], units)} x {length_words(r.blank[1], units)}",
            f"{r.cut_length / 1000:.2f}" if r.cut_length else "",
            str(r.holes),
            str(r.bends),
            mass_words(r.mass, units),
            r.finish,
            "" if r.price is None else f"{r.price:.2f}",
        )
        for r in cut_rows(design)
    )
    head = ("mark", "no.", "process", "material", "thickness", "blank", "cut, m", "holes")
    align: tuple[Align, ...] = ("left", "right", "left", "left", "right", "right", "right")
    return Table(
        title=f"To cut and to print, {unit_note(units)} (lengths, holes, bends, mass of one; price "
        "of all)",
        head=(*head, "bends", "mass", "finish", "price"),
        rows=rows,
        align=(*align, "right", "right", "right", "left", "right"),
        size=SIZE,
    )


def buy_table(design: Design) -> Table:
    """What is bought."""
    rows = tuple(
        (
            r.name,
            str(r.quantity),
            r.grade,
            r.finish,
            r.note,
            "" if r.price is None else f"{r.price:.2f}",
        )
        for r in buy_rows(design)
    )
    return Table(
        title="To buy (washers and sleeves counted)",
        head=("what", "no.", "grade", "finish", "note", "price"),
        rows=rows,
        align=("left", "right", "left", "left", "left", "right"),
        size=SIZE,
    )


def _priced(table: Table) -> Table:
    """The table, without its last column when no price is known."""
    if any(row[-1] for row in table.rows):
        return table
    return replace(
        table,
        head=table.head[:-1],
        rows=tuple(row[:-1] for row in table.rows),
        align=table.align[:-1],
        title=table.title.replace("; price of all", ""),
    )


def _sum_words(design: Design, units: Units) -> str:
    rows = cut_rows(design)
    steel = sum(r.mass * r.quantity for r in rows if r.process != "print")
    said = f"Steel parts together {mass_words(steel, units)}."
    bare = [r.mark for r in rows if r.marking == "by hand: no place to etch it"]
    if bare:
        said = f"Too small for an etched mark, mark by hand: {', '.join(bare)}. {said}"
    priced = total((*rows, *buy_rows(design)))
    if priced is None:
        return f"{said} The shop file has no prices."
    currency = design.shop.prices.currency if design.shop.prices else ""
    return f"{said} Prices that are known come to {priced:.2f} {currency}".rstrip() + "."
