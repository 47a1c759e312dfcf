"""The notes of a shop drawing: tolerances, the mark, radii, welds, what the finish does.

Units: mm inside, the shop's unit first on paper.
"""

import re

from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.strength.workshop import turn_on_bed
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import INCH, Units
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.drawing_tables import CUT, FORMED, HOLE, counted_sizes
from hangpost.generators.writers.etching import HEIGHTS, etching
from hangpost.generators.writers.flat_view import corner_radii
from hangpost.generators.writers.shop_words import length_words, weld_words
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.flat import FlatPattern, Hole
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part, PrintedPart
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.wedge import LEAST_TILT, WedgeShim
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig


def notes(part: Part, shop: Shop) -> tuple[str, ...]:
    """Tolerances, what the finish does, and how the part is to be made."""
    if isinstance(part, PrintedPart):
        units = shop.drawings.units
        return (
            *_counted(tuple(b.hole for b in part.bores), units),
            *print_notes(part),
            *on_the_bed(part, shop),
            *key_sizes(part, units),
            *sleeve_words(part, units),
            cautions("always")[0].text,
        )
    flat = part.flat_pattern()
    assert flat is not None
    angle, units = plain(shop.bending.angle_tolerance), shop.drawings.units
    cut, hole, formed = (_slack(v, units) for v in (CUT, HOLE, FORMED))
    return (
        *_counted(flat.holes, units),
        "Cut from the DXF that has mark, revision and thickness in its name, true size in mm: no "
        "kerf, no lead-ins; shop to add. " + _marking(part, flat, shop),
        f"Unless stated: cut edges and hole positions {cut}, hole diameters {hole}, across bends "
        f"{formed}, bends ±{angle}°. Break all edges {_length(0.5, units)}.",
        f"Outline radii: {corner_radii(flat, units) or 'none'}. {_tapped(part, shop)} Remove "
        "spatter.",
        *drill_words(flat, shop),
        *_bevelled(part, units),
        *_weld(part, shop.drawings.units),
        *_pinned(part, shop),
        *finish_notes(shop),
        *_bare_for_weld(part, shop),
        *_grain(flat),
        cautions("always")[0].text,
    )


def _counted(holes: tuple[Hole, ...], units: Units) -> tuple[str, ...]:
    """How many holes there are of each size."""
    return (f"Holes in all: {counted_sizes(holes, units)}.",) if holes else ()


def print_notes(part: PrintedPart) -> tuple[str, ...]:
    """How a block is printed, and what it is for."""
    printed = (
        f"Print {_plastic(part)}, at least 5 walls, 40 % filling or more, lying as in the file."
    )
    if isinstance(part, WeldJig):
        return (
            printed,
            "A weld jig stands between the ears, the pin through all three, its nose on the post: "
            "for tack welds only. Take it out before welding through; it is no part of the gate.",
        )
    return (
        f"{printed} Dark plastic creeps in the sun.",
        "The block is in compression only; steel sleeves in its bores take the clamping force. "
        "Re-tighten after 1 week and 1 month.",
    )


def on_the_bed(part: Part, shop: Shop) -> tuple[str, ...]:
    """That a block goes on the printer's bed across its corners only, where it is so."""
    across, along, _ = (float(side) for side in shop.printer.bed)
    turn = turn_on_bed(*part.extent[:2], (across, along))
    if not turn:
        return ()
    long, short = max(across, along), min(across, along)
    return (
        f"It is longer than the printer's bed of {plain(long)} x {plain(short)} mm: turn it by "
        f"{plain(turn, places=0)}° off the bed's longer side, and it lies across the corners.",
    )


def _plastic(part: PrintedPart) -> str:
    """What it is printed of, with what stands outdoors (common practice, no source)."""
    material = part.material.name.partition(",")[0]
    if re.search(r"\bASA\b", material, re.IGNORECASE):
        return f"{material} (PETG second choice, never PLA)"
    if re.search(r"\bPLA\b", material, re.IGNORECASE):
        return f"ASA (PETG second choice), never {material}: it softens in the sun and creeps"
    return f"{material} (outdoors ASA stands best; never PLA)"


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
        "Etched side up; the mark is on layer ETCH of the -bends_mm.dxf file, letters "
        f"{plain(mark.height)} mm high.{zinc}"
    )


def _bevelled(part: Part, units: Units) -> tuple[str, ...]:
    """What is bevelled after cutting, on which face."""
    if not isinstance(part, LockReceiver) or not part.bevel:
        return ()
    return (
        f"Bevel the rim of opening {part.opening.name} all round on the marked face, "
        f"{length_words(part.bevel, units)} x 45°: it leads the lock's bolt in.",
    )


