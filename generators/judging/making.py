"""Can it be made here: the workshop's rules for every part that is cut, bent, dipped or printed.

Limits are the shop's own (shop file); where the file says nothing its defaults are trade practice
and say so. Units: mm.
"""

from collections.abc import Iterator
from dataclasses import replace

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import MAKE, Bench
from hangpost.generators.judging.flat_distances import (
    chords,
    flange_height,
    hole_to_bend,
    hole_to_edge,
    hole_to_hole,
)
from hangpost.generators.strength import workshop
from hangpost.parts.flat import FlatPattern
from hangpost.parts.part import Part, PrintedPart

EARS = ("pin", "join")  # holes whose edge distance is a matter of the strength of an ear
PRACTICE = "common practice, no source; shop file"


def making_checks(bench: Bench, part: Part) -> Iterator[Check]:
    """All workshop rules of one part."""
    flat = part.flat_pattern()
    if flat is not None:
        yield from _cut(bench, part.id, flat)
        yield from _bent(bench, part.id, flat)
        yield _on_sheet(bench, part.id, flat)
    if isinstance(part, PrintedPart):
        yield from _printed(bench, part)


def _cut(bench: Bench, of: str, flat: FlatPattern) -> Iterator[Check]:
    cutting, t = bench.shop.cutting, flat.thickness
    lines = [line for loop in (flat.outline, *flat.windows) for line in chords(loop)]
    if flat.holes:
        small = min(flat.holes, key=lambda hole: hole.diameter)
        yield bench.fits(
            MAKE,
            f"{of} smallest hole",
            f"smallest hole of {of} ({small.name}); a smaller round one is marked and drilled",
            value=small.diameter,
            least=cutting.least_hole(t),
            source=f"{cutting.process}: {PRACTICE}",
            working=f"{cutting.least_hole_factor:g} t, t = {t:.2f}",
            warning=True,
        )
        bored = replace(flat, holes=tuple(h for h in flat.holes if h.use in EARS))
        if bored.holes:
            rim = hole_to_edge(bored, lines)
            yield bench.fits(
                MAKE,
                f"{of} pin hole to edge",
                f"metal between pin hole {rim.hole} of {of} and the edge of the blank; its "
                "strength is judged apart",
                value=rim.distance,
                least=cutting.web_factor * t,
                source=PRACTICE,
                working=f"{cutting.web_factor:g} t, t = {t:.2f}",
            )
        flat = replace(flat, holes=tuple(h for h in flat.holes if h.use not in EARS))
        if not flat.holes:
            return
        edge = hole_to_edge(flat, lines)
        yield bench.fits(
            MAKE,
            f"{of} hole to edge",
            f"metal between hole {edge.hole} of {of} and the edge of the blank",
            value=edge.distance,
            least=cutting.edge_factor * t,
            source=PRACTICE,
            working=f"{cutting.edge_factor:g} t, t = {t:.2f}",
        )
    if len(flat.holes) > 1:
        web = hole_to_hole(flat)
        yield bench.fits(
            MAKE,
            f"{of} web between holes",
            f"metal between holes {web.hole} of {of}",
            value=web.distance,
            least=cutting.web_factor * t,
            source=PRACTICE,
            working=f"{cutting.web_factor:g} t, t = {t:.2f}",
        )


def _bent(bench: Bench, of: str, flat: FlatPattern) -> Iterator[Check]:
    if not flat.bends:
        return
    t, bending = flat.thickness, bench.shop.bending
    plate = bench.shop.plate_near(t)
    near = hole_to_bend(flat)
    yield bench.fits(
        MAKE,
        f"{of} hole to bend",
        f"flat metal between hole {near.hole} of {of} and the start of a bend",
        value=near.distance,
        least=bending.hole_factor * t,
        source=PRACTICE,
        working=f"{bending.hole_factor:g} t, t = {t:.2f}",
    )
    yield bench.fits(
        MAKE,
        f"{of} flange",
        f"lowest flange of {of}, outside, for the die of this plate",
        value=min(flange_height(flat, bend) for bend in flat.bends),
        least=float(plate.least_flange),
        source=PRACTICE,
        working=f"least flange of plate {plate.thickness:.2f} for its die, shop file or 4 t + R",
    )
    tightest = min(bend.radius for bend in flat.bends)
    yield bench.fits(
        MAKE,
        f"{of} bend radius",
        f"inside radius of {of}, bent across the rolling direction",
        value=tightest,
        least=workshop.least_radius(t, along_grain=False),
        source="fabricators' guides: half the thickness across the grain (house: 0.8 mm least)",
        working=f"max(t / 2, 0.8), t = {t:.2f}",
    )
    along = workshop.least_radius(t, along_grain=True)
    yield bench.fits(
        MAKE,
        f"{of} bend radius along the grain",
        f"inside radius of {of} if it is nested with a bend along the rolling direction",
        value=tightest,
        least=along,
        source="fabricators' guides: one thickness along the grain",
        working=f"1 t, t = {t:.2f}",
        warning=True,
    )
    longest = max(
        ((b.end[0] - b.start[0]) ** 2 + (b.end[1] - b.start[1]) ** 2) ** 0.5 for b in flat.bends
    )
    yield bench.fits(
        MAKE,
        f"{of} bend length",
        f"longest bend of {of} in the press",
        value=longest,
        most=float(bending.longest),
        source="shop file (house)",
        working="longest of sqrt(du^2 + dv^2) between the ends of its bend lines",
    )


def _on_sheet(bench: Bench, of: str, flat: FlatPattern) -> Check:
    sheet, long = bench.shop.sheet, max(flat.length, flat.width)
    room = float(sheet.length) - 2 * float(sheet.spacing)
    size = (float(sheet.length), float(sheet.width))
    fits = workshop.fits_sheet(flat.length, flat.width, size, margin=float(sheet.spacing))
    short = min(flat.length, flat.width)
    if long <= room and not fits:
        long, room = short, float(sheet.width) - 2 * float(sheet.spacing)
    return bench.fits(
        MAKE,
        f"{of} on the sheet",
        f"blank of {of}, {flat.length:.0f} x {flat.width:.0f} mm, on the shop's sheet",
        value=long,
        most=room,
        source="shop file",
        working=f"sheet {size[0]:.0f} x {size[1]:.0f} less 2 x {sheet.spacing:.0f}",
    )


def _printed(bench: Bench, part: PrintedPart) -> Iterator[Check]:
    low, high = part.box
    size = sorted(b - a for a, b in zip(low[:2], high[:2], strict=True))
    bed = sorted(float(each) for each in bench.shop.printer.bed[:2])
    taken, room = max(zip(size, bed, strict=True), key=lambda pair: pair[0] / pair[1])
    turn, turned = workshop.turn_on_bed(size[1], size[0], (bed[0], bed[1])), ""
    if turn:
        taken, room = workshop.across_bed(size[1], size[0], turn), bed[0]
        turned = f", turned by {turn:.0f} degrees"
    yield bench.fits(
        MAKE,
        f"{part.id} on the printer",
        f"{part.id}, {size[1]:.0f} x {size[0]:.0f} mm, on the printer's bed{turned}",
        value=taken,
        most=room,
        source="shop file",
        working=f"{size[1]:.1f} x {size[0]:.1f} on a bed of {bed[1]:.0f} x {bed[0]:.0f}{turned}",
    )
    yield bench.fits(
        MAKE,
        f"{part.id} height on the printer",
        f"{part.id} under the printer's head",
        value=part.thickness,
        most=float(bench.shop.printer.bed[2]),
        source="shop file",
        working=f"height of the block {part.thickness:.1f}",
    )
