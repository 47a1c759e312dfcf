"""Wedge shim for a post that leans: one face on the post, the other plumb for the bracket.

Printed, in compression only, with steel sleeves in closed bores: two bolts through it keep it
from turning and from slipping out. A vee in its side marks each thick end.

Frame: the seat frame of the post face as if it were plumb, through the datum mark: u right,
v up, w out. The post's face is the plane w = u tan(tilt_u) + v tan(tilt_v); the bracket's seat
is w = height and the bores are square to it. Printed with that seat on the bed. Units: mm.
"""

from dataclasses import dataclass
from itertools import combinations
from math import atan, degrees, hypot, pi, radians, sqrt, tan
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts.chamfer import rim
from hangpost.parts.flat import Hole, broken, marks, refuse
from hangpost.parts.folded import Box3
from hangpost.parts.frame import Frame, cross, flipped
from hangpost.parts.loop import Loop, Point, rounded
from hangpost.parts.part import Bore, PrintedPart

if TYPE_CHECKING:
    import cadquery as cq

LEAST_TILT = 0.05  # degrees, house; below this a wedge makes up for nothing
VEE = 4.0  # house: depth and half width of the mark
THICKEST = 25.4  # common practice: no shim stack over an inch


def tilts(toward_leaf: float, toward_actuator: float) -> Point:
    """Tilt in u and v of the actuator-side face of a post whose axis leans so, in degrees.

    The post is taken as turned about a level axis, not twisted: leaning to the leaf turns its
    face almost only in its own plane, which needs no wedge.
    """
    a, b = tan(radians(toward_leaf)), tan(radians(toward_actuator))
    s = sqrt(1 + a * a + b * b)
    nx, ny, nz = -a * b / (s * s + s), 1 / s + a * a / (s * s + s), -b / s
    return degrees(atan(nx / ny)), degrees(atan(-nz / ny))


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeShim(PrintedPart):
    """A wedge under a bracket's seat; bad values raise ParameterError."""

    kind: ClassVar[str] = "wedge shim"
    tilt_u: float  # degrees; positive where the post's face comes out to the right
    tilt_v: float  # degrees; positive where it comes out at the top
    centre: Point = (0.0, 0.0)
    width: float
    length: float  # along v
    height: float  # from the datum on the post to the bracket's seat
    corner: float = 4.0
    bores_at: tuple[Point, ...]  # for the right hand
    bore: float  # sleeve outside diameter plus fit and the printer's hole compensation
    chamfer: float = 0.8

    def __post_init__(self) -> None:
        """Refuse wedges that can turn or slip, break, or make up for nothing."""
        pairs = list(combinations(self.bores_at, 2))
        apart = max((hypot(a[0] - b[0], a[1] - b[1]) for a, b in pairs), default=0.0)
        walls = [
            min(self.width / 2 - abs(u - self.centre[0]), self.length / 2 - abs(v - self.centre[1]))
            for u, v in self.bores_at
        ]
        thin, thick = self.ends
        least = max(self.chamfer + 1.2, 2.4)
        steepest = hypot(self.tilt_u, self.tilt_v)  # nan stays nan
        angles = broken(
            self.id,
            ("tilt", steepest, LEAST_TILT, "house: less needs no wedge"),
            ("tilt short of 10", 10.0 - steepest, 0.0, "house: set the post anew"),
            unit="degrees",
        )
        lengths = broken(
            self.id,
            ("thin end", thin, least, "common practice: two double walls"),
            ("thick end below an inch", THICKEST - thick, 0.0, "common practice"),
            ("outer bolts apart", apart, self.bore, "two bolts keep it from turning"),
            ("wall around a bore", min(walls, default=0.0) - self.bore / 2, 2.4 + VEE, "vee cut"),
            ("corner", self.corner, self.chamfer, "the chamfer runs around it"),
            ("room for the vee", min(self.width, self.length) / 2 - self.corner, VEE, "the mark"),
        )
        refuse(angles + lengths)

    @property
    def _side(self) -> float:
        return 1.0 if self.hand == "right" else -1.0

    @property
    def slopes(self) -> Point:
        """Rise of the post's face along u and along v, for this part's hand."""
        return self._side * tan(radians(self.tilt_u)), tan(radians(self.tilt_v))

    @property
    def ends(self) -> Point:
        """Least and greatest thickness, as if the corners were square."""
        (su, sv), (cu, cv) = self.slopes, (self._side * self.centre[0], self.centre[1])
        middle = self.height - su * cu - sv * cv
        change = abs(su) * self.width / 2 + abs(sv) * self.length / 2
        return middle - change, middle + change

    @property
    def handed(self) -> bool:
        """Whether slope or bores lie otherwise in the mirror image."""
        placed = {(round(u - self.centre[0], 2), round(v, 2)) for u, v in self.bores_at}
        return bool(self.tilt_u) or placed != {(-u, v) for u, v in placed}

    @property
    def thickness(self) -> float:
        """Height of the shim on the bed: its thick end."""
        return self.height - self.low

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bores for this part's hand."""
        listed = zip(marks(), self.bores_at, strict=False)
        return tuple(Hole(m, self._side * u, v, self.bore, "sleeve") for m, (u, v) in listed)

    def surface(self, u: float, v: float) -> float:
        """W of the post's face at (u, v)."""
        return self.slopes[0] * u + self.slopes[1] * v

    def sleeve_length(self, hole: Hole) -> float:
        """Length of the sleeve in a bore: its shortest side, so that the shim still carries."""
        slope = hypot(*self.slopes)
        return self.height - self.surface(hole.u, hole.v) - slope * hole.diameter / 2

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Every bore, square to the bracket's seat."""
        return tuple(Bore(h, "seat", (h.u, h.v, self.low), (0.0, 0.0, 1.0)) for h in self.holes)

    @property
    def outline(self) -> Loop:
        """The shim as one looks at it, a vee in the side of each thick end."""
        x, y, r = self.width / 2, self.length / 2, self.corner
        su, sv = self.slopes
        right, left = su < -_least(), su > _least()
        top, bottom = sv < -_least(), sv > _least()
        path = [(-x, -y, r), *(_vee(0, -y, 1, 0) if bottom else ())]
        path += [(x, -y, r), *(_vee(x, 0, 0, 1) if right else ())]
        path += [(x, y, r), *(_vee(0, y, -1, 0) if top else ())]
        path += [(-x, y, r), *(_vee(-x, 0, 0, -1) if left else ())]
        return rounded(path).moved(self._side * self.centre[0], self.centre[1])

    @property
    def box(self) -> Box3:
        """Least and greatest corner."""
        left, bottom, right, top = self.outline.bounds
        return (left, bottom, self.low), (right, top, self.height)

    @property
    def low(self) -> float:
        """W of the deepest point of the thick end."""
        su, sv = self.slopes
        return -self.outline.support(-su, -sv)

    @property
    def volume(self) -> float:
        """Thickness over the net area, less the chamfers round the seat."""
        outline, (su, sv) = self.outline, self.slopes
        mu, mv = outline.moments
        whole = self.height * outline.area - su * mu - sv * mv
        bored = sum(
            pi * h.diameter**2 / 4 * (self.height - self.surface(h.u, h.v)) for h in self.holes
        )
        return whole - bored - rim(outline, (h.loop for h in self.holes), self.chamfer)

    @property
    def print_frame(self) -> Frame:
        """From the seat frame to the bed: on the bracket's seat."""
        return flipped(self.height)

    @property
    def post_face(self) -> Frame:
        """The post's face in the seat frame: u along the face's slope, w out of it."""
        su, sv = self.slopes
        n = sqrt(1 + su * su + sv * sv)
        k = sqrt(1 + su * su)
        normal, along = (-su / n, -sv / n, 1 / n), (1 / k, 0.0, su / k)
        return Frame((0.0, 0.0, 0.0), along, cross(normal, along))

    def solid(self) -> "cq.Solid":
        """The outline drawn out to the seat, sliced along the post's face."""
        from hangpost.parts.solids import block, chamfered, extruded, located, one_solid

        low = self.low - 1.0
        raw = extruded(self.outline, [h.loop for h in self.holes], self.height - low)
        standing = raw.moved((0, 0, low))
        far = 4 * (self.width + self.length + hypot(*self.centre))
        below = located(block((-far, -far, -far), (far, far, 0.0)), self.post_face)
        return chamfered(one_solid(standing.cut(below)), (self.height,), self.chamfer)


def _least() -> float:
    return tan(radians(LEAST_TILT))


def _vee(u: float, v: float, du: float, dv: float) -> list[tuple[float, float, float]]:
    """Three corners of a vee cut into a side at (u, v) that runs along (du, dv)."""
    return [
        (u - VEE * du, v - VEE * dv, 0.0),
        (u - VEE * dv, v + VEE * du, 0.0),
        (u + VEE * du, v + VEE * dv, 0.0),
    ]
