"""How a sheet proves its own size: two bars, a square, a 4 in mark, and what to do about them.

The two bars stand square to each other on one corner, 150 and 200 mm long, so that their tips
must be 250 mm apart: a printer that stretches shows in a bar, one that skews in the third side.
Frame: mm on the sheet; every piece is placed by a corner of its own.
"""

from typing import Final

from hangpost.generators.survey.units import INCH
from hangpost.generators.writers.ink import Text, frame, line
from hangpost.generators.writers.paper import BAR_X, BAR_Y, Printer
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Point

LIMIT: Final = 0.5  # house: how far a bar may be off before the sheet is not used
SQUARE: Final = 25.0
SMALL: Final = 2.1
LOUD: Final = (
    'PRINT AT ACTUAL SIZE, 100 %: not "fit", not borderless; from a PDF reader, not a browser.'
)
MEASURE: Final = (
    f"Measure both bars, and from tip to tip of the bars: {(BAR_X**2 + BAR_Y**2) ** 0.5:g} mm. "
    "Outside the limits: do not drill; have the sheets issued again for this printer (hangpost "
    "templates PACK --printed XxY). The numbers overrule the paper."
)


def bars(corner: Point) -> tuple[Item, ...]:
    """The two bars on their common corner, with what to accept."""
    x, y = corner
    across = f"BAR X: {BAR_X:g} mm between the ticks; accept {_limits(BAR_X)}"
    along = f"BAR Y: {BAR_Y:g} mm between the ticks; accept {_limits(BAR_Y)}"
    return (
        line((x, y), (x + BAR_X, y)),
        line((x + BAR_X, y - 2), (x + BAR_X, y + 2)),
        line((x - 2, y), (x, y)),
        line((x, y), (x, y + BAR_Y)),
        line((x - 2, y + BAR_Y), (x + 2, y + BAR_Y)),
        line((x, y - 2), (x, y)),
        Text((x + BAR_X / 2, y + 1.2), across, SMALL, "centre"),
        Text((x - 1.2, y + BAR_Y / 2), along, SMALL, "centre", angle=90.0),
    )


def _limits(bar: float) -> str:
    return f"{bar - LIMIT:g} to {bar + LIMIT:g}"


def inch_mark(at: Point, *, upright: bool) -> tuple[Item, ...]:
    """The 4 in mark from `at`, ticked every inch."""
    x, y = at
    whole = 4 * INCH
    end = (x, y + whole) if upright else (x + whole, y)
    found: list[Item] = [line(at, end)]
    for k in range(5):
        tall = 2.0 if k in (0, 4) else 1.0
        if upright:
            found.append(line((x - tall, y + k * INCH), (x + tall, y + k * INCH)))
        else:
            found.append(line((x + k * INCH, y - tall), (x + k * INCH, y + tall)))
    words, middle = "4 in mark; accept 1/64 in", 2 * INCH
    if upright:
        found.append(Text((x - 2.2, y + middle), words, SMALL, "centre", angle=90.0))
    else:
        found.append(Text((x + middle, y + 2.2), words, SMALL, "centre"))
    return tuple(found)


def square(at: Point) -> tuple[Item, ...]:
    """The square with both diagonals, from its lower left corner."""
    x, y = at
    return (
        frame((x, y, x + SQUARE, y + SQUARE)),
        line((x, y), (x + SQUARE, y + SQUARE), "hair"),
        line((x, y + SQUARE), (x + SQUARE, y), "hair"),
    )


def square_words() -> tuple[str, str, str]:
    """What the square is, in three short lines."""
    return (f"square {SQUARE:g} mm", "both diagonals", f"{SQUARE * 2**0.5:.1f} mm")


def banner(printer: Printer) -> str:
    """The words for a sheet made for one printer."""
    measured = f"{printer.x * BAR_X:.4g} x {printer.y * BAR_Y:.4g} mm"
    return f"COMPENSATED FOR PRINTER ({measured}): use that printer only"
