"""What can be bent, and what a sheet and a printer's bed have room for. Units: mm, degrees.

The radii are trade practice after fabricators' design guides, not a standard; every other limit of
the workshop stands in the shop file.
"""

from math import acos, atan2, cos, degrees, hypot, radians, sin


def least_radius(thickness: float, *, along_grain: bool) -> float:
    """Least inside radius of mild steel: 1 t safe in any direction, half of it across the grain.

    Fabricators' guides give 0.5 t (0.8 mm at least) to 1 t; `along_grain` is a bend line that runs
    with the rolling direction, which cracks first.
    """
    return thickness if along_grain else max(0.5 * thickness, 0.8)


def fits_sheet(length: float, width: float, sheet: tuple[float, float], *, margin: float) -> bool:
    """Whether a flat fits the sheet in one of the two directions with a margin all round."""
    long, short = sorted((length, width), reverse=True)
    sheet_long, sheet_short = sorted(sheet, reverse=True)
    return long + 2 * margin <= sheet_long and short + 2 * margin <= sheet_short


def turn_on_bed(length: float, width: float, bed: tuple[float, float]) -> float | None:
    """By how many degrees a block is turned off a bed's longer side to lie on it; None: never.

    0 where it lies along the bed, else the least turn that brings its length into the bed.
    """
    long, short = sorted((length, width), reverse=True)
    bed_long, bed_short = sorted(bed, reverse=True)
    if long <= bed_long:  # turned, it would only be wider
        return 0.0 if short <= bed_short else None
    if short > bed_long:
        return None
    turn = degrees(atan2(short, long) + acos(bed_long / hypot(long, short)))
    return turn if across_bed(length, width, turn) <= bed_short else None


def across_bed(length: float, width: float, turn: float) -> float:
    """What a block so turned off a bed's longer side takes of its shorter one."""
    long, short = sorted((length, width), reverse=True)
    return long * sin(radians(turn)) + short * cos(radians(turn))
