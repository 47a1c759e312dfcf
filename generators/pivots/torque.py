"""How much torque it takes to move a leaf, part by part.

Every part is the most that can occur anywhere in the swing, and they are added as if they fell
together. Torques in N mm about the hinge axis; lengths in mm, masses in kg, wind speed in m/s.
None of the coefficients is from a standard: they are the house's, said at each.
"""

from dataclasses import dataclass
from math import hypot, radians, sin

GRAVITY = 9.80665  # m/s2, standard gravity
AIR_DENSITY = 1.25  # kg/m3, EN 1991-1-4:2005, 4.5(1) NOTE 2
PLATE_COEFFICIENT = 1.2  # flat plate square to the wind; fluid mechanics textbooks, memory


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """The parts of the torque that moves a leaf."""

    wind: float
    hinges: float
    slope: float
    start: float

    @property
    def total(self) -> float:
        """All parts together."""
        return self.wind + self.hinges + self.slope + self.start


def wind_pressure(speed: float) -> float:
    """Pressure in N/mm2 on a flat plate in a steady wind of `speed` m/s."""
    return PLATE_COEFFICIENT * 0.5 * AIR_DENSITY * speed**2 * 1e-6


def wind(*, pressure: float, width: float, height: float, fill: float) -> float:
    """The solid share of the face in `pressure` (N/mm2), acting at half the width."""
    return pressure * fill * width * height * width / 2.0


def hinges(
    *,
    mass: float,
    width: float,
    height: float,
    friction: float = 0.3,  # dry, weathered steel on steel; house
    pin_radius: float = 10.0,  # house
    spacing_share: float = 0.75,  # hinge spacing as a share of the leaf's height; house
) -> float:
    """Friction of two hinges that carry the leaf's weight and the couple it hangs with."""
    weight = mass * GRAVITY
    side_force = weight * (width / 2.0) / (spacing_share * height)
    return friction * pin_radius * (weight + 2.0 * side_force)


def slope(*, mass: float, width: float, lean: tuple[float, float]) -> float:
    """Swinging uphill about an axis that leans by two angles in degrees."""
    return mass * GRAVITY * width / 2.0 * sin(radians(hypot(*lean)))


def start(
    *,
    mass: float,
    width: float,
    opening: float,
    swing_time: float,
    hinge_torque: float,
    ramp: float = 1.0,  # seconds to full speed; house
    breakaway: float = 0.5,  # standing friction above sliding friction; common practice, no source
) -> float:
    """Getting going: bringing the leaf to speed within `ramp` and breaking the hinges loose."""
    turning_mass = mass * width**2 / 3.0 * 1e-3  # kg mm2 to N mm s2
    return turning_mass * radians(opening) / swing_time / ramp + breakaway * hinge_torque
