"""Flat bars and plates: the ear as a cantilever on edge, the seat between its fasteners.

Units: N, mm, MPa. A bar of `depth` (in the plane it is bent in) and `thickness` (across it).
Sources: AISC 360-16 E3, F11, H; strength of materials. Strengths are nominal ("yield").
"""

from math import hypot, pi, sqrt

from hangpost.generators.strength.factors import allowable
from hangpost.generators.strength.tables import row

STEEL_MODULUS = 200_000.0


def steel(grade: str) -> tuple[float, float]:
    """Yield and tensile strength of a steel by grade, steels.csv."""
    entry = row("steels", grade)
    return float(entry["fy"]), float(entry["fu"])


def elastic_modulus(depth: float, thickness: float) -> float:
    """Section modulus S of a rectangle bent in the plane of its depth."""
    return thickness * depth**2 / 6


def plastic_modulus(depth: float, thickness: float) -> float:
    """Plastic modulus Z of a rectangle bent in the plane of its depth."""
    return thickness * depth**2 / 4


def slenderness_limits(fy: float, *, modulus: float = STEEL_MODULUS) -> tuple[float, float]:
    """The two limits of Lb d/t2 in AISC 360-16 F11: 0.08 E/Fy and 1.9 E/Fy."""
    return 0.08 * modulus / fy, 1.9 * modulus / fy


def strong_axis_moment(
    fy: float,
    depth: float,
    thickness: float,
    unbraced: float,
    *,
    cb: float = 1.0,
    modulus: float = STEEL_MODULUS,
) -> float:
    """Nominal moment of a bar bent on edge, AISC 360-16 F11: yielding or lateral buckling.

    `cb` = 1 is safe for a cantilever whose tip is not held.
    """
    plastic = min(plastic_modulus(depth, thickness), 1.6 * elastic_modulus(depth, thickness)) * fy
    elastic = elastic_modulus(depth, thickness)
    slenderness = unbraced * depth / thickness**2
    plastic_limit, elastic_limit = slenderness_limits(fy, modulus=modulus)
    if slenderness <= plastic_limit:
        return plastic
    if slenderness <= elastic_limit:  # Eq. F11-2
        return min(plastic, cb * (1.52 - 0.274 * slenderness * fy / modulus) * fy * elastic)
    return min(plastic, 1.9 * modulus * cb / slenderness * elastic)  # Eq. F11-3, F11-4


def weak_axis_moment(fy: float, width: float, thickness: float) -> float:
    """Nominal moment of a plate bent about its weak axis, AISC 360-16 F11.1: Fy Z, no buckling."""
    return fy * plastic_modulus(thickness, width)


def spread_on(fy: float, thickness: float, pressure: float) -> float:
    """How far past a washer a plate spreads a pressure before it yields, as a footing does.

    The strip beside it is bent by M = p a^2 / 2 on 1 mm; what it stands is allowable.
    """
    strength = allowable(weak_axis_moment(fy, 1.0, thickness), "yield")
    return float((2 * strength / pressure) ** 0.5)


def axial_strength(
    fy: float,
    width: float,
    thickness: float,
    length: float,
    *,
    end_factor: float = 2.0,
    modulus: float = STEEL_MODULUS,
) -> float:
    """Nominal compression of a bar, AISC 360-16 E3, buckling across its thickness.

    `end_factor` K = 2 is a free-ended ear.
    """
    slenderness = end_factor * length / (thickness / sqrt(12))
    if slenderness <= 0:
        return fy * width * thickness
    euler = pi**2 * modulus / slenderness**2
    stress = 0.658 ** (fy / euler) * fy if fy / euler <= 2.25 else 0.877 * euler
    return float(stress) * width * thickness


def interaction(axial: float, strong: float, weak: float) -> float:
    """Utilisation of a bar under axial force and both moments: the ratios added.

    Never less than AISC 360-16 H1-1, which may take less than the sum.
    """
    return abs(axial) + abs(strong) + abs(weak)


def root_stress(
    width: float,
    thickness: float,
    *,
    axial: float,
    strong: float,
    weak: float,
    shear: float,
) -> float:
    """Largest equivalent stress at an ear's root (bend or weld), elastic, von Mises.

    Moments in N mm about the two axes; the average shear is taken with the largest bending stress,
    which do not meet in one point, so the sum is on the safe side.
    """
    direct = (
        abs(axial) / (width * thickness)
        + abs(strong) / elastic_modulus(width, thickness)
        + abs(weak) / elastic_modulus(thickness, width)
    )
    return von_mises(direct, shear / (width * thickness))


def von_mises(direct: float, shear: float) -> float:
    """Equivalent stress of a direct and a shear stress."""
    return hypot(direct, sqrt(3) * shear)
