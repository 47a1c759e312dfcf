"""Seat plate of a welded bracket: slots that locate the tabs of two ears, holes for the post.

Frame: the seat frame of the post or rail face, datum at pin height: u right, v up, w = 0 on the
host. The ears stand above and below v = 0. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, Use, broken, marks, refuse
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Point, rectangle
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec
from hangpost.parts.weld_ear import WeldEar


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatPlate(SheetPart):
    """A plate for two tabbed ears; bad values raise ParameterError."""

    kind: ClassVar[str] = "seat plate"
    plate_thickness: float
    sides: tuple[float, float]  # least and greatest u
    half_height: float
    corner: float = 6.0
    gap: float  # clear between the ears
    ear_thickness: float
    tabs: tuple[tuple[float, float], ...]  # middle and width of each tab, as the ear has them
    tab_fit: float = 0.3  # house: slot over tab, in width and in thickness
    bolts: tuple[Point, ...] = ()  # none: welded to the post all round
    slot: SlotSpec | None = None  # for the bolts
    fixed_to: Use = "post"

    def __post_init__(self) -> None:
        """Refuse plates that cannot be cut, tear, or let an ear foul a washer."""
        level = self.gap / 2 + self.ear_thickness
        found = broken(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: thinnest plate to weld"),
            ("gap between the ears", self.gap, 5.0, "the actuator's eye must pass"),
            ("height past the ears", self.half_height - level, self.plate_thickness, "the weld"),
            ("fit of the tabs", self.tab_fit, 0.1, "house: a cut tab must enter a cut slot"),
        )
        if bool(self.bolts) != (self.slot is not None):
            found.append(f"{self.id}: bolts and their slot go together")
        if self.slot is not None:
            lands = [
                max(abs(v) - level - self.slot.land, self._beside(u) - self.slot.half)
                for u, v in self.bolts
            ]
            found += broken(
                self.id,
                ("washer to ear", min(lands, default=0.0), 0.0, "the washer lies flat"),
                *spacing.rules(self.outline, self.holes, self.plate_thickness),
            )
        refuse(found)

    def _beside(self, u: float) -> float:
        """How far u lies beside all tabs."""
        return min(abs(u - middle) - width / 2 for middle, width in self.tabs)

    @classmethod
    def for_ears(
        cls,
        ear: WeldEar,
        *,
        id: str,
        gap: float,
        sides: tuple[float, float],
        half_height: float,
        bolts: tuple[Point, ...] = (),
        slot: SlotSpec | None = None,
        fixed_to: Use = "post",
    ) -> "SeatPlate":
        """The plate that takes two of these ears: as thick as their back edge stands out."""
        return cls(
            id=id,
            plate_thickness=ear.back,
            sides=sides,
            half_height=half_height,
            gap=gap,
            ear_thickness=ear.plate_thickness,
            tabs=ear.tabs,
            bolts=bolts,
            slot=slot,
            fixed_to=fixed_to,
        )

    @property
    def outline(self) -> Loop:
        """The plate's edge."""
        return rectangle(
            self.sides[0], -self.half_height, self.sides[1], self.half_height, self.corner
        )

    @property
    def windows(self) -> tuple[Loop, ...]:
        """The slots for the tabs, lower ear first."""
        middle = (self.gap + self.ear_thickness) / 2
        high = (self.ear_thickness + self.tab_fit) / 2
        return tuple(
            rectangle(
                u - (width + self.tab_fit) / 2,
                way * middle - high,
                u + (width + self.tab_fit) / 2,
                way * middle + high,
            )
            for way in (-1, 1)
            for u, width in self.tabs
        )

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The bolt holes, slotted along u."""
        if self.slot is None:
            return ()
        listed = zip(marks(), self.bolts, strict=False)
        d, travel = self.slot.diameter, self.slot.travel
        return tuple(Hole(m, u, v, d, self.fixed_to, travel) for m, (u, v) in listed)

    def drawn(self) -> FoldedPlate:
        """The plate, unbent."""
        return FoldedPlate(
            thickness=self.plate_thickness,
            outline=self.outline,
            windows=self.windows,
            holes=self.holes,
        )
