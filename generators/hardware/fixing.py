"""A fastener in every hole of a seat: its body, the room for its socket, the list, the drilling.

Frame: the seat frame that the holes are declared in. Units: mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from hangpost.generators.hardware.design import Bought, Drilling, Placed, Rides
from hangpost.generators.hardware.tightening import grade_words
from hangpost.generators.hardware.trade import fastener_words, thread_units, washer_words
from hangpost.generators.strength import fastenings
from hangpost.generators.survey.shop import Shop
from hangpost.parts.bodies import Body
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import Hole
from hangpost.parts.frame import Frame
from hangpost.parts.plate_washer import PlateWasher

PAST_EARS = 40.0  # house: a ratchet swings this far beyond the ears
FACETS = 0.2  # what the sweep takes off for the facets of a socket
PUNCH = 3.0  # house: largest pilot that a centre dot starts


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """One size of fastener through the holes of one seat; `plate` is where heads bear (w)."""

    name: str  # "post", "leaf"
    fastener: Fastener
    holes: Sequence[tuple[str, Hole]]  # each with the mark it has on the sheet
    plate: float
    seat: Frame
    rides: Rides
    under: float = 0.0  # wedge, saddle or spacer between the plate and its host
    host: Literal["steel", "timber"] = "steel"
    tension: float = 0.0  # N, that each is tightened to; 0: not by torque
    instead: str = ""  # words in place of a torque
    slot_washer: PlateWasher | None = None  # over every slot, under the head
    washer: bool = True  # a plain one under every head

    @property
    def over(self) -> float:
        """The most of a fastener that stands outside its host, from under the head."""
        return max((self._over(hole) for _, hole in self.holes), default=self.plate + self.under)

    def _bears(self, hole: Hole) -> float:
        """Where the head over this hole bears (w)."""
        washer = self.slot_washer if hole.slot_length else None
        return self.plate + (washer.plate_thickness if washer else 0.0)

    def _over(self, hole: Hole) -> float:
        return self._bears(hole) + self.under

    def washers(self) -> tuple[Placed, ...]:
        """The plate washers, each in the middle of its slot."""
        if self.slot_washer is None:
            return ()
        slots = [hole for _, hole in self.holes if hole.slot_length]
        return tuple(
            Placed(
                name=f"{self.name} slot washer {number}",
                item=self.slot_washer,
                frame=self.seat.after(Frame((hole.u, hole.v, self.plate))),
                rides=self.rides,
            )
            for number, hole in enumerate(slots, 1)
        )

    @property
    def is_through(self) -> bool:
        """Whether it comes out on the other side and takes a nut."""
        return self.fastener.kind != "lag screw"

    @property
    def tightening(self) -> str:
        """How tight, in words."""
        if self.instead:
            return self.instead
        if self.host == "timber" or not self.is_through:
            return fastenings.tightening("timber", 0.0, self.fastener.diameter)
        if not self.tension:
            return fastenings.TO_THE_MAKER
        size, tension = self.fastener.size, self.tension
        return fastenings.tightening("steel", tension, self.fastener.diameter, thread_units(size))

    def body(self) -> Placed:
        """All fasteners as one body."""
        shapes = tuple(shape for _, hole in self.holes for shape in self._one(hole).shapes)
        name = f"{self.name} {self.fastener.kind}s"
        return Placed(name=name, item=Body(name, shapes), frame=self.seat, rides=self.rides)

    def _one(self, hole: Hole) -> Body:
        bears = self._bears(hole)
        return self.fastener.body("", hole.u, hole.v, bears, washer=self.washer)

    def sockets(self, shop: Shop, reach: float) -> tuple[Placed, ...]:
        """The room around each head, out past ears that reach so far."""
        start, end = shop.clearances.tool + FACETS, reach + PAST_EARS
        return tuple(
            Placed(
                name=f"socket on {self.name} {mark}",
                item=self.fastener.socket(mark, hole.u, hole.v, self._bears(hole) + start, end),
                frame=self.seat,
                rides=self.rides,
            )
            for mark, hole in self.holes
        )

    def drillings(self, diameter: float) -> tuple[Drilling, ...]:
        """The holes to drill in the host: round ones last, where the bracket can be set first."""
        is_set = self.rides == "leaf" or any(hole.slot_length for _, hole in self.holes)
        return tuple(
            Drilling(
                name=mark,
                u=hole.u,
                v=hole.v,
                diameter=diameter,
                pilot=min(PUNCH, diameter),
                depth=0.0 if self.is_through else self.fastener.length - self._over(hole),
                slot_length=hole.slot_length,
                slot_angle=hole.slot_angle,
                last=is_set and not hole.slot_length,
            )
            for mark, hole in self.holes
        )

    def bought(self, shop: Shop, *, washers: int | None = None) -> tuple[Bought, ...]:
        """Fasteners, washers (one a side unless told) and nuts to buy."""
        count, size = len(self.holes), self.fastener.size
        finish = "stainless" if shop.finish == "stainless" else "hot-dip galvanised"
        sides = washers if washers is not None else (2 if self.is_through else 1)
        listed = [
            Bought(
                name=fastener_words(self.fastener, shop),
                quantity=count,
                grade=grade_words(size, shop),
                finish=finish,
                note=f"tighten {self.tightening}",
            ),
            Bought(
                name=washer_words(self.fastener),
                quantity=count * sides,
                finish=finish,
                note="" if self.slot_washer else "covers its slot at both ends of the travel",
            ),
        ]
        if self.is_through:
            listed.append(Bought(name=f"self-locking nut {size}", quantity=count, finish=finish))
        return tuple(listed)
