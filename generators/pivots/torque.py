"""How much torque it takes to move a leaf, part by part.

Every part is the most that can occur anywhere in the swing, and they are added as if they fell
together. Torques in N mm about the hinge axis; lengths in mm, masses in kg, pressure in N/mm2.
The operating wind is what the owner wants the gate still to move in, a wish and not a load of any
code; its velocity pressure acts on the solid share of the face, with no shape coefficient (house).
"""

from dataclasses import dataclass
from math import hypot, radians, sin

GRAVITY = 9.80665  # m/s2, standard gravity


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """The parts of the torque that moves a leaf."""

    wind: float
    hinges: float
    start: float
    slope: float

    @property
    def total(self) -> float:
        """All parts together."""
        return self.wind + self.hinges + self.start + self.slope


def wind(*, pressure: float, width: float, height: float, fill: float) -> float:
    """The solid share of the face under `pressure`, acting at half the width."""
    return pressure * fill * width * height * width / 2.0


def hinges(*, pull: float, width: float) -> float:
    """Hinges and seals in still air: the pull at the latch edge that keeps the leaf moving."""
    return pull * width


def start(*, hinge_torque: float, factor: float) -> float:
    """What breaking away takes above keeping moving; the factor is on hinge friction alone."""
    return (factor - 1.0) * hinge_torque


def slope(
    *, mass: float, width: float, lean: tuple[float, float], rise: float, opening: float
) -> float:
    """Uphill about an axis that leans by two angles, and up hinges that rise evenly by `rise`.

    The weight acts at half the width; a leaning axis is taken at its steepest angle of the swing.
    """
    weight = mass * GRAVITY
    leaning = weight * width / 2.0 * sin(radians(hypot(*lean)))
    return leaning + weight * abs(rise) / radians(opening)
