"""The squares of a QR symbol on a sheet. Frame: mm on the paper."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby

from hangpost.generators.writers.ink import Place
from hangpost.parts.loop import Box, Point


@dataclass(frozen=True, slots=True)
class Modules:
    """A field of black squares, row by row from the top: a QR symbol."""

    at: Point  # lower left corner
    size: float  # of one square
    rows: tuple[tuple[bool, ...], ...]

    @property
    def box(self) -> Box:
        """The box it covers."""
        (x, y), side = self.at, self.size * len(self.rows)
        return (x, y, x + side, y + side)

    @property
    def blocks(self) -> tuple[Box, ...]:
        """The black squares joined to as few rectangles as may be."""
        (left, bottom), side, count = self.at, self.size, len(self.rows)
        return tuple(
            (
                left + start * side,
                bottom + (count - after) * side,
                left + end * side,
                bottom + (count - first) * side,
            )
            for start, end, first, after in _rectangles(self.rows)
        )

    def placed(self, place: Place) -> "Modules":
        """The same elsewhere; a symbol is neither turned nor scaled."""
        return replace(self, at=place.point(self.at))


@cache
def _rectangles(rows: tuple[tuple[bool, ...], ...]) -> tuple[tuple[int, int, int, int], ...]:
    """Columns from and to, rows from and to: found once for all the sheets that show a symbol."""
    found: list[tuple[int, int, int, int]] = []
    above: dict[tuple[int, int], int] = {}  # run of black (start, end) -> its first row
    for number, row in enumerate((*rows, ())):
        here = {run: above.pop(run, number) for run in _black(row)}
        found += [(*run, first, number) for run, first in above.items()]
        above = here
    return tuple(found)


def _black(row: Sequence[bool]) -> list[tuple[int, int]]:
    """Start and end of every run of black in a row."""
    found, at = [], 0
    for black, run in groupby(row):
        end = at + len(list(run))
        if black:
            found.append((at, end))
        at = end
    return found
