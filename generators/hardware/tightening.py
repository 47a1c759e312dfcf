"""How tight a bolt is made: a share of what it stands, and never more than its host stands.

Tension from the nut by T / (K d) with K = 0.2 dry (common practice). Units: N, mm, MPa.
"""

from hangpost.generators.hardware import sleeves
from hangpost.generators.hardware.tube import Tube
from hangpost.generators.strength import bolts, tubes
from hangpost.generators.strength.factors import allowable
from hangpost.generators.strength.plastics import plastic
from hangpost.generators.strength.tables import table
from hangpost.generators.survey.shop import Shop
from hangpost.parts import tables
from hangpost.parts.fastening import Fastener
from hangpost.parts.saddle import SaddleBlock

ISO_CLASSES = ("4.6", "5.8", "8.8", "10.9")  # made in metric threads, weakest first
INCH_GRADES = ("A307", "A325")  # made in inch threads
PRELOAD = 0.4  # of Fu times the stress area; house: two thirds of a soft bolt's yield


def bolt_grade(shop: Shop) -> tuple[float, float, float]:
    """Fnt, Fnv with and without thread in the plane of the shop's bolts; unknown: the least."""
    return bolts.grade(_listed(shop) or "A307")


def _listed(shop: Shop) -> str | None:
    words = shop.fasteners.bolt_grade.upper().replace("ASTM", "").split()
    return next((name for name in table("bolt_grades") if name in words), None)


def grade_words(size: str, shop: Shop) -> str:
    """The shop's grade, or for a thread it is not made in the least one that stands as much."""
    own, made = _listed(shop), ISO_CLASSES if tables.is_metric(size) else INCH_GRADES
    if own is None or own not in (*ISO_CLASSES, *INCH_GRADES) or own in made:
        return shop.fasteners.bolt_grade
    wanted = bolts.grade(own)
    enough = [
        name for name in made if all(a >= b for a, b in zip(bolts.grade(name), wanted, strict=True))
    ]
    if not enough:
        return shop.fasteners.bolt_grade
    named = f"ISO 898-1 class {enough[0]}" if tables.is_metric(size) else f"ASTM {enough[0]}"
    return f"{named}, for {shop.fasteners.bolt_grade}"


def full_tension(shop: Shop, size: str) -> float:
    """Tension that a bolt of the shop's is tightened to when its host stands it."""
    ultimate = bolt_grade(shop)[0] / 0.75  # AISC 360-16 Table J3.2: Fnt = 0.75 Fu
    return PRELOAD * ultimate * bolts.stress_area(size)


def through_print(shop: Shop, size: str, tube: Tube, saddle: SaddleBlock, legs: int) -> float:
    """Tension of each leg of U-bolts that draw a printed saddle onto a tube.

    The print lies in their way, so they press it no harder than it stands for good.
    """
    kept = legs * float(shop.reserve)
    pressed = plastic(shop.printer.material).lasting * saddle.bearing / kept
    crushed = tube.crush(2 * saddle.half_chord) / kept
    return min(full_tension(shop, size), pressed, crushed)


def through_tube(shop: Shop, size: str, tube: Tube, wide: float) -> float:
    """Tension of a bolt that squeezes so much of a tube's width, the shop's reserve kept."""
    return min(full_tension(shop, size), tube.crush(wide) / float(shop.reserve))


def under_bar(tube: Tube, long: float) -> float:
    """Allowed squeeze of a round tube between a flat bar, so `long` on it, and what is behind.

    Two opposite lines of force: on the safe side of a U-bolt, which hugs it (Roark).
    """
    return allowable(tubes.round_crush(tube.fy, tube.side, tube.wall, long), "yield")


def through_sleeves(shop: Shop, bolt: Fastener, tube: Tube) -> float:
    """Tension of a bolt whose squeeze goes through steel sleeves that stand on a tube's wall."""
    yields = float(shop.steel.yield_strength) * sleeves.section(bolt)
    squashed = allowable(yields, "yield") / float(shop.reserve)
    return min(through_tube(shop, bolt.size, tube, sleeves.outside(bolt)), squashed)
