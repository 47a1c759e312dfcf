"""The flat pattern on a drawing: outline, holes, bend lines, and ordinates from one corner.

Every level is told from the datum, the lower left corner of the blank, as a number at the end of
its own line; numbers that would touch are spread and joined by a kinked line. Frame: mm on the
paper, the datum at (0, 0).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin
from typing import Final

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.dimension import fitted
from hangpost.generators.writers.ink import Circle, Place, Text, line, outline, path
from hangpost.generators.writers.layout import free_place, overlaps_with
from hangpost.generators.writers.lettering import Strokes
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.shop_words import length_words
from hangpost.parts.flat import Bend, FlatPattern, Hole

SIZE: Final = 2.2
EVERYWHERE: Final = (-500.0, -500.0, 1000.0, 1000.0)
SPREAD: Final = 3.4  # least distance of two ordinates' lettering
LEAST_STEP: Final = 2.0  # house: a shorter straight edge of the outline gets no ordinate


def flat_block(flat: FlatPattern, scale: float, units: Units, etched: Strokes = ()) -> Block:
    """The blank (its corner at the origin) at a scale, with everything that is told of it."""
    place = Place(0.0, 0.0, scale)
    drawn: list[Item] = [outline(loop, "thick") for loop in (flat.outline, *flat.windows)]
    for hole in flat.holes:
        drawn += hole_items(hole)
    drawn += [line(b.start, b.end, "phantom" if b.up else "hidden") for b in flat.bends]
    drawn += [path(stroke, "hair") for stroke in etched]
    items: list[Item] = [i.placed(place) for i in drawn]
    items += _levels(flat, scale, units)
    named = [_Bend(bend, k, scale) for k, bend in enumerate(flat.bends, 1)]
    beyond = 7.0 + max((b.room for b in named if b.outside and not b.upright), default=0.0)
    above = 6.0 + max((b.room for b in named if b.outside and b.upright), default=0.0)
    items += _overall(flat, scale, units, beyond, above)
    for bend in named:
        items += bend.label(items, flat)
    for hole in flat.holes:
        items += hole_label(hole, scale, items)
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
    """Ordinates of the outline's steps and corners and of the bend lines, left and below.

    The far edges have none: they are the overall dimensions, and no size is told twice.
    """
    ups = [0.0, *(b.start[1] for b in flat.bends if _level(b))]
    acrosses = [0.0, *(b.start[0] for b in flat.bends if _upright(b))]
    for edge in (e for e in flat.outline.edges if not e.bulge and e.chord > LEAST_STEP):
        (ax, ay), (bx, by) = edge.start, edge.end
        ups += [ay] if abs(ay - by) < 1e-6 else []
        acrosses += [ax] if abs(ax - bx) < 1e-6 else []
    for x, y in _corners(flat):
        ups.append(y)
        acrosses.append(x)
    found: list[Item] = []
    for at, level in spread(_apart(ups, flat.width), scale):
        y = level * scale
        found.append(path(((-1.0, y), (-3.0, y), (-6.0, at), (-8.0, at)), "thin"))
        words = length_words(level, units)
        found.append(Text((-8.6, at - 0.36 * SIZE), words, SIZE, "right"))
    for at, level in spread(_apart(acrosses, flat.length), scale):
        x = level * scale
        found.append(path(((x, -1.0), (x, -3.0), (at, -6.0), (at, -8.0)), "thin"))
        words = length_words(level, units)
        found.append(Text((at + 0.36 * SIZE, -8.6), words, SIZE, "right", angle=90.0))
    found.append(Circle((0.0, 0.0), 1.4, "thin", filled=True))
    word = Text((0.0, 0.0), "datum", SIZE)
    spots = [(2.0, -4.0), (-2.0 - word.width, -4.0), (-9.0 - word.width, -4.5), (2.0, 2.0)]
    found += free_place((word,), spots, found, EVERYWHERE)
    return found


def _corners(flat: FlatPattern) -> list[tuple[float, float]]:
    """Where two straight edges meet: a slant that no arc ends is laid out from these."""
    edges = flat.outline.edges
    return [
        after.start
        for before, after in zip((edges[-1], *edges[:-1]), edges, strict=True)
        if not before.bulge and not after.bulge
    ]


def _apart(levels: Sequence[float], overall: float) -> list[float]:
    """Levels in order, each once, short of the overall size."""
    found: list[float] = []
    for level in sorted(levels):
        if overall - level > 0.05 and (not found or level - found[-1] > 0.05):
            found.append(level)
    return found


def spread(levels: Sequence[float], scale: float) -> list[tuple[float, float]]:
    """Where on the paper each level's number stands, and the level: never nearer than SPREAD."""
    found: list[tuple[float, float]] = []
    for level in levels:
        at = level * scale
        if found:
            at = max(at, found[-1][0] + SPREAD)
        found.append((at, level))
    return found


