"""Pictures of this job's own gate: from above at any angle of the leaf, and from the actuator side.

What stands there already is told by its simple bodies; our parts by the outline their solids
show. Frames: the plan picture has the plan frame's x and y, mirrored for a left-hand leaf; the
elevation has the viewer's right and z, the hinge axis at 0. True mm; strokes only.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, pi, sin

from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.writers.ink import Circle, Place, Stroke, frame, path
from hangpost.generators.writers.layout import inside
from hangpost.generators.writers.tiles import clipped
from hangpost.generators.writers.views import Eye, Look, Sight
from hangpost.parts.bodies import Arch, Bar, Block, Body, Prism, Shape
from hangpost.parts.frame import Frame, Vector
from hangpost.parts.loop import Box, Point
from hangpost.parts.part import Part

Mark = Stroke | Circle
ABOVE = Eye(look=(0.0, 0.0, 1.0), right=(1.0, 0.0, 0.0))
ACTUATOR_SIDE = Eye(look=(0.0, 1.0, 0.0), right=(-1.0, 0.0, 0.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A leaf with its hardware from above; parts were looked at once, with the gate closed."""

    leaf: LeafDesign
    parts: tuple[tuple[str, tuple[Stroke, ...]], ...]  # what it rides, and its lines when closed

    @classmethod
    def of(cls, leaf: LeafDesign, look: Look) -> "Plan":
        """Look at every part from above."""
        return cls(leaf=leaf, parts=tuple(_seen(leaf, look, ABOVE)))

    @property
    def side(self) -> float:
        """1 for the right hand, -1 for the left: the sign of x."""
        return 1.0 if self.leaf.hand == "right" else -1.0

    def at(self, angle: float, reach: float) -> tuple[Mark, ...]:
        """Everything when the leaf stands at `angle`; the leaf is cut off `reach` from its axis."""
        turned = Place(0.0, 0.0, angle=angle * self.side)
        found: list[Mark] = []
        for placed in self.leaf.placed:
            if isinstance(placed.item, Part):
                continue
            if placed.rides == "leaf":
                found += [m.placed(turned) for m in self.standing((placed.name,), reach)]
            elif placed.rides == "ground":
                found += self.standing((placed.name,), reach)
            else:
                found += self._body(placed, angle)
        for rides, strokes in self.parts:
            near = self._near(strokes, reach)
            found += [s.placed(turned) if rides == "leaf" else s for s in near]
        return tuple(found)

    def _near(self, marks: Iterable[Mark], reach: float) -> list[Mark]:
        """What of them lies no farther than `reach` along the closed leaf."""
        low, high = sorted((-1e5 * self.side, reach * self.side))
        return within(marks, (low, -1e5, high, 1e5))

    def standing(self, names: Sequence[str], reach: float = 1e5) -> tuple[Mark, ...]:
        """The named bodies with the gate closed, cut off `reach` from the hinge axis."""
        bodies = [p for p in self.leaf.placed if p.name in names]
        return tuple(self._near((m for b in bodies for m in self._body(b, 0.0)), reach))

    def pins(self, angle: float) -> tuple[Point, Point]:
        """Post pivot and leaf pivot when the leaf stands at `angle`."""
        px, py = self.leaf.mount.post_pivot
        turned = Place(0.0, 0.0, angle=angle)
        gx, gy = turned.point(self.leaf.mount.leaf_pivot)
        return (px * self.side, py), (gx * self.side, gy)

    def _body(self, placed: Placed, angle: float) -> list[Mark]:
        item = placed.for_hand(self.leaf.hand).item
        assert isinstance(item, Body)
        place = replace(self.leaf, shift=0.0).standing(placed, angle)
        return _unique(_from_above(shape, place) for shape in item.shapes)


def elevation(leaf: LeafDesign, look: Look) -> tuple[Mark, ...]:
    """The closed gate as one stands on the actuator's side: right is the viewer's right."""
    found: list[Mark] = []
    for placed in leaf.placed:
        item = placed.for_hand(leaf.hand).item
        if isinstance(item, Body):
            place = replace(leaf, shift=0.0).standing(placed, 0.0)
            found += _unique(_from_side(shape, place) for shape in item.shapes)
    for _, strokes in _seen(leaf, look, ACTUATOR_SIDE):
        found += strokes
    return tuple(found)


