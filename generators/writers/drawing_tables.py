"""The tables of a shop drawing: holes, bends, what to measure on the first piece.

Lengths are from the drawing's datum, the lower left corner of the flat pattern (of the seat
view for a block). Units: mm inside, the shop's unit first on paper.
"""

from math import hypot, pi, tan
from typing import Final

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import INCH, Units
from hangpost.generators.writers.shop_words import length_words
from hangpost.generators.writers.table import Table
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.part import Part

CUT: Final = 0.3  # house: plus-minus on cut edges and hole positions
HOLE: Final = 0.2  # house: plus-minus on a hole's diameter
FORMED: Final = 0.8  # house: plus-minus across a bend, 1/32 in
_SIZE: Final = 2.1


def hole_table(holes: tuple[Hole, ...], units: Units) -> Table:
    """Every hole from the datum, one a row; `counted_sizes` says how many there are of a size."""
    return Table(
        title="Holes, X right and Y up from the datum",
        head=("hole", "X", "Y", "size", "for"),
        rows=tuple(
            (
                h.name,
                length_words(h.u, units),
                length_words(h.v, units),
                both_sizes(h, units),
                f"{h.use}, critical" if h.use == "pin" else h.use,
            )
            for h in holes
        ),
        align=("centre", "right", "right", "left", "left"),
        size=_SIZE,
        pad=0.9,
    )


def counted_sizes(holes: tuple[Hole, ...], units: Units) -> str:
    """How many holes there are of each size, and which: "4X Ø11 [0.433]: A, B, C, D"."""
    named: dict[str, list[str]] = {}
    for hole in holes:
        named.setdefault(both_sizes(hole, units), []).append(hole.name)
    return "; ".join(f"{len(names)}X {size}: {', '.join(names)}" for size, names in named.items())


def both_sizes(hole: Hole, units: Units) -> str:
    """The size in the shop's unit, the other in brackets."""
    if not hole.slot_length:
        return f"Ø{length_words(hole.diameter, units)}"
    metric = f"{plain(hole.diameter + 1e-7)} x {plain(_whole(hole))}"
    inch = f"{hole.diameter / INCH:.3f} x {_whole(hole) / INCH:.3f}"
    pair = f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"
    return f"slot {pair} {_way(hole)}"


def _whole(hole: Hole) -> float:
    """Overall length of a slot, a hair more: 56.575 reads the same wherever it came from."""
    return hole.slot_length + hole.diameter + 1e-7


def _way(hole: Hole) -> str:
    turn = hole.slot_angle % 180
    return {0.0: "along X", 90.0: "along Y"}.get(turn, f"at {plain(turn)}°")


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
                length_words(deduction(bend, flat.thickness), units),
                f"{length_words(position, units)} {edge}",
                length_words(outside_leg(flat, bend), units),
            )
        )
    factors = ", ".join(sorted({f"{k_of(b, flat.thickness):.3f}" for b in flat.bends}))
    return Table(
        title=f"Bends in order; UP is towards you, marked face up; K {factors}",
        head=(
            "no.",
            "way",
            "bend/inside",
            "inside R",
            "deduct",
            "line from",
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
    """Distance of a bend line from an edge through the datum, and which edge."""
    (ax, ay), (bx, by) = bend.start, bend.end
    if abs(ay - by) <= abs(ax - bx):
        return ((ay + by) / 2, "lower edge")
    return ((ax + bx) / 2, "left edge")


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
        wanted += [
            (f"overall {n}", high[k] - low[k], 0.5) for k, n in enumerate(("X", "Y", "depth"))
        ]
    rows = [(what, length_words(v, units), _limits(v, t, units), "") for what, v, t in wanted[:4]]
    if flat is not None and flat.bends:
        angle, more = 180 - flat.bends[0].angle, shop.bending.angle_tolerance
        limits = f"{plain(angle - more)}° to {plain(angle + more)}°"
        rows.append(("inside angle of each bend", f"{plain(angle)}°", limits, ""))
    return Table(
        title="First piece: measure before the rest is made",
        head=("what", "wanted", "limits", "found"),
        rows=tuple((*r[:3], "         ") for r in rows),
        size=_SIZE,
        pad=0.9,
    )


def _limits(value: float, slack: float, units: Units) -> str:
    """Least and greatest, in the shop's unit first."""
    low, high = value - slack + 1e-7, value + slack + 1e-7
    metric = f"{plain(low)} to {plain(high)}"
    inch = f"{low / INCH:.3f} to {high / INCH:.3f}"
    return f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"
