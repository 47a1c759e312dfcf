"""One bolt in steel: shear, tension, both, bearing and tear-out, slip, slots and edge distances.

Units: N, mm, MPa. Strengths are nominal ("bolt", "bearing", or the slip factor of the hole).
Sources: AISC 360-16 J3; bolt threads ISO 898-1, ASME B1.1 (stress area).
"""

from math import pi

from hangpost.generators.strength.tables import row, table


def shank_area(diameter: float) -> float:
    """Area of the unthreaded body, Ab of AISC 360-16 J3.6."""
    return pi * diameter**2 / 4


def stress_area(size: str) -> float:
    """Tensile stress area of a thread: pi/4 (d - 0.9382 P)^2, ISO 898-1 9.1.6; inch: 0.9743 P.

    ASME B1.1 reckons the core of an inch thread a little smaller.
    """
    thread, lost = row("bolts", size), 0.9382 if size.startswith("M") else 0.9743
    return pi / 4 * (float(thread["diameter"]) - lost * float(thread["pitch"])) ** 2


def shear(fnv: float, diameter: float, *, planes: int = 1) -> float:
    """Nominal shear, AISC 360-16 Eq. J3-1: Fnv Ab for each plane ("bolt")."""
    return fnv * shank_area(diameter) * planes


def tension(fnt: float, diameter: float) -> float:
    """Nominal tension, AISC 360-16 Eq. J3-1: Fnt Ab; Fnt already allows for the thread ("bolt")."""
    return fnt * shank_area(diameter)


def shear_and_tension(
    fnt: float,
    fnv: float,
    diameter: float,
    *,
    shear_force: float,
    tension_force: float,
    omega: float = 2.0,
) -> float:
    """Utilisation of a bolt in shear and tension, AISC 360-16 J3.7, linear in the loads.

    Of the two single ratios and their sum over 1.3 the largest: the same limit as Eq. J3-3b.
    """
    in_shear = abs(shear_force) * omega / (fnv * shank_area(diameter))
    in_tension = max(0.0, tension_force) * omega / (fnt * shank_area(diameter))
    return max(in_shear, in_tension, (in_shear + in_tension) / 1.3)


def bearing(fu: float, diameter: float, thickness: float) -> float:
    """Nominal bearing on a plate, AISC 360-16 Eq. J3-6a: 2.4 d t Fu ("bearing")."""
    return 2.4 * diameter * thickness * fu


def tear_out(fu: float, clear: float, thickness: float) -> float:
    """Nominal tear-out, AISC 360-16 Eq. J3-6c: 1.2 lc t Fu, lc = hole edge to edge or next hole."""
    return 1.2 * clear * thickness * fu


def slot_bearing(fu: float, diameter: float, clear: float, thickness: float) -> float:
    """Nominal bearing of a long slot loaded across its length, AISC 360-16 Eq. J3-6e, f.

    The lesser of 1.0 lc t Fu and 2.0 d t Fu ("bearing").
    """
    return min(1.0 * clear, 2.0 * diameter) * thickness * fu


def slip(preload: float, *, friction: float = 0.30, planes: int = 1, filler: float = 1.0) -> float:
    """Nominal slip resistance, AISC 360-16 Eq. J3-4, without its Du = 1.13.

    Along a slot nothing else holds. Du needs a tensioning method that a gate does not get, so it
    is left out ("house"); 0.30 is a class A surface.
    """
    return friction * filler * preload * planes


def preload(torque: float, diameter: float, *, nut_factor: float = 0.2) -> float:
    """Bolt tension from a tightening torque (N mm): T / (K d), K = 0.2 dry (common practice)."""
    return torque / (nut_factor * diameter)


def torque(tension_force: float, diameter: float, *, nut_factor: float = 0.2) -> float:
    """Tightening torque (N mm) for a bolt tension: K d F, K = 0.2 dry (common practice)."""
    return nut_factor * diameter * tension_force


def least_edge(diameter: float) -> float:
    """Least distance hole centre to edge, AISC 360 Table J3.4; sizes it lacks: 1.5 d ("house")."""
    sized = sorted(
        (float(r["diameter"]), float(r["least_edge"])) for r in table("bolt_holes").values()
    )
    for d, edge in sized:
        if abs(d - diameter) < 0.01:
            return edge
    return 1.5 * diameter


def least_spacing(diameter: float) -> float:
    """Least distance between hole centres, AISC 360-16 J3.3: 2 2/3 d (3 d preferred)."""
    return 8 / 3 * diameter


def long_slot_length(diameter: float) -> float:
    """Overall length of a standard long slot, AISC 360 Table J3.3: 2.5 d."""
    return 2.5 * diameter


def grade(name: str) -> tuple[float, float, float]:
    """Fnt, Fnv with threads in the shear plane, Fnv with threads out of it."""
    entry = row("bolt_grades", name)
    return float(entry["fnt"]), float(entry["fnv_in"]), float(entry["fnv_out"])
