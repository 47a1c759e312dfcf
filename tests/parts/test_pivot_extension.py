"""Pivot extension plates on the ears of a post bracket: two bolts, no turning, pin where asked."""

from dataclasses import replace
from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.ear import EarHole
from hangpost.parts.flat import ParameterError
from hangpost.parts.frame import Frame
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.post_bracket import PostAngle


@pytest.fixture
def plate() -> PivotExtension:
    return PivotExtension(
        id="extension", plate_thickness=8.0, first_hole=17.0, second=(30.0, -50.0), second_hole=13.5,
        far=(-190.0, 35.0), pin=13.0, tip=22.0, boss=24.0,
    )  # fmt: skip


@pytest.fixture
def long_eared(upper: PostAngle) -> PostAngle:
    """The angle with a second hole where the plate's second bolt goes."""
    return replace(
        upper,
        pin=17.0,
        reach=140.0,
        joins=(EarHole(u=-10.0, reach=90.0, diameter=13.5, edge=20.0),),
    )


def test_plate_is_what_it_says(plate, sound, holes_inside, handed) -> None:
    sound(plate)
    holes_inside(plate)
    handed(plate)


def test_ear_with_a_second_hole_is_what_it_says(long_eared, sound, holes_inside, handed) -> None:
    sound(long_eared)
    sound(replace(long_eared, place="lower"))
    holes_inside(long_eared)
    handed(long_eared)


def test_both_bolts_of_the_plate_find_their_holes_in_the_ear(
    plate: PivotExtension, long_eared: PostAngle
) -> None:
    """The extension lies on the ear, u as the seat's u and v as its reach: axes meet to 0.01 mm."""
    pin_u, reach = long_eared.pin_u, long_eared.reach
    on_ear = Frame((pin_u, 13.0 + 6.0, reach), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    ears = {
        (round(b.origin[0], 6), round(b.origin[2], 6)): b.hole
        for b in long_eared.bores
        if b.panel == "ear"
    }

    for bore in plate.bores:
        if bore.hole.use == "join":
            at = on_ear.point(bore.origin)
            near = min(ears, key=lambda e: dist(e, (at[0], at[2])))
            assert dist(near, (at[0], at[2])) < 0.01
            assert ears[near].diameter == bore.hole.diameter
    far = on_ear.point((-190.0, 35.0, 0.0))
    assert (far[0], far[2]) == pytest.approx((-230.0, 175.0))


@given(u=st.floats(-400, 400), v=st.floats(40, 300))
def test_play_grows_with_the_length_and_shrinks_with_the_spacing(u: float, v: float) -> None:
    if hypot(u, v) < 60:
        return

    def made(s: float) -> PivotExtension:
        return PivotExtension(
            id="e", plate_thickness=8.0, first_hole=17.0, second=(0.0, -s), second_hole=13.0,
            far=(u, v), pin=13.0, tip=22.0, boss=24.0,
        )  # fmt: skip

    near, far = made(50.0), made(100.0)
    assert far.play(16, 12) == pytest.approx(near.play(16, 12) / 2)
    assert near.play(17, 13) == 0.0
    assert near.play(16, 12) == pytest.approx(hypot(u, v) * 1.0 / 50)


def test_one_bolt_short_is_refused(plate: PivotExtension) -> None:
    with pytest.raises(ParameterError, match="second bolt"):
        replace(plate, second=(0.0, 0.0))
    with pytest.raises(ParameterError) as told:
        replace(plate, plate_thickness=1.0, tip=12.0, far=(10.0, 0.0))
    for name in ("thickness", "extension", "pin edge", "pin to bolts"):
        assert name in str(told.value)


def test_second_hole_too_near_the_pin_or_the_bend_is_refused(long_eared: PostAngle) -> None:
    with pytest.raises(ParameterError, match="second hole to pin"):
        replace(long_eared, joins=(EarHole(u=-40.0, reach=110.0, diameter=13.5, edge=20.0),))
    with pytest.raises(ParameterError, match="second hole to bend"):
        replace(long_eared, joins=(EarHole(u=-40.0, reach=30.0, diameter=13.5, edge=20.0),))
    with pytest.raises(ParameterError, match="second hole's edge"):
        replace(long_eared, joins=(EarHole(u=-40.0, reach=70.0, diameter=13.5, edge=10.0),))
