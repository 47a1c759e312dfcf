"""What can be cut, bent, and dipped in zinc: one function a rule, each giving the limit.

Units: mm, degrees. Limits are trade practice and design guides, not standards, unless a standard is
named; the shop's own profile overrides every one of them.
Sources: fabricators' design guides (2 t from hole to bend, flange 4 t, laser hole 1 t, edge 1.5 t),
DIN 6935 for the radius table, ASTM A385 / ISO 14713-2 practice for zinc (memory).
"""

from math import radians, sqrt, tan

from hangpost.generators.strength.tables import row


def die_opening(thickness: float) -> float:
    """Usual V-die opening for air bending: 8 t (common practice, no source), 10 t above 10 mm."""
    return (8 if thickness <= 10 else 10) * thickness


def least_flange(thickness: float, *, die: float) -> float:
    """Least outside flange at 90 degrees: 4 t, and enough to lie on both shoulders of the die.

    Half the die opening along the 45 degree flank is die / sqrt 2 (common practice, no source).
    """
    return max(4 * thickness, die / sqrt(2))


def hole_to_bend(thickness: float, radius: float) -> float:
    """Least distance hole edge to bend line: 2 t clear of the radius' start, 2 t + R."""
    return 2 * thickness + radius


def hole_to_bend_at(thickness: float, radius: float, angle: float) -> float:
    """Least distance hole edge to the outer mould line of a bend of `angle` degrees.

    2 t beyond the tangent, which lies (R + t) tan(angle/2) from the mould line.
    """
    return 2 * thickness + (radius + thickness) * tan(radians(angle) / 2)


def hole_to_edge(thickness: float, diameter: float, process: str = "laser") -> float:
    """Least distance hole edge to plate edge: 1.5 t or one diameter, by process."""
    entry = row("processes", process)
    return max(float(entry["edge_t"]) * thickness, float(entry["edge_d"]) * diameter)


def web(thickness: float, process: str = "laser") -> float:
    """Least metal between two openings, by process."""
    return float(row("processes", process)["web_t"]) * thickness


def least_hole(thickness: float, process: str = "laser") -> float:
    """Smallest hole to cut; a smaller one gets a marked centre and is drilled."""
    entry = row("processes", process)
    return max(float(entry["least_hole_t"]) * thickness, float(entry["least_hole"]))


def relief_width(thickness: float) -> float:
    """Least width of a relief at the end of a bend: the thickness (common practice, no source)."""
    return max(thickness, 1.5)


def relief_depth(thickness: float, radius: float) -> float:
    """Least depth of a relief beyond the bend line: radius plus thickness (common practice)."""
    return radius + thickness


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


def zinc_hole_growth(diameter: float, *, moving: bool) -> float:
    """What a hole gains on its diameter before hot-dip zinc: bolts 1/16 in, moving pins 2 mm.

    House figures out of the trade's range: bolt holes 1/16 in, pins of 10 to 30 mm up to 2 mm (or
    reamed after zinc); a pin under 8 mm is better drilled after.
    """
    return 2.0 if moving and diameter >= 8 else 25.4 / 16


def zinc_vent_hole(side_or_diameter: float) -> float:
    """Least diameter of each of two vent and drain holes in a closed tube: a quarter, 10 mm least.

    Practice after ASTM A385 and ISO 14713-2, from memory; the galvaniser decides.
    """
    return max(10.0, side_or_diameter / 4)


def zinc_corner_crop(thickness: float) -> float:
    """Cropped corner of a gusset or blind pocket so that zinc runs out: 3/4 in, thin 1/2 in."""
    return 19.0 if thickness > 5 else 13.0
