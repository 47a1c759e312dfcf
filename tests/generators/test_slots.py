"""Slots: as long as the errors of the survey ask for, covered at both ends, told where shorter.

How long a standard long slot may be is AISC 360-16 Table J3.3 (2.5 d); that a washer covers its
slot whole is J3.2. What share of gates a travel takes up is counted on gates drawn anew.
"""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import bolt_through
from hangpost.generators.hardware.slack import slack, slack_check
from hangpost.generators.hardware.slots import slotted
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.uncertainty import sample
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import starter
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.tables import shank

from .unsure_gates import pair_of

SHOP = Shop()
SIZES = ("3/8", "1/2", "5/8", "3/4", "M10", "M12", "M16")


def designed(post: str, toward: str, **changes: object) -> Design:
    site = site_from_bytes(starter(post=post, toward=toward).encode())  # type: ignore[arg-type]
    site = site.changed(changes) if changes else site
    solved = solve_gate(site, SHOP)
    picks = [each.picks for each in choose(site, SHOP, solved)]
    return design_gate(site, SHOP, solved, picks)


@given(size=st.sampled_from(SIZES), travel=st.floats(0.5, 60.0), room=st.floats(15.0, 200.0))
def test_a_slot_is_covered_wherever_its_bolt_stands(size: str, travel: float, room: float) -> None:
    """DXF-12."""
    bolt = bolt_through(size, 60.0, SHOP)
    made = slotted("leaf", bolt, SHOP, 8.0, travel, room=room)
    slot, washer = made.slot, made.washer
    reach = washer.half_length if washer else bolt.head.washer_diameter / 2
    across = washer.half_width if washer else bolt.head.washer_diameter / 2
    for bolt_at, end in product((-slot.travel / 2, slot.travel / 2), (-1, 1)):
        open_to = end * (slot.travel + slot.diameter) / 2
        assert abs(open_to - bolt_at) <= reach
    assert slot.diameter / 2 < across
    assert slot.half >= slot.travel / 2 + reach - 1e-9  # the seat carries the washer at both ends
    assert washer is None or slot.travel / 2 + slot.cover <= room + 1e-9


@given(size=st.sampled_from(SIZES), travel=st.floats(0.5, 60.0))
def test_with_room_a_slot_is_as_long_as_asked_or_the_standard_long_one(
    size: str, travel: float
) -> None:
    bolt = bolt_through(size, 60.0, SHOP)
    slot = slotted("leaf", bolt, SHOP, 8.0, travel).slot
    overall = slot.travel + slot.diameter
    own = (bolt.head.washer_diameter - slot.diameter) / 2 - 0.25
    if travel <= slot.travel:
        assert slot.travel <= travel + 0.5  # and no longer than that
    else:
        longest = 2.5 * shank(size)
        assert overall == pytest.approx(max(longest, own + slot.diameter), abs=0.11)
    assert overall <= max(2.5 * shank(size), own + slot.diameter) + 0.06


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_a_leaf_s_slots_take_up_ninety_nine_of_a_hundred_fresh_gates(toward: str) -> None:
    """GEO-07."""
    leaf = designed("timber", toward).leaves[0]
    sure, mount = leaf.mount.sure, leaf.mount
    assert sure is not None
    at_leaf = next(row for row in slack(leaf.fixings, mount) if row.end == "leaf")
    pair = pair_of(mount)
    fresh = sample(leaf.problem, pair, sure.sources, gates=100_000, seed=7)["slot"]
    fits = float(np.mean(np.abs(fresh) <= at_leaf.given / 2))

    assert at_leaf.given >= sure.slot_travel
    assert fits >= 0.99 - 0.002
    assert slack_check(at_leaf, "").status == "pass"


def test_what_slots_cannot_take_up_is_warned_of_with_the_true_share() -> None:
    changes = {"actuator.retracted": "31 in +- 3/4 in"}
    leaf = designed("timber", "actuator", **changes).leaves[0]
    sure, mount = leaf.mount.sure, leaf.mount
    assert sure is not None
    at_leaf = next(row for row in slack(leaf.fixings, mount) if row.end == "leaf")
    pair = pair_of(mount)
    fresh = sample(leaf.problem, pair, sure.sources, gates=100_000, seed=7)["slot"]
    fits = float(np.mean(np.abs(fresh) <= at_leaf.given / 2))
    check = slack_check(at_leaf, "")

    assert at_leaf.given < sure.slot_travel
    assert 0.2 < at_leaf.absorbed < 0.97
    assert at_leaf.absorbed == pytest.approx(fits, abs=0.01)
    assert check.status == "warn"
    assert f"{100 * at_leaf.absorbed:.0f} of 100" in check.what
    assert any(check.what in reason for reason in leaf.reasons)


def test_plate_washers_lie_on_the_bracket_and_off_its_ears() -> None:
    leaf = designed("timber", "actuator").leaves[0]
    channel = next(p.item for p in leaf.placed if isinstance(p.item, LobedChannel))
    washers = [p for p in leaf.placed if isinstance(p.item, PlateWasher) and p.rides == "leaf"]
    left, right = channel.ends
    seat = next(f.seat for f in leaf.fixings if f.name == "leaf")
    assert len(washers) == len([h for h in channel.drawn().holes if h.slot_length])
    for placed in washers:
        washer = placed.item
        assert isinstance(washer, PlateWasher)
        u = -(placed.frame.origin[0] - seat.origin[0])
        for at in (u - channel.slot.travel / 2, u + channel.slot.travel / 2):
            low, high = at - washer.half_length, at + washer.half_length
            assert left - 1e-9 <= low < high <= right + 1e-9
            assert low >= channel.root - 1e-9 or high <= -channel.root + 1e-9


def test_without_a_word_on_errors_slots_are_what_their_own_washers_cover() -> None:
    bolt = bolt_through("1/2", 60.0, SHOP)
    made = slotted("leaf", bolt, SHOP, 8.0, None)

    assert made.washer is None
    assert 0.0 < made.slot.travel + made.slot.diameter / 2 <= bolt.head.washer_diameter / 2
