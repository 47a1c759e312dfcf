"""Pivot extension: flat plates that carry the pin past the post bracket, for push-to-open.

Two of them lie on the bracket's ears, bolted through the pin hole and a second hole, so that
they cannot turn; spacer tubes on the bolts keep them apart. The actuator's pin stands in their
far end in double shear. Both are cut from one pattern.

Frame: lying in plan, the bracket's pin hole at the origin, u and v in plan as the seat's u and
its reach, w down through the thickness. Units: mm.
"""

from dataclasses import dataclass
from math import asin, degrees, hypot
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, require
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.hull import hull
from hangpost.parts.loop import Loop, Point
from hangpost.parts.part import SheetPart


@dataclass(frozen=True, slots=True, kw_only=True)
class PivotExtension(SheetPart):
    """One of the two plates; bad values raise ParameterError."""

    kind: ClassVar[str] = "pivot extension plate"
    plate_thickness: float
    first_hole: float  # for the bolt in the bracket's pin hole
    second: Point  # the second bolt, from the first
    second_hole: float
    far: Point  # the actuator's pin, from the first bolt
    pin: float  # hole for the pin
    tip: float  # radius of the plate about the pin
    boss: float  # radius of the plate about the two bolts

    def __post_init__(self) -> None:
        """Refuse plates that turn, tear or cannot be cut."""
        apart = hypot(*self.second)
        require(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: thinnest plate for a bracket"),
            ("second bolt", apart, 2.4 * self.first_hole, "two bolts keep it from turning"),
            ("extension", hypot(*self.far), self.tip + self.boss, "house: else move the bracket"),
            ("pin edge", self.tip - self.pin / 2, 0.5 * self.pin, "house: half a pin of steel"),
            ("size about the bolts", self.boss, self.tip / 3, "house: no sudden waist"),
            *spacing.rules(self.outline, self.holes[:2], self.plate_thickness),
            (
                "pin to bolts",
                min(spacing.between(self.holes[2], h) for h in self.holes[:2]),
                spacing.PITCH * self.pin,
                "EN 1993-1-8 Table 3.3",
            ),
        )

    @property
    def outline(self) -> Loop:
        """The band about the three holes."""
        return hull(
            ((0.0, 0.0, self.boss), (*self.second, self.boss), (*self.far, self.tip))
        ).tidied()

    @property
    def holes(self) -> tuple[Hole, Hole, Hole]:
        """First and second bolt, pin."""
        return (
            Hole("A", 0.0, 0.0, self.first_hole, "join"),
            Hole("B", *self.second, self.second_hole, "join"),
            Hole("P", *self.far, self.pin, "pin"),
        )

    def play(self, first_bolt: float, second_bolt: float) -> float:
        """How far the pin can move sideways by the clearance of the two bolts, both loose."""
        slack = (self.first_hole - first_bolt + self.second_hole - second_bolt) / 2
        return hypot(*self.far) * slack / hypot(*self.second)

    def turn(self, first_bolt: float, second_bolt: float) -> float:
        """The same as an angle about the first bolt, in degrees."""
        return degrees(asin(min(1.0, self.play(first_bolt, second_bolt) / hypot(*self.far))))

    def _folded(self) -> FoldedPlate:
        """The plate, unbent."""
        return FoldedPlate(thickness=self.plate_thickness, outline=self.outline, holes=self.holes)
