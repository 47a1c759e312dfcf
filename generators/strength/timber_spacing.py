"""Where fasteners may sit in timber, and what a group of them loses.

Units: mm, MPa, N. `slenderness` is l/D: the lesser of bearing length in the main member and of the
side member over the diameter (with steel side plates the main member's counts).
Sources: NDS 2018 12.5.1 (tables A to D, from memory but for the parallel edge distance), 11.3.6,
3.4.3, Appendix E.
"""

from math import sqrt

from hangpost.generators.strength.inch import INCH, LBF


def edge_parallel(diameter: float, slenderness: float, row_spacing: float = 0.0) -> float:
    """Edge distance, load along the grain, NDS Table 12.5.1C: 1.5 D, slender also half a row."""
    least = 1.5 * diameter
    return max(least, row_spacing / 2) if slenderness > 6 else least


def edge_across(diameter: float, *, loaded: bool) -> float:
    """Edge distance, load across the grain, NDS Table 12.5.1C: loaded edge 4 D, other 1.5 D."""
    return (4.0 if loaded else 1.5) * diameter


def end_distance(diameter: float, direction: str) -> float:
    """End distance for the full value in softwood, NDS Table 12.5.1A.

    `direction`: "across", "compression" or "tension" (along, towards the end); half is the least.
    """
    factors = {"across": 4.0, "compression": 4.0, "tension": 7.0}
    if direction not in factors:
        raise KeyError(f"direction {direction!r}: choose {', '.join(factors)}")
    return factors[direction] * diameter


def spacing_in_row(diameter: float) -> float:
    """Spacing along the load for the full value, NDS Table 12.5.1B: 4 D (least 3 D)."""
    return 4.0 * diameter


def row_spacing_parallel(diameter: float) -> float:
    """Spacing between rows, load along the grain, NDS Table 12.5.1D: 1.5 D."""
    return 1.5 * diameter


def row_spacing_across(diameter: float, slenderness: float) -> float:
    """Spacing between rows, load across the grain, NDS Table 12.5.1D: 2.5 D to 5 D by l/D."""
    if slenderness <= 2:
        return 2.5 * diameter
    return 5.0 * diameter if slenderness >= 6 else (5 * slenderness + 10) * diameter / 8


def geometry_factor(actual: float, full: float, least: float) -> float:
    """C delta, NDS 2018 12.5.1: actual over full distance; 0 (not allowed) below the least."""
    if actual < least - 1e-9:
        return 0.0
    return min(1.0, actual / full)


def group_factor(
    *,
    count: int,
    spacing: float,
    diameter: float,
    main_stiffness: float,
    side_stiffness: float,
) -> float:
    """Cg for a row of bolts or lags with steel sides, NDS 2018 Eq. 11.3-1; stiffness is E A in N.

    A row lies along the load. The slip modulus is 270000 D^1.5 lbf/in, D in inches.
    """
    if count < 2:
        return 1.0
    slip = 270_000 * (diameter / INCH) ** 1.5 * LBF / INCH
    ratio = min(main_stiffness / side_stiffness, side_stiffness / main_stiffness)
    u = 1 + slip * spacing / 2 * (1 / main_stiffness + 1 / side_stiffness)
    m = u - sqrt(u**2 - 1)
    lower = count * ((1 + ratio * m**count) * (1 + m) - 1 + m ** (2 * count))
    return float(m * (1 - m ** (2 * count)) / lower * (1 + ratio) / (1 - m))


def connection_shear(fv: float, breadth: float, depth: float, effective_depth: float) -> float:
    """Shear that a post may take where a fastener pulls across its grain, NDS 3.4.3.3, Eq. 3.4-6.

    (2/3 Fv b de)(de/d)^2, de from the farthest fastener to the unloaded edge; this guards
    against splitting from the loaded edge.
    """
    return 2 / 3 * fv * breadth * effective_depth * (effective_depth / depth) ** 2


def row_tear_out(fv: float, depth: float, count: int, critical: float) -> float:
    """What a row of fasteners along the grain may pull out, NDS 2018 Eq. E.3-2 (memory).

    n Fv t s: two planes a fastener, half of Fv for its uneven run; `critical` is the least of
    spacing and end distance.
    """
    return count * fv * depth * critical
