"""Saddle block: sits on a round post or rail and gives a bracket a flat seat.

Printed, in compression only: steel sleeves stand in its bores and take the clamping force. Two
of them, front and back, with bolts through the post make a saddle fixing; with bolts beside the
post they are a split clamp. A bore for a locking bolt into the post keeps it from turning.

Frame: the seat frame of the post: the origin on its nearest line to the viewer, v along its axis,
u across, w out of it. The post's line touches w = 0; the bracket's seat is w = height. Printed
with that seat on the bed, so that the bores stand upright and nothing overhangs. Units: mm.
"""

from dataclasses import dataclass, replace
from itertools import combinations
from math import asin, cos, hypot, isfinite, pi, sin, sqrt, tan
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts.chamfer import rim
from hangpost.parts.flat import Hole, Use, marks, require
from hangpost.parts.folded import Box3
from hangpost.parts.frame import Frame, flipped
from hangpost.parts.loop import Loop, Vertex, rectangle
from hangpost.parts.part import Bore, PrintedPart

if TYPE_CHECKING:
    import cadquery as cq

WALL = 2.4  # common practice: two double walls of a 0.4 mm nozzle, and half of that again


@dataclass(frozen=True, slots=True)
class SleeveBore:
    """A bore at (u, v): sleeve or bolt diameter plus fit and the printer's compensation."""

    u: float
    v: float
    diameter: float
    use: Use = "sleeve"


