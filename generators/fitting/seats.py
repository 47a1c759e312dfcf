"""Seats on round tubes: what was cut for a tube lies on one of that size. Units: mm."""

from collections.abc import Iterator
from math import hypot, inf

from hangpost.generators.checks import Check
from hangpost.generators.fitting.check import fit_check, off
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.swing import HOSTS
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.frame import cross
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.weld_ear import WeldEar

SEAT_GAP = 0.5  # house: between a seat and the tube it is cut for, its own fit taken off
OFF_TUBE = 2.0  # house: a seat farther off a tube than this does not lie on it
ALONG = 0.002  # house: a tenth of a degree between a hollow and its tube


def seats(hung: HungLeaf, leaf: LeafDesign) -> Iterator[Check]:
    """One check for each saddle and each ear to weld of a round tube."""
    seen = set()
    for placed in leaf.placed:
        item = placed.item
        if isinstance(item, SaddleBlock):
            outside = _tube_under(placed, item, leaf)
            gap = item.gap_on(outside) if outside else inf
        elif isinstance(item, WeldEar) and item.outside is not None:
            outside = float(hung.post.width)
            gap = item.gap_on(outside) - item.fit
        else:
            continue
        if (item, outside) in seen:
            continue
        seen.add((item, outside))
        words = f"a tube of {outside:.1f} mm" if outside else "no tube at all"
        yield fit_check(
            leaf,
            f"{placed.name} on its tube",
            f"gap between {placed.name}, cut for {_cut_for(item):.1f} mm, and {words}",
            value=gap,
            limit=SEAT_GAP,
        )


def _cut_for(item: SaddleBlock | WeldEar) -> float:
    return float(item.outside or 0.0)


def _tube_under(placed: Placed, saddle: SaddleBlock, leaf: LeafDesign) -> float | None:
    """Outside diameter of the tube that a saddle lies on; None when it lies on none."""
    found: list[tuple[float, float]] = []
    along = placed.frame.direction(saddle.along)
    for host in leaf.placed:
        if host.name not in HOSTS or host.rides != placed.rides or not isinstance(host.item, Body):
            continue
        for shape in host.item.shapes:
            if not isinstance(shape, Bar):
                continue
            start, axis = host.frame.point(shape.start), host.frame.direction(shape.axis)
            if hypot(*cross(axis, along)) > ALONG:
                continue
            away = abs(off((start, axis), placed.frame.origin) - shape.radius)
            found.append((away, 2 * shape.radius))
    away, outside = min(found, default=(inf, 0.0))
    return outside if away <= OFF_TUBE else None
