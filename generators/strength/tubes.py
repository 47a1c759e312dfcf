"""Round and square tube walls: bolts through them, plates and ears on them, clamps around them.

Units: N, mm, MPa. Strengths are nominal ("bearing" for bolts, "tube_wall" for walls).
Sources: AISC 360-10 K1 and J7, ring theory (Roark, case of two opposite forces).
"""

from math import pi, sqrt

DESIGN_WALL = 0.93  # AISC 360 B4.2: electric-resistance-welded tube and pipe are taken thinner


def design_wall(nominal: float) -> float:
    """Wall to compute with for pipe and A500 tube, AISC 360-16 B4.2: 0.93 of the nominal."""
    return DESIGN_WALL * nominal


def bolt_bearing(fy: float, diameter: float, wall: float) -> float:
    """Nominal bearing of a through-bolt on one wall, AISC 360-16 J3.10(c), Eq. J7-1: 1.8 Fy d t."""
    return 1.8 * fy * diameter * wall


def transverse_plate(fy: float, outside: float, wall: float, plate_width: float) -> float:
    """Nominal pull or push of a plate across a round tube, AISC 360-10 Eq. K1-1, Qf = 1.

    Fy t2 5.5 / (1 - 0.81 Bp/D), for D/t up to 50 and 0.2 < Bp/D <= 1.
    """
    return fy * wall**2 * 5.5 / (1 - 0.81 * plate_width / outside)


def transverse_plate_moment(fy: float, outside: float, wall: float, width: float) -> float:
    """Nominal out-of-plane moment of a plate across a round tube, AISC 360-10 K1: 0.5 Bp Rn."""
    return 0.5 * width * transverse_plate(fy, outside, wall, width)


def round_limits(outside: float, wall: float, plate_width: float) -> tuple[float, float]:
    """D/t and Bp/D, to be held against 50 and 0.2 to 1, AISC 360-10 Table K1.1A."""
    return outside / wall, plate_width / outside


def face_yield_line(fy: float, side: float, wall: float, width: float, length: float) -> float:
    """Nominal pull or push on the flat face of a square tube by its yield-line pattern.

    Fy t2 / (1 - b) (2 h + 4 sqrt(1 - b)), b = width/side, h = length/side: AISC 360-10 Eq. K1-12
    for a plate or branch; holds to b = 0.85, which it is cut off at.
    """
    b, h = min(width / side, 0.85), length / side
    return fy * wall**2 / (1 - b) * (2 * h + 4 * sqrt(1 - b))


def face_moment(fy: float, side: float, wall: float, width: float, length: float) -> float:
    """Nominal moment about the tube's own axis of a plate or branch on one face, N mm.

    Fy t2 (h (1 + b) / (2 (1 - b)) + sqrt(2 B w (1 + b) / (1 - b))), h = length, w = width,
    b = w / B: EN 1993-1-8:2005 Table 7.14, out of plane (memory); cut off at b = 0.85.
    """
    wide = min(width, 0.85 * side)
    b = wide / side
    grown = (1 + b) / (1 - b)
    return fy * wall**2 * (length * grown / 2 + sqrt(2 * side * wide * grown))


def uneven_share(fy: float, side: float, wall: float, *, plate_fy: float, plate: float) -> float:
    """Share of a plate across a square tube's face that works, weld and all, at most 1.

    10 / (B/t) x Fy t / (Fyp tp): AISC 360-10 Eq. K1-7, 360-16 Eq. K1-1; the middle of the
    face gives way and the plate hangs on the corners.
    """
    return min(1.0, 10 * wall / side * fy * wall / (plate_fy * plate))


def round_stressed(use: float) -> float:
    """Qf of a round tube that is itself used to a share `use` in compression.

    1 - 0.3 U (1 + U): AISC 360-10 Table K1.1, as kp in EN 1993-1-8 Table 7.2.
    """
    return max(0.0, 1 - 0.3 * use * (1 + use))


def square_stressed(use: float, width_ratio: float) -> float:
    """Qf of a square tube used to a share `use` in compression under a plate across it.

    1.3 - 0.4 U / b, at most 1, b = plate over face: AISC 360-10 Table K1.2, as kn in
    EN 1993-1-8 Table 7.10.
    """
    return max(0.0, min(1.0, 1.3 - 0.4 * use / width_ratio))


def spread_length(outside: float, wall: float, contact: float) -> float:
    """Length of round tube that works with a local load: contact plus 1.56 sqrt(r t) each side.

    Shell decay length; our simplification.
    """
    return contact + 2 * 1.56 * sqrt((outside - wall) / 2 * wall)


def round_crush(fy: float, outside: float, wall: float, contact: float) -> float:
    """Squeeze of two opposite forces at first yield of a round tube, N (take "yield").

    Ring with two opposite forces: M = F r / pi; the ring is `spread_length` long.
    A saddle that hugs the tube does better; this is the flat washer.
    """
    radius = (outside - wall) / 2
    section = spread_length(outside, wall, contact) * wall**2 / 6
    return fy * section * pi / radius


def square_crush(fy: float, side: float, wall: float, washer: float) -> float:
    """Squeeze of two opposite washers on a square tube's faces, yield line (take "tube_wall")."""
    return face_yield_line(fy, side, wall, washer, washer)


def clamp_torque(clamping: float, outside: float, *, friction: float = 0.2) -> float:
    """Nominal torque about the post that two clamp halves hold ("clamp_slip"): mu 2N D/2.

    `clamping` N is the sum of the clamp's bolt tensions; each half presses with N. Pressure spread
    round the tube would hold pi/2 times as much: left out. 0.2 is zinc on paint ("house").
    """
    return friction * 2 * clamping * outside / 2


def clamp_slide(clamping: float, *, friction: float = 0.2) -> float:
    """Nominal force along the post that two clamp halves hold ("clamp_slip"): mu 2N."""
    return friction * 2 * clamping


def clamp_use(torque: float, slide: float, *, torque_limit: float, slide_limit: float) -> float:
    """Utilisation of one friction by a torque and a force along: squares added, rooted."""
    return sqrt((torque / torque_limit) ** 2 + (slide / slide_limit) ** 2)
