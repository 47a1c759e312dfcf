"""What can be bent, and what a sheet has room for. Units: mm.

The radii are trade practice after fabricators' design guides, not a standard; every other limit of
the workshop stands in the shop file.
"""


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
