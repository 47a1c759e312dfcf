"""Plate washer: covers a slot whole, wherever along its travel the bolt stands.

The washer moves with the bolt, so at one end of the travel the other end of the slot is a whole
travel away: it reaches that far and a lap more on either side. One end may go on past the slot
and carry two holes for a spring pin: once all is set, the slotted plate is drilled through one of
them and pinned, and the washer is a link that holds the plate to the bolt. The other hole is for
the next setting, in fresh metal.

Frame: the bolt's axis is the origin, v along the slot, w = 0 lies on the slotted plate.
Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, require
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Point, rectangle
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
    pin: float = 0.0  # diameter of the spring pin; 0: none
    web: float = 0.0  # metal of the slotted plate between its slot and the pin
    head: float = 0.0  # radius of what lies on the washer round the bolt

    def __post_init__(self) -> None:
        """Refuse washers that leave a part of the slot bare or tear."""
        require(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: a thinner one dishes into the slot"),
            ("lap", self.lap, 1.0, "house: the slot stays covered when cut to its tolerance"),
            ("slot", self.slot.diameter, self.hole - 1.0, "one bolt, about one hole"),
            ("travel", self.slot.travel, 0.0, "a slot has some, or none"),
            ("corner", self.lap - 0.3 * self.corner, 0.0, "the slot's end stays covered"),
            ("pin", self.pin, 3.0 if self.pin else 0.0, "house: smallest spring pin"),
            *spacing.rules(self.outline, self.holes, self.plate_thickness),
        )

    @property
    def half_length(self) -> float:
        """From the bolt to the plain end, along the slot."""
        least = (0.5 + spacing.EDGE) * self.hole
        return max(self.slot.travel + self.slot.diameter / 2 + self.lap, least)

    @property
    def far_length(self) -> float:
        """From the bolt to the pinned end."""
        if not self.pin:
            return self.half_length
        return max(self.half_length, self.pin_at[1] + self._pin_edge)

    @property
    def half_width(self) -> float:
        """From the bolt to either side."""
        least = max((0.5 + spacing.EDGE) * self.hole, self.hole / 2 + self.plate_thickness)
        pinned = self.pin_at[0] + self._pin_edge if self.pin else 0.0
        return max(self.slot.diameter / 2 + self.lap, least, pinned)

    @property
    def pin_at(self) -> Point:
        """The right-hand pin hole: past the slot's end wherever the bolt stands in it."""
        metal = max(spacing.PITCH * max(self.hole, self.pin), self.plate_thickness)
        past = max(self.slot.travel + self.slot.diameter / 2 + self.web, self.hole / 2 + metal)
        between = max((1.0 + spacing.PITCH) * self.pin, self.pin + self.plate_thickness)
        return between / 2, max(past, self.head + 1.0) + self.pin / 2

    @property
    def _pin_edge(self) -> float:
        return max((0.5 + spacing.EDGE) * self.pin, self.pin / 2 + 1.5 * self.plate_thickness)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bolt's hole, then those of the pin."""
        bolt = Hole("A", 0.0, 0.0, self.hole, "join")
        if not self.pin:
            return (bolt,)
        u, v = self.pin_at
        return (bolt, Hole("B", -u, v, self.pin, "join"), Hole("C", u, v, self.pin, "join"))

    @property
    def outline(self) -> Loop:
        """The washer's edge."""
        x, low, high = self.half_width, self.half_length, self.far_length
        return rectangle(-x, -low, x, high, self.corner)

    def _folded(self) -> FoldedPlate:
        """The washer, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)
