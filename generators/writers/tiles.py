"""When a face is larger than the paper: windows that overlap, seams that keep off the holes.

Each window shows its part of the face at full size, 10 mm past every seam, so that two sheets
overlap by 20 mm. The registration marks of a seam are drawn on both. Frame: mm in the face.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, pi
from typing import Final

from hangpost.generators.writers.face import Face, Note
from hangpost.generators.writers.ink import Circle, Stroke, Text, line
from hangpost.generators.writers.layout import free_place, grown, inside, overlaps_with, shifted
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box, Edge, Point, Vertex

PAST: Final = 10.0  # how far a window shows past a seam; the overlap is twice that
CLEAR: Final = 10.0  # least distance of a hole's centre from a seam
_STEP: Final = 0.5


class DoesNotFitError(ValueError):
    """The holes stand too close together for any seam on this paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """One sheet's part of a face: column and row of the map, and what it shows."""

    column: int
    row: int  # from the top
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """How a face is cut: seams across u and v, the windows row by row from the top."""

    seams_u: tuple[float, ...]
    seams_v: tuple[float, ...]
    windows: tuple[Window, ...]
    extent: Box

    @property
    def columns(self) -> int:
        """Sheets side by side."""
        return len(self.seams_u) + 1

    @property
    def rows(self) -> int:
        """Sheets above one another."""
        return len(self.seams_v) + 1

    def registration(self) -> tuple[tuple[str, Point], ...]:
        """Two marks for every seam between two neighbouring sheets, named."""
        left, bottom, right, top = self.extent
        us, vs = (left, *self.seams_u, right), (bottom, *self.seams_v, top)
        spots = [
            (u, low + share * (high - low))
            for u in self.seams_u
            for low, high in itertools.pairwise(vs)
            for share in (0.2, 0.8)
        ]
        spots += [
            (low + share * (high - low), v)
            for v in self.seams_v
            for low, high in itertools.pairwise(us)
            for share in (0.2, 0.8)
        ]
        return tuple((f"R{k}", spot) for k, spot in enumerate(spots, 1))


def tiling(face: Face, wide: float, high: float) -> Tiling:
    """The face cut for sheets that show `wide` x `high` mm of it; one window when it fits.

    One sheet that shows every hole is worth more than the whole outline of the part on two.
    """
    left, bottom, right, top = _needed(face, wide, high)
    keep = [(m.at, max(CLEAR, m.arm + 1.0)) for m in face.marks]
    us = _seams(left, right, wide, [(p[0], c) for p, c in keep], _levels(face, 0))
    vs = _seams(bottom, top, high, [(p[1], c) for p, c in keep], _levels(face, 1))
    spans_u, spans_v = _spans(left, us, right), _spans(bottom, vs, top)
    windows = tuple(
        Window(column=i, row=j, box=(u0, v0, u1, v1))
        for j, (v0, v1) in enumerate(reversed(spans_v))
        for i, (u0, u1) in enumerate(spans_u)
    )
    return Tiling(seams_u=us, seams_v=vs, windows=windows, extent=(left, bottom, right, top))


def _needed(face: Face, wide: float, high: float) -> Box:
    """The whole drawing; or only holes and datum, where that saves a second sheet."""
    (left, bottom, right, top), least = face.extent, face.least
    if right - left > wide >= least[2] - least[0]:
        middle = min(max((least[0] + least[2]) / 2, left + wide / 2), right - wide / 2)
        left, right = middle - wide / 2, middle + wide / 2
    if top - bottom > high >= least[3] - least[1]:
        middle = min(max((least[1] + least[3]) / 2, bottom + high / 2), top - high / 2)
        bottom, top = middle - high / 2, middle + high / 2
    return (left, bottom, right, top)


def _levels(face: Face, axis: int) -> list[tuple[float, float]]:
    """Where the long straight lines of a face lie: a seam on top of one could not be seen."""
    found = []
    for stroke in face.lines:
        a, b = stroke.vertices[0].point, stroke.vertices[1].point
        if not stroke.closed and abs(a[axis] - b[axis]) < 1e-9:
            found.append((a[axis], 8.0))
    return found


def _seams(
    low: float,
    high: float,
    room: float,
    holes: Sequence[tuple[float, float]],
    levels: Sequence[tuple[float, float]],
) -> tuple[float, ...]:
    """Seams off the holes and, if that needs no more of them, off the long lines too."""
    plain = seams(low, high, room, holes)
    try:
        clean = seams(low, high, room, [*holes, *levels])
    except DoesNotFitError:
        return plain
    return clean if len(clean) == len(plain) else plain


def _spans(low: float, cuts: Sequence[float], high: float) -> list[tuple[float, float]]:
    starts = [low, *(c - PAST for c in cuts)]
    ends = [*(c + PAST for c in cuts), high]
    return list(zip(starts, ends, strict=True))


def seams(
    low: float, high: float, room: float, keep: Sequence[tuple[float, float]]
) -> tuple[float, ...]:
    """Fewest seams between low and high so that no sheet shows more than `room`.

    `keep` lists (place, clearance) of what no seam may come near. Raises DoesNotFitError.
    """
    if high - low <= room:
        return ()
    for count in range(1, 40):
        found = _spread(low, high, room, keep, count)
        if found is not None:
            return found
    raise DoesNotFitError(
        f"no place for a seam: {high - low:.0f} mm of holes on sheets that show {room:.0f} mm"
    )


