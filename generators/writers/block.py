"""A piece of a sheet that is laid out as one: a view with its dimensions, a table, a note.

Frame: mm on the paper, any origin; `at` puts its lower left corner somewhere, `hung` its upper.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from hangpost.generators.writers.ink import Place, together
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box


@dataclass(frozen=True)  # no slots: its box is asked for often and kept once it is known
class Block:
    """Items that stay together."""

    items: tuple[Item, ...]

    @cached_property
    def box(self) -> Box:
        """The box they cover."""
        return together(i.box for i in self.items)

    @property
    def width(self) -> float:
        """Width of the box."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Height of the box."""
        return self.box[3] - self.box[1]

    def shifted(self, dx: float, dy: float) -> "Block":
        """The same elsewhere."""
        place = Place(dx, dy)
        moved = Block(tuple(i.placed(place) for i in self.items))
        left, bottom, right, top = self.box
        vars(moved)["box"] = (left + dx, bottom + dy, right + dx, top + dy)  # known, not asked for
        return moved

    def at(self, left: float, bottom: float) -> "Block":
        """Its lower left corner put there."""
        return self.shifted(left - self.box[0], bottom - self.box[1])

    def hung(self, left: float, top: float) -> "Block":
        """Its upper left corner put there."""
        return self.shifted(left - self.box[0], top - self.box[3])

    def centred(self, room: Box) -> "Block":
        """Put in the middle of a room."""
        left = (room[0] + room[2] - self.width) / 2
        return self.at(left, (room[1] + room[3] - self.height) / 2)


def joined(blocks: Sequence[Block]) -> Block:
    """Several blocks as one, where they are."""
    return Block(tuple(i for b in blocks for i in b.items))
