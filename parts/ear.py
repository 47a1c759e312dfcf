"""The outline of an ear: the plate that carries a pin, grown from a straight root.

Frame: the unfolded seat plane, root on the line v = `line`. The ear is the band around the two
root ends and the disc about the pin: true arc at the tip, two tangents to the root. Units: mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from hangpost.parts.flat import Rule
from hangpost.parts.hull import Disc, hull
from hangpost.parts.loop import Point, Vertex

SAME = 1e-7  # mm: one point, whatever rounding made of it


@dataclass(frozen=True, slots=True, kw_only=True)
class EarHole:
    """A second hole in an ear, for a bolt that keeps an extension from turning about the pin."""

    u: float
    reach: float  # out of the seat, as for the pin
    diameter: float
    edge: float  # radius of the metal about it


def ear_path(
    left: float, right: float, line: float, pin: Point, tip: float, others: Sequence[Disc] = ()
) -> tuple[Vertex, ...]:
    """The way from one root end to the other around the pin, root ends left out.

    The root runs from `left` to `right` on v = `line`; the ear lies on the pin's side of it.
    Starts from the left root end for an ear below the line, from the right for one above, so
    that the plate it grows from keeps its counter-clockwise sense. `others` are more discs that
    the ear must hold.
    """
    u, v = pin
    band = hull(((left, line, 0.0), (right, line, 0.0), (u, v, tip), *others))
    corners = band.vertices
    first, last = (right, left) if v > line else (left, right)
    at = [i for i, c in enumerate(corners) if _is(c, first, line)]
    # A disc beside the root that touches its line leaves that end on a straight of the band.
    at += [i + 1 for i, c in enumerate(corners) if _is(c, last, line)]
    start = at[0] % len(corners)
    ordered = (*corners[start:], *corners[:start])
    # What lies on the root is of the root: its ends, and where a disc touches it.
    return tuple(
        c for c in ordered if abs(c.y - line) > SAME or not left - SAME < c.x < right + SAME
    )


def join_rules(
    joins: Sequence[EarHole], pin: tuple[float, float, float], thickness: float, start: float
) -> tuple[Rule, ...]:
    """Rules for the second holes: `pin` is u, reach and hole, the bend ends at reach `start`."""
    u, reach, hole = pin
    return tuple(
        rule
        for j in joins
        for rule in (
            (
                "second hole to pin",
                hypot(j.u - u, j.reach - reach) - (j.diameter + hole) / 2,
                1.4 * max(j.diameter, hole),
                "EN 1993-1-8 Table 3.3",
            ),
            ("second hole's edge", j.edge - j.diameter / 2, 0.7 * j.diameter, "as above"),
            (
                "second hole to bend",
                j.reach - start - j.diameter / 2,
                2 * thickness,
                "common practice: 2 t from it",
            ),
        )
    )


def _is(corner: Vertex, u: float, v: float) -> bool:
    return abs(corner.x - u) < SAME and abs(corner.y - v) < SAME
