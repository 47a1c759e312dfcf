"""Lateral strength of a dowel in timber: the yield-limit equations, every mode by its own name.

Units: N, mm, MPa. Values are NDS reference design values Z; multiply by the adjustment factors.
For a lag screw `diameter` is the ROOT diameter (unless the shank reaches the main member by three
quarters of its bearing), for a bolt in full-body condition the nominal one; bearing strengths are
always by the nominal diameter. `reference()` picks the least.
Sources: NDS 2018 Table 12.3.1A, B and equations 12.3-1 to 12.3-10; AWC TR-12 for a gap (memory).
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
) -> Modes:
    """All six modes of a dowel in single shear, NDS 2018 Eq. 12.3-1 to 12.3-6.

    `main` and `side` are the bearing lengths, `angle` the largest of load to grain.
    """
    re, rt = bearing_main / bearing_side, main / side
    rd1, rd2, rd3 = reduction_terms(diameter, angle)
    bend = 2 * yield_strength * diameter**2 / (3 * bearing_main)
    k1 = (sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + sqrt(2 * (1 + re) + bend * (1 + 2 * re) / main**2)
    k3 = -1 + sqrt(2 * (1 + re) / re + bend * (2 + re) / side**2)
    return {
        "Im": diameter * main * bearing_main / rd1,
        "Is": diameter * side * bearing_side / rd1,
        "II": k1 * diameter * side * bearing_side / rd2,
        "IIIm": k2 * diameter * main * bearing_main / ((1 + 2 * re) * rd3),
        "IIIs": k3 * diameter * side * bearing_main / ((2 + re) * rd3),
        "IV": diameter**2 / rd3 * sqrt(2 * bearing_main * yield_strength / (3 * (1 + re))),
    }


def single_shear_gap(
    *,
    diameter: float,
    main: float,
    side: float,
    bearing_main: float,
    bearing_side: float,
    yield_strength: float,
    angle: float,
    gap: float,
) -> Modes:
    """The six modes with a `gap` between the members (a printed block), AWC TR-12 Table 1-1.

    P from A P^2 + B P + C = 0 over the same reduction terms; with gap 0 they are those above.
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


def double_shear(
    *,
    diameter: float,
    main: float,
    side: float,
    bearing_main: float,
    bearing_side: float,
    yield_strength: float,
    angle: float,
) -> Modes:
    """The four modes of a dowel between two side plates, NDS 2018 Eq. 12.3-7 to 12.3-10.

    Both shear planes together; each side plate is `side` thick.
    """
    one = single_shear(
        diameter=diameter,
        main=main,
        side=side,
        bearing_main=bearing_main,
        bearing_side=bearing_side,
        yield_strength=yield_strength,
        angle=angle,
    )
    return {"Im": one["Im"], "Is": 2 * one["Is"], "IIIs": 2 * one["IIIs"], "IV": 2 * one["IV"]}


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
