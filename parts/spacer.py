"""Flat spacer block, printed: fills a recess between a bracket and what it stands on.

It is a locator in compression. Steel sleeves stand in its bores and take the clamping force,
so that the plastic does not creep under the bolts.

Frame: the seat frame of the face it lies on, centre of the block at (u, v) = centre; w = 0
touches the host and the printer's bed. Units: mm.
"""

from dataclasses import dataclass
from itertools import combinations
from math import hypot, pi
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts.flat import Hole, marks, require
from hangpost.parts.folded import Box3
from hangpost.parts.loop import Loop, Point, rectangle
from hangpost.parts.part import Bore, PrintedPart

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True, slots=True, kw_only=True)
class SpacerBlock(PrintedPart):
    """A rectangular block with sleeved bores; bad values raise ParameterError."""

    kind: ClassVar[str] = "spacer block"
    centre: Point = (0.0, 0.0)
    width: float
    length: float  # along v
    height: float
    corner: float
    bores_at: tuple[Point, ...]  # for the right hand
    bore: float  # sleeve outside diameter plus fit and the printer's hole compensation
    chamfer: float = 0.8

    def __post_init__(self) -> None:
        """Refuse blocks that break, tip or cannot be printed."""
        wall = min(
            min(self.width / 2 - abs(u - self.centre[0]), self.length / 2 - abs(v - self.centre[1]))
            for u, v in self.bores_at
        )
        require(
            f"{self.id}",
            ("height", self.height, 2 * self.chamfer + 1.0, "house: thinnest block that prints"),
            ("wall around a bore", wall - self.bore / 2, 2.4, "common practice: two double walls"),
            ("wall between bores", self._apart - self.bore, 2.4, "common practice: as above"),
            ("corner", self.corner, self.chamfer, "the chamfer runs around it"),
        )

    @property
    def _apart(self) -> float:
        """Least distance between two bores (what is needed when there is only one)."""
        pairs = combinations(self.bores_at, 2)
        return min((hypot(a[0] - b[0], a[1] - b[1]) for a, b in pairs), default=self.bore + 2.4)

    @property
    def handed(self) -> bool:
        """Whether the bores lie otherwise in the mirror image."""
        placed = {(round(u - self.centre[0], 2), round(v, 2)) for u, v in self.bores_at}
        return placed != {(-u, v) for u, v in placed}

    @property
    def thickness(self) -> float:
        """Height of the block."""
        return self.height

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bores for this part's hand, in the seat frame."""
        side = 1.0 if self.hand == "right" else -1.0
        return tuple(
            Hole(mark, side * u, v, self.bore, "sleeve")
            for mark, (u, v) in zip(marks(), self.bores_at, strict=False)
        )

    @property
    def outline(self) -> Loop:
        """The block as one looks at it, for this part's hand."""
        u = self.centre[0] if self.hand == "right" else -self.centre[0]
        x, y = self.width / 2, self.length / 2
        return rectangle(u - x, self.centre[1] - y, u + x, self.centre[1] + y, self.corner)

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Every bore square to the seat."""
        return tuple(Bore(h, "seat", (h.u, h.v, 0.0), (0.0, 0.0, 1.0)) for h in self.holes)

    @property
    def box(self) -> Box3:
        """Least and greatest corner."""
        left, bottom, right, top = self.outline.bounds
        return (left, bottom, 0.0), (right, top, self.height)

    @property
    def volume(self) -> float:
        """Full section between the chamfers, and the chamfers by Simpson, exact for squares."""
        levels = [self._section(depth) for depth in (0.0, self.chamfer / 2, self.chamfer)]
        rims = 2 * self.chamfer / 6 * (levels[0] + 4 * levels[1] + levels[2])
        return levels[0] * (self.height - 2 * self.chamfer) + rims

    def _section(self, inset: float) -> float:
        """Net area of the section where the chamfer has come in by `inset`."""
        full = (self.width - 2 * inset) * (self.length - 2 * inset)
        full -= (4 - pi) * (self.corner - inset) ** 2
        return full - len(self.bores_at) * pi * (self.bore / 2 + inset) ** 2

    def solid(self) -> "cq.Solid":
        """The block with both ends of outline and bores chamfered."""
        from hangpost.parts.solids import chamfered, extruded

        raw = extruded(self.outline, [h.loop for h in self.holes], self.height)
        return chamfered(raw, (0.0, self.height), self.chamfer)
