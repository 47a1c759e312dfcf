"""Split clamps and stacked saddles: halves that meet with a nip, ribs of the post's radius."""

from dataclasses import replace
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts import tables
from hangpost.parts.flat import ParameterError
from hangpost.parts.saddle import SaddleBlock, SleeveBore
from hangpost.parts.saddle_rib import SaddleRib
from hangpost.parts.tube_clamp import split_clamp


@pytest.fixture
def halves() -> tuple[SaddleBlock, SaddleBlock]:
    return split_clamp(
        id="clamp", outside=42.16, bolt_bore=13.0, rows=(-22.0, 30.0), height=14.0, back_height=10.0,
        lock=SleeveBore(0.0, 4.0, 8.4, "leaf"),
    )  # fmt: skip


@pytest.fixture
def rib() -> SaddleRib:
    return SaddleRib(
        id="rib", plate_thickness=10.0, outside=88.9, width=130.0, height=26.0, depth=25.0,
        ties=((-49.0, 4.0), (48.0, 6.0)), tie_hole=11.0,
    )  # fmt: skip


def test_halves_and_rib_are_what_they_say(halves, rib, sound, holes_inside, handed) -> None:
    for half in halves:
        sound(half)
    sound(rib)
    holes_inside(rib)
    handed(rib)


def test_halves_meet_round_the_tube_with_a_nip_between_them(halves) -> None:
    """1 1/4 in pipe, 1.660 in outside (ASME B36.10M): the two halves and the tube, put together."""
    import cadquery as cq

    from hangpost.parts.solids import located

    front, back = halves
    outside = tables.pipe("1-1/4").outside
    tube = cq.Solid.makeCylinder(
        outside / 2, 200, cq.Vector(0, -100, -outside / 2), cq.Vector(0, 1, 0)
    )
    one, two = front.solid(), located(back.solid(), front.behind)

    assert one.distance(two) == pytest.approx(3.0, abs=0.01)
    assert one.intersect(tube).Volume() == pytest.approx(0.0, abs=0.05)
    assert one.distance(tube) < 1e-3 and two.distance(tube) < 0.01
    for a, b in zip(front.bores, back.bores, strict=False):
        at = front.behind.point(b.origin)
        mates = [x for x in front.bores if hypot(x.origin[0] - at[0], x.origin[1] - at[1]) < 1e-9]
        assert len(mates) == 1 and a.hole.use == "sleeve"


@given(outside=st.floats(30, 170), bore=st.floats(8, 22), row=st.floats(0, 60))
@settings(max_examples=40)
def test_any_clamp_can_be_made(outside: float, bore: float, row: float) -> None:
    rows = (-row, row) if row > bore else (0.0,)
    front, back = split_clamp(
        id="c", outside=outside, bolt_bore=bore, rows=rows, height=12.0, back_height=8.0
    )

    for half in (front, back):
        assert half.volume > 0
        assert all(abs(s.u) - s.diameter / 2 >= outside / 2 + 2.9 for s in half.sleeves)


@pytest.mark.parametrize("nps", ["3", "4", "6"])
def test_rib_has_the_radius_of_the_pipe(rib: SaddleRib, nps: str) -> None:
    """ASME B36.10M outside diameters 3.500, 4.500 and 6.625 in."""
    outside = {"3": 3.5, "4": 4.5, "6": 6.625}[nps] * 25.4
    half = outside / 2 + 20.0
    made = replace(
        rib, outside=tables.pipe(nps).outside, fit=0.0, width=2 * half,
        ties=((-half + 16, 8.0), (half - 16, 8.0)),
    )  # fmt: skip
    (arc,) = [e for e in made.outline.edges if e.bulge < 0]

    assert arc.radius == pytest.approx(outside / 2)
    assert arc.centre == pytest.approx((0.0, -outside / 2))
    assert made.gap_on(outside) == pytest.approx(0.0, abs=1e-9)


def test_rib_for_three_inches_on_a_three_and_a_half_inch_post_is_found(rib: SaddleRib) -> None:
    assert replace(rib, outside=76.2).gap_on(88.9) > 1.0
    assert rib.gap_on(88.9) < 0.3


def test_stud_reaches_through_the_stack(rib: SaddleRib) -> None:
    assert rib.stud_length(count=3, gap=40.0, nut=14.0) == pytest.approx(3 * 10 + 2 * 40 + 28)


def test_weak_ribs_are_refused(rib: SaddleRib) -> None:
    with pytest.raises(ParameterError) as told:
        replace(rib, plate_thickness=2.0, width=80.0, ties=rib.ties[:1], fit=float("nan"))
    for name in ("thickness", "arm", "two", "fit"):
        assert name in str(told.value)
    with pytest.raises(ParameterError, match="hole to edge"):
        replace(rib, ties=((-60.0, 4.0), (48.0, 6.0)))
