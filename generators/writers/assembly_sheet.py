"""The assembly drawing: plan closed, half way and open, pivots from the hinge axis; elevation.

Frame: mm on the sheet; each picture is drawn in the frame `pictures` gives it and then scaled.
"""

from collections.abc import Sequence
from typing import Final, Literal

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block, joined
from hangpost.generators.writers.dimension import Dimension, fitted
from hangpost.generators.writers.drawing import GAP, SCALES, field_of
from hangpost.generators.writers.flat_view import spread
from hangpost.generators.writers.ink import Circle, Place, Text, line, path, together
from hangpost.generators.writers.layout import free_place
from hangpost.generators.writers.paper import PAPERS
from hangpost.generators.writers.pictures import Plan, elevation
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.shop_words import length_words
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.table import Table
from hangpost.generators.writers.title_block import WIDTH, Title, title_block
from hangpost.generators.writers.views import Look
from hangpost.parts.loop import Box, Point

SIZE: Final = 2.2
BEYOND: Final = 180.0  # how far the leaf is shown past the leaf pivot
RATIOS: Final = (8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 75, 100)
SMALLER: Final = tuple(1 / ratio for ratio in RATIOS)


def assembly_sheet(
    leaf: LeafDesign, look: Look, shop: Shop, stamp: Stamp, number: str = "1 of 1"
) -> Sheet:
    """The assembly of one leaf on one sheet."""
    paper = PAPERS[shop.drawings.paper[0]]
    left, bottom, right, top = field_of(paper)
    plan = Plan.of(leaf, look)
    seen = elevation(leaf, look)
    column = right - WIDTH
    table = Block(_numbers(leaf, stamp.units).items((column, top)))
    room: Box = (left, bottom, column - GAP, top)
    for scale in (*SCALES, *SMALLER):
        opening = leaf.mount.opening * (1 if leaf.mount.direction == "pull" else -1)
        closed = _closed(plan, scale, stamp.units)
        half = _swung(plan, opening / 2, scale, stamp.units)
        opened = _swung(plan, opening, scale, stamp.units)
        pieces = _shelved((closed, half, opened), room)
        if pieces is not None:
            break
    else:
        raise ValueError("no scale puts the assembly on this paper")
    lowest = title_block(_title(leaf, scale, shop, stamp, number), stamp).at(column, bottom)
    side = _elevation(
        leaf, seen, stamp.units, (column, lowest.box[3] + GAP, right, table.box[1] - GAP)
    )
    return Sheet(
        width=paper.height,
        height=paper.width,
        title=f"assembly {leaf.name}".strip(),
        items=joined([*pieces, table, side, lowest]).items,
        scale=scale,
    )


def _title(leaf: LeafDesign, scale: float, shop: Shop, stamp: Stamp, number: str) -> Title:
    return Title(
        mark=f"assembly {leaf.name}".strip(),
        name="plan closed, half open and open; elevation, actuator side",
        rows=(("hand", leaf.hand), ("finish", shop.finish)),
        scale=scale,
        angle=shop.drawings.angle,
        sheet=number,
    )


def _base(plan: Plan, angle: float, scale: float) -> list[Item]:
    """The plan at an angle, with pins and hinge axis marked."""
    post, pin = plan.pins(angle)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [
        m.placed(place) for m in plan.at(angle, plan.leaf.mount.leaf_pivot[0] + BEYOND)
    ]
    for x, y in (post, pin):
        items += _cross((x * scale, y * scale), 2.0)
    items += [Circle((0.0, 0.0), 2.0, "thin"), *_cross((0.0, 0.0), 3.0)]
    items.append(
        line((post[0] * scale, post[1] * scale), (pin[0] * scale, pin[1] * scale), "centre")
    )
    return items


def _cross(at: Point, arm: float) -> list[Item]:
    (x, y) = at
    return [line((x - arm, y), (x + arm, y), "hair"), line((x, y - arm), (x, y + arm), "hair")]


def _closed(plan: Plan, scale: float, units: Units) -> Block:
    """Closed, with both pivots dimensioned from the hinge axis."""
    items = _base(plan, 0.0, scale)
    left, bottom, right, top = together(i.box for i in items)
    (px, py), (gx, gy) = (tuple(c * scale for c in p) for p in plan.pins(0.0))
    mount = plan.leaf.mount
    axis = (0.0, 0.0)
    side: tuple[float, float] = (left, right) if plan.side > 0 else (right, left)
    post_out = side[0] - 7.0 * plan.side
    leaf_out = side[1] + 7.0 * plan.side
    towards: Literal[-1, 1] = -1 if plan.side > 0 else 1
    setback, standoff = (length_words(c, units) for c in (abs(mount.setback), mount.standoff))
    along, off = (length_words(c, units) for c in mount.leaf_pivot)
    items += [
        fitted(axis, (px, py), (0.0, top + 7.0), setback, 0.0, towards),
        fitted(axis, (px, py), (post_out, 0.0), standoff, 90.0, -1),
        Dimension(axis, (gx, gy), (0.0, bottom - 7.0), along, 0.0, SIZE),
        fitted(axis, (gx, gy), (leaf_out, 0.0), off, 90.0),
    ]
    for words, (x, y) in (("hinge axis", axis), ("post pivot", (px, py)), ("leaf pivot", (gx, gy))):
        items += _beside(words, x, y, items)
    closed = length_words(mount.closed_length, units)
    return _named(items, f"closed, actuator side up: pin to pin {closed}")


