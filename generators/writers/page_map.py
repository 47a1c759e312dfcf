"""The small map on a tiled sheet that says which piece it is. Frame: mm on the page."""

from hangpost.generators.writers.ink import Text, frame
from hangpost.generators.writers.layout import grown
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.tiles import Tiling, Window
from hangpost.parts.loop import Point


def page_map(
    cut: Tiling, at: Point, turned: bool, here: Window, room: float = 26.0
) -> tuple[Item, ...]:
    """A small map of the sheets, this one framed, no wider than its room."""
    wide, high = 6.0, 5.0
    columns, rows = (cut.rows, cut.columns) if turned else (cut.columns, cut.rows)
    scale = min(1.0, room / (columns * wide), 14.0 / (rows * high))
    wide, high = wide * scale, high * scale
    found: list[Item] = []
    for k, window in enumerate(cut.windows, 1):
        # on its side the face's u runs up the page and its v to the left
        column, row = (
            (window.row, cut.columns - 1 - window.column) if turned else (window.column, window.row)
        )
        left, top = at[0] + column * wide, at[1] + 16 - row * high
        box = (left, top - high, left + wide, top)
        found.append(frame(box, "thin"))
        this = window == here
        middle = (left + wide / 2, top - high / 2 - 1.0 * scale)
        found.append(Text(middle, str(k), 2.8 * scale, "centre", bold=this))
        if this:
            found.append(frame(grown(box, -0.6 * scale), "thick"))
    return tuple(found)
