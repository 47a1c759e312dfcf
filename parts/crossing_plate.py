"""Crossing plate: lies between a lock receiver and its post and slides sideways.

Its own slots lie across those of the receiver, one long slot in each ply: the post's bolts stand
in its level slots, the receiver's bolts in its round holes. Once set it is drilled and pinned.
The same blank, thinner, is a shim.

Frame: as the receiver's: seat frame of the post face, datum at the bolt's middle, w = 0 on the
post. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, broken, marks, refuse
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.loop import Loop, Point, rectangle
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossingPlate(SheetPart):
    """The plate under a receiver; bad values raise ParameterError."""

    kind: ClassVar[str] = "crossing plate"
    plate_thickness: float
    sides: tuple[float, float]
    half_height: float
    corner: float = 5.0
    opening: tuple[float, float, float]  # diameter, slot length and v of the bolt's opening
    bolts: tuple[Point, ...]  # into the post
    slot: SlotSpec  # for these, its travel from side to side
    receiver: tuple[Point, ...]  # bolts of the receiver
    receiver_hole: float

    def __post_init__(self) -> None:
        """Refuse plates that cannot be cut, tear or turn."""
        found = broken(
            self.id,
            ("thickness", self.plate_thickness, 1.5, "house: thinnest shim to cut"),
            *spacing.rules(self.outline, self.holes[1:], self.plate_thickness),
            spacing.opening_rule(self.holes[0], self.holes[1:], self.plate_thickness),
        )
        if len(self.bolts) < 2 or len(self.receiver) < 2:
            found.append(f"{self.id}: two bolts to the post and two to the receiver keep it still")
        refuse(found)

    @classmethod
    def under(
        cls,
        receiver: LockReceiver,
        *,
        id: str,
        plate_thickness: float,
        sides: tuple[float, float],
        half_height: float,
        bolts: tuple[Point, ...],
        slot: SlotSpec,
        receiver_hole: float,
    ) -> "CrossingPlate":
        """The plate for this receiver, its opening clear of the bolt at both ends of both slots."""
        room = receiver.bolt + 2 * receiver.clearance + slot.travel
        hang = receiver.sag + receiver.slot.travel / 2
        return cls(
            id=id,
            plate_thickness=plate_thickness,
            sides=sides,
            half_height=half_height,
            opening=(room, hang, -hang / 2),
            bolts=bolts,
            slot=slot,
            receiver=receiver.bolts,
            receiver_hole=receiver_hole,
        )

    @property
    def outline(self) -> Loop:
        """The plate's edge."""
        left, right = self.sides
        return rectangle(left, -self.half_height, right, self.half_height, self.corner)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bolt's opening, the level slots, the receiver's holes."""
        d, length, v = self.opening
        mark = marks()
        level = (
            Hole(next(mark), u, y, self.slot.diameter, "latch", self.slot.travel)
            for u, y in self.bolts
        )
        round_ = (Hole(next(mark), u, y, self.receiver_hole, "join") for u, y in self.receiver)
        return (
            Hole("L", 0.0, v, d, "latch", length, 90.0 if length else 0.0),
            *level,
            *round_,
        )

    @property
    def sideways(self) -> float:
        """How far it can be set to either side."""
        return self.slot.travel / 2

    def _folded(self) -> FoldedPlate:
        """The plate, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)
