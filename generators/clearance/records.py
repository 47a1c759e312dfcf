"""What goes into a sweep and what comes out of it. Plan frame; mm, mm3, degrees."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hangpost.parts.frame import Frame

OVERLAP: Final = 1.0  # mm3 of common volume that facets alone can cause (house)

Array = NDArray[np.float64]
Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moving:
    """A closed mesh and where its own coordinates stand at an opening angle."""

    name: str
    vertices: Array
    faces: NDArray[np.int64]
    pose: Callable[[float], Frame]
    chord: float = 0.0  # how far its facets may lie off the true surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """What a pair leaves between its bodies at the worst angle of the swing.

    A pair that touches by design has no least distance (it is 0); its overlap is told all the
    same.
    """

    pair: Pair
    least: float  # chord errors taken off, never below 0
    at_angle: float  # where that is; where the overlap is greatest if there is one
    overlap: float  # greatest common volume
    touching: bool = False

    @property
    def room(self) -> float:
        """The least distance; the less below 0, the more the two are in one another."""
        return self.least - self.overlap

    @property
    def distance(self) -> float:
        """What lies between them, mm; below 0 the side of a cube as large as what they share."""
        return -(self.overlap ** (1 / 3)) if self.overlap > 0 else self.least

    @property
    def sharing(self) -> str:
        """What the two share in words, where they share anything."""
        if self.overlap <= 0:
            return ""
        shared = f"{self.overlap:.0f} mm3, a cube of {-self.distance:.1f} mm"
        return f"; they are in one another by {shared}"

    @property
    def fouls(self) -> bool:
        """Whether the two cannot pass: one in the other, or no gap where there must be one."""
        return self.overlap > OVERLAP or (not self.touching and self.least <= 0)
