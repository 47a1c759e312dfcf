"""Printed blocks under a long seat, cut into pieces that the printer's bed holds.

A block that is too long may lie across the corners of the bed; what does not is cut. A cut runs
across between two rows of fasteners; every piece keeps enough of them to stay where it is, so the
pieces need no other key. Units: mm along v of the seat.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.strength.workshop import turn_on_bed
from hangpost.generators.survey.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece: from where to where along v, and the rows of fasteners in it."""

    low: float
    high: float
    rows: tuple[float, ...]

    @property
    def middle(self) -> float:
        """V of its middle."""
        return (self.low + self.high) / 2

    @property
    def length(self) -> float:
        """Along v."""
        return self.high - self.low


def pieces(
    shop: Shop,
    *,
    what: str,
    width: float,
    low: float,
    high: float,
    rows: Sequence[float],
    least_rows: int,
    instead: str = "set the post plumb, weld the bracket, or give the bed of another printer",
) -> tuple[Piece, ...]:
    """As few pieces as the bed allows; NoHardware where even single rows do not go on it."""
    for count in range(1, len(rows) // least_rows + 1):
        found = _cut(low, high, rows, count)
        if all(_lies(shop, width, piece.length) for piece in found):
            return found
    bed = " x ".join(f"{side:.0f}" for side in shop.printer.bed[:2])
    raise NoHardware(
        f"{what} of {high - low:.0f} x {width:.0f} mm does not go on the printer's bed of {bed} mm "
        f"(printer.bed in the shop file), not even in pieces: {instead}"
    )


def _cut(low: float, high: float, rows: Sequence[float], count: int) -> tuple[Piece, ...]:
    ends = [round(len(rows) * k / count) for k in range(count + 1)]
    groups = [tuple(rows[a:b]) for a, b in pairwise(ends)]
    cuts = [(a[-1] + b[0]) / 2 for a, b in pairwise(groups)]
    bounds = [low, *cuts, high]
    return tuple(
        Piece(low=bounds[k], high=bounds[k + 1], rows=group) for k, group in enumerate(groups)
    )


def _lies(shop: Shop, width: float, length: float) -> bool:
    across, along, _ = (float(side) for side in shop.printer.bed)
    return turn_on_bed(length, width, (across, along)) is not None
