"""The pin between two ears with the actuator's eye in the middle: double shear and bending.

Units: N, mm, MPa. Strengths are nominal (divide by the factor named in each sentence).
Sources: AISC 360-16 chapters D, F, J; EN 1993-1-8:2005 3.13 for the bending model, which uses the
real gaps between eye and ears.
"""

from math import pi, sqrt


def area(diameter: float) -> float:
    """Cross section of a solid pin."""
    return pi * diameter**2 / 4


def elastic_modulus(diameter: float) -> float:
    """Section modulus S of a solid round bar."""
    return pi * diameter**3 / 32


def plastic_modulus(diameter: float) -> float:
    """Plastic modulus Z of a solid round bar."""
    return diameter**3 / 6


def double_shear(fu: float, diameter: float) -> float:
    """Nominal force of a pin in double shear, AISC 360-16 J4.2(b): 2 x 0.6 Fu A ("rupture")."""
    return 2 * 0.6 * fu * area(diameter)


def bending_moment(force: float, *, eye: float, gap: float, ear: float) -> float:
    """Largest moment in the pin, EN 1993-1-8:2005 Fig. 3.11: F (b + 4c + 2a) / 8.

    `eye` is the thickness in the middle, `ear` that of one outer plate, `gap` the clear distance
    between them on one side, washers counted as gap.
    """
    return force / 8 * (eye + 4 * gap + 2 * ear)


def bending_strength(fy: float, diameter: float) -> float:
    """Nominal moment of a round bar, AISC 360-16 F11.1: Fy Z but at most 1.6 Fy S ("yield")."""
    return min(fy * plastic_modulus(diameter), 1.6 * fy * elastic_modulus(diameter))


def shear_and_bending(shear_ratio: float, moment_ratio: float) -> float:
    """Utilisation of a pin in shear and bending, EN 1993-1-8:2005 3.13.2(3): squares added.

    The root is returned, so that twice the force gives twice the utilisation; both pass at 1.
    """
    return sqrt(shear_ratio**2 + moment_ratio**2)
