"""The printed block: chamfered both ends, walls round its bores, hands, refused mistakes."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.flat import ParameterError
from hangpost.parts.spacer import SpacerBlock


@pytest.fixture
def block() -> SpacerBlock:
    return SpacerBlock(
        id="block", centre=(-30.0, 12.0), width=70.0, length=130.0, height=19.0, corner=6.0,
        bores_at=((-42.0, -25.0), (-22.0, 50.0)), bore=19.5,
    )  # fmt: skip


def test_block_is_what_it_says(block, sound) -> None:
    sound(block)


def test_left_hand_is_the_mirror_image(block, handed) -> None:
    handed(block)


def test_block_lies_flat_on_the_bed_and_its_bores_stand_upright(block: SpacerBlock) -> None:
    """Largest flat down, least z 0, bores vertical."""
    lying = block.print_frame

    assert lying.point(block.box[0])[2] == pytest.approx(0.0)
    assert all(lying.direction(b.axis) == pytest.approx((0, 0, 1)) for b in block.bores)
    flats = [f for f in block.solid().Faces() if f.geomType() == "PLANE"]
    largest = max(flats, key=lambda f: f.Area())
    assert abs(largest.normalAt().z) == pytest.approx(1.0)


@given(w=st.floats(60, 200), v=st.floats(60, 200), h=st.floats(5, 60), c=st.floats(0.5, 1.5))
def test_volume_lies_between_the_full_and_the_inset_prism(
    w: float, v: float, h: float, c: float
) -> None:
    made = SpacerBlock(
        id="b",
        width=w,
        length=v,
        height=h,
        corner=5.0,
        bores_at=((0.0, 0.0),),
        bore=20.0,
        chamfer=c,
    )
    full = w * v - (4 - pi) * 25 - pi * 100

    assert made.volume < full * h
    assert made.volume > full * h - 2 * c * c / 2 * (2 * (w + v) + pi * (20 + 2 * c)) - 1e-6


def test_every_bore_is_made_however_many(block: SpacerBlock) -> None:
    """Eleven bores were cut down to eight in the solid, but not in the volume."""
    many = replace(
        block,
        length=600.0,
        centre=(0.0, 0.0),
        bores_at=tuple((0.0, 50.0 * i) for i in range(-5, 6)),
    )

    assert len(many.holes) == 11 and len({h.name for h in many.holes}) == 11


def test_thin_walls_are_refused(block: SpacerBlock) -> None:
    with pytest.raises(ParameterError, match="wall around a bore"):
        replace(block, bores_at=((-54.0, 0.0),))
    with pytest.raises(ParameterError, match="wall between bores"):
        replace(block, bores_at=((-30.0, 0.0), (-30.0, 21.0)))
    with pytest.raises(ParameterError, match="height"):
        replace(block, height=float("nan"))
