"""Spring pins that keep what has been set: one size a shop, their bodies and what to buy.

Driven through a hole drilled on site through two plates together. Units: mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from hangpost.generators.hardware.design import Bought, Placed, Rides
from hangpost.generators.survey.display import inches
from hangpost.generators.survey.shop import Shop
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.frame import Frame
from hangpost.parts.loop import Point

INCH_PIN, METRIC_PIN = "1/4", "6"  # house: strong enough, and easy to drill through two plates


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringPin:
    """A slotted spring pin: its hole is drilled to its own nominal size."""

    size: str
    diameter: float

    @property
    def words(self) -> str:
        """Size as it is asked for."""
        return f"{self.size} in" if self.size == INCH_PIN else f"{self.size} mm"


def spring_pin(shop: Shop) -> SpringPin:
    """The size that this shop uses."""
    if shop.drawings.units == "in":
        return SpringPin(size=INCH_PIN, diameter=6.35)
    return SpringPin(size=METRIC_PIN, diameter=6.0)


def pins_through(
    name: str,
    at: Sequence[tuple[Frame, Point]],
    pin: SpringPin,
    *,
    under: float,
    over: float,
    rides: Rides,
) -> Placed:
    """All pins of one plate as one body, each in the frame of its washer.

    They go through the plate `under` the washers and the washers themselves, `over` it.
    """
    shapes = tuple(
        Bar(frame.point((u, v, -under)), frame.w, pin.diameter / 2, under + over)
        for frame, (u, v) in at
    )
    return Placed(name=name, item=Body(name, shapes), frame=Frame(), rides=rides)


def pins_bought(pin: SpringPin, count: int, long: float) -> Bought:
    """The pins on the list."""
    inch = pin.size == INCH_PIN
    length = f"{inches(long).text} in" if inch else f"{long:.0f} mm"
    return Bought(
        name=f"spring pin {pin.words} x {length}",
        quantity=count,
        finish="stainless",
        note="drill on site through washer and plate once the lock runs free; drive it flush",
    )
