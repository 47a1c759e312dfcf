"""The title block of a drawing, with its projection symbol and the site record's QR symbol.

Frame: mm on the paper, lower right corner of the block given. Fields after ISO 7200; the symbol
of the projection after ISO 5456-2.
"""

from dataclasses import dataclass
from typing import Final

from hangpost.generators.writers.block import Block
from hangpost.generators.writers.formed_views import Angle
from hangpost.generators.writers.ink import Circle, Text, frame, line, path
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.shop_words import unit_note
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.table import fitting_size
from hangpost.parts.loop import Point

WIDTH: Final = 92.0
ROW: Final = 7.0
_CAPTION: Final = 1.5
_VALUE: Final = 2.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """What a title block says; rows are pairs of caption and value, two to a line."""

    mark: str
    name: str
    rows: tuple[tuple[str, str], ...]
    scale: float
    angle: Angle
    sheet: str  # "1 of 2"


def title_block(title: Title, stamp: Stamp) -> Block:
    """The block, its lower left corner at (0, 0)."""
    cells = [
        *title.rows,
        ("scale", scale_words(title.scale)),
        ("revision", stamp.revision),
        ("date, drawn by, checked by", ""),
        ("sheet", title.sheet),
        ("input", stamp.input),
        ("made with", stamp.maker),
    ]
    count = (len(cells) + 1) // 2
    height = count * ROW + 18.0
    half = WIDTH / 2
    items: list[Item] = [frame((0.0, 0.0, WIDTH, height), "thick")]
    for k, (caption, value) in enumerate(cells):
        row, column = divmod(k, 2)
        x, y = column * half, (count - 1 - row) * ROW
        items += _cell(caption, value, (x, y), half)
        if column == 0:
            items.append(line((0.0, y + ROW), (WIDTH, y + ROW)))
    items.append(line((half, 0.0), (half, count * ROW)))
    top = height
    items.append(Text((1.5, top - 5.5), title.mark, fitting_size(title.mark, 64.0, 4.2), bold=True))
    items.append(Text((1.5, top - 9.6), title.name, fitting_size(title.name, 64.0, 2.6)))
    items.append(Text((1.5, top - 13.0), stamp.job, fitting_size(stamp.job, 64.0, 2.4)))
    items.append(
        Text((1.5, top - 16.6), f"numbers in {unit_note(stamp.units)}; not for drilling", 2.0)
    )
    items += projection_symbol((WIDTH - 23.0, top - 12.5), title.angle)
    return Block(tuple(items))


def _cell(caption: str, value: str, at: Point, room: float) -> list[Item]:
    x, y = at
    found: list[Item] = [Text((x + 1.0, y + ROW - 2.0), caption, _CAPTION)]
    if value:
        found.append(Text((x + 1.0, y + 1.4), value, fitting_size(value, room - 2.0, _VALUE)))
    return found


def scale_words(scale: float) -> str:
    """The scale as a drawing says it; another than 1:1 is no template."""
    if scale >= 1:
        return f"{scale:g}:1"
    return f"1:{1 / scale:.4g}"


def projection_symbol(at: Point, angle: Angle) -> tuple[Item, ...]:
    """The truncated cone from the side and from its end, in the order of the projection."""
    x, y = at
    big, small, long = 7.0, 3.5, 8.0
    cone_left, ring = (x, x + 15.5) if angle == "first" else (x + 9.0, x + 3.5)
    middle = y + big / 2
    # the small end points left; both circles are seen from there. First angle puts that view at
    # the right of the cone, third angle at its left.
    heights = (small / 2, big / 2)
    left, right = cone_left, cone_left + long
    cone = (
        (left, middle - heights[0]),
        (right, middle - heights[1]),
        (right, middle + heights[1]),
        (left, middle + heights[0]),
    )
    lowest = min(left, ring - big / 2) - 1.5
    highest = max(right, ring + big / 2) + 1.5
    return (
        path(cone, "thin", closed=True),
        Circle((ring, middle), big, "thin"),
        Circle((ring, middle), small, "thin"),
        line((lowest, middle), (highest, middle), "hair"),
        Text((x + 10.0, y - 3.0), f"{angle} angle", 1.8, "centre"),
    )
