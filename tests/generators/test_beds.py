"""Where the bolts of a leaf bracket may stand, and what a lock's other half is fixed to."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.leaf_channel import Bed
from hangpost.generators.hardware.lock_gap import THINNEST_SPACER, packing_of
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.picks import bolt_through
from hangpost.generators.hardware.slots import slotted
from hangpost.generators.survey.reading import read_shop
from hangpost.parts.frame import Frame
from hangpost.parts.post_bracket import SlotSpec

SHOP = read_shop(None)
BOLT = bolt_through("1/2", 60.0, SHOP)
taken = st.lists(st.tuples(st.floats(-400, 400), st.floats(1, 60)), max_size=4)


@given(
    first=st.floats(20, 90).map(round), step=st.floats(10, 80).map(round),
    columns=st.integers(1, 3), things=taken, way=st.sampled_from([1.0, -1.0]),
)  # fmt: skip
def test_bolts_stand_a_step_apart_beside_whatever_is_in_the_way(
    first: int, step: int, columns: int, things: list[tuple[float, float]], way: float
) -> None:
    """The nearest places to the ears, from `first` on, outside every stretch that is taken."""
    blocked = tuple((at - half, at + half) for at, half in things)
    bed = Bed(
        seat_y=0.0, bolt=BOLT, rows=(0.0,), slot=SlotSpec(diameter=14.0, travel=0.0, land=16.0),
        columns=columns, taken=blocked,
    )  # fmt: skip
    found = bed.places(float(first), float(step), way)

    def free(at: float) -> bool:
        return not any(low < way * at < high for low, high in blocked)

    assert len(found) == columns and all(free(at) for at in found)
    starts = [float(first), *(at + step for at in found)]
    for start, at in zip(starts, found, strict=False):
        assert at >= start
        assert all(not free(x) for x in (start, *range(int(start) + 1, int(at))) if x < at)
    assert all(b - a >= step for a, b in pairwise(found))


@given(
    apart=st.floats(40, 120), travel=st.floats(1, 40), size=st.sampled_from(["3/8", "1/2", "M12"])
)
def test_washers_of_two_slots_in_a_row_never_meet(apart: float, travel: float, size: str) -> None:
    """Each goes with its bolt, and bolts stay where they are: a mm is between them at least."""
    made = slotted("leaf", bolt_through(size, 60.0, SHOP), SHOP, 8.0, travel, apart=apart)
    if made.washer is not None:
        assert apart - 2 * made.washer.half_length >= 1.0 - 1e-9


@pytest.mark.parametrize("middle", [0.0, 17.0])
def test_a_host_s_edges_are_half_its_face_from_its_middle(middle: float) -> None:
    host = Host(
        name="latch post", kind="timber", seat=Frame((0.0, 0.0, 0.0)), depth=140.0, wide=138.0,
        outside=None, rides="ground", species="redwood", middle=middle,
    )  # fmt: skip

    assert host.edges == (middle - 69.0, middle + 69.0)


@given(gap=st.floats(10, 90), throw=st.floats(20, 60), t=st.sampled_from([6.35, 8.0, 9.525]))
def test_packing_lets_the_bolt_stand_through_both_plates_and_is_no_thicker(
    gap: float, throw: float, t: float
) -> None:
    """The bolt's tip, `throw` past the leaf's edge, is 3 mm or more behind the receiver (house)."""
    host = Host(
        name="latch post", kind="timber", seat=Frame((0.0, 0.0, 0.0)), depth=140.0, wide=138.0,
        outside=None, rides="ground", species="redwood",
    )  # fmt: skip
    packing = packing_of(host, gap, throw, t)
    receiver_back = packing + t  # off the host, the crossing plate's face
    tip = gap - throw  # off the host as well

    assert tip <= receiver_back - 3.0 + 1e-9
    assert (2 * packing).is_integer()
    thinner = packing - 0.5
    assert packing == 0.0 or tip > thinner + t - 3.0 or 0.0 < thinner + 0.5 <= THINNEST_SPACER + 0.5
