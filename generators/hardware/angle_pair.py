"""The pair of angles on whatever the post offers: seats above and below, ears inside.

What differs from post to post (how far off its face the seats lie, which fasteners, in which
columns, how far apart the rows) is a `Seating`; the rest is the same pair everywhere.
Frame of the seat: u = 0 on the datum line, pin height at v = 0. Units: mm.
"""

from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

from hangpost.generators.hardware.design import Bought, Placed
from hangpost.generators.hardware.ear_room import narrowest_root, widest_root
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.held import Held
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import PostAngle, SlotSpec


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
    span: tuple[float, float]  # least and greatest u that the host offers a seat
    covers: tuple[float, float] | None = None  # u that the seats cover at least
    slot_washer: PlateWasher | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AnglePair:
    """The two angles with their fasteners."""

    angles: tuple[PostAngle, PostAngle]
    fixing: Fixing

    @property
    def placed(self) -> tuple[Placed, ...]:
        """Both angles and the fasteners."""
        pair = (
            Placed(name=a.id, item=a, frame=self.fixing.seat, rides="ground") for a in self.angles
        )
        return (*pair, *self.fixing.washers(), self.fixing.body())

    def held(self, *, host: Literal["steel", "timber"], tension: float = 0.0) -> "AnglePair":
        """The same with its fasteners tightened so."""
        return replace(self, fixing=replace(self.fixing, host=host, tension=tension))

    def tools(self, shop: Shop) -> tuple[Placed, ...]:
        """The room for a socket on every fastener."""
        return self.fixing.sockets(shop, self.angles[0].reach)

    def bought(self, shop: Shop) -> tuple[Bought, ...]:
        """Fasteners and washers."""
        return self.fixing.bought(shop)


def angle_pair(
    shop: Shop, problem: Problem, mount: Mount, plate: Plate, seating: Seating, held: Held
) -> AnglePair:
    """The pair whose ears hold `held` on this seating."""
    thickness, radius = float(plate.thickness), float(plate.radius)
    slot, datum, face = seating.slot, seating.datum_x, mount.post_face + seating.off

    covered = (seating.columns[0] - slot.half, seating.columns[-1] + slot.half)
    narrowest = _narrowest(mount, seating, held)
    wide = seating.covers or covered
    seat = (min(covered[0], narrowest[0], wide[0]), max(covered[1], narrowest[1], wide[1]))
    widest = (datum - seat[1], datum - seat[0])
    rise = seating.off + thickness + radius
    root = widest_root(problem, mount, widest, lambda _: rise, held.tip) if held.is_pin else widest

    upper = PostAngle(
        id="post-bracket-upper",
        place="upper",
        plate_thickness=thickness,
        bend_radius=radius,
        k_factor=plate.k_factor,
        gap=held.gap,
        pin=held.hole,
        pin_u=datum - held.at[0],
        reach=held.at[1] - face,
        tip=held.tip,
        root=(datum - root[1], datum - root[0]),
        seat=seat,
        columns=seating.columns,
        rows=_rows(shop, plate, held, seating),
        slot=slot,
        round_rows=seating.rows - 1,
        joins=held.joins(datum, face),
        corner=max(float(shop.cutting.corner_radius), thickness),
    )
    lower = replace(upper, id="post-bracket-lower", place="lower")
    holes = [(f"U{h.name}", h) for h in upper.drawn().holes]
    holes += [(f"L{h.name}", h) for h in lower.drawn().holes]
    origin = (datum, face, mount.height)
    fixing = Fixing(
        name="post",
        fastener=seating.fastener,
        holes=holes,
        plate=thickness,
        seat=Frame(origin, (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        rides="ground",
        under=seating.off,
        slot_washer=seating.slot_washer,
    )
    return AnglePair(angles=(upper, lower), fixing=fixing)


def _narrowest(mount: Mount, seating: Seating, held: Held) -> tuple[float, float]:
    """Least and greatest u of seat that the ear's root needs."""
    datum = seating.datum_x
    if held.second is None:
        left, right = narrowest_root(mount, held.tip)
        return datum - right, datum - left
    us = [datum - held.at[0], datum - held.second[0]]
    low, high = seating.span
    return max(low, min(us) - held.tip), min(high, max(us) + held.tip)


def _rows(shop: Shop, plate: Plate, held: Held, seating: Seating) -> tuple[float, ...]:
    """Rows above the pin: clear of the bend, room for a socket over the ear, then the pitch."""
    thickness, fastener, gap = plate.thickness, seating.fastener, held.gap
    over_ear = gap / 2 + thickness + held.stack + fastener.socket_radius + shop.clearances.tool
    bend = gap / 2 + thickness + plate.radius
    off_bend = bend + shop.bending.hole_factor * thickness + seating.slot.diameter / 2
    off_relief = bend + thickness + seating.slot.land  # the shoulder beside the ear's root
    first = ceil(max(over_ear, off_bend, off_relief))
    washer = fastener.head.washer_diameter
    across = seating.slot_washer.half_width if seating.slot_washer else washer / 2
    pitch = ceil(max(seating.pitch, washer + 2.0, across + washer / 2 + 1.0))
    return tuple(float(first + pitch * i) for i in range(seating.rows))
