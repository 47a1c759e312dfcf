"""Saddle block: sits on a round post or rail and gives a bracket a flat seat.

Printed, in compression only: steel sleeves stand in its bores and take the clamping force. Two
of them, front and back, with bolts through the post make a saddle fixing; with bolts beside the
post they are a split clamp. A bore for a locking bolt into the post keeps it from turning.

Frame: the seat frame of the post: the origin on its nearest line to the viewer, v along its axis,
u across, w out of it. The post's line touches w = 0; the bracket's seat is w = height. Printed
with that seat on the bed, so that the bores stand upright and nothing overhangs. A post that
leans goes through the block at its lean, the middle of its near side still at the origin: the
hollow stays round along the post, and seat and bores stay plumb. Units: mm, degrees.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import combinations
from math import acos, cos, hypot, isfinite, pi, radians, sin, sqrt, tan
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts.chamfer import rim
from hangpost.parts.flat import Hole, Use, marks, require
from hangpost.parts.folded import Box3
from hangpost.parts.frame import Frame, Vector, flipped
from hangpost.parts.loop import Point, rectangle
from hangpost.parts.part import Bore, PrintedPart

if TYPE_CHECKING:
    import cadquery as cq

WALL = 2.4  # common practice: two double walls of a 0.4 mm nozzle, and half of that again

# Places and weights of Gauss and Legendre for four points, from -1 to 1.
GAUSS = (
    (-0.8611363115940526, 0.3478548451374538),
    (-0.3399810435848563, 0.6521451548625461),
    (0.3399810435848563, 0.6521451548625461),
    (0.8611363115940526, 0.3478548451374538),
)


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
    lean: Point = (0.0, 0.0)  # of the post's axis off v, to +u and to +w, for the right hand
    chamfer: float = 0.8

    def __post_init__(self) -> None:
        """Refuse blocks that rock, break or cannot be printed."""
        pairs = combinations(self.sleeves, 2)
        apart = [hypot(a.u - b.u, a.v - b.v) - (a.diameter + b.diameter) / 2 for a, b in pairs]
        sides = [self.width / 2 - abs(s.u) - s.diameter / 2 for s in self.sleeves]
        ends = [self.length / 2 - abs(s.v) - s.diameter / 2 for s in self.sleeves]
        aside, swell = (abs(slope) * self.length / 2 for slope in self.slopes)
        require(
            f"{self.id}",
            ("outside diameter", self.outside, 20.0, "house: smallest tube a saddle sits on"),
            ("fit", self.fit, 0.0, "the hollow is no tighter than the post"),
            (
                "height",
                self.height - swell,
                WALL + self.chamfer,
                "house: thinnest back of a saddle",
            ),
            ("lean short of 10 degrees", 10.0 - hypot(*self.lean), 0.0, "house: set the post anew"),
            (
                "depth at an end",
                self.depth - swell,
                0.05 * self.outside,
                "house: it holds straight",
            ),
            ("post past the arms", self.radius - self.depth - swell, 1.0, "half the post at most"),
            ("arm", self.width / 2 - self._chord(self.depth + swell) - aside, WALL, "two walls"),
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
    def slopes(self) -> Point:
        """Rise of the post's axis in u and in w along v, for this part's hand."""
        side = 1.0 if self.hand == "right" else -1.0
        return side * tan(radians(self.lean[0])), tan(radians(self.lean[1]))

    @property
    def along(self) -> Vector:
        """Direction of the post's axis."""
        a, b = self.slopes
        n = sqrt(1 + a * a + b * b)
        return a / n, 1 / n, b / n

    @property
    def _axis_w(self) -> float:
        """W of the hollow's axis at v = 0: post and hollow touch along their nearest line."""
        return -self.outside / 2 - self.fit / sqrt(1 - self.along[2] ** 2)

    @property
    def half_chord(self) -> float:
        """Half the width of the hollow at the arms' ends, in the middle of the block's length."""
        return self._chord(self.depth)

    def _chord(self, depth: float) -> float:
        """Half the width of the hollow so far down."""
        inside = self.radius**2 - (self.radius - depth) ** 2
        return sqrt(inside) if inside > 0 else 0.0

    @property
    def pressed_length(self) -> float:
        """Of its length what lies alike on either side of its bolts, as print gives way.

        The length less twice the eccentricity (Meyerhof 1953, for footings; memory).
        """
        if not self.sleeves:
            return self.length
        off = sum(s.v for s in self.sleeves) / len(self.sleeves)
        return self.length - 2 * round(abs(off), 6)

    @property
    def bearing(self) -> float:
        """Area that the hollow presses on, as seen from the seat, the bores taken out, mm2."""
        open_ = sum(pi / 4 * s.diameter**2 for s in self.sleeves if abs(s.u) < self.half_chord)
        return 2 * self.half_chord * self.pressed_length - open_

    @property
    def _clear_of_edge(self) -> float:
        """Least wall between a bore and the edge of the hollow, inside or outside of it."""
        gaps = (abs(abs(s.u) - self.half_chord) - s.diameter / 2 for s in self.sleeves)
        return min(gaps, default=1.2)

    @property
    def handed(self) -> bool:
        """Whether the bores lie otherwise in the mirror image."""
        placed = {(round(s.u, 2), round(s.v, 2), round(s.diameter, 2)) for s in self.sleeves}
        return bool(self.lean[0]) or placed != {(-u, v, d) for u, v, d in placed}

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
    def box(self) -> Box3:
        """Least and greatest corner."""
        u, v = self.width / 2, self.length / 2
        return (-u, -v, -self.depth), (u, v, self.height)

    @property
    def volume(self) -> float:
        """The block less hollow, bores and the chamfers round the seat."""
        seat = rectangle(-self.width / 2, -self.length / 2, self.width / 2, self.length / 2)
        whole = self.width * self.length * self.thickness - self._hollowed
        whole -= sum(self._bored(h) for h in self.holes)
        return whole - rim(seat, (h.loop for h in self.holes), self.chamfer)

    @property
    def _hollowed(self) -> float:
        """Volume of the hollow: sections at one v are ellipses cut off at the arms' ends.

        The part of an ellipse above a level line is to the whole as that of a circle; its height
        runs evenly along v, so the integral is closed.
        """
        du, _, dw = self.along
        size = 1 - du * du - dw * dw
        half = self.radius * sqrt((1 - du * du) / size)  # of the ellipse's height
        low, high = (
            (-self.depth - self._axis_w - self.slopes[1] * v) / half
            for v in (self.length / 2, -self.length / 2)
        )
        if abs(high - low) > 1e-9:
            share = (_segments(high) - _segments(low)) / (high - low)
        else:
            share = acos(low) - low * sqrt(1 - low * low)
        return self.radius**2 / sqrt(size) * share * self.length

    def surface(self, u: float, v: float = 0.0) -> float:
        """W of the block's underside at (u, v): the hollow, or the end of an arm."""
        return self._underside(u, v)

    @property
    def _underside(self) -> Callable[[float, float], float]:
        """The same for whoever asks at many places: what hangs on the lean is worked out once."""
        (du, _, dw), (right, out), axis = self.along, self.slopes, self._axis_w
        square, end, level = self.radius**2, -self.depth, 1 - dw * dw

        def at(u: float, v: float) -> float:
            x = u - right * v
            inside = (square - x * x) * level + (x * du) ** 2
            if inside < 0:
                return end
            return max(axis + out * v + (du * dw * x + sqrt(inside)) / level, end)

        return at

    def _bored(self, hole: Hole) -> float:
        """Volume a bore takes out: depth summed over its disc, exact to 1e-9 of it."""
        r, steps, under = hole.diameter / 2, 16, self._underside
        total = 0.0
        for i in range(1 - steps, steps):  # from side to side; the outermost strips are nothing
            a = pi / 2 * i / steps
            half = r * cos(a)
            deep = (
                share * (self.height - under(hole.u + r * sin(a), hole.v + half * at))
                for at, share in GAUSS
            )
            total += half * half * sum(deep)
        return total * pi / 2 / steps

    def sleeve_length(self, sleeve: SleeveBore) -> float:
        """How long its steel sleeve is: from the post, or the arm's end, to the seat."""
        r, side = sleeve.diameter / 2, 1.0 if self.hand == "right" else -1.0
        u, reach = side * sleeve.u - self.slopes[0] * sleeve.v, abs(self.slopes[1]) * r
        nearest = self.slopes[0] * sleeve.v + (
            max(0.0, abs(u) - r) if u >= 0 else -max(0.0, -u - r)
        )
        return self.height - self.surface(nearest, sleeve.v) - reach

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
        lean = (-self.lean[0] + 0.0, -self.lean[1] + 0.0)
        return replace(self, id=id, height=height, sleeves=bored, lean=lean)

    @property
    def behind(self) -> Frame:
        """Where the backing saddle stands, in this one's frame."""
        return Frame((0.0, 0.0, -self.outside), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0))

    @property
    def print_frame(self) -> Frame:
        """From the seat frame to the bed: on the bracket's seat."""
        return flipped(self.height)

    def solid(self) -> "cq.Solid":
        """The block, the post and the bores cut out of it, the edges on the bed chamfered."""
        from hangpost.parts.solids import block, chamfered, cylinder, one_solid

        raw: cq.Shape = block(*self.box)
        reach = 2 * self.length
        start = (
            -reach * self.along[0],
            -reach * self.along[1],
            self._axis_w - reach * self.along[2],
        )
        raw = raw.cut(cylinder(start, self.along, self.radius, 2 * reach))
        for b in self.bores:
            raw = raw.cut(cylinder(b.origin, b.axis, b.hole.diameter / 2, self.thickness))
        return chamfered(one_solid(raw), (self.height,), self.chamfer)


def _segments(t: float) -> float:
    """Integral of a unit circle's segment above the height t, over t."""
    root = sqrt(max(1 - t * t, 0.0))
    return t * acos(t) - root + root**3 / 3
