"""Plate washer: covers a slot whole, wherever along its travel the bolt stands.

The washer moves with the bolt, so at one end of the travel the other end of the slot is a whole
travel away: it reaches that far and a lap more on either side.

Frame: the bolt's axis is the origin, u along the slot, w = 0 lies on the slotted plate.
Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, require
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, rectangle
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec

LAP = 3.0  # house: metal past the slot's end and sides


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateWasher(SheetPart):
    """A washer for one slot; bad values raise ParameterError."""

    kind: ClassVar[str] = "plate washer"
    plate_thickness: float
    hole: float  # for the bolt, round: the slot is in one ply only
    slot: SlotSpec
    lap: float = LAP
    corner: float = 3.0

    def __post_init__(self) -> None:
        """Refuse washers that leave a part of the slot bare or tear."""
        require(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: a thinner one dishes into the slot"),
            ("lap", self.lap, 1.0, "house: the slot stays covered when cut to its tolerance"),
            ("slot", self.slot.diameter, self.hole - 1.0, "one bolt, about one hole"),
            ("travel", self.slot.travel, 0.0, "a slot has some, or none"),
            ("corner", self.lap - 0.3 * self.corner, 0.0, "the slot's end stays covered"),
            *spacing.rules(self.outline, (self._bolt,), self.plate_thickness),
        )

    @property
    def half_length(self) -> float:
        """From the bolt to either end, along the slot."""
        least = (0.5 + spacing.EDGE) * self.hole
        return max(self.slot.travel + self.slot.diameter / 2 + self.lap, least)

    @property
    def half_width(self) -> float:
        """From the bolt to either side."""
        least = max((0.5 + spacing.EDGE) * self.hole, self.hole / 2 + self.plate_thickness)
        return max(self.slot.diameter / 2 + self.lap, least)

    @property
    def _bolt(self) -> Hole:
        return Hole("A", 0.0, 0.0, self.hole, "join")

    @property
    def outline(self) -> Loop:
        """The washer's edge."""
        x, y = self.half_length, self.half_width
        return rectangle(-x, -y, x, y, self.corner)

    def drawn(self) -> FoldedPlate:
        """The washer, unbent."""
        return FoldedPlate(
            thickness=self.plate_thickness, outline=self.outline, holes=(self._bolt,)
        )
