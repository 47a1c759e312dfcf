"""The tables and notes of a shop drawing: holes, bends, what to inspect, what finish does.

Lengths are from the drawing's datum, the lower left corner of the flat pattern (of the seat
view for a block). Units: mm inside, the shop's unit first on paper.
"""

from math import hypot, pi, tan
from typing import Final

from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.etching import HEIGHTS, etching
from hangpost.generators.writers.flat_view import corner_radii
from hangpost.generators.writers.shop_words import length_words, weld_words
from hangpost.generators.writers.table import Table
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.weld_ear import WeldEar

CUT: Final = 0.3  # house: plus-minus on cut edges and hole positions
HOLE: Final = 0.2  # house: plus-minus on a hole's diameter
FORMED: Final = 0.8  # house: plus-minus across a bend, 1/32 in
_SIZE: Final = 2.1


def hole_table(holes: tuple[Hole, ...], units: Units) -> Table:
    """Every hole from the datum, with the count of each size in the title."""
    counted: dict[str, int] = {}
    for h in holes:
        counted[size_words(h)] = counted.get(size_words(h), 0) + 1
    counts = ", ".join(f"{n}X {size}" for size, n in counted.items())
    return Table(
        title=f"Holes from the datum: {counts} mm",
        head=("hole", "X", "Y", "size, mm", "for"),
        rows=tuple(
            (
                h.name,
                length_words(h.u, units),
                length_words(h.v, units),
                size_words(h),
                f"{h.use}, critical" if h.use == "pin" else h.use,
            )
            for h in holes
        ),
        align=("centre", "right", "right", "left", "left"),
        size=_SIZE,
        pad=0.9,
    )


def size_words(hole: Hole) -> str:
    """Diameter, or width and overall length of a slot and its direction."""
    if not hole.slot_length:
        return f"Ø{plain(hole.diameter)}"
    whole = hole.slot_length + hole.diameter
    turn = hole.slot_angle % 180
    way = {0.0: "along X", 90.0: "along Y"}.get(turn, f"at {plain(turn)}°")
    return f"slot {plain(hole.diameter)} x {plain(whole)} {way}"


def bend_table(flat: FlatPattern, units: Units) -> Table:
    """Every bend in the order it is made, with what it takes up and what comes out."""
    rows = []
    for k, bend in enumerate(flat.bends, 1):
        position, edge = line_position(bend)
        rows.append(
            (
                f"B{k}",
                "UP" if bend.up else "DOWN",
                f"{plain(bend.angle)}° / {plain(180 - bend.angle)}°",
                length_words(bend.radius, units),
                f"{k_of(bend, flat.thickness):.3f} / {plain(deduction(bend, flat.thickness))}",
                f"{length_words(position, units)} {edge}",
                length_words(outside_leg(flat, bend), units),
            )
        )
    return Table(
        title="Bends in order; UP is towards you, marked face up; K and deduction (mm)",
        head=(
            "no.",
            "way",
            "bend/inside",
            "inside R",
            "K / ded.",
            "line from datum",
            "leg outside",
        ),
        rows=tuple(rows),
        size=_SIZE,
        pad=0.9,
    )


def k_of(bend: Bend, thickness: float) -> float:
    """K-factor that gives this allowance."""
    return (bend.allowance / (bend.angle * pi / 180) - bend.radius) / thickness


def deduction(bend: Bend, thickness: float) -> float:
    """What the two outside legs together are longer than the blank."""
    return 2 * (bend.radius + thickness) * tan(bend.angle * pi / 360) - bend.allowance


def line_position(bend: Bend) -> tuple[float, str]:
    """Distance of a bend line from the datum, and along which axis."""
    (ax, ay), (bx, by) = bend.start, bend.end
    if abs(ay - by) <= abs(ax - bx):
        return ((ay + by) / 2, "up")
    return ((ax + bx) / 2, "right")


def outside_leg(flat: FlatPattern, bend: Bend) -> float:
    """The folded flange's reach, measured outside from the back of the base."""
    (ax, ay), (bx, by) = bend.start, bend.end
    apart = hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / apart, -(bx - ax) / apart  # outward of a counter-clockwise outline
    points = [p for e in flat.outline.edges for p in e.extremes()]
    far = max((x - ax) * nx + (y - ay) * ny for x, y in points)
    return far + deduction(bend, flat.thickness) / 2


