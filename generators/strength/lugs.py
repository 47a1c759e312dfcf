"""The ear as a pin-connected plate: bearing, tear-out, net section, gross section.

Units: N, mm, MPa. A hole of diameter `hole` at `end` from the edge it is pulled towards
(clear distance, hole edge to plate edge), `side` to the edges left and right.
Sources: AISC 360-16 D5 and J7 (nominal strengths); ASME BTH-1-2005 3-3.3 as a second opinion
(allowable values, with its design factor Nd inside).
"""

from math import cos, radians, sin, sqrt

AISC_EXTRA = 16.0  # D5.1: be = 2t + 16 mm (0.63 in)


def effective_width(thickness: float, side: float) -> float:
    """Width be each side of the hole, AISC 360-16 D5.1: 2t + 16 mm, at most what is there."""
    return min(2 * thickness + AISC_EXTRA, side)


def tension_rupture(fu: float, thickness: float, side: float) -> float:
    """Nominal strength of the net section, AISC 360-16 Eq. D5-1: Fu 2 t be ("rupture")."""
    return fu * 2 * thickness * effective_width(thickness, side)


def shear_rupture(fu: float, thickness: float, pin: float, end: float) -> float:
    """Nominal tear-out, AISC 360-16 Eq. D5-2: 0.6 Fu 2 t (a + d/2) ("rupture")."""
    return 0.6 * fu * 2 * thickness * (end + pin / 2)


def bearing(fy: float, thickness: float, pin: float) -> float:
    """Nominal bearing on the projected area, AISC 360-16 Eq. J7-1: 1.8 Fy d t ("bearing")."""
    return 1.8 * fy * pin * thickness


def gross_yield(fy: float, width: float, thickness: float) -> float:
    """Nominal yielding of the whole width, AISC 360-16 Eq. D2-1: Fy w t ("yield")."""
    return fy * width * thickness


def largest_hole(pin: float) -> float:
    """Largest hole that the D5 formulas cover, AISC 360-16 D5.2(b): pin + 1 mm."""
    return pin + 1.0


def fit_factor(pin: float, hole: float) -> float:
    """Cr for a loose pin, ASME BTH-1 Eq. 3-47: 1 - 0.275 sqrt(1 - Dp2/Dh2), 1 above 0.9 Dh."""
    return 1.0 if pin / hole > 0.9 else 1 - 0.275 * sqrt(1 - (pin / hole) ** 2)


def effective_width_bth(fy: float, fu: float, thickness: float, side: float, hole: float) -> float:
    """Effective width beff, ASME BTH-1 Eq. 3-45 and 3-46: of be, 4t and the hole rule the least."""
    return min(side, 4 * thickness, side * 0.6 * fu / fy * sqrt(hole / side))


def tension_bth(
    fy: float, fu: float, thickness: float, side: float, pin: float, hole: float, *, nd: float
) -> float:
    """Allowable tension through the hole, ASME BTH-1 Eq. 3-45: Cr Fu 2 t beff / (1.2 Nd)."""
    width = effective_width_bth(fy, fu, thickness, side, hole)
    return fit_factor(pin, hole) * fu / (1.2 * nd) * 2 * thickness * width


def fracture_bth(
    fu: float, thickness: float, side: float, radius: float, pin: float, hole: float, *, nd: float
) -> float:
    """Allowable single-plane fracture beyond the hole, ASME BTH-1 Eq. 3-48."""
    beyond = 1.13 * (radius - hole / 2) + 0.92 * side / (1 + side / hole)
    return fit_factor(pin, hole) * fu / (1.2 * nd) * beyond * thickness


def shear_bth(
    fu: float,
    thickness: float,
    end: float,
    pin: float,
    hole: float,
    *,
    nd: float,
    edge_radius: float | None = None,
) -> float:
    """Allowable double-plane shear, ASME BTH-1 Eq. 3-49 to 3-52: 0.7 Fu Av / (1.2 Nd).

    A round end of radius `edge_radius` shortens the two planes by its own sagitta.
    """
    phi = radians(55 * pin / hole)
    loss = 0.0
    if edge_radius is not None:
        loss = edge_radius - sqrt(edge_radius**2 - (pin / 2 * sin(phi)) ** 2)
    planes = 2 * (end + pin / 2 * (1 - cos(phi)) - loss) * thickness
    return 0.7 * fu / (1.2 * nd) * planes


def bearing_turning_bth(fy: float, thickness: float, pin: float, *, nd: float) -> float:
    """Allowable bearing of a pin that turns under load, ASME BTH-1 Eq. 3-54: 0.63 Fy d t / Nd."""
    return 0.63 * fy / nd * pin * thickness
