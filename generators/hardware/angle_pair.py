"""The pair of angles on whatever the post offers: seats above and below, ears inside, one pin.

What differs from post to post (how far off its face the seats lie, which fasteners, in which
columns, how far apart the rows) is a `Seating`; the rest is the same pair everywhere.
Frame of the seat: u = 0 on the datum line, pin height at v = 0. Units: mm.
"""

from dataclasses import dataclass, replace
from math import ceil

from hangpost.generators.hardware.design import Bought, Placed
from hangpost.generators.hardware.ear_room import widest_root
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.picks import slot_travel
from hangpost.generators.hardware.pins import gap_for, pin, pin_list
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.stock import Plate
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.post_bracket import PostAngle, SlotSpec


def slot_for(fastener: Fastener, shop: Shop) -> SlotSpec:
    """The slot of a seat for a fastener: as long as its own washer covers at both ends."""
    hole = shop.bolt_hole(fastener.size)
    land = max(fastener.head.washer_diameter / 2 + 1.0, 1.5 * fastener.diameter)
    return SlotSpec(diameter=hole, travel=slot_travel(fastener, hole), land=land)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seating:
    """How the seats lie on a post and what holds them there."""

    datum_x: float  # x of the line u = 0
    off: float  # from the post's nearest line to the seats
    fastener: Fastener
    slot: SlotSpec
    columns: tuple[float, ...]  # u
    pitch: float  # least distance of the rows
    rows: int  # in each angle


@dataclass(frozen=True, slots=True, kw_only=True)
class AnglePair:
    """The two angles with their fasteners and the pin between them."""

    angles: tuple[PostAngle, PostAngle]
    gap: float
    fixing: Fixing
    pin: Placed

    @property
    def placed(self) -> tuple[Placed, ...]:
        """Both angles, the fasteners, the pin."""
        pair = (
            Placed(name=a.id, item=a, frame=self.fixing.seat, rides="ground") for a in self.angles
        )
        return (*pair, self.fixing.body(), self.pin)

    def tools(self, shop: Shop) -> tuple[Placed, ...]:
        """The room for a socket on every fastener."""
        return self.fixing.sockets(shop, self.angles[0].reach)

    def bought(self, hung: HungLeaf, shop: Shop) -> tuple[Bought, ...]:
        """Fasteners, washers and the pin."""
        pins = pin_list(hung.actuator.post_eye, self.gap, self.angles[0].thickness, shop)
        return (*self.fixing.bought(shop), *pins)


def angle_pair(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, plate: Plate, seating: Seating
) -> AnglePair:
    """The pair that carries the post pivot of `mount` on this seating."""
    thickness, radius = float(plate.thickness), float(plate.radius)
    eye, slot, datum = hung.actuator.post_eye, seating.slot, seating.datum_x
    gap = float(gap_for(eye, shop))

    covered = (seating.columns[0] - slot.half, seating.columns[-1] + slot.half)
    narrowest = (datum - mount.root[1], datum - mount.root[0])
    seat = (min(covered[0], narrowest[0]), max(covered[1], narrowest[1]))
    widest = (datum - seat[1], datum - seat[0])
    root = widest_root(problem, mount, widest, seating.off + thickness + radius)

    upper = PostAngle(
        id="post-bracket-upper",
        place="upper",
        plate_thickness=thickness,
        bend_radius=radius,
        k_factor=plate.k_factor,
        gap=gap,
        pin=shop.pin_hole(eye.pin),
        pin_u=datum - mount.post_pivot[0],
        reach=mount.reach - seating.off,
        tip=problem.brackets.ear_tip,
        root=(datum - root[1], datum - root[0]),
        seat=seat,
        columns=seating.columns,
        rows=_rows(shop, plate, gap, seating),
        slot=slot,
        corner=max(float(shop.cutting.corner_radius), thickness),
    )
    lower = replace(upper, id="post-bracket-lower", place="lower")
    holes = [(f"U{h.name}", h) for h in upper.drawn().holes]
    holes += [(f"L{h.name}", h) for h in lower.drawn().holes]
    origin = (datum, mount.post_face + seating.off, mount.height)
    fixing = Fixing(
        name="post",
        fastener=seating.fastener,
        holes=holes,
        plate=thickness,
        seat=Frame(origin, (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        rides="ground",
    )
    at_pin = (*mount.post_pivot, mount.height)
    held = pin("post pin", eye, gap, thickness, at_pin, "ground")
    return AnglePair(angles=(upper, lower), gap=gap, fixing=fixing, pin=held)


def _rows(shop: Shop, plate: Plate, gap: float, seating: Seating) -> tuple[float, ...]:
    """Rows above the pin: clear of the bend, room for a socket over the ear, then the pitch."""
    thickness, fastener = plate.thickness, seating.fastener
    over_ear = gap / 2 + thickness + fastener.socket_radius + shop.clearances.tool
    bend = gap / 2 + thickness + plate.radius
    off_bend = bend + shop.bending.hole_factor * thickness + seating.slot.diameter / 2
    first = max(over_ear, off_bend, bend + seating.slot.land)
    pitch = max(seating.pitch, fastener.head.washer_diameter + 2.0)
    return tuple(float(ceil(first + pitch * i)) for i in range(seating.rows))