def inspection_table(part: Part, shop: Shop, units: Units) -> Table:
    """At most five sizes to measure on the first piece, with their limits."""
    wanted: list[tuple[str, float, float]] = []
    flat = part.flat_pattern()
    if flat is not None:
        wanted.append(("flat, overall X", flat.length, CUT))
        wanted.append(("flat, overall Y", flat.width, CUT))
    pins = [b for b in part.bores if b.hole.use == "pin"]
    if pins and abs(pins[0].axis[1]) > 0.999:
        wanted.append(("pin centre to seat face", pins[0].origin[2], FORMED))
    if pins:
        wanted.append(("pin hole diameter, finished", pins[0].hole.diameter, HOLE))
    if flat is None:
        low, high = part.box
        wanted += [(f"overall {n}", high[k] - low[k], 0.5) for k, n in enumerate("uvw")]
    rows = [
        (what, length_words(v, units), f"{plain(v - t)} to {plain(v + t)}", "")
        for what, v, t in wanted[:4]
    ]
    if flat is not None and flat.bends:
        angle, more = 180 - flat.bends[0].angle, shop.bending.angle_tolerance
        limits = f"{plain(angle - more)}° to {plain(angle + more)}°"
        rows.append(("inside angle of each bend", f"{plain(angle)}°", limits, ""))
    return Table(
        title="First piece: measure before the rest is made",
        head=("what", "wanted", "limits, mm", "found"),
        rows=tuple((*r[:3], "         ") for r in rows),
        size=_SIZE,
        pad=0.9,
    )


def notes(part: Part, shop: Shop) -> tuple[str, ...]:
    """Tolerances, what the finish does, and how the part is to be made."""
    if part.process == "print":
        return (
            "Print ASA (PETG second choice, never PLA), at least 5 walls, 40 % filling or more, "
            "lying as in the file. Dark plastic creeps in the sun.",
            "The block is in compression only; steel sleeves in its bores take the clamping force. "
            "Re-tighten after 1 week and 1 month.",
        )
    flat = part.flat_pattern()
    assert flat is not None
    angle = plain(shop.bending.angle_tolerance)
    return (
        f"Cut from {part.mark}_mm.dxf, true size in mm: no kerf, no lead-ins; shop to add. "
        + _marking(part, flat, shop),
        f"Unless stated: cut edges and hole positions ±{CUT:g} mm, hole diameters ±{HOLE:g} mm, "
        f"across bends ±{FORMED:g} mm, bends ±{angle}°. Break all edges 0.5 mm.",
        f"Outline radii: {corner_radii(flat) or 'none'} mm. {_tapped(part, shop)} Remove spatter.",
        *_weld(part, shop.drawings.units),
        *_pinned(part, shop),
        *finish_notes(shop),
        *_grain(flat),
    )


def _marking(part: Part, flat: FlatPattern, shop: Shop) -> str:
    """How the part gets its mark, and which side is seen."""
    if not shop.drawings.etch:
        return "Seen on the marked face: write the mark on the side that lies up."
    mark = etching(flat, part.mark)
    if mark is None:
        return (
            f"Not etched: no place for letters {plain(HEIGHTS[-1])} mm high; write the mark on the "
            "side that lies up."
        )
    zinc = " The zinc may fill it: tie on a tag too." if shop.finish == "galvanised" else ""
    return (
        f"Etched side up; the mark is on layer ETCH of {part.mark}-bends_mm.dxf, letters "
        f"{plain(mark.height)} mm high.{zinc}"
    )


def _tapped(part: Part, shop: Shop) -> str:
    """Which holes get a thread."""
    if not isinstance(part, CrossingPlate):
        return "No tapped holes."
    taken = ", ".join(hole.name for hole in part.holes if hole.use == "join")
    after = " after the zinc" if shop.finish == "galvanised" else ""
    return f"Tap holes {taken} {shop.fasteners.bolts[0]}{after}."


def _pinned(part: Part, shop: Shop) -> tuple[str, ...]:
    """What is drilled and pinned on site, once the lock is set."""
    pin = spring_pin(shop).words
    if isinstance(part, (CrossingPlate, LockReceiver)):
        return (
            f"On site, once the lock is set: drill {pin} through a pin hole of each slot washer "
            "and this plate together, drive a spring pin in flush. No hole for it is cut here.",
        )
    if isinstance(part, PlateWasher) and part.pin:
        return (
            f"Holes B and C guide the drill for a {pin} spring pin: use one, keep the other for "
            "the next setting.",
        )
    return ()


def _weld(part: Part, units: Units) -> tuple[str, ...]:
    """How the part is welded on, if it is."""
    if not isinstance(part, WeldEar) or not part.weld_leg:
        return ()
    return (f"Weld to the post: {weld_words(part, units)}; wire or electrode of 70 ksi.",)


def finish_notes(shop: Shop) -> tuple[str, ...]:
    """What the finish does to the holes."""
    return {
        "galvanised": (
            "Hot-dip galvanise after bending and welding; bolt holes are drawn "
            f"{plain(shop.fits.zinc)} mm wide for the zinc. Pin holes: "
            "ream or mask to the size drawn. Vent hollows.",
        ),
        "painted": ("Paint after bending; mask pin holes and seats that are clamped.",),
        "stainless": ("Stainless: passivate; no contact with zinc or plain steel fasteners.",),
        "plain": ("No finish: the owner protects it; bare steel rusts outdoors.",),
    }[shop.finish]


def _grain(flat: FlatPattern) -> tuple[str, ...]:
    tight = any(b.radius < flat.thickness - 1e-9 for b in flat.bends)
    return ("Inside radius under one thickness: bend across the grain.",) if tight else ()
