"""The pictures of the installation sheet, drawn from this job's own geometry.

Each is a block in mm on the paper: a plan or an elevation scaled to its room, with the few sizes
that the step talks about.
"""

from collections.abc import Sequence
from typing import Literal

from hangpost.generators.survey.display import both
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.dimension import Dimension, fitted
from hangpost.generators.writers.ink import (
    Anchor,
    Circle,
    Place,
    Text,
    arc,
    heading,
    line,
    together,
)
from hangpost.generators.writers.layout import free_place
from hangpost.generators.writers.pictures import Mark, Plan, within
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box, Point

WIDE = 78.0
HIGH = 46.0
SIZE = 2.2
BEYOND = 150.0  # of the leaf past its pivot


def _fit(marks: Sequence[Mark], wide: float = WIDE, high: float = HIGH) -> float:
    """The scale that puts marks into a room, with space for sizes around them."""
    left, bottom, right, top = together(m.box for m in marks)
    return min((wide - 26.0) / (right - left), (high - 20.0) / (top - bottom))


def _axis(scale: float, at: Point = (0.0, 0.0)) -> list[Item]:
    x, y = at[0] * scale, at[1] * scale
    return [
        Circle((x, y), 1.8),
        line((x - 2.5, y), (x + 2.5, y), "hair"),
        line((x, y - 2.5), (x, y + 2.5), "hair"),
    ]


def _named(items: Sequence[Item], names: Sequence[tuple[str, Point]]) -> Block:
    """A plan with names beside what they belong to, and which side lies towards its top."""
    found = list(items)
    left, bottom, right, top = together(i.box for i in items)
    spare = max(WIDE + 3.0 - (right - left), 0.0) / 2
    field: Box = (left - spare, bottom, right + spare, top)
    for words, (x, y) in names:
        text = Text((0.0, 0.0), words, SIZE)
        spots = [
            (x + dx, y + dy)
            for r in (2.2, 3.5, 5.0, 7.0, 9.0, 12.0, 16.0, 21.0)
            for dx in (r, -r - text.width, -text.width / 2)
            for dy in (r, -r - 1.6, -0.8, r / 2, -r / 2 - 1.6)
        ]
        found += free_place((text,), spots, found, field)
    said = Text(((left + right) / 2, top + 2.0), "actuator side \u2191", SIZE, "centre")
    return Block((*found, said))


def _middle(marks: Sequence[Mark], scale: float) -> Point:
    """The middle of some marks on the paper."""
    left, bottom, right, top = together(m.box for m in marks)
    return ((left + right) / 2 * scale, (bottom + top) / 2 * scale)


def hinge_picture(plan: Plan, hung: HungLeaf, units: Units) -> Block:
    """Post and hinge axis from above, with the two sizes everything is reckoned from."""
    x0, y0, x1, y1 = hung.post_box
    window: Box = (x0 - 60.0, min(y0, -120.0) - 20.0, 260.0, y1 + 20.0)
    if plan.side < 0:
        window = (-window[2], window[1], -window[0], window[3])
    standing = plan.standing(("hanging post",))
    # One that leans stands beside the rectangle that was measured, and a circle is never cut.
    window = together((window, *(m.box for m in standing)))
    post = within(standing, window)
    leaf = within(plan.standing(("leaf",)), window)
    marks = [*post, *leaf]
    scale = _fit(marks, 70.0, HIGH)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [m.placed(place) for m in marks]
    left, bottom, right, _top = together(i.box for i in items)
    side = plan.side
    face_x, face_y = x1 * scale * side, y1 * scale
    to_leaf, to_actuator = (
        both(v, units) for v in (hung.hinge.to_leaf_face, hung.hinge.to_actuator_face)
    )
    out = (left - 6.0) if side > 0 else (right + 6.0)
    items += [
        *_axis(scale),
        fitted((0.0, 0.0), (face_x, 0.0), (0.0, bottom - 6.0), to_leaf, 0.0, 1 if side > 0 else -1),
        fitted((0.0, 0.0), (face_x, face_y), (out, 0.0), to_actuator, 90.0),
    ]
    names = (
        ("hinge axis", (0.0, 0.0)),
        ("post", _middle(post, scale)),
        ("leaf", (0.8 * window[2 if side > 0 else 0] * scale, 0.0)),
    )
    return _named(items, names)


