"""How a sheet proves its own size: two bars, a square, a 4 in mark, and what to do about them.

The two bars stand square to each other on one corner, 150 and 200 mm long, so that their tips
must be 250 mm apart: a printer that stretches shows in a bar, one that skews in the third side.
Frame: mm on the sheet; the proof sits in the lower left of the field, above the foot.
"""

from dataclasses import dataclass
from typing import Final

from hangpost.generators.survey.units import INCH
from hangpost.generators.writers.ink import Text, frame, line
from hangpost.generators.writers.paper import BAR_X, BAR_Y, Printer
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.stamp import FOOT
from hangpost.parts.loop import Box, Point

STRIP: Final = 31.0  # height of the strip above the foot that the proof takes
SIDE: Final = 9.0  # width of the strip at the left that the upright bar takes
LIMIT: Final = 0.5  # house: how far a bar may be off before the sheet is not used
SQUARE: Final = 25.0
_SMALL: Final = 2.1


@dataclass(frozen=True, slots=True)
class Proof:
    """The scale proof of one sheet, in its field."""

    field: Box

    @property
    def corner(self) -> Point:
        """Where the two bars meet."""
        return (self.field[0] + 5.5, self.field[1] + FOOT + 3.5)

    @property
    def area(self) -> Box:
        """What it leaves free for the drawing (a header still comes off its top)."""
        left, bottom, right, top = self.field
        return (left + SIDE, bottom + FOOT + STRIP, right, top)

    def items(self) -> tuple[Item, ...]:
        """Bars, square, 4 in mark and words."""
        return (*self._bars(), *self._inches(), *self._square(), *self._words())

    def _bars(self) -> tuple[Item, ...]:
        x, y = self.corner
        across = (
            f"BAR X: {BAR_X:g} mm between the ticks; accept {BAR_X - LIMIT:g} to {BAR_X + LIMIT:g}"
        )
        along = (
            f"BAR Y: {BAR_Y:g} mm between the ticks; accept {BAR_Y - LIMIT:g} to {BAR_Y + LIMIT:g}"
        )
        return (
            line((x, y), (x + BAR_X, y)),
            line((x + BAR_X, y - 2), (x + BAR_X, y + 2)),
            line((x - 2, y), (x, y)),
            line((x, y), (x, y + BAR_Y)),
            line((x - 2, y + BAR_Y), (x + 2, y + BAR_Y)),
            line((x, y - 2), (x, y)),
            Text((x + BAR_X / 2, y + 1.2), across, _SMALL, "centre"),
            Text((x - 1.2, y + BAR_Y / 2), along, _SMALL, "centre", angle=90.0),
        )

    def _inches(self) -> tuple[Item, ...]:
        x, y = self.corner[0] + 6.0, self.corner[1] + 7.0
        found: list[Item] = [line((x, y), (x + 4 * INCH, y))]
        for k in range(5):
            tall = 2.0 if k in (0, 4) else 1.0
            found.append(line((x + k * INCH, y - tall), (x + k * INCH, y + tall)))
        found.append(Text((x + 2 * INCH, y + 2.2), "4 in mark; accept 1/64 in", _SMALL, "centre"))
        return tuple(found)

    def _square(self) -> tuple[Item, ...]:
        x, y = self.field[2] - SQUARE - 0.5, self.corner[1] + 1.0
        box = (x, y, x + SQUARE, y + SQUARE)
        diagonal = SQUARE * 2**0.5
        return (
            frame(box),
            line((x, y), (x + SQUARE, y + SQUARE), "hair"),
            line((x, y + SQUARE), (x + SQUARE, y), "hair"),
            Text((x - 1.2, y + SQUARE - 2.4), f"square {SQUARE:g} mm", _SMALL, "right"),
            Text((x - 1.2, y + SQUARE - 5.6), "both diagonals", _SMALL, "right"),
            Text((x - 1.2, y + SQUARE - 8.8), f"{diagonal:.1f} mm", _SMALL, "right"),
        )

    def _words(self) -> tuple[Item, ...]:
        x, y = self.corner[0] + 6.0, self.corner[1] + 24.2
        tips = (BAR_X**2 + BAR_Y**2) ** 0.5
        said = (
            'PRINT AT ACTUAL SIZE, 100 %: not "fit", not borderless; from a PDF reader, '
            "not a browser.",
            f"Measure both bars, and from tip to tip of the bars: {tips:g} mm. Outside the "
            "limits: do not",
            "drill; issue the sheets again with --printed XxY. The numbers overrule the paper.",
        )
        return tuple(
            Text((x, y - 3.2 * k), words, _SMALL, bold=k == 0) for k, words in enumerate(said)
        )


def banner(printer: Printer) -> str:
    """The words for a sheet made for one printer."""
    bars = f"{printer.x * BAR_X:.4g} x {printer.y * BAR_Y:.4g} mm"
    return f"COMPENSATED FOR PRINTER ({bars}): use that printer only"