@dataclass(frozen=True, slots=True, kw_only=True)
class SaddleBlock(PrintedPart):
    """A block with a hollow for a round post; bad values raise ParameterError."""

    kind: ClassVar[str] = "saddle block"
    outside: float  # diameter of the post
    fit: float = 0.2  # how much larger the hollow's radius is
    width: float
    length: float  # along the post
    height: float  # from the post's nearest line to the bracket's seat
    depth: float  # how far the arms reach round the post, from its nearest line
    sleeves: tuple[SleeveBore, ...]  # for the right hand
    chamfer: float = 0.8

    def __post_init__(self) -> None:
        """Refuse blocks that rock, break or cannot be printed."""
        pairs = combinations(self.sleeves, 2)
        apart = [hypot(a.u - b.u, a.v - b.v) - (a.diameter + b.diameter) / 2 for a, b in pairs]
        sides = [self.width / 2 - abs(s.u) - s.diameter / 2 for s in self.sleeves]
        ends = [self.length / 2 - abs(s.v) - s.diameter / 2 for s in self.sleeves]
        require(
            f"{self.id}",
            ("outside diameter", self.outside, 20.0, "house: smallest tube a saddle sits on"),
            ("fit", self.fit, 0.0, "the hollow is no tighter than the post"),
            ("height", self.height, WALL + self.chamfer, "house: thinnest back of a saddle"),
            ("depth", self.depth, 0.05 * self.outside, "house: less cannot hold it straight"),
            ("post past the arms", self.radius - self.depth, 1.0, "half the post at most"),
            ("arm", self.width / 2 - self.half_chord, WALL, "two double walls"),
            ("wall beside a bore", min(sides, default=WALL), WALL, "two double walls"),
            ("wall before a bore", min(ends, default=WALL), WALL, "two double walls"),
            ("wall between bores", min(apart, default=WALL), WALL, "two double walls"),
            ("bore to the hollow's edge", self._clear_of_edge, 1.2, "thinnest wall that prints"),
        )

    @property
    def radius(self) -> float:
        """Radius of the hollow."""
        return self.outside / 2 + self.fit

    @property
    def half_chord(self) -> float:
        """Half the width of the hollow at the arms' ends."""
        inside = self.radius**2 - (self.radius - self.depth) ** 2
        return sqrt(inside) if inside > 0 else 0.0

    @property
    def bearing(self) -> float:
        """Area that the hollow presses on, as seen from the seat, the bores taken out, mm2."""
        open_ = sum(pi / 4 * s.diameter**2 for s in self.sleeves if abs(s.u) < self.half_chord)
        return 2 * self.half_chord * self.length - open_

    @property
    def _clear_of_edge(self) -> float:
        """Least wall between a bore and the edge of the hollow, inside or outside of it."""
        gaps = (abs(abs(s.u) - self.half_chord) - s.diameter / 2 for s in self.sleeves)
        return min(gaps, default=1.2)

    @property
    def handed(self) -> bool:
        """Whether the bores lie otherwise in the mirror image."""
        placed = {(round(s.u, 2), round(s.v, 2), round(s.diameter, 2)) for s in self.sleeves}
        return placed != {(-u, v, d) for u, v, d in placed}

    @property
    def thickness(self) -> float:
        """Height of the block on the bed."""
        return self.height + self.depth

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bores for this part's hand."""
        side = 1.0 if self.hand == "right" else -1.0
        listed = zip(marks(), self.sleeves, strict=False)
        return tuple(Hole(mark, side * s.u, s.v, s.diameter, s.use) for mark, s in listed)

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Every bore, square to the bracket's seat."""
        origin = -self.depth
        return tuple(Bore(h, "seat", (h.u, h.v, origin), (0.0, 0.0, 1.0)) for h in self.holes)

    @property
    def profile(self) -> Loop:
        """The section in plan: x is u, y is w."""
        half, c = self.width / 2, self.half_chord
        sweep = 2 * asin(c / self.radius)
        corners = [(-half, -self.depth, 0.0), (-c, -self.depth, -tan(sweep / 4))]
        corners += [(c, -self.depth, 0.0), (half, -self.depth, 0.0)]
        corners += [(half, self.height, 0.0), (-half, self.height, 0.0)]
        return Loop(tuple(Vertex(*corner) for corner in corners))

    @property
    def box(self) -> Box3:
        """Least and greatest corner."""
        u, v = self.width / 2, self.length / 2
        return (-u, -v, -self.depth), (u, v, self.height)

    @property
    def volume(self) -> float:
        """Profile times length, less the bores and the chamfers round the seat."""
        seat = rectangle(-self.width / 2, -self.length / 2, self.width / 2, self.length / 2)
        whole = self.profile.area * self.length - sum(self._bored(s) for s in self.sleeves)
        return whole - rim(seat, (h.loop for h in self.holes), self.chamfer)

    def surface(self, u: float) -> float:
        """W of the block's underside at u: the hollow, or the end of an arm."""
        if abs(u) >= self.half_chord:
            return -self.depth
        return sqrt(self.radius**2 - u**2) - self.radius

    def _bored(self, sleeve: SleeveBore) -> float:
        """Volume a bore takes out: depth summed over its disc (64 points are exact to 1e-12)."""
        r, count = sleeve.diameter / 2, 64
        angles = (2 * pi * i / count for i in range(count))
        depths = (cos(a) ** 2 * (self.height - self.surface(sleeve.u + r * sin(a))) for a in angles)
        return 2 * r**2 * sum(depths) * pi / count

    def sleeve_length(self, sleeve: SleeveBore) -> float:
        """How long its steel sleeve is: from the post, or the arm's end, to the seat."""
        nearest = max(0.0, abs(sleeve.u) - sleeve.diameter / 2)
        return self.height - self.surface(nearest)

    def gap_on(self, outside: float) -> float:
        """Greatest gap between the hollow and a post of this diameter pressed into it."""
        if not (isfinite(outside) and outside > 0):
            return outside
        c = min(self.half_chord, outside / 2)
        hollow = self.radius - sqrt(self.radius**2 - c**2)
        return abs(outside / 2 - sqrt(outside**2 / 4 - c**2) - hollow)

    def backing(self, *, id: str, height: float) -> "SaddleBlock":
        """The saddle on the far side of the post, its bores in line with these."""
        bored = tuple(replace(s, u=-s.u) for s in self.sleeves)
        return replace(self, id=id, height=height, sleeves=bored)

    @property
    def behind(self) -> Frame:
        """Where the backing saddle stands, in this one's frame."""
        return Frame((0.0, 0.0, -self.outside), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0))

    @property
    def print_frame(self) -> Frame:
        """From the seat frame to the bed: on the bracket's seat."""
        return flipped(self.height)

    def solid(self) -> "cq.Solid":
        """The profile drawn out along the post, bored, the edges on the bed chamfered."""
        from hangpost.parts.solids import chamfered, cylinder, extruded, one_solid

        along = Frame((0.0, self.length / 2, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
        raw: cq.Shape = extruded(self.profile, (), self.length, along)
        for b in self.bores:
            raw = raw.cut(cylinder(b.origin, b.axis, b.hole.diameter / 2, self.thickness))
        return chamfered(one_solid(raw), (self.height,), self.chamfer)
