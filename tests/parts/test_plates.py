"""Flat plates: backing plate, strongback, plate washer; the spacing rules they share."""

from dataclasses import dataclass, replace
from typing import ClassVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts import spacing
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.flat import Hole, ParameterError
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import rectangle
from hangpost.parts.part import SheetPart
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import SlotSpec
from hangpost.parts.strongback import Strongback


@pytest.fixture
def backing() -> BackingPlate:
    return BackingPlate(
        id="backing", plate_thickness=6.0, centre=(-60.0, 10.0), width=80.0, length=160.0,
        bolts=((-75.0, -40.0), (-50.0, 60.0)), hole=13.5,
    )  # fmt: skip


@pytest.fixture
def bar() -> Strongback:
    return Strongback(
        id="bar", bar_thickness=10.0, width=50.0, span=(-260.0, 210.0), members=(-230.0, 180.0),
        fixings=((0.0, -230.0), (0.0, 180.0)), fixing_hole=13.5,
        bracket=((0.0, -70.0), (0.0, 70.0)), bracket_hole=11.0,
    )  # fmt: skip


@pytest.fixture
def washer() -> PlateWasher:
    return PlateWasher(
        id="washer",
        plate_thickness=5.0,
        hole=14.0,
        slot=SlotSpec(diameter=14.0, travel=20.0, land=30.0),
    )


def test_plates_are_what_they_say(backing, bar, washer, sound, holes_inside) -> None:
    square = replace(bar, bar_thickness=25.0, width=30.0, fixing_hole=11.0)
    for part in (backing, bar, square, washer):
        sound(part)
        holes_inside(part) if part is not square else None


def test_left_hand_is_the_mirror_image(backing, handed) -> None:
    handed(backing)
    assert backing.handed and not replace(backing, centre=(0.0, 0.0), bolts=((0.0, 50.0),)).handed


@given(d=st.floats(8, 24), travel=st.floats(0, 60), share=st.floats(-0.5, 0.5), way=st.floats(0, 1))
def test_washer_covers_its_slot_wherever_the_bolt_stands(
    d: float, travel: float, share: float, way: float
) -> None:
    made = PlateWasher(
        id="w", plate_thickness=5.0, hole=d, slot=SlotSpec(diameter=d, travel=travel, land=40.0)
    )
    left, bottom, right, top = made.outline.bounds
    bolt = share * travel  # from the middle of the slot
    slot = Hole("s", 0.0, -bolt, d, "post", travel, 90.0).loop

    reach = slot.bounds
    assert (
        left <= reach[0] - 1
        and reach[2] + 1 <= right
        and bottom <= reach[1] - 1
        and reach[3] + 1 <= top
    )
    for edge in slot.edges:
        x, y = edge.at(way)
        assert made.outline.distance(x, y) >= 0.99


def test_strongback_must_cross_both_members_and_keep_half_its_width(bar: Strongback) -> None:
    with pytest.raises(ParameterError, match="lower member"):
        replace(bar, span=(-220.0, 210.0))
    with pytest.raises(ParameterError, match="near each member"):
        replace(bar, fixings=bar.fixings[:1])
    with pytest.raises(ParameterError, match="beside a hole"):
        replace(bar, fixing_hole=26.0)
    with pytest.raises(ParameterError):
        replace(bar, bar_thickness=float("nan"))
    assert bar.length == 470.0
    assert bar.volume == pytest.approx(10 * (50 * 470 - 3.14159265 / 4 * (2 * 13.5**2 + 2 * 11**2)))


def test_hole_near_an_edge_or_another_is_refused(backing: BackingPlate) -> None:
    with pytest.raises(ParameterError, match="hole to edge"):
        replace(backing, bolts=((-94.0, 0.0),))
    with pytest.raises(ParameterError, match="hole to hole"):
        replace(backing, bolts=((-60.0, 0.0), (-60.0, 30.0)))


slots = st.builds(
    Hole, name=st.just("s"), u=st.floats(-60, 60), v=st.floats(-60, 60), diameter=st.floats(6, 20),
    use=st.just("post"), slot_length=st.sampled_from([0.0, 12.0, 30.0]), slot_angle=st.floats(-90, 90),
)  # fmt: skip