def _beside(words: str, x: float, y: float, taken: Sequence[Item]) -> tuple[Text, ...]:
    """A name near a point of the plan, where it meets nothing."""
    text = Text((0.0, 0.0), words, SIZE)
    spots = [
        (x + dx, y + dy)
        for r in (3.5, 5.0, 7.0, 10.0, 14.0)
        for dx in (r, -r - text.width, -text.width / 2)
        for dy in (r, -r - 1.6, r / 2, -r / 2 - 1.6)
    ]
    return free_place((text,), spots, taken, together(i.box for i in taken))


def _swung(plan: Plan, angle: float, scale: float, units: Units) -> Block:
    """The leaf at another angle, with the distance from pin to pin."""
    (px, py), (gx, gy) = plan.pins(angle)
    apart = ((gx - px) ** 2 + (gy - py) ** 2) ** 0.5
    words = f"{plain(abs(angle))}° open: pin to pin {length_words(apart, units)}"
    return _named(_base(plan, angle, scale), words)


def _named(items: Sequence[Item], words: str) -> Block:
    left, bottom, right, _ = together(i.box for i in items)
    return Block(
        (*items, Text(((left + right) / 2, bottom - 4.5), words, 2.4, "centre", bold=True))
    )


def _shelved(blocks: Sequence[Block], room: Box) -> list[Block] | None:
    """The blocks in rows from the upper left, or None when they do not fit."""
    left, bottom, right, top = room
    x, y, deep = left, top, 0.0
    found = []
    for block in blocks:
        if deep and x + block.width > right:
            x, y, deep = left, y - deep - 6.0, 0.0
        if x + block.width > right or y - block.height < bottom:
            return None
        found.append(block.hung(x, y))
        x += block.width + 8.0
        deep = max(deep, block.height)
    return found


def _elevation(leaf: LeafDesign, seen: Sequence[Item], units: Units, room: Box) -> Block:
    """From the actuator's side, heights above ground at the left."""
    box = together(i.box for i in seen)
    wide, high = room[2] - room[0] - 30.0, room[3] - room[1] - 12.0
    fits = [
        s
        for s in (*SCALES, *SMALLER)
        if (box[2] - box[0]) * s < wide and (box[3] - box[1]) * s < high
    ]
    scale = max(fits, default=SMALLER[-1])
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [i.placed(place) for i in seen]
    left, _, right, _ = together(i.box for i in items)
    items.append(line((left - 2.0, 0.0), (right + 2.0, 0.0), "thick"))
    body = next(p for p in leaf.placed if p.name == "leaf")
    heights = sorted({round(c, 3) for c in _heights(body.item)} | {leaf.problem.height, 0.0})
    for at, level in spread(heights, scale):
        y = level * scale
        items.append(path(((left - 2.5, y), (left - 3.5, y), (left - 5.5, at), (left - 6.5, at))))
        words = length_words(level, units)
        items.append(Text((left - 7.0, at - 0.36 * SIZE), words, SIZE, "right"))
    name = f"elevation, actuator side, {_ratio(scale)}; heights above ground"
    return _named(items, name).centred(room)


def _heights(item: object) -> list[float]:
    """Bottom, top and rail centres of the leaf as its body tells them."""
    from hangpost.parts.bodies import Bar, Body
    from hangpost.parts.bodies import Block as Box3

    assert isinstance(item, Body)
    found: list[float] = []
    lows, highs = [], []
    for shape in item.shapes:
        if isinstance(shape, Box3):
            lows.append(shape.least[2])
            highs.append(shape.greatest[2])
            if shape.greatest[0] - shape.least[0] > shape.greatest[2] - shape.least[2]:
                found.append((shape.least[2] + shape.greatest[2]) / 2)
        elif isinstance(shape, Bar) and abs(shape.axis[0]) > 0.9:
            found.append(shape.start[2])
            lows.append(shape.start[2] - shape.radius)
            highs.append(shape.start[2] + shape.radius)
    return [*found, min(lows), max(highs)]


def _ratio(scale: float) -> str:
    return f"1:{1 / scale:.4g}"


def _numbers(leaf: LeafDesign, units: Units) -> Table:
    """The numbers of the mount."""
    mount = leaf.mount
    rows = (
        ("pin height above ground", length_words(leaf.problem.height, units)),
        (
            "post pivot, behind the hinge axis"
            if mount.setback >= 0
            else "post pivot, past it towards the latch",
            length_words(abs(mount.setback), units),
        ),
        ("post pivot, towards the actuator", length_words(mount.standoff, units)),
        ("leaf pivot, along the leaf", length_words(mount.leaf_pivot[0], units)),
        ("leaf pivot, off the axis line", length_words(mount.leaf_pivot[1], units)),
        ("pin to pin, closed", length_words(mount.closed_length, units)),
        ("pin to pin, open", length_words(mount.open_length, units)),
        ("opening angle", f"{plain(mount.opening)}°"),
        ("stroke used", length_words(mount.stroke_used, units)),
        ("spare, retracted end", length_words(mount.margin_retracted, units)),
        ("spare, extended end", length_words(mount.margin_extended, units)),
    )
    return Table(
        title="The mount, from the hinge axis",
        head=("what", "value"),
        rows=rows,
        align=("left", "right"),
        size=2.1,
        pad=0.9,
    )
