"""Where the latch post stands is surveyed: the receiver stays at the bolt, its anchors in the post."""

from math import asin

import pytest

from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.shelf import Shelf
from hangpost.parts.bodies import Bar, Block, Body
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.lock_receiver import LockReceiver

from .family import DOUBLE_LOCK, LOCK, design, fits, fouled, survey

INCH = 25.4


def latched(kind: str, size: str, proud: float | None, hand: str = "right") -> LeafDesign:
    more = LOCK.format(kind=kind, size=size)
    more += "" if proud is None else f'post_proud = "{proud} mm"\n'
    made = design(survey(hand=hand, more=more))
    assert fits(made) == []
    return made.leaves[0]


def crossing(leaf: LeafDesign) -> tuple[CrossingPlate, float, float]:
    """The plate, y of the lock's bolt and of its anchors."""
    placed = next(p for p in leaf.placed if p.name == "crossing plate")
    assert isinstance(placed.item, CrossingPlate)
    (u, _), *_ = placed.item.bolts
    return placed.item, placed.frame.origin[1], placed.frame.point((u, 0.0, 0.0))[1]


def post(leaf: LeafDesign) -> tuple[float, float]:
    """Least and greatest y of the latch post."""
    body = next(p.item for p in leaf.placed if p.name == "latch post")
    assert isinstance(body, Body)
    (shape,) = body.shapes
    if isinstance(shape, Block):
        return shape.least[1], shape.greatest[1]
    assert isinstance(shape, Bar)
    return shape.start[1] - shape.radius, shape.start[1] + shape.radius


def test_a_post_that_nobody_measured_is_assumed_in_words() -> None:
    leaf = latched("timber", "6x6", None)
    assert leaf.lock is not None and "nobody measured it" in leaf.lock.assumed
    low, high = post(leaf)
    _, bolt, anchors = crossing(leaf)

    assert (low + high) / 2 == pytest.approx(bolt) and anchors == bolt


@pytest.mark.parametrize(
    ("kind", "size", "proud"),
    [("timber", "6x6", 20.0), ("timber", "6x6", 90.0), ("square_steel", "4x4x1/4", 68.0)],
)
def test_the_post_stands_where_it_was_measured_and_its_anchors_off_its_edges(
    kind: str, size: str, proud: float, shelf: Shelf
) -> None:
    leaf = latched(kind, size, proud)
    low, high = post(leaf)
    _, bolt, anchors = crossing(leaf)
    (sheet,) = (t for t in leaf.templates if t.id == "latch-face")

    assert high == pytest.approx(INCH + proud)  # half of a leaf of 2 in, its face
    assert bolt == pytest.approx(0.0)  # 1 in inside that face
    diameters = min(anchors - low, high - anchors) / (3 / 8 * INCH)
    assert diameters >= (4.0 if kind == "timber" else 2.5) - 1e-9
    assert sheet.edges == pytest.approx((bolt - high, bolt - low))
    assert leaf.lock is not None and "as measured" in leaf.lock.assumed
    assert fouled(leaf, shelf) == []


def test_anchors_of_a_round_post_go_through_its_middle_and_the_pocket_stays_at_the_bolt() -> None:
    leaf = latched("round_steel", "4", 4.5 * INCH / 2 - INCH + 11.0)  # 11 mm beside the bolt
    plate, bolt, anchors = crossing(leaf)
    low, high = post(leaf)
    (sheet,) = (t for t in leaf.templates if t.id == "latch-face")
    by_name = {hole.name: hole for hole in sheet.holes}

    assert anchors == pytest.approx((low + high) / 2) and anchors - bolt == pytest.approx(11.0)
    opening = by_name.pop("L", None)
    assert {round(hole.u, 9) for hole in by_name.values()} == {0.0}
    if opening is not None:
        assert opening.u == pytest.approx(4.5 * INCH / 2 * asin(11.0 / (4.5 * INCH / 2)))
    assert plate.sides[0] + plate.sides[1] == pytest.approx(-11.0)


def test_slots_take_what_the_tape_missed_either_way() -> None:
    """Set to either end of its level slots the plate's opening still lets the bolt through."""
    plate, *_ = crossing(latched("timber", "6x6", 20.0))

    assert plate.sideways >= 6.0
    assert plate.opening[0] >= 5 / 8 * INCH + 2 * plate.sideways


