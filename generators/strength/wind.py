"""Wind on a closed or moving leaf: pressure from speed, force from pressure, torque at the hinge.

Units: pressure in MPa (N/mm2), lengths in mm, speeds in m/s (said in the names).
Sources: ASCE 7-10 chapters 26 to 29, SI forms. The site's own wind figures and
the local code decide; these functions only turn a speed into a load.
"""

PASCAL = 1e-6  # MPa

# ASCE 7-10 Table 26.9-1: alpha and gradient height zg (1200, 900, 700 ft) of each exposure
EXPOSURES = {"B": (7.0, 365_760.0), "C": (9.5, 274_320.0), "D": (11.5, 213_360.0)}
LEAST_HEIGHT = 4_572.0  # 15 ft: Kz is constant below


def exposure_coefficient(height: float, exposure: str = "C") -> float:
    """Kz at a height above ground, ASCE 7-10 Table 27.3-1 note 1: 2.01 (z/zg)^(2/alpha)."""
    if exposure not in EXPOSURES:
        raise KeyError(f"exposure {exposure!r}: choose {', '.join(EXPOSURES)}")
    alpha, gradient = EXPOSURES[exposure]
    return 2.01 * float((max(height, LEAST_HEIGHT) / gradient) ** (2 / alpha))


def velocity_pressure(
    speed_m_s: float, *, exposure: float = 1.0, topography: float = 1.0, direction: float = 1.0
) -> float:
    """Velocity pressure q, ASCE 7-10 Eq. 29.3-1: 0.613 Kz Kzt Kd V^2 Pa.

    With every coefficient at 1 the speed is taken as the gust at the gate itself, which is never
    less than a code's q at this height.
    """
    return 0.613 * exposure * topography * direction * speed_m_s**2 * PASCAL


def force_coefficient(solidity: float) -> float:
    """Cf on the solid area of a leaf of flat-sided members, ASCE 7-10 Fig. 29.5-2.

    The figure ends at a solidity of 0.7; beyond, 1.8, the value of a solid sign's worked example
    and the top of Fig. 29.4-1 for shapes like a leaf, is taken ("house").
    """
    if not 0 <= solidity <= 1:
        raise ValueError(f"solidity = {solidity:g}, needs 0 to 1")
    if solidity < 0.1:
        return 2.0
    if solidity < 0.3:
        return 1.8
    return 1.6 if solidity < 0.7 else 1.8


def leaf_force(
    pressure: float, area: float, solidity: float, *, coefficient: float, gust: float = 1.0
) -> float:
    """Force square to the leaf, ASCE 7-10 Eq. 29.4-1: q G Cf As, As = the solid area."""
    return pressure * gust * coefficient * solidity * area


def leaf_torque(force: float, width: float, *, eccentricity: float = 0.0) -> float:
    """Torque about the hinge: the force acts at half the width plus `eccentricity` widths.

    ASCE 7-10 Fig. 29.4-1 case B moves it by 0.2 of the width on a solid sign.
    """
    return force * width * (0.5 + eccentricity)
