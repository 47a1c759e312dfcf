"""One check of fit, and the distance that most of them ask for. Units: mm."""

from math import hypot

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.parts.frame import Vector, cross

Line = tuple[Vector, Vector]  # a point and a unit direction


def fit_check(
    leaf: LeafDesign,
    name: str,
    what: str,
    *,
    value: float,
    limit: float,
    unit: str = "mm",
    at_least: bool = False,
    warning: bool = False,
    source: str = "house",
) -> Check:
    """A check of fit of one leaf, named after it where the gate has two."""
    where = f" ({leaf.name} leaf)" if leaf.name else ""
    return Check(
        id=f"fit: {name}{where}",
        what=f"{leaf.name} leaf: {what}" if leaf.name else what,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        at_least=at_least,
        warning=warning,
    )


def off(line: Line, point: Vector) -> float:
    """Distance of a point from a line."""
    away = cross(line[1], _less(point, line[0]))
    return hypot(*away)


def _less(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])