def tie_picture(plan: Plan, angle: float, units: Units) -> Block:
    """The gate at an angle with the distance from pin to pin along the actuator."""
    marks = plan.at(angle, plan.leaf.mount.leaf_pivot[0] + BEYOND)
    scale = _fit(marks, WIDE, 72.0)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [m.placed(place) for m in marks]
    a, b = (place.point(p) for p in plan.pins(angle))
    apart = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
    turn = heading(a, b)
    first, second = (a, b) if -90.0 < turn <= 90.0 else (b, a)
    turn = heading(first, second)
    off = _outside(first, second, 9.0)
    words = both(apart / scale, units)
    items += [*_axis(scale), Dimension(first, second, off, words, turn, SIZE)]
    return _named(items, (("hinge axis", (0.0, 0.0)), ("post pin", a), ("leaf pin", b)))


def _outside(a: Point, b: Point, off: float) -> Point:
    """A point beside the middle of a line, on the side away from the hinge axis."""
    mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = (dx * dx + dy * dy) ** 0.5
    nx, ny = -dy / length, dx / length
    if nx * mx + ny * my < 0:
        nx, ny = -nx, -ny
    return (mx + off * nx, my + off * ny)


def stop_picture(plan: Plan, angle: float, words: str) -> Block:
    """Closed and open over each other, and the angle between them."""
    reach = plan.leaf.mount.leaf_pivot[0] + BEYOND
    marks = plan.standing(("hanging post", "leaf"), reach)
    swung = [
        m.placed(Place(0.0, 0.0, angle=angle * plan.side)) for m in plan.standing(("leaf",), reach)
    ]
    scale = _fit([*marks, *swung], WIDE, 62.0)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [m.placed(place) for m in (*marks, *swung)]
    radius = 0.5 * reach * scale
    start = 0.0 if plan.side > 0 else 180.0
    sweep = angle * plan.side
    items += [*_axis(scale), arc((0.0, 0.0), radius, start, sweep)]
    middle = Place(0.0, 0.0, angle=start + sweep / 2).point((radius + 3.0, 0.0))
    anchor: Anchor = "left" if plan.side > 0 else "right"
    items.append(Text((middle[0], middle[1] - 0.8), words, 3.0, anchor, bold=True))
    return _named(items, (("hinge axis", (0.0, 0.0)),))


def height_picture(seen: Sequence[Mark], height: float, units: Units) -> Block:
    """The gate from the actuator's side with the level line of the pins."""
    scale = _fit(seen, WIDE, HIGH)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [m.placed(place) for m in seen]
    left, _, right, _ = together(i.box for i in items)
    level = height * scale
    items += [
        line((left - 3.0, 0.0), (right + 3.0, 0.0), "thick"),
        line((left - 3.0, level), (right + 3.0, level), "centre"),
        fitted((left, 0.0), (left, level), (left - 6.0, 0.0), both(height, units), 90.0),
    ]
    return Block(tuple(items))


def mount_picture(plan: Plan, units: Units) -> Block:
    """Post and post bracket from above, the gate closed, and where the pin is from the axis."""
    px, py = plan.pins(0.0)[0]
    posts = plan.standing(("hanging post",))
    post = together(m.box for m in posts)
    left, right = min(post[0], px, 0.0) - 60.0, max(post[2], px, 0.0) + 60.0
    window: Box = (left, post[1] - 20.0, right, max(post[3], py) + 60.0)
    marks = within(plan.at(0.0, plan.leaf.mount.leaf_pivot[0]), window)
    scale = _fit(marks, 74.0, 62.0)
    place = Place(0.0, 0.0, scale)
    items: list[Item] = [*(m.placed(place) for m in marks), *_axis(scale)]
    left, bottom, right, _top = together(i.box for i in items)
    pin = (px * scale, py * scale)
    outward: Literal[-1, 1] = 1 if px > 0 else -1
    out = left - 6.0 if plan.side < 0 else right + 6.0
    items += [
        fitted((0.0, 0.0), pin, (0.0, bottom - 6.0), both(abs(px), units), 0.0, outward),
        fitted((0.0, 0.0), pin, (out, 0.0), both(py, units), 90.0),
    ]
    names = (
        ("hinge axis", (0.0, 0.0)),
        ("pin", pin),
        ("post", _middle(posts, scale)),
    )
    return _named(items, names)
