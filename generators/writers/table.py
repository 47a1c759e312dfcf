"""Ruled tables and paragraphs, hung from their upper left corner. Frame: mm on the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from hangpost.generators.writers.fonts import CAPITAL, width
from hangpost.generators.writers.ink import Text, frame, line
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box, Point

Align = Literal["left", "centre", "right"]


def fitting_size(text: str, room: float, size: float, *, bold: bool = False) -> float:
    """The lettering's size, smaller where the text would not fit its room."""
    wide = width(text, size, bold=bold)
    return size if wide <= room else size * room / wide


def wrapped(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Lines no longer than `room` mm, broken between words.

    The letters stand side by side, none under another: words and spaces add up to the line.
    """
    found: list[list[str]] = []
    space, left = width(" ", size, bold=bold), 0.0
    for word in text.split():
        wide = width(word, size, bold=bold)
        if found and space + wide <= left:
            found[-1].append(word)
            left -= space + wide
        else:
            found.append([word])
            left = room - wide
    return [" ".join(words) for words in found]


def paragraph(
    text: str, at: Point, room: float, size: float = 2.6, *, bold: bool = False, lead: float = 1.35
) -> tuple[tuple[Text, ...], float]:
    """Lines of text hanging from `at` (upper left), and the height they take."""
    lines = wrapped(text, room, size, bold=bold)
    step = lead * size
    items = tuple(
        Text((at[0], at[1] - CAPITAL * size - k * step), words, size, bold=bold)
        for k, words in enumerate(lines)
    )
    return items, step * len(lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A ruled table: head, rows, and how each column is set."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: tuple[Align, ...] = ()
    title: str = ""
    size: float = 2.3
    pad: float = 1.2

    @property
    def pitch(self) -> float:
        """Height of a row."""
        return self.size * CAPITAL + 2 * self.pad

    @property
    def widths(self) -> tuple[float, ...]:
        """Width of each column."""
        found = []
        for k, name in enumerate(self.head):
            cells = [width(row[k], self.size) for row in self.rows]
            found.append(max([width(name, self.size, bold=True), *cells]) + 2 * self.pad)
        return tuple(found)

    @property
    def width(self) -> float:
        """Width of the whole, title included."""
        title = width(self.title, self.size, bold=True) if self.title else 0.0
        return max(sum(self.widths), title)

    @property
    def height(self) -> float:
        """Height of the whole, title included."""
        return (len(self.rows) + 1 + (1 if self.title else 0)) * self.pitch

    def narrowed(self, room: float) -> "Table":
        """The table with lettering small enough for its room."""
        if self.width <= room:
            return self
        share = 0.999 * room / self.width
        return replace(self, size=self.size * share, pad=self.pad * share)

    def cut(self, room: float) -> "list[Table]":
        """The table in pieces no higher than the room, head and title on each."""
        count = max(1, int(room / self.pitch + 1e-9) - 2)
        starts = range(0, max(1, len(self.rows)), count)
        return [replace(self, rows=self.rows[k : k + count]) for k in starts]

    def items(self, at: Point) -> tuple[Item, ...]:
        """The table hanging from `at`, its upper left corner."""
        x, y = at
        found: list[Item] = []
        if self.title:
            base = y - self.pad - CAPITAL * self.size
            found.append(Text((x, base), self.title, self.size, bold=True))
            y -= self.pitch
        edges = [x]
        for w in self.widths:
            edges.append(edges[-1] + w)
        bottom = y - (len(self.rows) + 1) * self.pitch
        found.append(frame((x, bottom, edges[-1], y)))
        found += [line((e, bottom), (e, y), "hair") for e in edges[1:-1]]
        for j, row in enumerate((self.head, *self.rows)):
            top = y - j * self.pitch
            if j:
                pen: Literal["thin", "hair"] = "thin" if j == 1 else "hair"
                found.append(line((x, top), (edges[-1], top), pen))
            for k, cell in enumerate(row):
                if cell:
                    found.append(self._cell(cell, k, edges[k], edges[k + 1], top, bold=j == 0))
        return tuple(found)

    def _cell(
        self, cell: str, column: int, left: float, right: float, top: float, *, bold: bool
    ) -> Text:
        align: Align = self.align[column] if self.align else "left"
        base = top - self.pad - CAPITAL * self.size
        x = {"left": left + self.pad, "centre": (left + right) / 2, "right": right - self.pad}
        return Text((x[align], base), cell, self.size, align, bold=bold)


def shelved(tables: Sequence[Table], room: Box) -> tuple[list[Item], list[Table]]:
    """Tables set in rows from the upper left of the room, and those that do not fit."""
    left, bottom, right, top = room
    found: list[Item] = []
    x, y, deep = left, top, 0.0
    for k, table in enumerate(tables):
        if deep and x + table.width > right:
            x, y, deep = left, y - deep - 3.0, 0.0
        if x + table.width > right or y - table.height < bottom:
            return found, list(tables[k:])
        found += table.items((x, y))
        x += table.width + 4.0
        deep = max(deep, table.height)
    return found, []
