"""Backing plate: spreads the pull of bolts on the far side of a post or rail.

Frame: the seat frame of the face it lies on, as one looks at that face: u right, v up, w = 0
touches the host. Seen from there its holes lie mirrored to those of the bracket in front.
Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, Use, marks, require
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Point, rectangle
from hangpost.parts.part import SheetPart


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingPlate(SheetPart):
    """A rectangular plate with bolt holes; bad values raise ParameterError."""

    kind: ClassVar[str] = "backing plate"
    plate_thickness: float
    centre: Point = (0.0, 0.0)
    width: float
    length: float  # along v
    corner: float = 6.0
    bolts: tuple[Point, ...]  # for the right hand
    hole: float
    goes_through: Use = "post"

    def __post_init__(self) -> None:
        """Refuse plates that cannot be cut or tear at a hole."""
        require(
            self.id,
            ("thickness", self.plate_thickness, 2.0, "house: thinnest plate for hardware"),
            ("corner", min(self.width, self.length) / 2 - self.corner, 0.0, "half the plate"),
            ("hole", self.hole, self.plate_thickness, "common practice: smallest hole to cut"),
            *spacing.rules(self.outline, self.holes, self.plate_thickness),
        )

    @property
    def outline(self) -> Loop:
        """The plate's edge, right hand."""
        (u, v), x, y = self.centre, self.width / 2, self.length / 2
        return rectangle(u - x, v - y, u + x, v + y, self.corner)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bolt holes, right hand."""
        listed = zip(marks(), self.bolts, strict=False)
        return tuple(Hole(mark, u, v, self.hole, self.goes_through) for mark, (u, v) in listed)

    def _folded(self) -> FoldedPlate:
        """The plate, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)