@given(one=slots, two=slots)
@settings(max_examples=40)
def test_metal_between_slots_and_to_the_edge_agrees_with_the_kernel(one: Hole, two: Hole) -> None:
    """Reference: OCCT's distance between the wires, where they are apart."""
    from hangpost.parts.solids import wire

    outline = rectangle(-120, -110, 130, 100)
    between = spacing.between(one, two)
    kernel = wire(one.loop).distance(wire(two.loop))

    if between > 0 and kernel > 0:
        assert between == pytest.approx(kernel, abs=1e-5)
    assert spacing.to_edge(outline, one) == pytest.approx(
        wire(outline).distance(wire(one.loop)), abs=1e-5
    )


def test_least_edge_distance_is_that_of_the_standard() -> None:
    """EN 1993-1-8:2005 Table 3.3: e1 = e2 = 1.2 d0, p = 2.4 d0 as the narrower of p1 2.2, p2 2.4."""
    a, b = Hole("a", 0.0, 0.0, 20.0, "post"), Hole("b", 48.0, 0.0, 20.0, "post")
    edge, pitch = spacing.rules(rectangle(-24, -24, 72, 24), (a, b), 5.0)

    assert edge[1] == pytest.approx(edge[2]) and pitch[1] == pytest.approx(pitch[2])


def test_slots_that_cross_have_no_metal_between_them() -> None:
    one = Hole("a", 0.0, 0.0, 6.0, "post", 30.0, 0.0)

    assert spacing.between(one, Hole("b", 0.0, 0.0, 6.0, "post", 30.0, 24.0)) < 0
    assert spacing.between(one, Hole("b", 0.0, 20.0, 6.0, "post", 30.0, 90.0)) < 0
    assert spacing.between(one, Hole("b", 0.0, 23.0, 6.0, "post", 30.0, 90.0)) == pytest.approx(2.0)


def test_washer_so_round_that_its_slot_looks_out_is_refused(washer: PlateWasher) -> None:
    with pytest.raises(ParameterError, match="corner"):
        replace(washer, corner=11.0)


@given(d=st.floats(9, 20), travel=st.floats(4, 40), t=st.floats(4, 10), share=st.floats(-0.5, 0.5))
def test_pin_of_a_slot_washer_stays_in_metal_at_both_ends_of_travel(
    d: float, travel: float, t: float, share: float
) -> None:
    made = PlateWasher(
        id="w", plate_thickness=5.0, hole=d, slot=SlotSpec(diameter=d, travel=travel, land=40.0),
        pin=6.0, web=t, head=d,
    )  # fmt: skip
    slot = Hole("s", 0.0, -share * travel, d, "post", travel, 90.0)
    pins = [hole for hole in made.holes if hole.name != "A"]

    assert len(pins) == 2 and not made.handed
    assert spacing.between(*pins) >= 1.4 * 6.0 - 1e-9  # fresh metal, EN 1993-1-8 Table 3.3
    for pin in pins:
        assert spacing.between(slot, pin) >= t - 1e-9
        assert spacing.to_edge(made.outline, pin) >= 0.7 * 6.0 - 1e-9
        assert pin.v - pin.diameter / 2 > made.head  # clear of the bolt's own washer


@dataclass(frozen=True, slots=True, kw_only=True)
class OneSlot(SheetPart):
    """A square plate with one slot in its middle."""

    kind: ClassVar[str] = "test plate"
    angle: float

    def _folded(self) -> FoldedPlate:
        """The plate, unbent."""
        hole = Hole("A", 0.0, 0.0, 9.0, "post", 20.0, self.angle)
        return FoldedPlate(thickness=5.0, outline=rectangle(-30, -30, 30, 30), holes=(hole,))


@pytest.mark.parametrize(("angle", "handed"), [(0.0, False), (90.0, False), (30.0, True)])
def test_slanting_slot_gives_a_plate_its_hand(angle: float, handed: bool) -> None:
    assert OneSlot(id="p", angle=angle).handed is handed