def _spread(
    low: float, high: float, room: float, keep: Sequence[tuple[float, float]], count: int
) -> tuple[float, ...] | None:
    """That many seams, each as near to an even spread as it may be, or None."""
    inner, end = room - 2 * PAST, room - PAST  # what a middle and an outer sheet show of its own
    if inner <= 0:
        return None
    found: list[float] = []
    for k in range(1, count + 1):
        first = not found
        most = low + end if first else found[-1] + inner
        least = max(high - end - (count - k) * inner, low if first else found[-1])
        ideal = low + (high - low) * k / (count + 1)
        steps = range(ceil(least / _STEP), int(most // _STEP) + 1)
        free = [s * _STEP for s in steps if all(abs(s * _STEP - at) >= clear for at, clear in keep)]
        if not free:
            return None
        # the later a seam comes, the surer that the rest fits; the last one is free to be even
        found.append(_nearest(free, ideal) if k == count else _choose(free, ideal))
    return tuple(found)


def _nearest(free: Sequence[float], ideal: float) -> float:
    return min(free, key=lambda s: abs(s - ideal))


def _choose(free: Sequence[float], ideal: float) -> float:
    later = [s for s in free if s >= ideal]
    return later[0] if later else free[-1]


def seam_items(cut: Tiling, window: Window) -> tuple[Item, ...]:
    """Seam lines and registration marks that this window shows."""
    left, bottom, right, top = window.box
    found: list[Item] = [
        line((u, bottom), (u, top), "hidden") for u in cut.seams_u if left < u < right
    ]
    found += [line((left, v), (right, v), "hidden") for v in cut.seams_v if bottom < v < top]
    for _, (u, v) in cut.registration():
        if inside((u - 5, v - 5, u + 5, v + 5), window.box):
            found.append(Circle((u, v), 5.0, "thin"))
            found.append(line((u - 4.5, v - 4.5), (u + 4.5, v + 4.5), "hair"))
            found.append(line((u - 4.5, v + 4.5), (u + 4.5, v - 4.5), "hair"))
    return tuple(found)


def clipped(stroke: Stroke, box: Box) -> list[Stroke]:
    """What of a stroke lies in a box, arcs kept as arcs."""
    if inside(stroke.box, box):
        return [stroke]
    kept: list[Stroke] = []
    for edge in (e for e in stroke.edges if e.chord > 1e-9):
        shares = sorted({0.0, 1.0, *_cuts(edge, box)})
        for a, b in itertools.pairwise(shares):
            middle = edge.at((a + b) / 2)
            if b - a < 1e-9 or not inside((*middle, *middle), box, 1e-9):
                continue
            from math import tan

            bulge = tan(edge.sweep * (b - a) / 4) if edge.bulge else 0.0
            start, end = edge.at(a), edge.at(b)
            kept.append(Stroke((Vertex(*start, bulge), Vertex(*end)), stroke.pen))
    return kept


def _cuts(edge: Edge, box: Box) -> list[float]:
    """Shares of an edge at which it meets the lines of a box."""
    found = []
    for axis, levels in ((0, (box[0], box[2])), (1, (box[1], box[3]))):
        for level in levels:
            found += _meets(edge, axis, level)
    return [s for s in found if 0.0 < s < 1.0]


def _meets(edge: Edge, axis: int, level: float) -> list[float]:
    a, b = edge.start[axis], edge.end[axis]
    if not edge.bulge:
        return [(level - a) / (b - a)] if abs(b - a) > 1e-12 else []
    centre, r = edge.centre, edge.radius
    offset = (level - centre[axis]) / r
    if abs(offset) >= 1:
        return []
    other = (1 - offset**2) ** 0.5
    first = atan2(edge.start[1] - centre[1], edge.start[0] - centre[0])
    found = []
    for side in (other, -other):
        turn = atan2(side, offset) if axis == 0 else atan2(offset, side)
        way = (turn - first) % (2 * pi)
        if edge.sweep < 0:
            way -= 2 * pi
        found.append(way / edge.sweep)
    return found


def shown(face: Face, cut: Tiling, window: Window) -> tuple[tuple[Item, ...], tuple[Text, ...]]:
    """What a window shows of a face: lines, marks, seams; and the labels that found a place."""
    box = window.box
    lines: list[Item] = [part for stroke in face.lines for part in clipped(stroke, box)]
    marks = [m for m in face.marks if inside(m.cover, grown(box, 1e-6))]
    taken: list[Item] = [*lines, *(i for m in marks for i in m.items), *seam_items(cut, window)]
    labels: list[Text] = []
    for mark in marks:
        labels += mark.label([*taken, *labels], box, face.units)
    for name, (u, v) in cut.registration():
        if inside((u - 5, v - 5, u + 5, v + 5), box):
            corners = [(u + a, v + b) for a in (5.2, -9.2) for b in (1.4, -3.2, 3.4, -5.2)]
            labels += free_place((Text((0, 0), name, 2.1),), corners, [*taken, *labels], box)
    for note in face.notes:
        labels += _noted(note, [*taken, *labels], box)
    return tuple(taken), tuple(labels)


def _noted(note: Note, taken: Sequence[Item], box: Box) -> tuple[Text, ...]:
    """A note where it meets nothing; its short form where all of it would."""
    cover, room = note.text.box, grown(box, 0.1)
    spots = [s for s in note.spots if inside(shifted(cover, s), room)]
    if not spots:
        return ()
    whole = free_place((note.text,), spots, taken, grown(box, 0.5))
    if note.short is None or not overlaps_with(whole, taken):
        return whole
    return _noted(note.short, taken, box)