def sights(leaf: LeafDesign, eye: Eye) -> Iterator[tuple[str, Sight]]:
    """Every part of the closed gate as it is looked at, and what it rides."""
    for placed in leaf.placed:
        part = placed.for_hand(leaf.hand).item
        if isinstance(part, Part):
            place = replace(leaf, shift=0.0).standing(placed, 0.0)
            yield placed.rides, Sight(part=part, eye=eye, place=place, smooth=False, hidden=False)


def _seen(leaf: LeafDesign, look: Look, eye: Eye) -> Iterator[tuple[str, tuple[Stroke, ...]]]:
    return ((rides, look(sight).visible) for rides, sight in sights(leaf, eye))


def _from_above(shape: Shape, place: Frame) -> Mark:
    """The outline of a body from above; bodies only ever turn about the upright."""
    if isinstance(shape, Block):
        (x0, y0, _), (x1, y1, _) = shape.least, shape.greatest
        corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        return _polygon([place.point((x, y, 0.0)) for x, y in corners])
    if isinstance(shape, Prism):
        if abs(place.w[2]) < 0.9:
            left, bottom, right, top = shape.outline.bounds
            corners3 = [
                place.point((u, v, w))
                for u in (left, right)
                for v in (bottom, top)
                for w in (shape.low, shape.high)
            ]
            xs, ys = [c[0] for c in corners3], [c[1] for c in corners3]
            return frame((min(xs), min(ys), max(xs), max(ys)))
        vertices = [place.point((v.x, v.y, 0.0)) for v in shape.outline.vertices]
        return _polygon(vertices)
    if isinstance(shape, Arch):
        return path((p[0], p[1]) for p in _arch(shape, place))
    return _bar(place.point(shape.start), place.direction(shape.axis), shape, 2)


def _from_side(shape: Shape, place: Frame) -> Mark:
    """The outline of a body from the actuator's side."""
    if isinstance(shape, Bar):
        return _bar(place.point(shape.start), place.direction(shape.axis), shape, 1)
    if isinstance(shape, Arch):
        return path((-p[0], p[2]) for p in _arch(shape, place))
    if isinstance(shape, Block):
        lows, highs = shape.least, shape.greatest
    else:
        left, bottom, right, top = shape.outline.bounds
        lows, highs = (left, bottom, shape.low), (right, top, shape.high)
    corners = [
        place.point((x, y, z))
        for x in (lows[0], highs[0])
        for y in (lows[1], highs[1])
        for z in (lows[2], highs[2])
    ]
    xs, zs = [-c[0] for c in corners], [c[2] for c in corners]
    return frame((min(xs), min(zs), max(xs), max(zs)))


def _arch(arch: Arch, place: Frame) -> list[Vector]:
    """The middle line of a bent bar."""
    found = []
    for k in range(13):
        a, b = cos(pi * k / 12) * arch.radius, sin(pi * k / 12) * arch.radius
        (cx, cy, cz), (sx, sy, sz), (ux, uy, uz) = arch.centre, arch.side, arch.crown
        local = (cx + a * sx + b * ux, cy + a * sy + b * uy, cz + a * sz + b * uz)
        found.append(place.point(local))
    return found


def _bar(start: Vector, axis: Vector, bar: Bar, along: int) -> Mark:
    """A bar looked at along the y (1) or z (2) axis: a circle from its end, else a band."""
    if along == 2:
        origin, way = (start[0], start[1]), (axis[0], axis[1])
    else:
        origin, way = (-start[0], start[2]), (-axis[0], axis[2])
    if abs(axis[along]) > 0.99:
        return Circle(origin, 2 * bar.radius)
    (x, y), (dx, dy), r = origin, way, bar.radius
    end = (x + dx * bar.length, y + dy * bar.length)
    off = (-dy * r, dx * r)
    return path(
        (
            (x + off[0], y + off[1]),
            (end[0] + off[0], end[1] + off[1]),
            (end[0] - off[0], end[1] - off[1]),
            (x - off[0], y - off[1]),
        ),
        closed=True,
    )


def _polygon(points: Iterable[Vector]) -> Stroke:
    return path(((p[0], p[1]) for p in points), closed=True)


def _unique(marks: Iterable[Mark]) -> list[Mark]:
    """Each outline once: rails above one another are one line from above."""
    found: dict[tuple[float, ...], Mark] = {}
    for mark in marks:
        found.setdefault(tuple(round(c, 3) for c in mark.box), mark)
    return list(found.values())


def within(marks: Iterable[Mark], window: Box) -> list[Mark]:
    """What of some marks lies in a window: lines are cut at its edge, circles left out."""
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            found += clipped(mark, window)
        elif inside(mark.box, window):
            found.append(mark)
    return found
