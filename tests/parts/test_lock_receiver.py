"""Lock receiver and crossing plate: room for the bolt, sag and gap they take, the re-set table."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.flat import ParameterError
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.post_bracket import SlotSpec


@pytest.fixture
def receiver() -> LockReceiver:
    return LockReceiver(
        id="receiver", plate_thickness=8.0, bolt=15.9, clearance=3.0, sag=9.5, bevel=3.0, sides=(-52.0, 60.0),
        half_height=85.0, bolts=((-20.0, -52.0), (-8.0, 48.0)), slot=SlotSpec(diameter=11.0, travel=20.0, land=15.0),
        stop_u=50.0, stop_height=45.0, bend_radius=8.0, fixed_to="join",
    )  # fmt: skip


@pytest.fixture
def crossing(receiver: LockReceiver) -> CrossingPlate:
    return CrossingPlate.under(
        receiver, id="crossing", plate_thickness=6.0, sides=(-80.0, 70.0), half_height=110.0,
        bolts=((-10.0, -90.0), (5.0, 88.0)), slot=SlotSpec(diameter=11.0, travel=16.0, land=14.0), receiver_hole=11.0,
    )  # fmt: skip


def test_plates_are_what_they_say(receiver, crossing, sound, holes_inside, handed) -> None:
    other_side = replace(receiver, stop_u=-50.0, sides=(-60.0, 52.0))
    plain = replace(receiver, stop_u=None, bevel=0.0)
    for part in (receiver, other_side, plain, crossing):
        sound(part)
        holes_inside(part)
        handed(part)


def test_stop_face_stands_where_the_leaf_comes_to_rest(receiver: LockReceiver) -> None:
    flats = [f for f in receiver.solid().Faces() if f.geomType() == "PLANE"]
    inner = [f for f in flats if abs(f.Center().x - 50.0) < 1e-6 and f.normalAt().x < -0.999]

    assert len(inner) == 1
    assert inner[0].BoundingBox().zmax == pytest.approx(45.0, abs=1e-3)
    assert receiver.box[1][0] == pytest.approx(58.0)


@given(drop=st.floats(-3.0, 12.5), side=st.floats(-3, 3))
def test_bolt_goes_in_as_long_as_the_sag_is_taken(drop: float, side: float) -> None:
    """GEO-11: the bolt's circle lies in the opening for every drop up to sag + clearance."""
    made = LockReceiver(
        id="r", plate_thickness=8.0, bolt=15.9, clearance=3.0, sag=9.5, bevel=0.0, sides=(-60, 60), half_height=85.0,
        bolts=((0.0, -55.0), (0.0, 50.0)), slot=SlotSpec(diameter=11.0, travel=20.0, land=15.0),
    )  # fmt: skip
    opening = made.opening.loop
    room = opening.distance(side, -drop) - 15.9 / 2

    straight = 0 <= drop <= 9.5
    if straight:
        assert room == pytest.approx(3.0 - abs(side), abs=1e-9)
    if side == 0:
        assert room >= -1e-9
    assert made.sag_as_set == 12.5 and made.sag_in_all == 22.5


def test_solid_lets_the_bolt_through_at_both_ends_of_its_drop(receiver: LockReceiver) -> None:
    import cadquery as cq

    solid = receiver.solid()
    for drop, free in ((-2.9, True), (12.4, True), (-3.3, False), (12.8, False)):
        bolt = cq.Solid.makeCylinder(15.9 / 2, 30, cq.Vector(0, -drop, -5), cq.Vector(0, 0, 1))
        assert (solid.intersect(bolt).Volume() < 1e-6) is free
    tip = cq.Solid.makeCylinder(15.9 / 2, 1.0, cq.Vector(0, -(12.5 + 1.9), 7.0), cq.Vector(0, 0, 1))
    assert solid.intersect(tip).Volume() < 1e-6  # the bevel leads it in


