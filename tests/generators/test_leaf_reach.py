"""A leaf bracket that reaches farther, where the leaf pivot near the leaf leaves no usable pair."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.leaf_reach import LINES, ROOM, farther_out
from hangpost.generators.pivots.pairs import least_leaf_reach
from hangpost.generators.pivots.problem import Fixed, Problem
from hangpost.generators.pivots.search import lightest_bracket, missed_angles, settle

from .family import SHOP, survey

Gate = Callable[..., Problem]
TIGHT = (("pull", 110.0, 410.0), ("push", 100.0, 350.0))  # no pair with the pin near the leaf


def tight(gate: Gate, direction: str, opening: float, stroke: float) -> Problem:
    problem = gate(direction=direction, opening=opening)
    return replace(problem, actuator=replace(problem.actuator, stroke=stroke))


@pytest.mark.parametrize(("direction", "opening", "stroke"), TIGHT)
def test_the_pin_goes_as_far_off_the_leaf_as_it_must(
    gate: Gate, direction: str, opening: float, stroke: float
) -> None:
    problem = tight(gate, direction, opening, stroke)
    assert settle(problem, lightest_bracket, LINES) is None
    out = farther_out(problem, LINES)
    assert out is not None
    reaching, (chosen, usable, _) = out
    reach = least_leaf_reach(reaching)

    assert reach < problem.brackets.max_leaf_reach
    assert float(chosen.pairs.gy[0]) - problem.leaf.face == pytest.approx(reach)
    assert missed_angles(reaching, chosen.pairs) == ()  # every limit, at every half degree
    assert usable.count > 1  # there is a choice
    short = replace(problem.brackets, least_leaf_reach=reach - ROOM - 2.0)
    assert settle(replace(problem, brackets=short), lightest_bracket, LINES) is None


def test_a_leaf_pivot_that_is_there_already_stays(gate: Gate) -> None:
    problem = tight(gate, *TIGHT[0])
    there = replace(problem, fixed=Fixed(gy=problem.leaf.face + 40.0))
    assert farther_out(there, LINES) is None


def test_where_nothing_helps_there_is_no_answer(gate: Gate) -> None:
    assert farther_out(tight(gate, "pull", 110.0, 200.0), LINES) is None


def test_an_answer_farther_out_says_so_and_one_near_the_leaf_does_not() -> None:
    ((problem, near),) = solve_gate(survey().site, SHOP)
    assert "nearer" not in near.why and near.leaf_reach >= least_leaf_reach(problem) - 0.01
    ((problem, far),) = solve_gate(survey(toward="away", angle="104").site, SHOP)
    assert "nearer to it no pair is usable" in far.why
    assert far.leaf_reach >= least_leaf_reach(problem) - 0.01
    assert all(row.satisfied for row in far.rows)
