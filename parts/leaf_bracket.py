"""Leaf bracket as a lobed channel: one plate whose ears fold out of the middle of its web.

The web lies on the rail; its two ends are lobes that carry the through-bolts left and right of
the ears, where height is scarce and width is not. The ears reach out to the leaf pivot.

Frame: the seat frame of the leaf's actuator-side face, datum on the rail's centre line at the
leaf pivot: u to the right, v up, w out of the leaf. It is its own mirror image. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts.ear import ear_path
from hangpost.parts.flat import Hole, require
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Loop, rounded
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec


@dataclass(frozen=True, slots=True, kw_only=True)
class LobedChannel(SheetPart):
    """The bracket that carries the leaf pivot; bad values raise ParameterError."""

    kind: ClassVar[str] = "leaf bracket, lobed channel"
    plate_thickness: float
    bend_radius: float
    k_factor: float | None
    gap: float  # clear between the ears
    pin: float  # hole for the pin
    reach: float  # pin to the seat
    tip: float  # radius of the ears about the pin
    columns: tuple[float, ...]  # u of the bolts, to the right of the ears; mirrored to the left
    rows: tuple[float, ...] = (0.0,)  # v of the bolts
    slot: SlotSpec
    corner: float = 6.0

    def __post_init__(self) -> None:
        """Refuse what cannot be cut, bent or fastened."""
        inner = self.columns[0] - self.slot.diameter / 2 - self.slot.travel / 2 - self.root
        require(
            f"{self.id}",
            ("thickness", self.plate_thickness, 2.0, "house: thinnest plate for a bracket"),
            ("gap between the ears", self.gap, 5.0, "the actuator's eye must pass"),
            ("pin edge", self.tip - self.pin / 2, 0.5 * self.pin, "house: half a pin of steel"),
            ("ear length", self.ear_length - self.tip, 0.0, "the eye of the ear clears the bend"),
            ("hole to relief", inner, 1.5 * self.plate_thickness, "house: web beside the relief"),
        )

    @property
    def bend_line(self) -> float:
        """V of the tangent where the web ends and the upper bend begins."""
        return self.gap / 2 + self.plate_thickness + self.bend_radius

    @property
    def ear_length(self) -> float:
        """From the end of the bend to the pin."""
        return self.reach - self.plate_thickness - self.bend_radius

    @property
    def root(self) -> float:
        """Half the width of the ears at their root."""
        return self.tip + self.plate_thickness

    @property
    def half_width(self) -> float:
        """From the pin to either end of the bracket."""
        return self.columns[-1] + self.slot.half

    @property
    def half_height(self) -> float:
        """Half the height of the lobes: they stay behind the bends unless bolts need more."""
        needed = max(abs(v) for v in self.rows) + self.slot.land
        return max(needed, self.bend_line - self.relief)

    @property
    def relief(self) -> float:
        """How far the lobes' edge, or the notch beside an ear, stays behind the bend."""
        return self.plate_thickness

    def drawn(self) -> FoldedPlate:
        """Web, lobes and two ears; the lower ear is the first edge of the outline."""
        outline, upper = self._web()
        line, far = self.bend_line, self.bend_line + self.ear_length
        ears = [("lower ear", 0, -line, -far, "Q"), ("upper ear", upper, line, far, "P")]
        flanges = tuple(
            Flange(
                name=name,
                edge=edge,
                path=ear_path(-self.root, self.root, at, (0.0, v), self.tip),
                radius=self.bend_radius,
                holes=(Hole(mark, 0.0, v, self.pin, "pin"),),
            )
            for name, edge, at, v, mark in ears
        )
        marks = iter("ABCDEFGH")
        holes = tuple(
            Hole(next(marks), u, v, self.slot.diameter, "leaf", self.slot.travel)
            for v in self.rows
            for u in (*(-c for c in reversed(self.columns)), *self.columns)
        )
        return FoldedPlate(
            thickness=self.plate_thickness,
            outline=outline,
            holes=holes,
            flanges=flanges,
            k_factor=self.k_factor,
        )

    def _web(self) -> tuple[Loop, int]:
        """The web's outline and the number of the edge that carries the upper ear."""
        a, line, wide, high = self.root, self.bend_line, self.half_width, self.half_height
        step = line - self.relief
        inner, round_ = self.relief / 2, self.corner
        if high > step + 1e-9:  # lobes taller than the ears: a notch on either side of an ear
            notch = self.relief
            side = [(a, step, inner * 0.99), (a + notch, step, inner * 0.99)]
            side += [(a + notch, high, notch / 2), (wide, high, round_)]
        else:
            side = [(a, step, inner), (wide, step, round_)]
        lower_right = [(x, -y, r) for x, y, r in side]
        upper_right = side[::-1]
        right = [(a, -line, 0.0), *lower_right, *upper_right, (a, line, 0.0)]
        left = [(-x, -y, r) for x, y, r in right]
        loop = rounded([left[-1], *right, *left[:-1]])
        at = next(
            i
            for i, e in enumerate(loop.edges)
            if abs(e.start[1] - line) < 1e-9 and abs(e.end[1] - line) < 1e-9
        )
        return loop, at
