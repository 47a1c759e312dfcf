"""Where things go on a sheet, reckoned with boxes: tables, labels, and what overlaps.

Everything that is placed automatically is held against everything else here, so that a test can
ask any sheet for its overlaps and for what runs off it. Frame: mm on the sheet.
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import ceil

import numpy as np

from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.ink import Circle, Place, Stroke, Text, together
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box, Point


def meet(a: Box, b: Box, slack: float = 0.0) -> bool:
    """Whether two boxes share more than `slack` mm in both directions."""
    return min(a[2], b[2]) - max(a[0], b[0]) > slack and min(a[3], b[3]) - max(a[1], b[1]) > slack


def grown(box: Box, by: float) -> Box:
    """The box, larger on every side."""
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def inside(inner: Box, outer: Box, slack: float = 1e-6) -> bool:
    """Whether one box lies in the other."""
    return (
        inner[0] >= outer[0] - slack
        and inner[1] >= outer[1] - slack
        and inner[2] <= outer[2] + slack
        and inner[3] <= outer[3] + slack
    )


@lru_cache(maxsize=5000)  # every label that looks for a place asks again
def ink(item: Item) -> tuple[tuple[Point, Point], ...]:
    """The lines of an item as short straight pieces."""
    if isinstance(item, Dimension):
        return tuple(piece for part in item.drawn for piece in ink(part))
    if isinstance(item, Circle):
        r, (x, y) = item.diameter / 2, item.centre
        from math import cos, pi, sin

        ring = [(x + r * cos(k * pi / 12), y + r * sin(k * pi / 12)) for k in range(25)]
        return tuple(itertools.pairwise(ring))
    if not isinstance(item, Stroke):
        return ()
    pieces: list[tuple[Point, Point]] = []
    for edge in item.edges:
        count = max(2, ceil(abs(edge.sweep) / 0.26)) if edge.bulge else 1
        points = [edge.at(k / count) for k in range(count + 1)]
        pieces += itertools.pairwise(points)
    return tuple(pieces)


class Lines:
    """Straight pieces that are asked over and over what of them passes through a box."""

    def __init__(self, pieces: Sequence[tuple[Point, Point]]) -> None:
        """Reckon the box of each once."""
        self._pieces = pieces
        ends = np.array(pieces, dtype=np.float64).reshape(-1, 2, 2)
        self._low, self._high = ends.min(axis=1), ends.max(axis=1)

    def across(self, box: Box) -> list[tuple[Point, Point]]:
        """Those that pass through it."""
        near = (self._low <= box[2:]).all(axis=1) & (self._high >= box[:2]).all(axis=1)
        return [p for p in (self._pieces[k] for k in near.nonzero()[0]) if crosses(p, box)]


def crosses(piece: tuple[Point, Point], box: Box) -> bool:
    """Whether a straight piece passes through a box."""
    (x0, y0), (x1, y1) = piece
    low, high = 0.0, 1.0
    for start, way, least, most in ((x0, x1 - x0, box[0], box[2]), (y0, y1 - y0, box[1], box[3])):
        if abs(way) < 1e-12:
            if not least < start < most:
                return False
            continue
        a, b = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, a), min(high, b)
        if low >= high:
            return False
    return True


def lettering(items: Iterable[Item]) -> list[Text]:
    """Every text, those of dimensions too."""
    found: list[Text] = []
    for item in items:
        if isinstance(item, Text):
            found.append(item)
        elif isinstance(item, Dimension):
            found.append(item.label)
    return found


def overlaps(items: Sequence[Item], slack: float = 0.05) -> list[str]:
    """In words, every text that meets another text, a symbol, or a line."""
    texts = lettering(items)
    boxes = [t.box for t in texts]
    found = [
        f'"{texts[i].text}" meets "{texts[j].text}"'
        for i in range(len(texts))
        for j in range(i + 1, len(texts))
        if meet(boxes[i], boxes[j], slack)
    ]
    lines = Lines([p for item in items for p in ink(item)])
    symbols = [item.box for item in items if isinstance(item, Modules)]
    for text, box in zip(texts, boxes, strict=True):
        if _crossed(text, lines, slack):
            found.append(f'"{text.text}" is crossed by a line')
        if any(meet(box, symbol, slack) for symbol in symbols):
            found.append(f'"{text.text}" meets the symbol')
    return found


def overlaps_with(added: Sequence[Item], taken: Sequence[Item]) -> bool:
    """Whether something new meets what is there: text and text, text and line, either way."""
    new, old = lettering(added), lettering(taken)
    boxes = [t.box for t in old]
    there, here = (Lines([p for i in items for p in ink(i)]) for items in (taken, added))
    return any(
        _crossed(t, there, 0.05) or any(meet(grown(t.box, 0.2), b) for b in boxes) for t in new
    ) or any(_crossed(t, here, 0.05) for t in old)


def _crossed(text: Text, lines: Lines, slack: float) -> bool:
    """Whether a line passes through a text, reckoned square to the text's own way."""
    level = replace(text, at=(0.0, 0.0), angle=0.0)
    core, around = grown(level.box, -slack), text.box
    back = Place(0.0, 0.0, angle=-text.angle)
    x, y = text.at
    for (ax, ay), (bx, by) in lines.across(around):
        there = (back.point((ax - x, ay - y)), back.point((bx - x, by - y)))
        if crosses(there, core):
            return True
    return False


def moved(text: Text, by: Point) -> Text:
    """The text shifted."""
    return replace(text, at=(text.at[0] + by[0], text.at[1] + by[1]))


def shifted(box: Box, by: Point) -> Box:
    """The box elsewhere."""
    return (box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1])


def free_place(
    label: Sequence[Text], spots: Sequence[Point], taken: Sequence[Item], field: Box
) -> tuple[Text, ...]:
    """The label (set around the origin) at the first spot where it meets nothing, or the best."""
    cover = together(t.box for t in label)
    spot = spots[_freest((shifted(cover, spot) for spot in spots), taken, field)]
    return tuple(moved(t, spot) for t in label)


def first_free(
    labels: Iterable[tuple[Text, ...]], taken: Sequence[Item], field: Box
) -> tuple[Text, ...]:
    """The first of some places of a label where it meets nothing, or the best of them."""
    tried: list[tuple[Text, ...]] = []

    def covers() -> Iterator[Box]:
        for there in labels:
            tried.append(there)
            yield together(t.box for t in there)

    return tried[_freest(covers(), taken, field)]


def _freest(covers: Iterable[Box], taken: Sequence[Item], field: Box) -> int:
    """Number of the first box that meets nothing, or of the one that meets least."""
    lines = Lines([p for item in taken for p in ink(item)])
    boxes = [t.box for t in lettering(taken)]
    faults = []
    for number, box in enumerate(covers):
        cover = grown(box, 0.3)
        met = len(lines.across(cover)) + sum(meet(cover, b) for b in boxes)
        met += 0 if inside(cover, field) else 50
        if not met:
            return number
        faults.append(met)
    return faults.index(min(faults))
