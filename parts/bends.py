"""How much sheet a bend takes up.

With a K-factor the neutral fibre lies K x thickness above the inside face; without one it is
taken from DIN 6935, whose factor k counts half thicknesses: k = 0.65 + 0.5 log10(r / s) for
r / s <= 5 and 1 above. The two are the same fibre when K = k / 2. Units: mm, degrees.
"""

from math import log10, radians


def k_factor(radius: float, thickness: float) -> float:
    """K-factor of an air-bent flange by DIN 6935 (formula as printed in trade handbooks)."""
    ratio = radius / thickness
    k = 1.0 if ratio > 5 else 0.65 + 0.5 * log10(ratio)
    return max(k, 0.0) / 2


def allowance(angle: float, radius: float, thickness: float, k: float | None) -> float:
    """Length of the neutral fibre through a bend of `angle` degrees; DIN 6935 if k is None."""
    factor = k_factor(radius, thickness) if k is None else k
    return radians(angle) * (radius + factor * thickness)
