"""The installation sheet: in order, with pictures of this very gate and this job's numbers.

Upright on the shop's first paper. Each step has its words at the left and its picture at the
right. Frame: mm on the sheet.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hangpost.generators.hardware.design import Design
from hangpost.generators.survey.display import both, plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.cautions import CAUTIONS
from hangpost.generators.writers.drawing_tables import inspection_table
from hangpost.generators.writers.ink import Text, frame, line, together
from hangpost.generators.writers.installation_steps import Step, steps
from hangpost.generators.writers.paper import PAPERS, TRUE
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.shop_words import unit_note
from hangpost.generators.writers.stamp import FOOT, Stamp, numbered
from hangpost.generators.writers.table import Table, fitting_size, paragraph, shelved
from hangpost.generators.writers.views import Look

CLOSEST: Final = 14  # pairs that are listed; pack.json has them all
PICTURE: Final = 82.0  # width kept for pictures
SIZE: Final = 2.5
RECHECKS: Final = ("1 week", "1 month", "1 year", "")
TROUBLE: Final = (
    (
        "a check bar is off",
        "do not drill; have the sheets made for this printer: hangpost templates --printed",
    ),
    (
        "hinge axis to post face is not as surveyed",
        "stop; put the true size in the site file and build again",
    ),
    (
        "holes came out more than 3 mm off",
        "measure how far each is off its mark; hangpost asbuilt tells what still serves",
    ),
    (
        "pin to pin does not reach at closed",
        "slots of the post bracket first, then move the leaf bracket",
    ),
    (
        "the actuator is at its short end before the stop",
        "no spare left there: move the leaf bracket towards the latch",
    ),
    (
        "the actuator is at its long end before the stop",
        "no spare left there: move the leaf bracket towards the hinges",
    ),
    (
        "a bracket moves when the gate stalls",
        "tighten; if the post itself moves, the footing is too weak",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """The least distance between two things over the swing, for the check on site."""

    between: str
    least: float
    at_angle: float


def installation_sheets(
    design: Design, stamp: Stamp, look: Look, gaps: Sequence[Gap] = ()
) -> tuple[Sheet, ...]:
    """The whole installation sheet of a gate."""
    press = _Press(stamp, design.shop)
    press.heading(f"Installation: {design.site.job}")
    if stamp.warning:
        press.warning(f"{stamp.warning}. See report.html or pack.json first.")
    press.cautions()
    for leaf, hung in zip(design.leaves, design.site.leaves, strict=True):
        if leaf.name:
            press.heading(f"{leaf.name} leaf")
        for number, step in enumerate(steps(leaf, hung, look, stamp.units), 1):
            press.step(number, step)
    if gaps:
        press.table(_gap_table(gaps, stamp.units))
    cards = [
        replace(
            inspection_table(part, design.shop, stamp.units),
            title=f"First piece: {part.mark}, {unit_note(stamp.units)}",
        )
        for part, _ in design.parts
    ]
    press.tables(cards)
    press.table(
        Table(title="When a number does not come out", head=("what", "what to do"), rows=TROUBLE)
    )
    press.table(
        Table(
            title="Re-check tightness, gaps, stops (SAF-14)",
            head=("when", "date", "by", "found"),
            rows=tuple((when, " " * 18, " " * 18, " " * 50) for when in RECHECKS),
        )
    )
    return press.done()


def _gap_table(gaps: Sequence[Gap], units: Units) -> Table:
    closest = sorted(gaps, key=lambda g: (g.least, g.between))[:CLOSEST]
    return Table(
        title="The closest pairs over the swing; gaps that close are hazards, see SAF-03",
        head=("between", "least", "leaf at", "found"),
        rows=tuple(
            (g.between, both(g.least, units), f"{plain(abs(g.at_angle), places=0)}°", " " * 16)
            for g in closest
        ),
        align=("left", "right", "right", "left"),
    )


class _Press:
    """Sets steps and tables one below the other and starts a new sheet when one is full."""

    def __init__(self, stamp: Stamp, shop: Shop) -> None:
        self._stamp = stamp
        self._paper = PAPERS[shop.drawings.paper[0]]
        self._field = TRUE.field(self._paper)
        self._sheets: list[Sheet] = []
        self._items: list[Item] = []
        self._y = self._field[3]

    def _room(self, tall: float) -> None:
        if self._y - tall < self._field[1] + FOOT + 3.0:
            self._close()

    def _close(self) -> None:
        paper = self._paper
        sheet = Sheet(
            width=paper.width, height=paper.height, title="installation", items=tuple(self._items)
        )
        self._sheets.append(sheet)
        self._items, self._y = [], self._field[3]

    def heading(self, words: str) -> None:
        """A heading over the whole width."""
        self._room(60.0)
        self._items.append(Text((self._field[0], self._y - 4.5), words, 4.2, bold=True))
        self._y -= 9.0

    def warning(self, words: str) -> None:
        """A framed sentence that nobody overlooks."""
        left, _, right, _ = self._field
        size = fitting_size(words, right - left - 6.0, 4.2, bold=True)
        self._items += [
            frame((left, self._y - 9.0, right, self._y), "thick"),
            Text(((left + right) / 2, self._y - 6.0), words, size, "centre", bold=True),
        ]
        self._y -= 12.0

    def cautions(self) -> None:
        """All cautions: the installer is the last who reads them."""
        left, _, right, _ = self._field
        for caution in CAUTIONS:
            words = f"{caution.id}  {caution.text}"
            lines, tall = paragraph(words, (left, 0.0), right - left, 2.2)
            self._room(tall)
            self._items += Block(lines).shifted(0.0, self._y).items
            self._y -= tall + 0.6
        self._y -= 3.0

    def step(self, number: int, step: Step) -> None:
        """A step: words left, picture right."""
        left, _, right, _ = self._field
        room = right - left - (PICTURE + 4.0 if step.picture else 0.0)
        found: list[Item] = [Text((left, -4.0), f"{number}  {step.heading}", 3.2, bold=True)]
        y = -6.5
        for words in step.words:
            lines, tall = paragraph(words, (left, y), room, SIZE)
            found += lines
            y -= tall + 1.0
        if step.picture is not None:
            block = step.picture.hung(right - PICTURE + (PICTURE - step.picture.width) / 2, -1.5)
            found += block.items
            y = min(y, block.box[1] - 2.0)
        self._room(-y)
        self._items += Block(tuple(found)).shifted(0.0, self._y).items
        self._y += y - 1.5
        self._items.append(line((left, self._y), (right, self._y), "hair"))
        self._y -= 1.5

    def table(self, table: Table) -> None:
        """A table, in smaller lettering when it is too wide, in pieces when it is too long."""
        left, bottom, right, top = self._field
        for piece in table.narrowed(right - left).cut(top - bottom - FOOT - 4.0):
            self._room(piece.height)
            self._items += piece.items((left, self._y))
            self._y -= piece.height + 4.0

    def tables(self, tables: Sequence[Table]) -> None:
        """Small tables side by side."""
        left, bottom, right, top = self._field
        low, rest = bottom + FOOT + 3.0, list(tables)
        while rest:
            items, after = shelved(rest, (left, low, right, self._y))
            if not items and self._y == top:
                raise ValueError("a table is larger than the paper")
            self._items += items
            if items:
                self._y = together(i.box for i in items)[1] - 4.0
            if after:
                self._close()
            rest = after

    def done(self) -> tuple[Sheet, ...]:
        """The sheets with their feet."""
        self._close()
        return numbered(self._sheets, self._stamp, self._field)
