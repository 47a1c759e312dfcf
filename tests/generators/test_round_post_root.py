"""Where ears grow from a round post, and searches that something in the middle of the swing stops."""

import numpy as np
import pytest

from hangpost.generators.pivots import search, ways_out
from hangpost.generators.pivots.constraints import CONSTRAINTS
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.levers import LEVERS
from hangpost.generators.pivots.pairs import position, root_x
from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Brackets,
    Eye,
    LeafPlan,
    PostPlan,
    Problem,
)
from hangpost.generators.pivots.search import lightest_bracket, settle
from hangpost.generators.pivots.solve import solve
from hangpost.generators.pivots.ways_out import NoPivots

EYE = Eye(radius=17.0, thickness=18.0, to_body=42.0)


def gate(opening: float, *, cut_to_post: bool) -> Problem:
    """A wide opening towards an actuator of short eyes, which ears from the post's middle stop."""
    return Problem(
        direction="pull",
        opening=opening,
        post=PostPlan.round(to_leaf_face=55.0, to_actuator_face=50.0, diameter=140.0),
        leaf=LeafPlan(width=2600.0, thickness=48.0, rail_from=0.0, rail_to=2600.0),
        actuator=ActuatorPlan(
            retracted=690.0,
            stroke=400.0,
            thrust=2200.0,
            speed=15.0,
            body_radius=32.5,
            rod_radius=13.0,
            post_eye=EYE,
            leaf_eye=EYE,
        ),
        torque=138e3,
        brackets=Brackets(
            max_reach=350.0,
            max_overhang=300.0,
            least_reach=52.0,
            max_leaf_reach=250.0,
            least_leaf_reach=71.0,
            ear_tip=21.0,
            root_rises=(31.0,),
            seat_half_width=25.0,
            leaf_half_length=105.0,
            cut_to_post=cut_to_post,
        ),
        height=880.0,
    )


def test_ears_on_a_seat_grow_from_behind_the_pin_and_those_cut_to_the_post_from_its_middle() -> (
    None
):
    at = np.array([-300.0, -160.0, -125.0])
    seat, welded = (gate(95.0, cut_to_post=cut) for cut in (False, True))

    assert root_x(seat, at).tolist() == [-170.0, -160.0, -125.0]
    assert root_x(welded, at).tolist() == [-125.0, -125.0, -125.0]


@pytest.mark.parametrize("opening", [95.0, 105.0])
def test_wide_opening_on_a_round_post_has_pivots_that_keep_everything(opening: float) -> None:
    problem = gate(opening, cut_to_post=False)
    found = settle(problem, lightest_bracket, grid=300)

    assert found is not None
    dense = (position(found[0].pairs, swing("pull", opening, 0.5)),)
    for constraint in CONSTRAINTS:
        assert constraint.margin(problem, found[0].pairs, dense).min() >= -1e-6, constraint.name


def test_choice_stopped_in_the_middle_of_the_swing_is_settled_in_a_few_rounds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    problem = gate(95.0, cut_to_post=True)
    asked: list[tuple[float, ...]] = []
    find = search.find

    def counted(*args: object) -> object:
        asked.append(args[1])  # type: ignore[arg-type]
        return find(*args)  # type: ignore[arg-type]

    monkeypatch.setattr(search, "find", counted)

    assert settle(problem, lightest_bracket, grid=300) is None
    assert 1 < len(asked) < 8


def test_way_out_is_found_though_the_middle_of_the_swing_is_what_stops_the_gate(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    opening = [lever for lever in LEVERS if lever.change == "opening"]
    monkeypatch.setattr(ways_out, "LEVERS", opening)
    with pytest.raises(NoPivots) as caught:
        solve(gate(105.0, cut_to_post=True))
    (way,) = caught.value.ways_out

    assert settle(gate(way.new, cut_to_post=True), grid=300)
