"""The finished part from the front, above and the side, and from a corner, with its main sizes.

Third angle: the view from above stands above the front view, the right side to its right. First
angle: from above below it, the right side to its left (ISO 5456-2). Frame: mm on the paper, the
part's own origin at (0, 0) of the front view.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block, joined
from hangpost.generators.writers.dimension import fitted
from hangpost.generators.writers.flat_view import hole_label
from hangpost.generators.writers.ink import Circle, Place, Text
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.shop_words import length_words
from hangpost.generators.writers.views import CORNER, FRONT, RIGHT, TOP, Look, Sight, View
from hangpost.parts.frame import Vector
from hangpost.parts.loop import Point
from hangpost.parts.part import Bore, Part

Angle = Literal["first", "third"]
GAP: Final = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sights:
    """A part and its four views in true mm, so that a sheet can try several scales."""

    part: Part
    front: View
    top: View
    right: View
    corner: View

    @classmethod
    def of(cls, part: Part, look: Look) -> "Sights":
        """Look at the part from everywhere."""
        front, top, right, corner = (look(sight) for sight in sights(part))
        return cls(part=part, front=front, top=top, right=right, corner=corner)

    @property
    def pins(self) -> tuple[Bore, ...]:
        """The bores that take a pin."""
        return tuple(b for b in self.part.bores if b.hole.use == "pin")


def sights(part: Part) -> tuple[Sight, ...]:
    """The four ways in which a drawing looks at a part."""
    square = (Sight(part=part, eye=eye) for eye in (FRONT, TOP, RIGHT))
    return (*square, Sight(part=part, eye=CORNER, smooth=False, hidden=False))


def formed_block(sights: Sights, scale: float, units: Units, angle: Angle) -> Block:
    """The four views together, as the projection wants them."""
    front = _front(sights, scale, units)
    top = _top(sights, scale, units)
    right = _right(sights, scale, units)
    corner = _scaled(sights.corner, scale * 0.8)
    if angle == "third":  # in line with the front view: same u above it, same v beside it
        top = top.shifted(0.0, front.box[3] + GAP - top.box[1])
        right = right.shifted(front.box[2] + GAP - right.box[0], 0.0)
        corner = corner.at(front.box[2] + GAP, top.box[1] + 2.0)
    else:
        top = top.shifted(0.0, front.box[1] - GAP - top.box[3])
        right = right.shifted(front.box[0] - GAP - right.box[2], 0.0)
        corner = corner.at(right.box[0], top.box[3] - corner.height - 2.0)
        if corner.box[2] > top.box[0] - 4.0:
            corner = corner.shifted(top.box[0] - 4.0 - corner.box[2], 0.0)
    return joined((front, top, right, corner))


def _scaled(seen: View, scale: float) -> Block:
    place = Place(0.0, 0.0, scale)
    return Block(tuple(s.placed(place) for s in seen.strokes))


def _front(sights: Sights, scale: float, units: Units) -> Block:
    """At the marked face: overall width and height."""
    left, bottom, right, top = sights.front.box
    block = _scaled(sights.front, scale)
    items: list[Item] = [
        *block.items,
        fitted(
            (left * scale, bottom * scale),
            (right * scale, bottom * scale),
            (0.0, bottom * scale - 7.0),
            length_words(right - left, units),
        ),
        fitted(
            (left * scale, bottom * scale),
            (left * scale, top * scale),
            (left * scale - 7.0, 0.0),
            length_words(top - bottom, units),
            90.0,
        ),
    ]
    items += _pin_sizes(sights, scale, units, "front")
    if sights.part.flat_pattern() is None:  # no flat that shows where the hole table counts from
        items += _datum((left * scale, bottom * scale))
        for bore in (b for b in sights.part.bores if abs(b.axis[2]) > 0.999):
            at = replace(bore.hole, u=bore.origin[0], v=bore.origin[1])
            items += hole_label(at, scale, items)
    return Block(tuple(items))


def _datum(at: Point) -> tuple[Item, ...]:
    """The corner that the hole table counts from."""
    return (
        Circle(at, 1.4, "thin", filled=True),
        Text((at[0] - 1.6, at[1] - 3.2), "datum", 2.2, "right"),
    )


def _top(sights: Sights, scale: float, units: Units) -> Block:
    """From above: the seat's plane is the upper edge, the pins stand out downwards."""
    block = _scaled(sights.top, scale)
    return Block((*block.items, *_pin_sizes(sights, scale, units, "top")))


def _right(sights: Sights, scale: float, units: Units) -> Block:
    """From the right: overall depth from the seat's plane."""
    left, bottom, right, _ = sights.right.box
    block = _scaled(sights.right, scale)
    depth = fitted(
        (left * scale, bottom * scale),
        (right * scale, bottom * scale),
        (0.0, bottom * scale - 7.0),
        length_words(right - left, units),
    )
    return Block((*block.items, depth))


def _pin_sizes(
    sights: Sights, scale: float, units: Units, where: Literal["front", "top"]
) -> Sequence[Item]:
    """Pins that are seen as circles: from the left edge, and from the seat or the lower edge."""
    axis, to_paper = {"front": (2, _on_front), "top": (1, _on_top)}[where]
    seen = {"front": sights.front, "top": sights.top}[where]
    left, bottom, right, top = (c * scale for c in seen.box)
    spots = {
        (round(p[0], 4), round(p[1], 4))
        for b in sights.pins
        if abs(b.axis[axis]) > 0.999
        for p in [to_paper(b.origin)]
    }
    found: list[Item] = []
    datum = 0.0 if where == "top" else bottom
    for k, (x, y) in enumerate(sorted(spots)):
        px, py = x * scale, y * scale
        across, away = x - seen.box[0], abs(y - datum / scale)
        beyond = top + 7.0 + 6.0 * k
        found.append(
            fitted((left, top), (px, py), (0.0, beyond), length_words(across, units), 0.0, -1)
        )
        aside = right + 7.0 + 6.0 * k
        found.append(
            fitted((right, datum), (px, py), (aside, 0.0), length_words(away, units), 90.0)
        )
    return found


def _on_front(p: Vector) -> Point:
    return (p[0], p[1])


def _on_top(p: Vector) -> Point:
    return (p[0], -p[2])
