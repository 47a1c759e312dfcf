"""The two plates that carry the pin past the post, their bolts and the tubes between.

Plan frame of the right hand. Units: mm.
"""

from dataclasses import dataclass
from math import hypot

from hangpost.generators.hardware.design import Bought, Placed
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.sleeves import INSIDE, WALL
from hangpost.generators.hardware.tightening import grade_words
from hangpost.generators.hardware.trade import fastener_words, tube_words, washer_words
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.survey.shop import Shop
from hangpost.parts.bodies import Bar, Body, Shape
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.pivot_extension import PivotExtension

UP = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Extension:
    """The two plates, their bolts and tubes."""

    held: Held
    bolt: Fastener
    plate: float
    pin: float
    tip: float
    eye_gap: float
    mount: Mount

    def kit(self, shop: Shop) -> Kit:
        """Everything of the extension, placed."""
        part = self._part()
        half, height = self.held.gap / 2, self.mount.height
        (x, y), tops = self.held.at, (half, self.plate - half)
        return Kit(
            placed=(
                *(
                    Placed(
                        name=f"{word} pivot extension",
                        item=part,
                        frame=Frame((x, y, height + top), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
                        rides="ground",
                    )
                    for word, top in zip(("upper", "lower"), tops, strict=True)
                ),
                self._bolts(),
            ),
            tools=tuple(
                self._socket(mark, *at, shop) for mark, at in zip("AB", self._at, strict=True)
            ),
            bought=self._bought(shop),
            reasons=(
                f"The extension's two bolts stand {self._apart:.0f} mm apart and clamp plates and "
                "ears on steel tubes; tighten them last. If they slip in their holes the pin "
                f"moves {part.play(self.bolt.diameter, self.bolt.diameter):.1f} mm at most.",
            ),
        )

    def _part(self) -> PivotExtension:
        (ax, ay), (bx, by) = self._at
        px, py = self.mount.post_pivot
        return PivotExtension(
            id="pivot-extension",
            plate_thickness=self.plate,
            first_hole=self.held.hole,
            second=(ax - bx, by - ay),
            second_hole=self.held.hole,
            far=(ax - px, py - ay),
            pin=self.pin,
            tip=self.tip,
            boss=self.held.tip,
        )

    @property
    def _at(self) -> tuple[tuple[float, float], tuple[float, float]]:
        assert self.held.second is not None
        return self.held.at, self.held.second

    @property
    def _apart(self) -> float:
        (ax, ay), (bx, by) = self._at
        return hypot(bx - ax, by - ay)

    @property
    def _top(self) -> float:
        """Top of the upper ear over the pins' level."""
        return self.held.gap / 2 + self.plate

    def _bolts(self) -> Placed:
        shapes: list[Shape] = []
        bore = (self.bolt.diameter + INSIDE) / 2
        for x, y in self._at:
            shapes += self.bolt.body("", x, y, self._top).shapes
            shapes.append(Bar((x, y, -self.eye_gap / 2), UP, bore + WALL, self.eye_gap, bore))
        frame = Frame((0.0, 0.0, self.mount.height))
        body = Body("extension bolts", tuple(shapes))
        return Placed(name="extension bolts", item=body, frame=frame, rides="ground")

    def _socket(self, mark: str, x: float, y: float, shop: Shop) -> Placed:
        start = self._top + float(shop.clearances.tool) + 0.2
        body = self.bolt.socket(mark, x, y, start, start + 40.0)
        frame = Frame((0.0, 0.0, self.mount.height))
        return Placed(name=f"socket on extension {mark}", item=body, frame=frame, rides="ground")

    def _bought(self, shop: Shop) -> tuple[Bought, ...]:
        size, finish = self.bolt.size, "stainless" if shop.finish == "stainless" else "galvanised"
        finish = "hot-dip galvanised" if finish == "galvanised" else finish
        outside = self.bolt.diameter + INSIDE + 2 * WALL
        return (
            Bought(
                name=fastener_words(self.bolt, shop),
                quantity=2,
                grade=grade_words(size, shop),
                finish=finish,
                note="through bracket and pivot extension",
            ),
            Bought(name=washer_words(self.bolt), quantity=4, finish=finish),
            Bought(name=f"self-locking nut {size}", quantity=2, finish=finish),
            Bought(
                name=tube_words("steel tube", outside, WALL, self.eye_gap, size),
                quantity=2,
                note="on each bolt, between the two extension plates",
            ),
        )
