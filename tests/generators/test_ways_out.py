"""A gate without usable pivots: what is blamed, by how much, and that each way out is one."""

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from hangpost.generators.pivots.levers import LEVERS, Lever
from hangpost.generators.pivots.problem import Brackets, Fixed, Limits, Problem
from hangpost.generators.pivots.search import settle
from hangpost.generators.pivots.solve import solve
from hangpost.generators.pivots.ways_out import NoPivots
from hangpost.generators.survey.shop import Shop

Gate = Callable[..., Problem]
LEVER = {lever.change: lever for lever in LEVERS}


def stopped(problem: Problem) -> NoPivots:
    with pytest.raises(NoPivots) as caught:
        solve(problem)
    return caught.value


@pytest.mark.parametrize(
    ("changes", "blamed"),
    [
        ({"torque": 900e3}, "leverage"),
        ({"limits": Limits(folded_clearance=215.0)}, "folded clearance"),
        ({"limits": Limits(edge_speed=120.0)}, "speed"),
        ({"limits": Limits(swing_time=12.0)}, "time"),
        ({"torque": 250e3, "brackets": Brackets(max_reach=45.0)}, "reach"),
        (
            {"direction": "push", "torque": 250e3, "brackets": Brackets(max_overhang=60.0)},
            "overhang",
        ),
        ({"fixed": Fixed(px=-152.0, py=260.0)}, "stroke"),
    ],
)
def test_the_constraint_that_was_tightened_is_blamed(
    gate: Gate, changes: dict[str, Any], blamed: str
) -> None:
    why = stopped(gate(**changes))

    assert blamed in why.blocking
    missed = {row.name: row for row in why.misses}
    assert not missed[blamed].satisfied
    assert missed[blamed].sentence in str(why)


def test_miss_of_the_best_candidate_is_the_distance_to_the_best_leverage(gate: Gate) -> None:
    best = solve(gate()).best_leverage
    why = stopped(gate(torque=900e3))

    assert why.blocking == ("leverage",)
    assert why.misses[0].value == pytest.approx(best, abs=0.05)


@pytest.mark.parametrize(
    "changes",
    [
        {"opening": 118.0},
        {"torque": 900e3},
        {"torque": 250e3, "brackets": Brackets(max_reach=45.0)},
        {"limits": Limits(folded_clearance=180.0)},
        {"fixed": Fixed(px=-152.0, py=235.0)},
        {"direction": "push", "torque": 250e3, "brackets": Brackets(max_overhang=60.0)},
    ],
)
def test_every_way_out_works_and_a_little_less_does_not(
    gate: Gate, changes: dict[str, Any]
) -> None:
    problem = gate(**changes)
    ways = stopped(problem).ways_out

    assert ways
    assert [way.effort for way in ways] == sorted(way.effort for way in ways)
    for way in ways:
        lever = LEVER[way.change]
        assert solve(lever.put(problem, way.new)).post_pivot == way.post_pivot
        less = way.new - lever.towards * 2.0 * lever.grain
        if (less - way.old) * lever.towards > 0.0:
            assert settle(lever.put(problem, less), grid=300) is None


@pytest.mark.parametrize("lever", LEVERS, ids=lambda lever: lever.change)
def test_lever_changes_its_own_number_to_the_one_asked_for(gate: Gate, lever: Lever) -> None:
    problem = gate()
    new = lever.read(problem) + lever.towards * 5.0

    assert lever.read(lever.put(problem, new)) == new
    assert lever.put(problem, lever.read(problem)) == problem


def test_hopeless_gate_is_said_to_be_hopeless(gate: Gate) -> None:
    problem = gate(torque=20e6, opening=150.0)
    why = stopped(problem)

    assert why.ways_out == ()
    assert "change two things at once" in str(why)


def test_same_gate_gets_the_same_explanation(gate: Gate) -> None:
    problem = gate(opening=118.0)

    assert stopped(problem).data() == stopped(problem).data()


def test_data_and_sentences_say_the_same(gate: Gate) -> None:
    why = stopped(gate(fixed=Fixed(px=-152.0, py=235.0)))
    data = why.data()

    assert data["blocking"] == list(why.blocking)
    assert [way["sentence"] for way in data["ways_out"]] == [w.sentence for w in why.ways_out]
    assert all(sentence in str(why) for sentence in why.sentences())


def test_leaf_that_cannot_clear_its_post_is_said_beside_the_pivots(gate: Gate) -> None:
    why = stopped(gate(opening=125.0))

    assert not why.leaf_to_post.satisfied
    assert why.leaf_to_post.sentence[1:] in str(why)


def test_pin_nearer_than_the_hardware_allows_is_no_way_out(gate: Gate) -> None:
    problem = gate(limits=Limits(folded_clearance=400.0))
    bodies = problem.actuator.body_radius + problem.limits.body_clearance

    for way in stopped(problem).ways_out:
        assert way.change != "folded clearance" or way.new >= bodies - 1.0
    assert replace(problem, limits=Limits()).limits.folded_clearance == 107.95


@pytest.mark.parametrize("lever", LEVERS, ids=lambda lever: lever.change)
def test_a_key_that_a_way_out_names_is_one_of_the_shop_file(gate: Gate, lever: Lever) -> None:
    problem = gate()
    said = lever.say(problem, lever.read(problem), lever.read(problem) + lever.towards)
    named = re.findall(r"\((\w+)\.(\w+) in the shop file\)", said)

    of_shop = {"reach", "overhang", "folded clearance", "margin"}
    assert len(named) == (lever.change in of_shop)
    assert all(hasattr(getattr(Shop(), table), key) for table, key in named)
