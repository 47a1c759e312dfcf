"""The flat pattern on a drawing: outline, holes, bend lines, and ordinates from one corner.

Every level is told from the datum, the lower left corner of the blank, as a number at the end of
its own line; numbers that would touch are spread and joined by a kinked line. Frame: mm on the
paper, the datum at (0, 0).
"""

from collections.abc import Sequence
from typing import Final

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.ink import Circle, Place, Text, line, outline, path
from hangpost.generators.writers.layout import free_place
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.shop_words import length_words
from hangpost.parts.flat import Bend, FlatPattern, Hole

SIZE: Final = 2.2
SPREAD: Final = 3.4  # least distance of two ordinates' lettering


def flat_block(flat: FlatPattern, scale: float, units: Units) -> Block:
    """The blank (its corner at the origin) at a scale, with everything that is told of it."""
    place = Place(0.0, 0.0, scale)
    drawn: list[Item] = [outline(loop, "thick") for loop in (flat.outline, *flat.windows)]
    for hole in flat.holes:
        drawn += hole_items(hole)
    for bend in flat.bends:
        drawn.append(line(bend.start, bend.end, "phantom" if bend.up else "hidden"))
    items: list[Item] = [i.placed(place) for i in drawn]
    items += _levels(flat, scale, units)
    items += _overall(flat, scale, units)
    for k, bend in enumerate(flat.bends, 1):
        items += _bend_label(bend, k, scale, items)
    for hole in flat.holes:
        items += _hole_label(hole, scale, items)
    return Block(tuple(items))


def hole_items(hole: Hole) -> tuple[Item, ...]:
    """A hole and its centre lines, in the frame it is declared in."""
    arm = hole.diameter / 2 + hole.slot_length / 2 + 0.2 * hole.diameter
    across = hole.diameter * 0.7
    cross = (
        line((hole.u - arm, hole.v), (hole.u + arm, hole.v), "hair"),
        line((hole.u, hole.v - across), (hole.u, hole.v + across), "hair"),
    )
    if not hole.slot_length:
        return (Circle((hole.u, hole.v), hole.diameter, "thick"), *cross)
    turned = Place(hole.u, hole.v, angle=hole.slot_angle)
    cross = (
        line((-arm, 0.0), (arm, 0.0), "hair").placed(turned),
        line((0.0, -across), (0.0, across), "hair").placed(turned),
    )
    return (outline(hole.loop, "thick"), *cross)


def _levels(flat: FlatPattern, scale: float, units: Units) -> list[Item]:
    """Ordinates of the blank's edges and its bend lines, up the left and along the bottom."""
    ups = {0.0, flat.width} | {b.start[1] for b in flat.bends if _level(b)}
    acrosses = {0.0, flat.length} | {b.start[0] for b in flat.bends if _upright(b)}
    found: list[Item] = []
    for at, level in spread(sorted(ups), scale):
        y = level * scale
        found.append(path(((-1.0, y), (-3.0, y), (-6.0, at), (-8.0, at)), "thin"))
        words = length_words(level, units)
        found.append(Text((-8.6, at - 0.36 * SIZE), words, SIZE, "right"))
    for at, level in spread(sorted(acrosses), scale):
        x = level * scale
        found.append(path(((x, -1.0), (x, -3.0), (at, -6.0), (at, -8.0)), "thin"))
        words = length_words(level, units)
        found.append(Text((at + 0.36 * SIZE, -8.6), words, SIZE, "right", angle=90.0))
    found.append(Circle((0.0, 0.0), 1.4, "thin", filled=True))
    found.append(Text((2.0, -4.0), "datum", SIZE))
    return found


def spread(
    levels: Sequence[float], scale: float, least: float = SPREAD
) -> list[tuple[float, float]]:
    """Where on the paper each level's number stands, and the level: never nearer than SPREAD."""
    found: list[tuple[float, float]] = []
    for level in levels:
        at = level * scale
        if found:
            at = max(at, found[-1][0] + SPREAD)
        found.append((at, level))
    return found


def _overall(flat: FlatPattern, scale: float, units: Units) -> list[Item]:
    """Overall length above and overall width at the right."""
    wide, high = flat.length * scale, flat.width * scale
    across, up = length_words(flat.length, units), length_words(flat.width, units)
    return [
        Dimension((0.0, high), (wide, high), (0.0, high + 6.0), across, 0.0, SIZE),
        Dimension((wide, 0.0), (wide, high), (wide + 7.0, 0.0), up, 90.0, SIZE),
    ]


def _bend_label(bend: Bend, number: int, scale: float, taken: Sequence[Item]) -> Sequence[Text]:
    way = "UP" if bend.up else "DOWN"
    text = Text((0.0, 0.0), f"B{number} {way} {plain(bend.angle)}°", SIZE, "centre")
    (ax, ay), (bx, by) = bend.start, bend.end
    x, y = (ax + bx) / 2 * scale, (ay + by) / 2 * scale
    if _upright(bend):
        text = Text((0.0, 0.0), text.text, SIZE, "centre", angle=90.0)
        spots = [(x - 0.8, y), (x + 2.6, y)]
    else:
        spots = [
            (x + dx, y + dy) for dy in (0.8, -2.6) for dx in (0.0, 4.0, -4.0, 8.0, -8.0, 12, -12)
        ]
    return free_place((text,), spots, taken, (-500.0, -500.0, 1000.0, 1000.0))


def _hole_label(hole: Hole, scale: float, taken: Sequence[Item]) -> Sequence[Text]:
    x, y = hole.u * scale, hole.v * scale
    r = (hole.diameter / 2 + hole.slot_length / 2) * scale + 0.8
    text = Text((0.0, 0.0), hole.name, 2.6, bold=True)
    w = text.width
    up = hole.diameter / 2 * scale + 0.8
    spots = [(x + r * 0.75, y + up * 0.75), (x - r * 0.75 - w, y + up * 0.75)]
    spots += [(x + r * 0.75, y - up - 1.2), (x - r * 0.75 - w, y - up - 1.2)]
    spots += [(x + r + 1, y - 0.9), (x - r - w - 1, y - 0.9)]
    spots += [(x + 1.0, y + up + 1.2), (x + 1.0, y - up - 3.2)]
    return free_place((text,), spots, taken, (-500.0, -500.0, 1000.0, 1000.0))


def _level(bend: Bend) -> bool:
    return abs(bend.start[1] - bend.end[1]) < 1e-6


def _upright(bend: Bend) -> bool:
    return abs(bend.start[0] - bend.end[0]) < 1e-6


def corner_radii(flat: FlatPattern) -> str:
    """The radii of the outline in words, how many of each: "4X R6, 2X R3.18"."""
    counted: dict[str, int] = {}
    for edge in flat.outline.edges:
        if edge.bulge:
            name = f"R{plain(edge.radius + 1e-7)}"
            counted[name] = counted.get(name, 0) + 1
    return ", ".join(f"{count}X {name}" for name, count in counted.items())
