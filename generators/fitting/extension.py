"""The pivot extension: bolted so that it cannot turn, and what it slips. Units: mm."""

from collections.abc import Iterator
from math import hypot, inf

from hangpost.generators.checks import Check
from hangpost.generators.fitting.check import fit_check
from hangpost.generators.fitting.pins import IN_LINE
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.swing import HOSTS
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.frame import Vector
from hangpost.parts.part import Part
from hangpost.parts.pivot_extension import PivotExtension

BOLTS = 2  # of an extension, so that it cannot turn


def extension(leaf: LeafDesign) -> Iterator[Check]:
    """Two checks where the gate has an extension."""
    plates = [p for p in leaf.placed if isinstance(p.item, PivotExtension)]
    if not plates:
        return
    yield fit_check(
        leaf,
        "pivot extension bolted",
        "bolts through bracket and each plate of the pivot extension, so that it cannot turn",
        value=float(_bolted(leaf, plates)),
        limit=float(BOLTS),
        unit="",
        at_least=True,
    )
    yield fit_check(
        leaf,
        "pivot extension slip",
        "what the pin moves if the extension slips in its bolt holes; the bolts clamp it, drill "
        "and pin it once it is set",
        value=_slip(leaf, plates[0]),
        limit=leaf.problem.limits.margin,
        warning=True,
    )


def _bars(leaf: LeafDesign) -> list[tuple[Vector, Vector, float]]:
    """Start, direction and radius of every round thing that stands still and is no host."""
    return [
        (p.frame.point(s.start), p.frame.direction(s.axis), s.radius)
        for p in leaf.placed
        if isinstance(p.item, Body) and p.name not in HOSTS and p.rides == "ground"
        for s in p.item.shapes
        if isinstance(s, Bar)
    ]


def _bolted(leaf: LeafDesign, plates: list[Placed]) -> int:
    """Bolts of the worse of two plates that go through the bracket too; 0 without a pair."""
    bars = _bars(leaf)
    ears = [
        _middle(p, bore.origin)
        for p in leaf.placed
        if isinstance(p.item, Part) and p.rides == "ground" and p not in plates
        for bore in p.item.bores
        if bore.hole.use in {"pin", "join"}
    ]
    bolted = []
    for plate in plates:
        assert isinstance(plate.item, PivotExtension)
        count = 0
        for hole in plate.item.holes[:2]:
            x, y, _ = plate.frame.point((hole.u, hole.v, 0.0))
            # a shank fills its hole; what is much thinner or is a tube about it is none
            shank = any(
                hypot(a[0] - x, a[1] - y) < 0.1
                and abs(axis[2]) > 0.999
                and 0.8 * hole.diameter <= 2 * r <= hole.diameter
                for a, axis, r in bars
            )
            through = sum(hypot(ex - x, ey - y) < IN_LINE for ex, ey in ears)
            count += shank and through >= len(plates)
        bolted.append(count)
    return min(bolted) if len(plates) == 2 else 0


def _middle(placed: Placed, at: Vector) -> tuple[float, float]:
    x, y, _ = placed.frame.point(at)
    return x, y


def _slip(leaf: LeafDesign, plate: Placed) -> float:
    """What the pin moves by the play of the bolt that is in the first hole; inf without one."""
    assert isinstance(plate.item, PivotExtension)
    x, y, _ = plate.frame.origin
    fitting = [
        2 * r
        for a, _, r in _bars(leaf)
        if hypot(a[0] - x, a[1] - y) < 0.1 and 2 * r <= plate.item.first_hole
    ]
    bolt = max(fitting, default=0.0)
    return plate.item.play(bolt, bolt) if bolt else inf