def _overall(
    flat: FlatPattern, scale: float, units: Units, beyond: float, above: float
) -> list[Item]:
    """Overall length above and overall width at the right."""
    wide, high = flat.length * scale, flat.width * scale
    across, up = length_words(flat.length, units), length_words(flat.width, units)
    return [
        fitted((0.0, high), (wide, high), (0.0, high + above), across, 0.0, -1),
        fitted((wide, 0.0), (wide, high), (wide + beyond, 0.0), up, 90.0),
    ]


@dataclass(frozen=True, slots=True)
class _Bend:
    """A bend line and its name, which stands on it or, when it is too short, past its end."""

    bend: Bend
    number: int
    scale: float

    @property
    def upright(self) -> bool:
        return _upright(self.bend)

    @property
    def text(self) -> Text:
        way = "UP" if self.bend.up else "DOWN"
        words = f"B{self.number} {way} {plain(self.bend.angle)}°"
        return Text((0.0, 0.0), words, SIZE, "centre", angle=90.0 if self.upright else 0.0)

    @property
    def outside(self) -> bool:
        (ax, ay), (bx, by) = self.bend.start, self.bend.end
        return hypot(bx - ax, by - ay) * self.scale < self.text.width + 3.0

    @property
    def room(self) -> float:
        return self.text.width + 5.0

    def label(self, taken: Sequence[Item], flat: FlatPattern) -> Sequence[Item]:
        """The name, and a line to it from the end of the bend line when it stands outside."""
        (ax, ay), (bx, by) = self.bend.start, self.bend.end
        x, y = (ax + bx) / 2 * self.scale, (ay + by) / 2 * self.scale
        text = self.text
        free = (hypot(bx - ax, by - ay) * self.scale - text.width) / 2  # along its own line
        slide = [s for k in range(12) for s in (4.0 * k, -4.0 * k) if 4.0 * k <= max(free, 0.0)]
        if self.outside and self.upright:
            end = (x, max(ay, by) * self.scale)
            at = (x, flat.width * self.scale + 2.5)
            label = Text((x + 0.36 * SIZE, at[1] + 0.6), text.text, SIZE, angle=90.0)
            return (line(end, at, "hair"), label)
        if self.outside:
            end = (max(ax, bx) * self.scale, y)
            at = (flat.length * self.scale + 2.5, y)
            return (line(end, at, "hair"), Text((at[0] + 0.6, y - 0.36 * SIZE), text.text, SIZE))
        if self.upright:
            spots = [(x + dx, y + dy) for dx in (-0.8, 2.6) for dy in slide]
        else:
            spots = [(x + dx, y + dy) for dy in (0.8, -2.6) for dx in slide]
        return free_place((text,), spots, taken, EVERYWHERE)


def hole_label(hole: Hole, scale: float, taken: Sequence[Item]) -> Sequence[Item]:
    """The hole's name beside it or, where that is taken, farther off at the end of a line."""
    x, y = hole.u * scale, hole.v * scale
    r = (hole.diameter / 2 + hole.slot_length / 2) * scale + 0.8
    text = Text((0.0, 0.0), hole.name, 2.6, bold=True)
    w = text.width
    up = hole.diameter / 2 * scale + 0.8
    spots = [(x + r * 0.75, y + up * 0.75), (x - r * 0.75 - w, y + up * 0.75)]
    spots += [(x + r * 0.75, y - up - 1.2), (x - r * 0.75 - w, y - up - 1.2)]
    spots += [(x + r + 1, y - 0.9), (x - r - w - 1, y - 0.9)]
    spots += [(x + 1.0, y + up + 1.2), (x + 1.0, y - up - 3.2)]
    beside = free_place((text,), spots, taken, EVERYWHERE)
    if not overlaps_with(beside, taken):
        return beside
    for far in (6.0, 9.0, 13.0, 18.0, 24.0):
        for turn in range(15, 375, 15):
            end = (x + far * cos(radians(turn)), y + far * sin(radians(turn)))
            left = end[0] + 0.5 if cos(radians(turn)) > 0 else end[0] - w - 0.5
            label = replace(text, at=(left, end[1] - 0.9))
            leader = line((x, y), end, "hair")
            if not overlaps_with((label, leader), taken):
                return (leader, label)
    return beside


def _level(bend: Bend) -> bool:
    return abs(bend.start[1] - bend.end[1]) < 1e-6


def _upright(bend: Bend) -> bool:
    return abs(bend.start[0] - bend.end[0]) < 1e-6


def corner_radii(flat: FlatPattern, units: Units) -> str:
    """The radii of the outline in words, how many of each: "4X R6 [0.236], 2X R3.18 [0.125]"."""
    counted: dict[str, int] = {}
    for edge in flat.outline.edges:
        if edge.bulge:
            name = f"R{length_words(edge.radius, units)}"
            counted[name] = counted.get(name, 0) + 1
    return ", ".join(f"{count}X {name}" for name, count in counted.items())
