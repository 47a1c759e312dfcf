"""Bolts and coach screws in timber after the European rules: a second opinion.

Units: N, mm, MPa, density in kg/m3. Characteristic values; the code's modification and partial
factors come on top. The rope effect is left out, on the safe side.
Sources: EN 1995-1-1:2004 8.2.3 and 8.5 (steel-to-timber), formulas recalled.
"""

from math import cos, pi, radians, sin, sqrt


def embedment_along(diameter: float, density: float) -> float:
    """Embedment strength along the grain, EN 1995-1-1 Eq. 8.32."""
    return 0.082 * (1 - 0.01 * diameter) * density


def embedment_at_angle(diameter: float, density: float, angle: float) -> float:
    """Embedment strength at an angle to the grain of softwood, EN 1995-1-1 Eq. 8.31, 8.33."""
    k90 = 1.35 + 0.015 * diameter
    c, s = cos(radians(angle)), sin(radians(angle))
    return embedment_along(diameter, density) / (k90 * s**2 + c**2)


def yield_moment(fu: float, diameter: float) -> float:
    """Yield moment of a bolt, EN 1995-1-1 Eq. 8.30: 0.3 fu d^2.6."""
    return float(0.3 * fu * diameter**2.6)


def thin_plate(embedment: float, timber: float, diameter: float, moment: float) -> float:
    """Single shear with a steel plate of at most d/2, EN 1995-1-1 Eq. 8.9."""
    return min(
        0.4 * embedment * timber * diameter,
        1.15 * sqrt(2 * moment * embedment * diameter),
    )


def thick_plate(embedment: float, timber: float, diameter: float, moment: float) -> float:
    """Single shear with a steel plate of at least d, EN 1995-1-1 Eq. 8.10."""
    crush = embedment * timber * diameter
    root = sqrt(2 + 4 * moment / (embedment * diameter * timber**2))
    return min(
        crush,
        crush * (root - 1),
        2.3 * sqrt(moment * embedment * diameter),
    )


def plate_between(thin: float, thick: float, plate: float, diameter: float) -> float:
    """Value for a plate between the two limits: straight interpolation, EN 1995-1-1 8.2.3(1)."""
    share = min(1.0, max(0.0, (plate - diameter / 2) / (diameter / 2)))
    return thin + share * (thick - thin)


def washer_capacity(fc90: float, outside: float, hole: float) -> float:
    """Axial capacity under a washer or plate, EN 1995-1-1 8.5.2(2): 3 fc,90 times the area."""
    return 3 * fc90 * pi / 4 * (outside**2 - hole**2)


def plate_as_washer(thickness: float, diameter: float) -> float:
    """Diameter of a steel plate that counts as washer, EN 1995-1-1 8.5.2(3): 12 t or 4 d."""
    return min(12 * thickness, 4 * diameter)