def drill_words(flat: FlatPattern, shop: Shop) -> tuple[str, ...]:
    """Which holes the process does not cut: they are marked and drilled."""
    least = shop.cutting.least_hole(flat.thickness)
    marked = flat.as_cut(least).marked
    if not marked:
        return ()
    units = shop.drawings.units
    sizes = ", ".join(f"{h.name} Ø{length_words(h.diameter, units)}" for h in marked)
    return (
        f"DRILL {sizes}: {shop.cutting.process} cuts no hole under {length_words(least, units)} in "
        "this plate. Not on layer CUT; a cross on layer ETCH of the -bends_mm.dxf file marks each.",
    )


def _tapped(part: Part, shop: Shop) -> str:
    """Which holes get a thread."""
    if not isinstance(part, CrossingPlate):
        return "No tapped holes."
    taken = ", ".join(hole.name for hole in part.holes if hole.use == "join")
    after = " after the zinc" if shop.finish == "galvanised" else ""
    return f"Tap holes {taken} {shop.fasteners.bolts[0]}, coarse thread{after}."


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


def _bare_for_weld(part: Part, shop: Shop) -> tuple[str, ...]:
    """What a zinc coat means for an edge that is welded on site (common practice, no source)."""
    if not isinstance(part, WeldEar) or shop.finish != "galvanised":
        return ()
    return (
        f"Welded to a standing post: no zinc within {_length(25.0, shop.drawings.units)} of the "
        "seam (mask or grind off: the fumes are harmful); zinc-rich paint over the finished weld.",
    )


def key_sizes(part: Part, units: Units) -> tuple[str, ...]:
    """What the views of a printed block do not give as a dimension."""
    if isinstance(part, WedgeShim):
        thin, thick = (length_words(v, units) for v in part.ends)
        tilts = ((part.tilt_u, "across"), (part.tilt_v, "up and down"))
        tapers = " and ".join(f"{plain(abs(a))}° {way}" for a, way in tilts if abs(a) >= LEAST_TILT)
        return (
            f"Tapers {tapers}: {thin} at the thin corner, {thick} at the thick one; a vee marks "
            "each thick side.",
        )
    if isinstance(part, SaddleBlock):
        radius = length_words(part.outside / 2 + part.fit, units)
        hollow = f"Hollow: R{radius}, for a round of {length_words(part.outside, units)} outside."
        across, along = (plain(abs(angle)) for angle in part.lean)
        if part.lean == (0.0, 0.0):
            return (hollow,)
        return (
            hollow,
            f"The hollow leans {across}° across and {along}° to the seat. Write the mark and UP on "
            "the block: it fits in its own place only, this way up.",
        )
    return ()


def sleeve_words(part: PrintedPart, units: Units) -> tuple[str, ...]:
    """How long the steel sleeve in each bore is."""
    longs: dict[str, list[str]] = {}
    for name, long in sleeve_lengths(part):
        longs.setdefault(length_words(round(long, 1), units), []).append(name)
    if not longs:
        return ()
    listed = "; ".join(f"{', '.join(names)} {long}" for long, names in longs.items())
    return (f"Steel sleeves, length: {listed}.",)


def sleeve_lengths(part: PrintedPart) -> tuple[tuple[str, float], ...]:
    """The bores that take a sleeve, by name, and how long it is."""
    holes = [bore.hole for bore in part.bores]
    if isinstance(part, SaddleBlock):
        found = zip(holes, map(part.sleeve_length, part.sleeves), strict=True)
    elif isinstance(part, WedgeShim):
        found = zip(holes, map(part.sleeve_length, holes), strict=True)
    else:
        found = zip(holes, [part.thickness] * len(holes), strict=True)
    return tuple((hole.name, long) for hole, long in found if hole.use == "sleeve")


def _length(value: float, units: Units) -> str:
    """A length in a sentence: "0.063 in [1.6 mm]"."""
    return _slack(value, units).replace("±", "")


def _slack(value: float, units: Units) -> str:
    """A tolerance in both units."""
    inch, metric = f"±{value / INCH:.3f} in", f"±{value:g} mm"
    return f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"


def finish_notes(shop: Shop) -> tuple[str, ...]:
    """What the finish does to the holes."""
    return {
        "galvanised": (
            "Hot-dip galvanise after bending and welding; bolt holes are drawn "
            f"{_length(shop.fits.zinc, shop.drawings.units)} larger for the zinc, on backing "
            "plates half as much. Pin holes: ream or mask to the size drawn. Vent hollows.",
        ),
        "painted": ("Paint after bending; mask pin holes and seats that are clamped.",),
        "stainless": ("Stainless: passivate; no contact with zinc or plain steel fasteners.",),
        "plain": ("No finish: the owner protects it; bare steel rusts outdoors.",),
    }[shop.finish]


def _grain(flat: FlatPattern) -> tuple[str, ...]:
    tight = any(b.radius < flat.thickness - 1e-9 for b in flat.bends)
    return ("Inside radius under one thickness: bend across the grain.",) if tight else ()
