"""The folded solid against its flat pattern: where holes go, how much sheet there is, how thick."""

from dataclasses import replace
from math import dist, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts.bends import allowance
from hangpost.parts.flat import Hole
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Vertex, rectangle


def plate(
    angle: float, radius: float, thickness: float, k: float, up: bool, length: float
) -> FoldedPlate:
    """An L of 120 x 80 with one flange on its lower edge, skew on purpose."""
    path = (Vertex(-30.0, -40.0 - length), Vertex(50.0, -40.0 - length * 0.8))
    flange = Flange(
        name="lip", edge=0, path=path, radius=radius, angle=angle, up=up,
        holes=(Hole("P", 10.0, -40.0 - length / 2, 11.0, "pin"),),
    )  # fmt: skip
    return FoldedPlate(
        thickness=thickness, outline=rectangle(-60, -40, 60, 40),
        holes=(Hole("A", -35.0, 12.0, 9.0, "post", 20.0, 30.0),), flanges=(flange,), k_factor=k,
    )  # fmt: skip


angles = st.floats(20, 120)
radii = st.floats(1, 15)
sheets = st.floats(2, 12)
shares = st.floats(0.3, 0.5)


@given(angle=angles, r=radii, t=sheets, k=shares, up=st.booleans())
def test_flat_is_the_unfolded_plate_and_one_allowance(
    angle: float, r: float, t: float, k: float, up: bool
) -> None:
    folded = plate(angle, r, t, k, up, 60)
    flat = folded.flat_pattern()
    gap = allowance(angle, r, t, k)
    pin = next(h for h in flat.holes if h.name == "P")

    assert flat.width == pytest.approx(80 + 60 + gap)
    assert (pin.u, pin.v) == pytest.approx((10.0, -70.0 - gap))
    (bend,) = flat.bends
    assert bend.start[1] == bend.end[1] == pytest.approx(-40 - gap / 2)
    assert bend.allowance == pytest.approx(gap) and bend.up is up


@given(angle=angles, r=radii, t=sheets, up=st.booleans())
def test_sheet_is_kept_when_the_neutral_fibre_lies_in_the_middle(
    angle: float, r: float, t: float, up: bool
) -> None:
    """With K = 1/2 bending moves no material: folded volume = flat area x thickness."""
    folded = plate(angle, r, t, 0.5, up, 60)

    assert folded.volume == pytest.approx(folded.flat_pattern().area * t)


@given(angle=angles, r=radii, t=sheets, up=st.booleans())
def test_fold_is_rigid_and_meets_the_bend(angle: float, r: float, t: float, up: bool) -> None:
    """The root line of the flange ends up on a circle about the bend axis, turned by the angle."""
    folded = plate(angle, r, t, 0.4, up, 60)
    fold = folded.fold(folded.flanges[0])
    axis_w = t + r if up else -r

    one, two = fold.point((0.0, -40.0, 0.0)), fold.point((30.0, -70.0, 0.0))
    assert dist(one, two) == pytest.approx(dist((0, -40), (30, -70)))
    for w in (0.0, t):
        before, after = (0.0, -40.0, w), fold.point((0.0, -40.0, w))
        assert after[0] == pytest.approx(0.0)
        radius = abs(w - axis_w)
        assert dist(after[1:], (-40.0, axis_w)) == pytest.approx(radius)
        chord = 2 * radius * abs(sin(radians(angle) / 2))
        assert dist(before, after) == pytest.approx(chord)
    assert (fold.point((0, -90, 0))[2] > one[2]) is up


@pytest.mark.parametrize("up", [True, False])
@pytest.mark.parametrize("angle", [35.0, 90.0, 110.0])
def test_solid_is_the_sheet_folded(angle: float, up: bool) -> None:
    """STEP-05: the solid is the sheet folded."""
    import cadquery as cq

    from hangpost.parts.solids import folded_solid

    t, r = 5.0, 8.0
    folded = plate(angle, r, t, 0.42, up, 60)
    solid = folded_solid(folded)

    assert solid.Volume() == pytest.approx(folded.volume, rel=1e-9)
    fold = folded.fold(folded.flanges[0])
    for x, y in ((-20.0, -60.0), (30.0, -50.0), (20.0, -80.0)):  # metal exactly from skin to skin
        inside = [
            solid.isInside(cq.Vector(*fold.point((x, y, w))))
            for w in (-0.01, 0.01, t - 0.01, t + 0.01)
        ]
        assert inside == [False, True, True, False]
    bores = [
        f
        for f in solid.Faces()
        if f.geomType() == "CYLINDER" and abs(f._geomAdaptor().Cylinder().Radius() - 5.5) < 1e-6
    ]
    centre = fold.point((10.0, -70.0, t / 2))
    middle = bores[0].Center()
    assert len(bores) == 1
    assert (middle.x, middle.y, middle.z) == pytest.approx(centre, abs=1e-6)
    radii_found = sorted(
        {
            round(f._geomAdaptor().Cylinder().Radius(), 6)
            for f in solid.Faces()
            if f.geomType() == "CYLINDER"
        }
    )
    assert {r, r + t} <= set(radii_found)  # true bends


@given(angle=angles, up=st.booleans(), across=st.booleans())
@settings(max_examples=30)
def test_mirrored_plate_has_the_mirrored_flat_and_fold(
    angle: float, up: bool, across: bool
) -> None:
    folded = plate(angle, 6.0, 5.0, 0.4, up, 60)
    image = folded.mirrored(across_u=across)
    su, sv = (-1, 1) if across else (1, -1)

    flat, other = folded.flat_pattern(), image.flat_pattern()
    assert other.area == pytest.approx(flat.area) and image.volume == pytest.approx(folded.volume)
    for a, b in zip(flat.holes, other.holes, strict=True):
        assert (b.u, b.v, b.diameter) == pytest.approx((su * a.u, sv * a.v, a.diameter))
        assert b.slot_angle == -a.slot_angle
    assert other.bends[0].up is up
    corner, twin = (
        folded.fold(folded.flanges[0]).point((7, -60, 2)),
        image.fold(image.flanges[0]).point((su * 7, sv * -60, 2)),
    )
    assert twin == pytest.approx((su * corner[0], sv * corner[1], corner[2]))


def test_mirrored_plate_folds_to_the_mirrored_solid() -> None:
    from hangpost.parts.solids import folded_solid

    folded = plate(75.0, 6.0, 5.0, 0.4, True, 60)
    one, two = folded_solid(folded).mirror("YZ"), folded_solid(folded.mirrored(across_u=True))

    assert one.intersect(two).Volume() == pytest.approx(folded.volume, rel=1e-7)


def test_box_of_a_square_bend() -> None:
    folded = replace(plate(90.0, 6.0, 5.0, 0.4, True, 60))

    least, greatest = folded.box
    assert least == pytest.approx((-60, -40 - 6 - 5, 0))
    assert greatest == pytest.approx((60, 40, 5 + 6 + 60))
