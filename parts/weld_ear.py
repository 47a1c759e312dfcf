"""Ear for welding: its back edge an arc of a round post, or straight for a square one.

Two of them, one above and one below the actuator's eye, carry the pin in double shear. On a
round post the back edge is the post's outside radius and a fit for the root of the weld; on a
square post it is straight.

Frame: lying in plan, u as the seat's u (round post: from its axis), v out of the post, v = 0 at
the post's face or nearest line, w down through the thickness: so they are right-handed.
Units: mm.
"""

from dataclasses import dataclass
from math import asin, hypot, isfinite, sqrt, tan
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.ear import EarHole
from hangpost.parts.flat import Hole, ParameterError, broken, refuse
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.hull import hull
from hangpost.parts.loop import Loop, Vertex
from hangpost.parts.part import SheetPart

SEAMS = 2  # of an ear: one on either side


@dataclass(frozen=True, slots=True, kw_only=True)
class WeldEar(SheetPart):
    """One of two ears; bad values raise ParameterError."""

    kind: ClassVar[str] = "ear to weld"
    plate_thickness: float
    pin: float  # hole for the pin
    pin_u: float
    reach: float  # pin to the post
    tip: float  # radius of the ear about the pin
    root: tuple[float, float]  # least and greatest u of the back edge
    outside: float | None = None  # diameter of a round post; None: a straight back edge
    fit: float = 0.5  # house: gap to a round post, for the root of the weld
    joins: tuple[EarHole, ...] = ()  # second holes, for a pivot extension
    weld_leg: float = 0.0  # of the fillet along both sides of the back edge; 0: not said

    def __post_init__(self) -> None:
        """Refuse ears that do not meet the post, tear or cannot be cut."""
        left, right = self.root
        room = min(self._post_side(left), self._post_side(right))
        found = broken(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: thinnest plate to weld"),
            ("root", right - left, 2 * self.tip, "as wide as its tip"),
            ("pin edge", self.tip - self.pin / 2, 0.5 * self.pin, "house: half a pin of steel"),
            ("pin to the post", self.reach - self.tip, 0.0, "the eye clears the weld"),
            ("root on the post", room, 0.0, "house: within 0.9 of the post's radius"),
            ("fit", self.fit, 0.0, "the arc is no tighter than the post"),
            ("weld leg", self.weld_leg, 0.0, "none, or a size"),
        )
        if not found:
            found = broken(
                self.id,
                ("sides off the post", self._beside_post, -1e-6, "they leave it at the root"),
                *spacing.rules(self.outline, self.holes[1:], self.plate_thickness),
            )
        refuse(found)

    @property
    def _beside_post(self) -> float:
        """How far the edges but the back one keep outside a round post and its fit."""
        if self.outside is None:
            return 0.0
        radius = self.outside / 2
        sides = self.outline.edges[1:]
        return min(e.distance(0.0, -radius) for e in sides) - radius - self.fit

    def _post_side(self, u: float) -> float:
        """How far inside the usable part of a round post's width u lies."""
        return 1.0 if self.outside is None else 0.45 * self.outside - abs(u)

    def back_edge(self, u: float) -> float:
        """V of the back edge at u."""
        if self.outside is None:
            return 0.0
        radius = self.outside / 2 + self.fit
        return sqrt(radius**2 - u**2) - self.outside / 2

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The pin, then the second holes."""
        others = (
            Hole(f"X{i + 1}", j.u, j.reach, j.diameter, "join") for i, j in enumerate(self.joins)
        )
        return (Hole("P", self.pin_u, self.reach, self.pin, "pin"), *others)

    @property
    def outline(self) -> Loop:
        """Band from the back edge's ends about the pin; the back edge an arc, or straight."""
        left, right = self.root
        ends = [(u, self.back_edge(u), 0.0) for u in self.root]
        discs = [(j.u, j.reach, j.edge) for j in self.joins]
        band = hull((*ends, (self.pin_u, self.reach, self.tip), *discs)).vertices
        at = next(i for i, c in enumerate(band) if _is(c, *ends[0]))
        rest = (*band[at + 1 :], *band[:at])
        if not _is(rest[0], *ends[1]):
            raise ParameterError(f"{self.id}: root = {left:g} to {right:g} mm is not under the pin")
        if self.outside is not None:
            chord = hypot(right - left, ends[1][1] - ends[0][1])
            half = asin(chord / (self.outside + 2 * self.fit))
            return Loop((Vertex(left, ends[0][1], -tan(half / 2)), *rest))
        return Loop((Vertex(left, 0.0), *rest))

    @property
    def weld_length(self) -> float:
        """Length of one seam along the back edge, on one side of the ear."""
        if self.outside is None:
            return self.root[1] - self.root[0]
        radius = self.outside / 2 + self.fit
        return radius * (asin(self.root[1] / radius) - asin(self.root[0] / radius))

    def gap_on(self, outside: float) -> float:
        """Greatest gap to a round post of this diameter: the fit, and what the arc is off it."""
        if self.outside is None or not (isfinite(outside) and outside > 0):
            return float("inf")
        left, right, radius = *self.root, outside / 2
        steps = [left + (right - left) * i / 64 for i in range(65)]
        away = [hypot(u, self.back_edge(u) + radius) - radius for u in steps]
        return max(away) - min(away) + self.fit

    def _folded(self) -> FoldedPlate:
        """The ear, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)


def _is(corner: Vertex, u: float, v: float, _: float = 0.0) -> bool:
    return abs(corner.x - u) < 1e-7 and abs(corner.y - v) < 1e-7
