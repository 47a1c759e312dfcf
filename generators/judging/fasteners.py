"""What is bought: fasteners' finish by what they go into, washers over slots, lengths, zinc.

Units: mm. Sources: strength/fastener_rules.csv, AISC 360-16 J3.2, trade practice.
"""

from collections.abc import Iterator

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import BUY, Bench
from hangpost.generators.strength import fastenings
from hangpost.parts.part import Part

FINISHES = {"galvanised": "galvanised", "painted": "painted", "plain": "bare"}
ZINC_FILM = 0.2  # mm on a hole's diameter: what the coating itself takes up; common practice


def fixing_checks(bench: Bench, fixing: Fixing) -> Iterator[Check]:
    """Washers over the slots, and whether the finish suits what it goes into."""
    head = fixing.fastener.head
    slotted = [hole for _, hole in fixing.holes if hole.slot_length > 0]
    if slotted:
        longest = max(slotted, key=lambda hole: hole.slot_length)
        plate = fixing.slot_washer
        outside = 2 * plate.half_length if plate else head.washer_diameter
        cover = fastenings.washer_cover(outside, longest.diameter, longest.slot_length)
        yield bench.fits(
            BUY,
            f"{fixing.name} washers cover their slots",
            f"{'plate washer' if plate else 'washer'} of {outside:.0f} mm past the far end of its "
            f"slot with the {fixing.name} bracket at either end of its travel",
            value=cover,
            least=0.0,
            source="AISC 360-16 J3.2",
            working=f"D/2 - travel - w/2 = {outside:.1f}/2 - {longest.slot_length:.1f} - "
            f"{longest.diameter:.1f}/2",
        )
    host = _host(bench, fixing)
    surface = FINISHES.get(bench.shop.finish, "galvanised")
    allowed = fastenings.allowed_finishes(host, surface)
    finish = "304" if bench.shop.finish == "stainless" else "hot-dip"
    yield bench.fits(
        BUY,
        f"{fixing.name} fasteners' finish",
        f"{finish} fasteners on {host}: {fastenings.reason(host, surface)}",
        value=1.0 if finish in allowed else 0.0,
        least=1.0,
        unit="",
        source="fastener_rules.csv: IRC R317.3 practice, memory",
        working="allowed: " + ", ".join(allowed),
    )


def zinc_checks(bench: Bench, part: Part) -> Iterator[Check]:
    """Pin holes are drawn finished, reamed or masked: the pin goes in even where a film is left."""
    if bench.shop.finish != "galvanised":
        return
    pins = [bore.hole for bore in part.bores if bore.hole.use == "pin"]
    if not pins:
        return
    eye = min((bench.hung.actuator.post_eye.pin, bench.hung.actuator.at_leaf.pin), key=float)
    hole = min(pins, key=lambda each: each.diameter)
    least = ZINC_FILM + 0.1
    yield bench.fits(
        BUY,
        f"{part.id} pin after zinc",
        f"room for the pin in {part.id} should a film of hot-dip zinc stay in the hole, which is "
        "to be masked or reamed to the size drawn",
        value=hole.diameter - float(eye),
        least=least,
        source="practice after ASTM A385, memory",
        working=f"hole {hole.diameter:.2f} less pin {float(eye):.2f}; film {ZINC_FILM:g} + 0.1",
    )


def _host(bench: Bench, fixing: Fixing) -> str:
    is_timber = (
        bench.hung.post.kind == "timber"
        if fixing.name == "post"
        else bench.hung.leaf.frame == "timber"
    )
    if not is_timber:
        return "steel"
    return "treated timber" if bench.site.wood.treated else "timber"
