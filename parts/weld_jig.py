"""Weld jig: a printed block that holds two ears at their gap and their pin line for tacking.

It stands between the ears, the pin through all three, its nose on the post. Beside the nose it
keeps away from the seams. It is for tack welds only and comes out before welding through.

Frame: as the ear's: lying in plan, u as the seat's u, v out of the post; w down, w = 0 at the
upper ear and on the printer's bed. Units: mm.
"""

from dataclasses import dataclass
from math import asin, sqrt, tan
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts.chamfer import rim
from hangpost.parts.flat import Hole, require
from hangpost.parts.folded import Box3
from hangpost.parts.loop import Loop, Vertex, rounded
from hangpost.parts.part import Bore, PrintedPart
from hangpost.parts.weld_ear import WeldEar

if TYPE_CHECKING:
    import cadquery as cq

KEEP = 15.0  # house: plastic this far from a tack


@dataclass(frozen=True, slots=True, kw_only=True)
class WeldJig(PrintedPart):
    """The block between two ears; bad values raise ParameterError."""

    kind: ClassVar[str] = "weld jig"
    gap: float  # between the ears: the block's height
    bore: float  # the pin, its fit and the printer's compensation
    pin_u: float
    reach: float  # pin to the post's face or nearest line
    outside: float | None  # diameter of a round post
    sides: tuple[float, float]  # least and greatest u
    nose: float  # half the nose's width, about u = `nose_u`
    nose_u: float = 0.0
    wall: float = 8.0  # house: plastic about the pin
    chamfer: float = 0.6

    def __post_init__(self) -> None:
        """Refuse blocks that rock, melt or cannot be printed."""
        left, right = self.sides
        ends = (self.nose_u - self.nose, self.nose_u + self.nose)
        widest = max(abs(u) for u in ends)
        beside = min(self.pin_u - left, right - self.pin_u) - self.bore / 2
        require(
            self.id,
            ("gap", self.gap, 6.0, "house: a block that keeps ears parallel"),
            ("nose", self.nose, 6.0, "house: a nose that does not rock"),
            ("nose in the block", min(ends[0] - left, right - ends[1]), 2.4, "two double walls"),
            ("nose on the post", 1.0 if self.outside is None else 0.45 * self.outside - widest, 0.0,
             "house: within 0.9 of its radius"),
            ("plastic beside the pin", beside, self.wall, "house"),
            ("pin to the seams", self.reach - self.bore / 2 - self.wall - KEEP, 0.0,
             "house: 15 mm from a tack"),
        )  # fmt: skip

    @classmethod
    def for_ear(cls, ear: WeldEar, *, id: str, gap: float, bore: float, nose: float) -> "WeldJig":
        """The jig for two of these ears, as wide as their root."""
        left, right = ear.root
        return cls(
            id=id,
            gap=gap,
            bore=bore,
            pin_u=ear.pin_u,
            reach=ear.reach,
            outside=ear.outside,
            sides=(min(left, ear.pin_u - ear.tip), max(right, ear.pin_u + ear.tip)),
            nose=nose,
            nose_u=(left + right) / 2,
        )

    def face(self, u: float) -> float:
        """V of what the nose stands on, at u."""
        if self.outside is None:
            return 0.0
        return sqrt(self.outside**2 / 4 - u * u) - self.outside / 2

    @property
    def _drawn(self) -> Loop:
        (left, right), far = self.sides, self.reach + self.bore / 2 + self.wall
        a, b = self.nose_u - self.nose, self.nose_u + self.nose
        corners = [(b, self.face(b), 0.0), (b, KEEP, 2.0), (right, KEEP, 4.0)]
        corners += [(right, far, 8.0), (left, far, 8.0), (left, KEEP, 4.0)]
        corners += [(a, KEEP, 2.0), (a, self.face(a), 0.0)]
        loop = rounded(corners)
        if self.outside is None:
            return loop
        chord = ((b - a) ** 2 + (self.face(b) - self.face(a)) ** 2) ** 0.5
        last = loop.vertices[-1]
        bulge = -tan(asin(chord / self.outside) / 2)
        return Loop((*loop.vertices[:-1], Vertex(last.x, last.y, bulge)))

    @property
    def outline(self) -> Loop:
        """The block as it lies in plan, for this part's hand."""
        return self._drawn if self.hand == "right" else self._drawn.mirrored(across_x=True)

    @property
    def handed(self) -> bool:
        """Whether the pin stands beside the middle."""
        left, right = self.sides
        return max(abs(self.pin_u), abs(self.nose_u), abs(left + right)) > 0.01

    @property
    def thickness(self) -> float:
        """Height on the bed."""
        return self.gap

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The pin's bore."""
        side = 1.0 if self.hand == "right" else -1.0
        return (Hole("P", side * self.pin_u, self.reach, self.bore, "pin"),)

    @property
    def bores(self) -> tuple[Bore, ...]:
        """The pin's bore, upright."""
        return tuple(Bore(h, "block", (h.u, h.v, 0.0), (0.0, 0.0, 1.0)) for h in self.holes)

    @property
    def box(self) -> Box3:
        """Least and greatest corner."""
        left, bottom, right, top = self.outline.bounds
        return (left, bottom, 0.0), (right, top, self.gap)

    @property
    def volume(self) -> float:
        """Net outline times gap, less the chamfer on the bed."""
        net = self._drawn.area - sum(h.area for h in self.holes)
        return net * self.gap - rim(self._drawn, [h.loop for h in self.holes], self.chamfer)

    def solid(self) -> "cq.Solid":
        """The block, its edges on the bed chamfered."""
        from hangpost.parts.solids import chamfered, extruded

        raw = extruded(self.outline, [h.loop for h in self.holes], self.gap)
        return chamfered(raw, (0.0,), self.chamfer)
