"""Fillet welds: strength per length, least and usual leg; what a group takes is weld_lines.py.

Units: N, mm, MPa; forces per length in N/mm. Strengths are nominal ("weld").
Sources: AISC 360-16 J2.2b and J2.4.
"""

from math import ceil, floor, radians, sin, sqrt

from hangpost.generators.strength.tables import table


def fillet_strength(electrode: float, leg: float, *, angle: float = 0.0) -> float:
    """Nominal strength per length of a fillet, AISC 360-16 Eq. J2-4, J2-5 ("weld"), N/mm.

    `electrode` is its tensile strength FEXX, `angle` that of the load to the weld's axis;
    0 is the least and right for a group looked at by the elastic method.
    """
    return 0.6 * electrode * direction_factor(angle) * throat(leg)


def direction_factor(angle: float) -> float:
    """Gain of a fillet loaded at an angle to its axis, AISC 360-16 Eq. J2-5."""
    return 1 + 0.5 * float(sin(radians(angle)) ** 1.5)


def base_metal_strength(fu: float, thickness: float) -> float:
    """Nominal shear rupture of the plate beside a weld, AISC 360-16 J4.2(b), N/mm ("rupture")."""
    return 0.6 * fu * thickness


def least_leg(thinner: float) -> float:
    """Least fillet leg by the thickness of the thinner part, AISC 360 Table J2.4."""
    for entry in table("weld_legs").values():
        if thinner <= float(entry["up_to"]) + 1e-9:
            return float(entry["leg"])
    raise ValueError(f"thickness = {thinner:g} mm")


def usual_leg(plate: float, wall: float, *, step: float) -> float:
    """Leg to weld a plate onto a wall with, both sides: 3/4 of the plate, in whole steps.

    Two such fillets are as strong as a mild plate (memory: Blodgett, Design of Welded Structures,
    rule of thumb). Not less than Table J2.4 asks; not more than the wall, which a larger one burns
    through (house), unless the table asks for it. `step` is what legs are counted in, mm.
    """
    wanted = max(step, ceil(0.75 * plate / step - 1e-6) * step)
    most = floor(wall / step + 1e-6) * step
    return max(min(wanted, most), least_leg(min(plate, wall)))


def throat(leg: float) -> float:
    """Effective throat of an equal-leg fillet, AISC 360-16 J2.2a: leg / sqrt 2."""
    return leg * sqrt(0.5)
