"""Lateral strength of a dowel in timber: the yield-limit equations, every mode by its own name.

Units: N, mm, MPa. Values are NDS reference design values Z; multiply by the adjustment factors.
For a lag screw `diameter` is the ROOT diameter (unless the shank reaches the main member by three
quarters of its bearing), for a bolt in full-body condition the nominal one; bearing strengths are
always by the nominal diameter. `reference()` picks the least.
Sources: NDS 2018 Table 12.3.1A, B and equations 12.3-1 to 12.3-6; AWC TR-12 for a gap: limit
analysis of a dowel, which a test does apart.
"""

from math import sqrt

from hangpost.generators.strength.inch import INCH
from hangpost.generators.strength.tables import row

Modes = dict[str, float]
BOLT_YIELD = 310.264  # Fyb 45000 psi, NDS tables of bolts


def angle_factor(angle: float) -> float:
    """K theta of NDS 2018 Table 12.3.1B: 1 + 0.25 theta / 90, theta to the grain."""
    return 1 + 0.25 * angle / 90


def reduction_terms(diameter: float, angle: float) -> tuple[float, float, float]:
    """Rd for modes I, II and III with IV, NDS 2018 Table 12.3.1B.

    Below 1/4 in (a lag screw's root) it is KD for all, with the angle factor kept.
    """
    k = angle_factor(angle)
    if diameter >= 0.25 * INCH - 1e-6:
        return 4.0 * k, 3.6 * k, 3.2 * k
    kd = 2.2 if diameter <= 0.17 * INCH else 10 * diameter / INCH + 0.5
    return kd * k, kd * k, kd * k


def lag_main_length(penetration: float, tip: float) -> float:
    """Bearing length lm of a lag screw: penetration, tip counted, less half the tip, NDS 12.3.5."""
    return penetration - tip / 2


def single_shear(
    *,
    diameter: float,
    main: float,
    side: float,
    bearing_main: float,
    bearing_side: float,
    yield_strength: float,
    angle: float,
    gap: float = 0.0,
) -> Modes:
    """All six modes of a dowel in single shear, NDS 2018 Eq. 12.3-1 to 12.3-6 in the form of TR-12.

    P from A P^2 + B P + C = 0, the dowel's own equilibrium. `main` and `side` are the bearing
    lengths, `gap` what lies between the members and bears nothing (a wedge, a printed block),
    `angle` the largest of load to grain.
    """
    qm, qs = bearing_main * diameter, bearing_side * diameter
    bend = yield_strength * diameter**3 / 6
    rd1, rd2, rd3 = reduction_terms(diameter, angle)

    def least(a: float, b: float, c: float) -> float:
        return (-b + sqrt(b**2 - 4 * a * c)) / (2 * a)

    half_m, half_s = qm * main**2 / 4, qs * side**2 / 4
    return {
        "Im": qm * main / rd1,
        "Is": qs * side / rd1,
        "II": least(1 / (4 * qs) + 1 / (4 * qm), side / 2 + gap + main / 2, -half_s - half_m) / rd2,
        "IIIm": least(1 / (2 * qs) + 1 / (4 * qm), gap + main / 2, -bend - half_m) / rd3,
        "IIIs": least(1 / (4 * qs) + 1 / (2 * qm), side / 2 + gap, -half_s - bend) / rd3,
        "IV": least(1 / (2 * qs) + 1 / (2 * qm), gap, -2 * bend) / rd3,
    }


def reference(modes: Modes) -> tuple[str, float]:
    """The mode that governs and its value Z."""
    name = min(modes, key=lambda mode: modes[mode])
    return name, modes[name]


def lag(size: str) -> tuple[float, float, float, float]:
    """Nominal diameter, root diameter, tip length and bending yield strength of a lag screw."""
    entry = row("lags", size)
    return (
        float(entry["diameter"]),
        float(entry["root"]),
        float(entry["tip"]),
        float(entry["fyb"]),
    )
