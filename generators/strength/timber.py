"""Lag screws and bolts in timber: withdrawal, bearing of the wood, wet wood, both loads at once.

Units: N, mm, MPa. Values are NDS reference design values (allowable stress, ten years); multiply
by the duration and service factors, never divide again.
Source: NDS 2018 chapters 11 and 12.
"""

from math import cos, floor, pi, radians, sin

from hangpost.generators.strength.inch import INCH, LBF, PSI
from hangpost.generators.strength.tables import row, table

# NDS 12.2.1: W = 1800 G^1.5 D^0.75 lbf per inch of thread, D in inches
WITHDRAWAL = 1800 * LBF / INCH / INCH**0.75
# NDS 12.3.3: 11200 G and 6100 G^1.45 / sqrt(D) psi, D in inches
BEARING_PARALLEL = 11200 * PSI
BEARING_ACROSS = 6100 * PSI * INCH**0.5
BEARING_STEP = 50 * PSI  # Table 12.3.3 is rounded to 50 psi, and its users with it
WET_LATERAL = 0.7  # NDS Table 11.3.3, CM, wet in service
WET_WITHDRAWAL = 0.7  # the same for lag screws (memory)


def is_listed(species: str) -> bool:
    """Whether the tables have values for a species."""
    return species.strip().lower() in table("species")


def specific_gravity(species: str) -> float:
    """G by species name, NDS Table 12.3.3A."""
    return float(row("species", species.strip().lower())["g"])


def withdrawal_per_length(gravity: float, diameter: float) -> float:
    """Reference withdrawal of a lag screw, NDS 2018 Eq. 12.2-1, N per mm of thread in side grain.

    `diameter` is the nominal (shank) diameter, not the root.
    """
    return float(WITHDRAWAL * gravity**1.5 * diameter**0.75)


def thread_length(length: float) -> float:
    """Thread of a lag screw with its tip, ASME B18.2.1: L/2 + 1/2 in, at most 6 in."""
    return min(length / 2 + 0.5 * INCH, 6 * INCH, length)


def thread_in_wood(length: float, tip: float, side: float) -> float:
    """Thread that grips: of the thread, what is past the side plate, without the tapered tip."""
    return max(0.0, min(thread_length(length), length - side) - tip)


def lag_withdrawal(gravity: float, diameter: float, thread: float) -> float:
    """Reference withdrawal value W pt of one lag screw with `thread` in the wood, NDS 12.2.1."""
    return withdrawal_per_length(gravity, diameter) * thread


def bearing_parallel(gravity: float) -> float:
    """Dowel bearing along the grain, NDS 2018 Table 12.3.3: 11200 G psi, rounded as the table."""
    return _stepped(BEARING_PARALLEL * gravity)


def bearing_across(gravity: float, diameter: float) -> float:
    """Dowel bearing across the grain, NDS 2018 Table 12.3.3: 6100 G^1.45 / sqrt D psi, rounded.

    `diameter` is the nominal diameter even where a lag's root decides the yield modes.
    """
    return _stepped(float(BEARING_ACROSS * gravity**1.45 / diameter**0.5))


def hankinson(parallel: float, across: float, angle: float) -> float:
    """A wood value at an angle to the grain, NDS 2018 Eq. 12.3-11 (Hankinson)."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return parallel * across / (parallel * s**2 + across * c**2)


def bearing_at_angle(gravity: float, diameter: float, angle: float) -> float:
    """Dowel bearing at an angle between load and grain (0 along, 90 across)."""
    return hankinson(bearing_parallel(gravity), bearing_across(gravity, diameter), angle)


def bearing_steel(fu: float, thickness: float) -> float:
    """Dowel bearing of a steel side plate, NDS 2018 I.4: 1.5 Fu from 1/4 in, thinner 1.375 Fu."""
    return (1.5 if thickness >= 0.25 * INCH - 0.01 else 1.375) * fu


def combined(lateral: float, withdrawal: float, angle: float) -> float:
    """Value of a lag screw loaded at an angle to the wood's surface, NDS 2018 Eq. 12.4-1.

    0 degrees is all lateral, 90 all withdrawal; both values already adjusted.
    """
    return hankinson(lateral, withdrawal, angle)


def least_penetration(diameter: float) -> float:
    """Least penetration of a lag screw in the main member, tip left out, NDS 12.1.4.6: 4 D."""
    return 4 * diameter


def lead_hole(gravity: float, diameter: float) -> tuple[float, float]:
    """Smallest and largest lead hole for the thread, NDS 2018 12.1.4.2 (memory), by density."""
    if gravity > 0.60:
        low, high = 0.65, 0.85
    elif gravity > 0.50:
        low, high = 0.60, 0.75
    else:
        low, high = 0.40, 0.70
    return low * diameter, high * diameter


def bolt_hole_limits(diameter: float) -> tuple[float, float]:
    """Smallest and largest bolt hole in wood, NDS 2018 12.1.3.2: 1/32 to 1/16 in over the bolt."""
    return diameter + INCH / 32, diameter + INCH / 16


def washer_bearing(fc_perp: float, outside: float, hole: float) -> float:
    """Force that a round washer may press on the side grain, NDS 3.10.2: Fc_perp times its area."""
    return fc_perp * pi / 4 * (outside**2 - hole**2)


def _stepped(value: float) -> float:
    """Rounded half up to the table's 50 psi."""
    return floor(value / BEARING_STEP + 0.5) * BEARING_STEP