def test_reset_table_never_lets_the_bolt_run_out_of_room(receiver: LockReceiver) -> None:
    table = receiver.reset_table(2.5)

    assert [line.drop for line in table] == [2.5 * i for i in range(1, 10)]
    assert all(line.lower == 0 for line in table if line.drop <= 9.5)
    assert all(0 <= line.left <= receiver.sag_as_set and line.lower <= 10.0 for line in table)
    assert table[-1].left == pytest.approx(12.5 - 22.5 + 10.0)
    with pytest.raises(ParameterError):
        receiver.reset_table(0.0)


@given(throw=st.floats(20, 60), gap=st.floats(10, 60), behind=st.floats(0, 15))
def test_gap_taken_is_that_where_the_bolt_stands_through_the_plate(
    throw: float, gap: float, behind: float
) -> None:
    made = LockReceiver(
        id="r", plate_thickness=8.0, bolt=15.9, clearance=3.0, sag=9.5, bevel=0.0, sides=(-60, 60), half_height=85.0,
        bolts=((0.0, -55.0), (0.0, 50.0)), slot=SlotSpec(diameter=11.0, travel=20.0, land=15.0),
    )  # fmt: skip
    least, most = made.gaps(throw=throw, behind=behind)

    holds = made.engagement(throw=throw, gap=gap, behind=behind) >= 8.0 + 3.0
    assert holds is (gap <= most) or gap == pytest.approx(most)
    assert least == behind + 8.0 + 3.0  # the leaf stays clear of the plate


def test_two_plates_cross_their_slots_and_leave_the_bolt_free(
    receiver: LockReceiver, crossing: CrossingPlate
) -> None:
    up = {h.slot_angle for h in receiver.drawn().holes if h.use == "join"}
    level = {h.slot_angle for h in crossing.drawn().holes if h.slot_length and h.name != "L"}

    assert (up, level) == ({90.0}, {0.0})
    joins = [(h.u, h.v) for h in crossing.drawn().holes if h.use == "join"]
    assert joins == [(h.u, h.v) for h in receiver.drawn().holes if h.use == "join"]
    opening = crossing.holes[0]
    # the bolt keeps its whole room at both ends of both slots
    for across in (-crossing.sideways, crossing.sideways):
        for low in (0.0, receiver.sag + receiver.slot.travel / 2):
            assert opening.loop.distance(across, -low) >= 15.9 / 2 + 3.0 - 1e-9


def test_mistakes_are_refused(receiver: LockReceiver, crossing: CrossingPlate) -> None:
    with pytest.raises(ParameterError) as told:
        replace(
            receiver, plate_thickness=2.0, clearance=0.0, stop_height=10.0, bolts=receiver.bolts[:1]
        )
    for name in ("thickness", "clearance", "stop flange", "one bolt"):
        assert name in str(told.value)
    with pytest.raises(ParameterError, match="washers beside"):
        replace(receiver, bolts=((32.0, -52.0), (-8.0, 48.0)))
    with pytest.raises(ParameterError, match="opening to holes"):
        replace(receiver, bolts=((0.0, -38.0), (0.0, 48.0)))
    with pytest.raises(ParameterError, match="keep it still"):
        replace(crossing, bolts=crossing.bolts[:1])
    with pytest.raises(ParameterError):
        replace(receiver, sag=float("nan"))


def test_a_stop_is_as_high_as_a_brake_can_bend(receiver: LockReceiver) -> None:
    """Common practice, no source: a flange of four thicknesses outside; here t = 8, R = 8 mm."""
    assert replace(receiver, stop_height=4 * 8.0 + 0.1).stop_height > 32.0
    with pytest.raises(ParameterError, match="stop flange"):
        replace(receiver, stop_height=4 * 8.0 - 0.1)


@pytest.mark.parametrize("which", [0, 1])
def test_each_bolt_of_a_crossing_plate_stands_off_the_opening(
    crossing: CrossingPlate, which: int
) -> None:
    """The opening hangs from 12.5 above the lock's bolt to 41.5 below it, 21.9 + 16 wide."""
    near = list(crossing.bolts)
    near[which] = (-24.0, near[which][1] / 20)
    with pytest.raises(ParameterError, match="opening to holes"):
        replace(crossing, bolts=tuple(near))
