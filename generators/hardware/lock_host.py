"""What takes the lock's other half: a latch post, or the stile of a second leaf.

Frame: its seat, the face that looks at the leaf, the lock's bolt at u = 0. Units: mm, v up.
"""

from dataclasses import dataclass, replace
from math import inf

from hangpost.generators.hardware.design import Rides
from hangpost.generators.hardware.tube import Tube
from hangpost.parts.frame import Frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Host:
    """What the receiver is fixed to, in its seat's frame: a post or the second leaf's stile."""

    name: str  # in words
    kind: str  # timber, round_steel, square_steel
    seat: Frame
    depth: float  # through it, square to the seat
    wide: float  # of its face
    outside: float | None  # diameter of a round one
    rides: Rides
    species: str  # of a timber one
    tube: Tube | None = None  # of a steel one
    rails: tuple[float, ...] = ()  # v of what joins it from behind
    rail: float = 0.0  # half their height
    ends: tuple[float, float] = (-inf, inf)  # v of its own ends
    middle: float = 0.0  # u of its middle, the bolt being at u = 0
    measured: bool = False  # whether somebody has measured where that is

    @property
    def edges(self) -> tuple[float, float]:
        """U of its two edges."""
        return self.middle - self.wide / 2, self.middle + self.wide / 2

    def raised(self, by: float) -> "Host":
        """The same as seen from a lock that stands so much higher."""
        low, high = self.ends
        rails = tuple(rail - by for rail in self.rails)
        return replace(self, rails=rails, ends=(low - by, high - by))
