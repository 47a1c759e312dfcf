"""The pair of angles: what the fitter measures on them, refused mistakes, hands."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts.flat import ParameterError
from hangpost.parts.post_bracket import PostAngle, SlotSpec


def test_angle_is_what_it_says(upper, sound, holes_inside) -> None:
    sound(upper)
    sound(replace(upper, place="lower"))
    holes_inside(upper)


def test_left_hand_is_the_mirror_image(upper, handed) -> None:
    handed(upper)
    handed(replace(upper, place="lower"))


def test_pins_of_both_angles_are_coaxial_and_the_gap_is_clear(upper: PostAngle) -> None:
    lower = replace(upper, place="lower")

    pins = [b for part in (upper, lower) for b in part.bores if b.hole.use == "pin"]
    for bore in pins:
        assert bore.origin[0] == pytest.approx(-40.0)
        assert bore.origin[2] == pytest.approx(110.0)  # reach
        assert [abs(a) for a in bore.axis] == pytest.approx([0, 1, 0])
    assert upper.box[0][1] == pytest.approx(13.0)  # half the gap
    assert lower.box[1][1] == pytest.approx(-13.0)


def test_lower_angle_is_the_upper_one_bent_the_other_way(upper: PostAngle) -> None:
    """One blank, cut twice: turned over, the lower angle's flat is the upper one's."""
    flat, other = upper.flat_pattern(), replace(upper, place="lower").flat_pattern()

    assert other.area == pytest.approx(flat.area)
    assert [(h.u, -h.v) for h in other.holes] == [pytest.approx((h.u, h.v)) for h in flat.holes]


@given(
    t=st.floats(3, 12), reach=st.floats(80, 400), pin_u=st.floats(-150, 60),
    gap=st.floats(15, 60), tip=st.floats(16, 30),
)  # fmt: skip
@settings(max_examples=40)
def test_sensible_angles_have_their_pin_at_reach_and_holes_on_the_seat(
    t: float, reach: float, pin_u: float, gap: float, tip: float
) -> None:
    line = gap / 2 + 2.5 * t
    first = line + max(18.5, 7 + 2 * t)
    part = PostAngle(
        id="a", place="upper", plate_thickness=t, bend_radius=1.5 * t, k_factor=None, gap=gap,
        pin=13.0, pin_u=pin_u, reach=reach, tip=tip, root=(-90.0, 0.0), seat=(-120.0, 0.0),
        columns=(-60.0,), rows=(first, first + 70), slot=SlotSpec(diameter=14, travel=12, land=18.5),
    )  # fmt: skip

    seat = part.drawn().outline
    left, bottom, right, top = seat.bounds
    for hole in part.drawn().holes:
        assert left < hole.u - 13 and hole.u + 13 < right and bottom < hole.v < top
    pin = next(b for b in part.bores if b.hole.use == "pin")
    assert pin.origin == pytest.approx((pin_u, gap / 2, reach), abs=1e-6)
    assert part.volume > 0 and part.flat_pattern().outline.area > 0


def test_every_broken_rule_is_told_at_once(upper: PostAngle) -> None:
    with pytest.raises(ParameterError) as told:
        replace(upper, plate_thickness=1.0, tip=12.0, seat=(-75.0, 10.0))

    text = str(told.value)
    assert text.count("\n") >= 3
    for name in ("thickness", "pin edge", "seat beside slots", "root on the seat"):
        assert name in text


@pytest.mark.parametrize("field", ["plate_thickness", "bend_radius", "gap", "reach", "tip", "pin"])
def test_not_a_number_is_refused(upper: PostAngle, field: str) -> None:
    with pytest.raises(ParameterError):
        replace(upper, **{field: float("nan")})


def test_washer_that_would_ride_up_the_bend_is_refused(upper: PostAngle) -> None:
    thin = replace(upper, plate_thickness=3.0, bend_radius=3.0, rows=(38.0, 90.0))

    assert thin.rows[0] - 18.5 > thin.bend_line
    with pytest.raises(ParameterError, match="washer to bend"):
        replace(thin, rows=(36.0, 90.0))  # hole far enough from the bend, washer not
