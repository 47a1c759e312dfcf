"""Where fasteners may sit in timber, and what a group of them loses.

Distances are the worse of two codes: NDS 2018 12.5.1 (tables A to D) and EN 1995-1-1:2004 Table 8.4
for bolts, whose a1 to a4 depend on the angle between load and grain.
Units: mm, MPa, N. `slenderness` is l/D: the lesser of bearing length in the main member and of the
side member over the diameter (with steel side plates the main member's counts).
Sources: these two, and NDS 2018 11.3.6, 3.4.3, Appendix E.
"""

from math import sqrt

from hangpost.generators.strength.inch import INCH, LBF

LOADED_END = 80.0  # mm, EN 1995-1-1 Table 8.4, a3,t


def edge_parallel(diameter: float, slenderness: float, row_spacing: float = 0.0) -> float:
    """Edge distance, load along the grain: EN a4 3 D; NDS 12.5.1C 1.5 D or half a row."""
    least = 3.0 * diameter
    return max(least, row_spacing / 2) if slenderness > 6 else least


def edge_across(diameter: float, *, loaded: bool) -> float:
    """Edge distance, load across the grain: loaded edge 4 D (NDS 12.5.1C, EN a4,t), other 3 D."""
    return (4.0 if loaded else 3.0) * diameter


def end_distance(diameter: float, direction: str) -> float:
    """End distance for the full value in softwood, NDS Table 12.5.1A, EN a3,t and a3,c.

    `direction`: "across", "compression" or "tension" (along, towards the end). Across the grain
    the NDS asks for 4 D and EN for a loaded end's 7 D and 80 mm.
    """
    factors = {"across": 7.0, "compression": 4.0, "tension": 7.0}
    if direction not in factors:
        raise KeyError(f"direction {direction!r}: choose {', '.join(factors)}")
    far = factors[direction] * diameter
    return far if direction == "compression" else max(far, LOADED_END)


def spacing_in_row(diameter: float, *, across: bool) -> float:
    """Spacing along the load: along the grain 5 D (EN a1; NDS 4 D), across it 4 D (EN a2)."""
    return (4.0 if across else 5.0) * diameter


def row_spacing_across(diameter: float, slenderness: float) -> float:
    """Spacing between rows, load across the grain, NDS 12.5.1D: 2.5 D to 5 D by l/D; EN a1 4 D."""
    return max(4.0, min(5.0, (5 * slenderness + 10) / 8)) * diameter


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
