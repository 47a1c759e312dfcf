"""One page of drawing, before anybody knows whether it becomes PDF or DXF.

Frame: mm on the paper, origin in its lower left corner, y up.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.ink import Circle, Stroke, Text
from hangpost.generators.writers.modules import Modules

Item = Stroke | Circle | Text | Modules | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One page: its size, what is on it, what it is called, and the scale of the drawing on it."""

    width: float
    height: float
    title: str
    items: tuple[Item, ...]
    scale: float = 1.0

    def with_items(self, items: Iterable[Item]) -> "Sheet":
        """The sheet with more on it."""
        return replace(self, items=(*self.items, *items))