def test_a_post_beside_the_bolt_is_refused_in_words() -> None:
    with pytest.raises(NoHardware, match="post_proud"):
        latched("timber", "6x6", 150.0)
    with pytest.raises(NoHardware, match="beside the lock's bolt"):
        latched("round_steel", "4", 120.0)


def test_the_other_hand_is_measured_the_same() -> None:
    right, left = (latched("timber", "6x6", 90.0, hand) for hand in ("right", "left"))

    assert post(right) == post(left) and crossing(right)[2] == crossing(left)[2]


@pytest.mark.parametrize(
    ("species", "low", "high"), [("redwood", 0.40, 0.70), ("white oak", 0.65, 0.85)]
)
def test_lags_into_it_get_the_lead_hole_of_its_wood(species: str, low: float, high: float) -> None:
    """NDS 2018 12.1.4.2 by density: the classes read in a commentary, shares from memory."""
    lock = LOCK.format(kind="timber", size="6x6").replace('"6x6"', f'"6x6", species = "{species}"')
    sheet = next(t for t in design(survey(more=lock)).leaves[0].templates if t.id == "latch-face")
    lags = [hole for hole in sheet.holes if hole.name != "L"]

    assert all(hole.depth > 0 for hole in lags)
    assert all(low * 0.375 * INCH <= hole.diameter <= high * 0.375 * INCH for hole in lags)


NARROW = LOCK.format(kind="square_steel", size="4x4x1/4").replace('"1 3/4"', '"1"')
THIN_LEAF = {"thickness": '"1 1/2"', "member": '"1 1/2x1 1/2x1/8"'}


def test_thinner_plates_let_the_leaf_pass_heads_of_bolts_in_a_narrow_gap() -> None:
    leaf = design(survey("square_steel", more=NARROW)).leaves[0]

    assert fouled(leaf, Shelf()) == []


def test_a_gap_too_narrow_for_the_heads_is_refused_in_words() -> None:
    def at(gap: str) -> LeafDesign:
        more = NARROW.replace('gap = "1"', f'gap = "{gap}"')
        return design(survey("square_steel", more=more)).leaves[0]

    with pytest.raises(NoHardware, match=r"7/8 in .* with the heads of their bolts"):
        at("7/8")
    with pytest.raises(NoHardware, match=r"13/16 in .* does not hold") as told:
        at("13/16")
    _, _, said = str(told.value).partition("what would do: a gap of ")

    assert said.startswith("15/16 in (23.8 mm)")
    assert at("15/16").lock is not None


def test_a_lock_with_no_place_among_the_rails_is_told_the_nearest_height_that_has_one() -> None:
    def at(height: str) -> Design:
        more = DOUBLE_LOCK.replace('"30"', f'"{height}"')
        return design(survey("square_steel", leaves=2, more=more))

    with pytest.raises(NoHardware, match=r"lock\.bolt_height 40 3/4 in \(.* mm\) would do"):
        at("44")
    with pytest.raises(NoHardware, match=r"clear of its rails"):
        at("40 13/16")
    assert fits(at("40 3/4")) == []


def test_a_stop_too_near_the_opening_to_bend_stands_off_on_thicker_rubber() -> None:
    """Hole to bend, two thicknesses: the shop file's own rule (common practice, no source)."""
    lock = NARROW.replace('bolt_to_leaf_face = "1"', 'bolt_to_leaf_face = "3/4"')
    made = design(survey("square_steel", more=lock, **THIN_LEAF))
    leaf = made.leaves[0]
    receiver = next(p.item for p in leaf.placed if p.name == "lock receiver")
    assert isinstance(receiver, LockReceiver)
    assert receiver.stop_u is not None
    rubber = abs(receiver.stop_u) - 0.75 * INCH
    bent = abs(receiver.stop_u) - receiver.bend_radius
    opening = 0.625 * INCH / 2 + 3.0

    assert bent - opening >= 2.0 * receiver.plate_thickness - 1e-6
    assert 3.0 < rubber <= 10.0
    assert leaf.lock is not None
    assert any(
        note.startswith(f"The stop stands {rubber:.0f} mm (") and "glue a rubber strip" in note
        for note in leaf.lock.notes
    )
