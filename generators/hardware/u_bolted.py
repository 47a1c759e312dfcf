"""U-bolts round a post or a rail, and the locking bolts that keep what they hold from turning.

A U-bolt draws a bracket on its saddle against the tube and holds by friction alone; a locking
bolt through the middle of the saddle into the near wall of the tube is set last. A steel sleeve
about it stands on the wall, so that the bracket keeps its place when the print gives way. Frame:
as the saddle's: origin on the tube's nearest line to the viewer, v along the tube. Units: mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from hangpost.generators.hardware.design import Bought, Drilling, Placed, Rides
from hangpost.generators.hardware.fixing import PUNCH, Fixing
from hangpost.generators.hardware.sleeves import sleeve
from hangpost.generators.hardware.tightening import grade_words
from hangpost.generators.hardware.trade import fastener_words, u_bolt_words, up_finely, washer_words
from hangpost.generators.strength.bolts import least_spacing
from hangpost.generators.survey.shop import Shop
from hangpost.parts.bodies import Body, Shape
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import Hole
from hangpost.parts.frame import Frame
from hangpost.parts.u_bolt import UBolt

INTO = 10.0  # house: a locking bolt ends this far behind the near wall
UNKNOWN_WALL = 3.0  # mm, house: when the survey does not say it
LOOSEST = 2.0  # mm on the radius, house: pipe U-bolts are sold 3 to 4 mm wider than their tube


def u_size(size: str, shop: Shop) -> str:
    """The same size if the shop has U-bolts of it, else its preferred one."""
    listed = shop.fasteners.u_bolts
    return size if size in listed or not listed else listed[0]


def u_bolt(size: str, outside: float) -> UBolt:
    """A U-bolt whose legs keep their distance from a locking bolt between them.

    On a thin tube by a looser bend, if that does it; if not, the check of their spacing says so.
    """
    bolt = UBolt(size=size, outside=outside)
    wanted = bolt.fit + least_spacing(bolt.diameter) - bolt.pitch / 2
    looser = ceil(10 * wanted) / 10
    return replace(bolt, fit=looser) if bolt.fit < looser <= LOOSEST else bolt


@dataclass(frozen=True, slots=True, kw_only=True)
class UBolted:
    """U-bolts of one size in one seat; `tube` is where the saddle touches, `seat` the bracket's."""

    name: str  # "post", "leaf"
    bolt: UBolt
    at: Sequence[float]  # v of each U-bolt along the tube
    legs: Sequence[tuple[str, Hole]]  # in the seat's frame
    locks: Sequence[tuple[str, Hole]]
    tube: Frame
    seat: Frame
    under: float  # height of the saddle
    plate: float
    wall: float
    rides: Rides
    tension: float = 0.0  # N, of each leg; 0: to the maker's figure

    @property
    def as_fixing(self) -> Fixing:
        """The legs as fasteners of the seat, for sockets and strength."""
        leg = Fastener(kind="U-bolt", size=self.bolt.size, length=self._leg)
        return Fixing(
            name=self.name,
            fastener=leg,
            holes=self.legs,
            plate=self.plate,
            seat=self.seat,
            rides=self.rides,
            under=self.under,
            tension=self.tension,
        )

    @property
    def lock(self) -> Fixing:
        """The locking bolts as a fixing of their own."""
        least = self.plate + self.under + (self.wall or UNKNOWN_WALL) + INTO
        length = up_finely(least, self.bolt.size)
        bolt = Fastener(kind="hex bolt", size=self.bolt.size, length=length)
        return Fixing(
            name=f"{self.name} locking",
            fastener=bolt,
            holes=self.locks,
            plate=self.plate,
            seat=self.seat,
            rides=self.rides,
            under=self.under,
            instead=f"last, once the bracket stands: tap their holes {self.bolt.size} (or "
            "open them for a blind threaded insert), then snug on their sleeves",
        )

    @property
    def fixings(self) -> tuple[Fixing, ...]:
        """Legs and, where there are any, locking bolts."""
        return (self.as_fixing, self.lock) if self.locks else (self.as_fixing,)

    @property
    def _leg(self) -> float:
        return self.bolt.leg(self.under + self.plate)

    def placed(self) -> tuple[Placed, ...]:
        """All U-bolts as one body, all locking bolts as another."""
        shapes: list[Shape] = []
        for v in self.at:
            shapes += self.bolt.body("", v, self.under + self.plate).shapes
        body = Body(f"{self.name} U-bolts", tuple(shapes))
        bent = Placed(name=body.name, item=body, frame=self.tube, rides=self.rides)
        return (bent, self.lock.body()) if self.locks else (bent,)

    def sockets(self, shop: Shop, reach: float) -> tuple[Placed, ...]:
        """The room around every nut and head."""
        locks = self.lock.sockets(shop, reach) if self.locks else ()
        return (*self.as_fixing.sockets(shop, reach), *locks)

    def drillings(self) -> tuple[Drilling, ...]:
        """The holes of the locking bolts in the near wall."""
        depth = (self.wall or UNKNOWN_WALL) + INTO
        diameter = round(0.85 * self.bolt.diameter, 1)  # to tap; coarse threads
        return tuple(
            Drilling(
                name=mark, u=h.u, v=h.v, diameter=diameter, pilot=PUNCH, depth=depth, last=True
            )
            for mark, h in self.locks
        )

    def bought(self, shop: Shop) -> tuple[Bought, ...]:
        """U-bolts with their nuts and washers, locking bolts."""
        finish = "stainless" if shop.finish == "stainless" else "hot-dip galvanised"
        size, count = self.bolt.size, len(self.at)
        listed = [
            Bought(
                name=u_bolt_words(self.bolt, self.under + self.plate),
                quantity=count,
                grade=grade_words(size, shop),
                finish=finish,
                note=f"{self.name} bracket: tighten evenly {self.as_fixing.tightening}; nuts "
                "locked; again after a month",
            ),
            Bought(name=washer_words(self.as_fixing.fastener), quantity=2 * count, finish=finish),
            Bought(name=f"self-locking nut {size}", quantity=2 * count, finish=finish),
        ]
        if self.locks:
            listed += [sleeve(self.lock.fastener, self.under) for _ in self.locks if self.under]
            listed.append(
                Bought(
                    name=f"{fastener_words(self.lock.fastener, shop)}, full thread",
                    quantity=len(self.locks),
                    grade=grade_words(size, shop),
                    finish=finish,
                    note="locking bolt: set last, into the near wall, tapped or with a blind "
                    "threaded insert",
                )
            )
        return tuple(listed)
