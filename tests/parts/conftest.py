"""What the part tests share: solids measured by the CAD kernel, which knows nothing of ours."""

from collections.abc import Callable
from math import pi
from typing import Any

import pytest

from hangpost.parts.part import Part
from hangpost.parts.post_bracket import PostAngle, SlotSpec

Measure = Callable[[Part], None]


@pytest.fixture
def slot() -> SlotSpec:
    return SlotSpec(diameter=14.0, travel=16.0, land=18.5)


@pytest.fixture
def upper(slot: SlotSpec) -> PostAngle:
    """An upper angle with nothing symmetrical about it."""
    return PostAngle(
        id="angle-upper", place="upper", plate_thickness=6.0, bend_radius=9.0, k_factor=0.42,
        gap=26.0, pin=13.0, pin_u=-40.0, reach=110.0, tip=22.0, root=(-95.0, 5.0),
        seat=(-120.0, 10.0), columns=(-70.0,), rows=(60.0, 140.0), slot=slot,
    )  # fmt: skip


def common_volume(a: Any, b: Any) -> float:
    return float(a.intersect(b).Volume())


@pytest.fixture
def sound() -> Measure:
    """Hold a part's solid against everything the part says of itself in closed form."""
    return _sound


def _sound(part: Part) -> None:
    import cadquery as cq

    solid = part.solid()

    assert solid.isValid() and len(solid.Solids()) == 1
    assert solid.Volume() == pytest.approx(part.volume, rel=1e-6)
    bounds, (least, greatest) = solid.BoundingBox(1e-6), part.box
    assert (bounds.xmin, bounds.ymin, bounds.zmin) == pytest.approx(least, abs=2e-3)
    assert (bounds.xmax, bounds.ymax, bounds.zmax) == pytest.approx(greatest, abs=2e-3)
    for bore in part.bores:  # the hole is open, and there is a wall just around it
        axis, origin = cq.Vector(*bore.axis), cq.Vector(*bore.origin)
        r = bore.hole.diameter / 2
        bar = cq.Solid.makeCylinder(r - 0.02, part.thickness + 0.02, origin - axis * 0.01, axis)
        assert common_volume(solid, bar) == pytest.approx(0, abs=1e-6), bore
        bar = cq.Solid.makeCylinder(r + 0.05, part.thickness, origin, axis)
        share = 0.02 if bore.hole.slot_length else (0.9 if part.process == "cut" else 0.2)
        assert common_volume(solid, bar) > share * 2 * pi * r * 0.05 * part.thickness, bore


@pytest.fixture
def handed() -> Measure:
    """Hold the left hand against the mirror image of the right: solid, holes and flat."""
    return _handed


def _handed(part: Part) -> None:
    left = part.mirrored()

    assert left.hand != part.hand and left.mirrored() == part
    image, own = part.solid().mirror("YZ"), left.solid()
    assert own.Volume() == pytest.approx(part.volume, rel=1e-6)
    assert common_volume(image, own) == pytest.approx(part.volume, rel=1e-6)
    ours = sorted(
        (round(b.origin[0], 6), round(b.origin[1], 6), b.hole.diameter) for b in left.bores
    )
    mirrored = sorted(
        (round(-b.origin[0], 6), round(b.origin[1], 6), b.hole.diameter) for b in part.bores
    )
    assert (
        ours == pytest.approx(mirrored)
        if not ours
        else all(a == pytest.approx(b) for a, b in zip(ours, mirrored, strict=True))
    )
    flat, other = part.flat_pattern(), left.flat_pattern()
    if flat is not None and other is not None:
        assert other.area == pytest.approx(flat.area)
        a, b = flat.outline.bounds, other.outline.bounds
        assert b == pytest.approx((-a[2], a[1], -a[0], a[3]))
        centres = sorted((-h.u, h.v, h.diameter) for h in flat.holes)
        for one, two in zip(
            centres, sorted((h.u, h.v, h.diameter) for h in other.holes), strict=True
        ):
            assert one == pytest.approx(two)


@pytest.fixture
def holes_inside() -> Measure:
    """Every hole of the flat lies in the outline, with a web of its own kind all round."""
    return _holes_inside


def _holes_inside(part: Part) -> None:
    import cadquery as cq

    from hangpost.parts.solids import wire

    flat = part.flat_pattern()
    assert flat is not None
    outline = wire(flat.outline)
    face = cq.Face.makeFromWires(outline)
    openings = [wire(h.loop) for h in flat.holes] + [wire(w) for w in flat.windows]
    for i, opening in enumerate(openings):
        centre = cq.Vertex.makeVertex(*opening.Center().toTuple())
        assert face.distance(centre) == pytest.approx(0.0, abs=1e-9)
        assert outline.distance(opening) >= 0.9 * flat.thickness - 1e-6
        for other in openings[i + 1 :]:
            assert opening.distance(other) >= 0.9 * flat.thickness - 1e-6
    net = cq.Face.makeFromWires(outline, openings)
    assert net.Area() == pytest.approx(flat.area, rel=1e-9)
