"""Bolts and lag screws as things that take up room: head, washer, socket, hole in the host.

Units: mm. Sizes of heads and washers come from fasteners.csv; a socket's outside diameter and
the lead hole of a lag are rules stated where they are used.
"""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from hangpost.parts import tables
from hangpost.parts.bodies import Bar, Body

FastenerKind = Literal["lag screw", "hex bolt", "carriage bolt", "U-bolt"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadSize:
    """Wrench size, head height and washer of one thread size."""

    across_flats: float
    head_height: float
    washer_diameter: float
    washer_thickness: float


@cache
def head_size(size: str) -> HeadSize:
    """Head and washer for "M12" or "1/2"; raises SizeError for a size not listed."""
    for row in tables.rows("fasteners"):
        if row["size"] == size:
            return HeadSize(
                across_flats=float(row["across_flats"]),
                head_height=float(row["head_height"]),
                washer_diameter=float(row["washer_diameter"]),
                washer_thickness=float(row["washer_thickness"]),
            )
    listed = ", ".join(row["size"] for row in tables.rows("fasteners"))
    raise tables.SizeError(f"no head size for {size!r}; listed are {listed}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """A bolt or lag screw of one size; `length` from under the head."""

    kind: FastenerKind
    size: str  # "1/2" or "M12"
    length: float

    @property
    def diameter(self) -> float:
        """Nominal diameter."""
        return tables.shank(self.size)

    @property
    def through_drill(self) -> float:
        """Drill for its hole through a post or a rail: 1 mm over, or 1/16 in over an inch thread.

        NDS 2018 12.1.3.2 allows 1/32 to 1/16 in (memory); so many sizes of drill are at hand.
        """
        over = 1.0 if tables.is_metric(self.size) else tables.INCH / 16
        return self.diameter + over

    @property
    def head(self) -> HeadSize:
        """Its head and washer."""
        return head_size(self.size)

    @property
    def stack(self) -> float:
        """How far washer and head stand out of the plate."""
        return self.head.washer_thickness + self.head.head_height

    @property
    def socket_radius(self) -> float:
        """Radius of the room a socket needs: 0.65 across flats and 2 mm of wall (house)."""
        return 0.65 * self.head.across_flats + 2.0

    def body(self, name: str, u: float, v: float, plate: float, *, washer: bool = True) -> Body:
        """Washer, head and shank where they sit, `plate` being the seat's outer face (w)."""
        head, up = self.head, (0.0, 0.0, 1.0)
        top = plate + (head.washer_thickness if washer else 0.0)
        under = (Bar((u, v, plate), up, head.washer_diameter / 2, head.washer_thickness),)
        return Body(
            name,
            (
                *(under if washer else ()),
                Bar((u, v, top), up, 0.577 * head.across_flats, head.head_height),
                Bar((u, v, top - self.length), up, self.diameter / 2, self.length),
            ),
        )

    def socket(self, name: str, u: float, v: float, start: float, end: float) -> Body:
        """The room a socket and its extension take up, from `start` off the host to `end` (w)."""
        along = (0.0, 0.0, 1.0)
        return Body(name, (Bar((u, v, start), along, self.socket_radius, end - start),))
