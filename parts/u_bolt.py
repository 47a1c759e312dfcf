"""U-bolt: bought, bent round a post or rail, its legs through the bracket in front.

It holds by friction, so a bracket on U-bolts also gets a locking bolt into the post, set after
everything else, that keeps it from turning.

Frame: as the saddle block's: origin on the post's nearest line to the viewer, v along the post,
w towards the viewer; the crown lies behind the post. Units: mm.
"""

from dataclasses import dataclass

from hangpost.parts import tables
from hangpost.parts.bodies import Arch, Bar, Body, Shape
from hangpost.parts.fastening import HeadSize, head_size
from hangpost.parts.flat import require

NUT = 0.85  # height of a hexagon nut over its diameter: ISO 4032 0.8 to 0.9
PAST = 3.0  # house: thread past the nut


@dataclass(frozen=True, slots=True, kw_only=True)
class UBolt:
    """A U-bolt of one thread size for one tube; bad values raise ParameterError."""

    size: str  # "3/8" or "M10"
    outside: float  # diameter of the tube
    fit: float = 0.5  # house: bend over tube, on the radius

    def __post_init__(self) -> None:
        """Refuse a bend that does not go round its tube."""
        require(
            f"U-bolt {self.size}",
            ("tube", self.outside, 2.0 * self.diameter, "house: tightest bend"),
            ("fit", self.fit, 0.0, "the bend goes round the tube"),
        )

    @property
    def diameter(self) -> float:
        """Nominal diameter of thread and bar."""
        return tables.shank(self.size)

    @property
    def head(self) -> HeadSize:
        """Its washer, and the wrench size of its nut."""
        return head_size(self.size)

    @property
    def bend_radius(self) -> float:
        """Of the bar's middle line."""
        return self.outside / 2 + self.fit + self.diameter / 2

    @property
    def pitch(self) -> float:
        """Between the legs: the holes in the bracket lie at u = -pitch/2 and pitch/2."""
        return 2 * self.bend_radius

    @property
    def stack(self) -> float:
        """How far washer, nut and thread stand out of the plate."""
        return self.head.washer_thickness + NUT * self.diameter + PAST

    def leg(self, plate: float) -> float:
        """From the tube's axis to the end of the thread, the plate's outer face at w = `plate`."""
        return self.outside / 2 + plate + self.stack

    @property
    def inside(self) -> float:
        """Clear width between the legs."""
        return self.pitch - self.diameter

    def body(self, name: str, v: float, plate: float) -> Body:
        """Bar, washers and nuts where they sit; the plate's outer face is at w = `plate`."""
        axis, r = -self.outside / 2, self.diameter / 2
        shapes: list[Shape] = [
            Arch((0.0, v, axis), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0), self.bend_radius, r)
        ]
        up, washer = (0.0, 0.0, 1.0), self.head.washer_thickness
        for u in (-self.pitch / 2, self.pitch / 2):
            shapes.append(Bar((u, v, axis), up, r, self.leg(plate)))
            shapes.append(Bar((u, v, plate), up, self.head.washer_diameter / 2, washer))
            nut = 0.577 * self.head.across_flats
            shapes.append(Bar((u, v, plate + washer), up, nut, NUT * self.diameter))
        return Body(name, tuple(shapes))
