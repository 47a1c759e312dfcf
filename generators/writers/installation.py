"""The installation sheet: in order, with pictures of this very gate and this job's numbers.

Upright on the shop's first paper. Each step has its words at the left and its picture at the
right. Frame: mm on the sheet.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hangpost.generators.hardware.design import Design
from hangpost.generators.survey.display import both, plain
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.cautions import CAUTIONS
from hangpost.generators.writers.drawing_tables import inspection_table
from hangpost.generators.writers.ink import Text, frame, line
from hangpost.generators.writers.installation_steps import Step, steps
from hangpost.generators.writers.installation_words import answers
from hangpost.generators.writers.press import Press
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.shop_words import unit_note
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.table import Table, fitting_size, paragraph
from hangpost.generators.writers.views import Look

CLOSEST: Final = 14  # pairs that are listed; pack.json has them all
PICTURE: Final = 82.0  # width kept for pictures
SIZE: Final = 2.5
HEADING: Final = (4.2, 60.0)  # size, and room for what follows
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
    press = Press("installation", stamp, design.shop)
    press.heading(f"Installation: {design.site.job}", *HEADING)
    if stamp.warning:
        _warning(press, f"{stamp.warning}. See report.html or pack.json first.")
    for caution in CAUTIONS:  # all of them: the installer is the last who reads them
        press.words(f"{caution.id}  {caution.text}", 2.2, after=0.6)
    for words in answers(design.site.people):
        press.words(words, 2.2, after=0.6)
    for leaf, hung in zip(design.leaves, design.site.leaves, strict=True):
        told = [_step(press, n, s) for n, s in enumerate(steps(leaf, hung, look, stamp.units), 1)]
        if leaf.name:  # never at the foot of a sheet, its first step on the next
            size, _ = HEADING
            press.heading(f"{leaf.name} leaf", size, 2.0 * size + 0.5 + told[0][1])
        for items, tall in told:
            press.put(items, tall, after=1.5)
    cards = [
        replace(
            inspection_table(part, design.shop, stamp.units),
            title=f"First piece: {part.mark}, {unit_note(stamp.units)}",
        )
        for part, _ in design.parts
    ]
    recheck = Table(
        title="Re-check tightness, gaps, stops (SAF-14)",
        head=("when", "date", "by", "found"),
        rows=tuple((when, " " * 18, " " * 18, " " * 30) for when in RECHECKS),
    )
    trouble = Table(
        title="When a number does not come out", head=("what", "what to do"), rows=TROUBLE
    )
    press.tables([*([_gap_table(gaps, stamp.units)] if gaps else []), recheck, *cards, trouble])
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


def _warning(press: Press, words: str) -> None:
    """A framed sentence that nobody overlooks."""
    size = fitting_size(words, press.wide - 6.0, 4.2, bold=True)
    middle = (press.left + press.right) / 2
    press.put(
        [
            frame((press.left, -9.0, press.right, 0.0), "thick"),
            Text((middle, -6.0), words, size, "centre", bold=True),
        ],
        12.0,
    )


def _step(press: Press, number: int, step: Step) -> tuple[list[Item], float]:
    """A step, words left, picture right, and how tall it is."""
    room = press.wide - (PICTURE + 4.0 if step.picture else 0.0)
    found: list[Item] = [
        Text((press.left, -4.0), f"{number}  {step.heading}", 3.2, bold=True),
    ]
    y = -6.5
    for words in step.words:
        lines, tall = paragraph(words, (press.left, y), room, SIZE)
        found += lines
        y -= tall + 1.0
    if step.picture is not None:
        aside = press.right - PICTURE + (PICTURE - step.picture.width) / 2
        block = step.picture.hung(aside, -1.5)
        found += block.items
        y = min(y, block.box[1] - 2.0)
    found.append(line((press.left, y - 1.5), (press.right, y - 1.5), "hair"))
    return found, 1.5 - y
