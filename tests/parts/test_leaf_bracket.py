"""Lobed channels on rail and post: pin in double shear, washers flat, hands, refused mistakes."""

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from hangpost.generators.writers.flat_faults import faults
from hangpost.parts.channel import Channel, least_gap
from hangpost.parts.flat import ParameterError
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.post_bracket import SlotSpec
from hangpost.parts.post_channel import PostChannel


@pytest.fixture
def leaf(slot: SlotSpec) -> LobedChannel:
    return LobedChannel(
        id="leaf", plate_thickness=5.0, bend_radius=6.0, k_factor=None, gap=25.0, pin=13.0,
        reach=85.0, tip=20.0, columns=(70.0,), slot=slot,
    )  # fmt: skip


@pytest.fixture
def post(slot: SlotSpec) -> PostChannel:
    return PostChannel(
        id="post", plate_thickness=8.0, bend_radius=12.0, k_factor=0.41, gap=48.0, pin=17.0,
        pin_u=35.0, reach=140.0, tip=26.0, root_u=-44.0, root_width=90.0, columns=(90.0, 140.0),
        left_columns=(85.0,), rows=(-45.0, 45.0), slot=slot,
    )  # fmt: skip


def test_channels_are_what_they_say(leaf, post, sound, holes_inside) -> None:
    for part in (leaf, post, replace(leaf, rows=(-60.0, 60.0))):
        sound(part)
        holes_inside(part)


def test_left_hand_is_the_mirror_image(post, handed) -> None:
    handed(post)


def test_symmetrical_channel_is_its_own_mirror_image(leaf: LobedChannel) -> None:
    left, solid = leaf.mirrored().solid(), leaf.solid()

    assert left.intersect(solid).Volume() == pytest.approx(leaf.volume, rel=1e-7)


def test_pin_stands_at_reach_beside_the_root(post: PostChannel) -> None:
    """The gap had come out wider than asked for by twice the plate and four bend radii."""
    import cadquery as cq

    pins = [b for b in post.bores if b.hole.use == "pin"]

    assert len(pins) == 2
    for bore in pins:
        assert (bore.origin[0], bore.origin[2]) == pytest.approx((35.0, 140.0))
        assert abs(bore.origin[1]) == pytest.approx(24.0 + 8.0)  # outer skins of the two ears
    solid = post.solid()
    between = cq.Solid.makeCylinder(20, 47.9, cq.Vector(35, -23.95, 140), cq.Vector(0, 1, 0))
    assert solid.intersect(between).Volume() == pytest.approx(0, abs=1e-6)  # room for the eye


def test_holes_know_what_they_are_for(leaf: LobedChannel, post: PostChannel) -> None:
    assert {h.use for h in leaf.drawn().holes} == {"leaf"}
    assert {h.use for h in post.drawn().holes} == {"post"}
    assert [h.u for h in post.drawn().holes[:3]] == [-129.0, 46.0, 96.0]


@given(
    t=st.floats(3, 10), root_u=st.floats(-80, 80), lean=st.floats(-60, 60), far=st.floats(0, 120),
    row=st.floats(0, 80),
)  # fmt: skip
@settings(max_examples=40)
def test_washers_lie_flat_beside_the_ears_and_on_the_web(
    t: float, root_u: float, lean: float, far: float, row: float
) -> None:
    slot = SlotSpec(diameter=14.0, travel=10.0, land=18.5)
    part: Channel = PostChannel(
        id="c", plate_thickness=t, bend_radius=1.5 * t, k_factor=None, gap=46.0, pin=13.0,
        pin_u=root_u + lean, reach=150.0, tip=20.0, root_u=root_u, columns=(55.0 + t, 60.0 + t + far),
        left_columns=(56.0 + t,), rows=(-row, row) if row > 20 else (0.0,), slot=slot,
    )  # fmt: skip
    plate = part.drawn()
    left, bottom, right, top = plate.outline.bounds
    for hole in plate.holes:
        assert abs(hole.u - root_u) - slot.half >= part.root - 1e-9
        assert left - 1e-9 <= hole.u - slot.half and hole.u + slot.half <= right + 1e-9
        assert bottom - 1e-9 <= hole.v - slot.land and hole.v + slot.land <= top + 1e-9
    assert (left, right) == pytest.approx(part.ends)


def test_every_broken_rule_is_told_at_once(post: PostChannel) -> None:
    with pytest.raises(ParameterError) as told:
        replace(post, plate_thickness=1.0, bend_radius=0.0, tip=12.0, left_columns=(50.0,))

    for name in ("thickness", "bend radius", "pin edge", "hole to relief", "washer beside the ear"):
        assert name in str(told.value)


def test_neck_is_what_the_gap_leaves_between_two_bends(post: PostChannel) -> None:
    gap = least_gap(20.0, post.bend_radius)

    assert replace(post, gap=gap).neck == pytest.approx(20.0)
    with pytest.raises(ParameterError, match="neck"):
        replace(post, gap=least_gap(7.9, post.bend_radius))  # less than the plate is thick
    import cadquery as cq

    solid = replace(post, gap=gap).solid()
    u = post.root_u + post.root + post.plate_thickness / 2  # right in the notch
    cut = solid.intersect(cq.Solid.makeBox(0.01, 400, 8, cq.Vector(u, -200, 0)))
    assert cut.Volume() / 0.01 == pytest.approx(20.0 * 8.0, rel=2e-2)


@given(over=st.floats(0.0, 12.0))
@example(over=8.005)  # where the two corners used to leave a scrap between them
@example(over=4.0)  # and where they used to cross
def test_a_lobe_hardly_taller_than_the_neck_leaves_no_scrap_of_an_edge(over: float) -> None:
    """The two corners of the step beside an ear find room in it, however low it is."""
    made = LobedChannel(
        id="leaf", plate_thickness=8.0, bend_radius=8.0, k_factor=None, gap=42.0, pin=15.0, reach=68.0, tip=22.0,
        columns=(66.0,), slot=SlotSpec(diameter=16.0, travel=9.0, land=14.0), rows=(over - 2.0,),
    )  # fmt: skip

    assert faults(made.flat_pattern()) == []
