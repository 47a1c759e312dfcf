"""The pins: their bores in line, where the pivots are. Units: mm."""

from collections.abc import Iterator
from math import hypot, inf

from hangpost.generators.checks import Check
from hangpost.generators.fitting.check import Line, fit_check, off
from hangpost.generators.hardware.design import LeafDesign
from hangpost.parts.part import Part
from hangpost.parts.pivot_extension import PivotExtension

IN_LINE = 0.01  # bores of one pin off its axis
PINS = ("post", "leaf")


def pin_lines(leaf: LeafDesign, end: str) -> list[tuple[str, Line]]:
    """Axis of every bore that the pin at this end goes through, by the part's name."""
    found = []
    extended = any(isinstance(p.item, PivotExtension) for p in leaf.placed)
    for placed in leaf.placed:
        if not isinstance(placed.item, Part) or placed.rides != _rides(end):
            continue
        if end == "post" and extended and not isinstance(placed.item, PivotExtension):
            continue  # the bracket's own pin hole takes the extension's first bolt
        for bore in placed.item.bores:
            if bore.hole.use == "pin":
                axis = placed.frame.direction(bore.axis)
                found.append((placed.name, (placed.frame.point(bore.origin), axis)))
    return found


def _rides(end: str) -> str:
    return "ground" if end == "post" else "leaf"


def pins(leaf: LeafDesign) -> Iterator[Check]:
    """One check an end: its bores about the pin's axis, two of them."""
    for end in PINS:
        x, y = leaf.mount.post_pivot if end == "post" else leaf.mount.leaf_pivot
        bores = pin_lines(leaf, end)
        apart = [off(line, (x, y, leaf.mount.height)) for _, line in bores]
        lean = [hypot(line[1][0], line[1][1]) for _, line in bores]
        worst = max(apart, default=inf) if len(bores) == 2 and max(lean) < 1e-6 else inf
        yield fit_check(
            leaf,
            f"{end} pin in line",
            f"bores of the {end} pin off its axis, two of them in line",
            value=worst,
            limit=IN_LINE,
        )
