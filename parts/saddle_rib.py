"""Saddle rib: one plate of a saddle stacked from plates, for posts where plastic will not do.

Each rib is cut to the post's radius; a stack of them, tied by studs along the post, carries the
bracket's seat on its front edges. Bolts through the post run between two ribs.

Frame: lying in plan, u as the seat's u from the post's axis, v out of the post, v = 0 at its
nearest line, w down through the thickness. The seat is v = height. Units: mm.
"""

from dataclasses import dataclass
from math import asin, isfinite, sqrt, tan
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, broken, marks, refuse
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Point, Vertex, rounded
from hangpost.parts.part import SheetPart


@dataclass(frozen=True, slots=True, kw_only=True)
class SaddleRib(SheetPart):
    """One rib of a stack; bad values raise ParameterError."""

    kind: ClassVar[str] = "saddle rib"
    plate_thickness: float
    outside: float  # diameter of the post
    fit: float = 0.2  # how much larger the hollow's radius is
    width: float
    height: float  # from the post's nearest line to the seat
    depth: float  # how far the arms reach round the post
    corner: float = 3.0
    ties: tuple[Point, ...]  # studs along the post
    tie_hole: float

    def __post_init__(self) -> None:
        """Refuse ribs that rock, tear or cannot be cut."""
        arm = self.width / 2 - self.half_chord
        found = broken(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: thinnest rib"),
            ("outside diameter", self.outside, 20.0, "house: smallest tube a saddle sits on"),
            ("fit", self.fit, 0.0, "the hollow is no tighter than the post"),
            ("depth", self.depth, 0.05 * self.outside, "house: less cannot hold it straight"),
            ("post past the arms", self.radius - self.depth, 1.0, "half the post at most"),
            ("height", self.height, 2 * self.plate_thickness, "house: metal over the post"),
            ("arm", arm, max(self.plate_thickness, 2 * self.corner), "common practice: one plate"),
        )
        if len(self.ties) < 2:
            found.append(f"{self.id}: one stud lets the ribs turn; they need two")
        if not found:
            found = broken(self.id, *spacing.rules(self.outline, self.holes, self.plate_thickness))
        refuse(found)

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
    def holes(self) -> tuple[Hole, ...]:
        """The holes for the studs."""
        listed = zip(marks(), self.ties, strict=False)
        return tuple(Hole(m, u, v, self.tie_hole, "tie") for m, (u, v) in listed)

    @property
    def outline(self) -> Loop:
        """Arms, hollow and the straight front edge."""
        x, c, r = self.width / 2, self.half_chord, self.corner
        corners = [(c, -self.depth, 0.0), (x, -self.depth, r), (x, self.height, r)]
        corners += [(-x, self.height, r), (-x, -self.depth, r), (-c, -self.depth, 0.0)]
        loop = rounded(corners)
        last = loop.vertices[-1]
        hollow = Vertex(last.x, last.y, -tan(asin(c / self.radius) / 2))
        return Loop((*loop.vertices[:-1], hollow))

    def gap_on(self, outside: float) -> float:
        """Greatest gap between the hollow and a post of this diameter pressed into it."""
        if not (isfinite(outside) and outside > 0):
            return float("inf")
        c = min(self.half_chord, outside / 2)
        sags = [r - sqrt(r * r - c * c) for r in (self.radius, outside / 2)]
        return abs(sags[0] - sags[1])

    def stud_length(self, count: int, gap: float, nut: float) -> float:
        """Length of a stud through `count` ribs kept `gap` apart, a nut's room at both ends."""
        return count * self.plate_thickness + (count - 1) * gap + 2 * nut

    def drawn(self) -> FoldedPlate:
        """The rib, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)
