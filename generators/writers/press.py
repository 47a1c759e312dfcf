"""Sets words, drawings and tables one below the other, and starts a new sheet when one is full.

Upright on the shop's first paper. What is put down is drawn with y = 0 at its upper edge and its
true x. Frame: mm on the sheet.
"""

from collections.abc import Sequence

from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.ink import Text, together
from hangpost.generators.writers.paper import PAPERS, TRUE
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.stamp import FOOT, Stamp, numbered
from hangpost.generators.writers.table import Table, paragraph, shelved

BETWEEN = 4.0  # mm under a table


class Press:
    """The sheets of one title, as they fill from the top."""

    def __init__(self, title: str, stamp: Stamp, shop: Shop) -> None:
        """Begin with an empty sheet."""
        self._title, self._stamp = title, stamp
        self._paper = PAPERS[shop.drawings.paper[0]]
        self.left, self._bottom, self.right, self._top = self._field = TRUE.field(self._paper)
        self._low = self._bottom + FOOT + 3.0
        self._sheets: list[Sheet] = []
        self._items: list[Item] = []
        self._y = self._top

    @property
    def wide(self) -> float:
        """Room from left to right."""
        return self.right - self.left

    def put(self, items: Sequence[Item], tall: float, after: float = 0.0) -> None:
        """Items that need a height, and what is left free under them."""
        self.room(tall)
        self._items += Block(tuple(items)).shifted(0.0, self._y).items
        self._y -= tall + after

    def heading(self, words: str, size: float, room: float) -> None:
        """A heading over the whole width, with room for what follows it."""
        self.room(room)
        self.put([Text((self.left, -size - 0.3), words, size, bold=True)], 2.0 * size + 0.5)

    def words(self, words: str, size: float, after: float = 1.2) -> None:
        """A paragraph over the whole width."""
        lines, tall = paragraph(words, (self.left, 0.0), self.wide, size)
        self.put(lines, tall, after)

    def table(self, table: Table) -> None:
        """A table, in smaller lettering when it is too wide, in pieces when it is too long."""
        for piece in table.narrowed(self.wide).cut(self._top - self._bottom - FOOT - BETWEEN):
            self.put(piece.items((self.left, 0.0)), piece.height, BETWEEN)

    def tables(self, tables: Sequence[Table]) -> None:
        """Small tables side by side."""
        rest = [table.narrowed(self.wide) for table in tables]
        while rest:
            items, after = shelved(rest, (self.left, self._low, self.right, self._y))
            if not items and self._y == self._top:
                raise ValueError("a table is larger than the paper")
            self._items += items
            if items:
                self._y = together(i.box for i in items)[1] - BETWEEN
            if after:
                self._close()
            rest = after

    def room(self, tall: float) -> None:
        """A new sheet where so much does not go on this one."""
        if self._y - tall < self._low:
            self._close()

    def done(self) -> tuple[Sheet, ...]:
        """The sheets with their feet."""
        self._close()
        return numbered(self._sheets, self._stamp, self._field)

    def _close(self) -> None:
        self._sheets.append(
            Sheet(
                width=self._paper.width,
                height=self._paper.height,
                title=self._title,
                items=tuple(self._items),
            )
        )
        self._items, self._y = [], self._top
