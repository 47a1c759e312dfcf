"""What the solver tells of its choice, and what it refuses."""

import subprocess
import sys
from collections.abc import Callable
from math import isclose

import pytest

from hangpost.generators.pivots.problem import LeafPlan, Limits, PostPlan, Problem
from hangpost.generators.pivots.solve import solve

Gate = Callable[..., Problem]


def test_post_is_where_the_survey_measured_it() -> None:
    square = PostPlan.square(
        to_leaf_face=40.0, to_actuator_face=66.0, width=140.0, depth=150.0
    ).outline
    tube = PostPlan.round(to_leaf_face=40.0, to_actuator_face=66.0, diameter=89.0)

    assert (square.left, square.right, square.bottom, square.top) == (-180.0, -40.0, -84.0, 66.0)
    outline = tube.outline
    assert (outline.left, outline.right) == (-129.0, -40.0)
    assert (outline.bottom, outline.top) == (-23.0, 66.0)
    assert (tube.face, tube.width, tube.middle) == (66.0, 89.0, -84.5)


def test_speed_and_time_are_limited_only_where_the_site_says_so(gate: Gate) -> None:
    free = solve(gate())
    by_name = {row.name: row for row in free.rows}

    assert by_name["speed"].limit == float("inf")
    assert by_name["speed"].data()["limit"] is None
    assert isclose(by_name["speed"].value, free.edge_speed)
    assert isclose(by_name["time"].value, free.swing_time, abs_tol=1e-9)
    slow = Limits(edge_speed=free.edge_speed - 15.0)
    assert solve(gate(limits=slow)).edge_speed <= slow.edge_speed + 1e-6


def test_leaf_that_binds_on_its_post_is_said_apart_from_the_pivots(gate: Gate) -> None:
    thick = LeafPlan(width=3300.0, thickness=90.0, rail_to=3300.0)
    found = solve(gate(leaf=thick, torque=100e3, opening=88.0))

    assert solve(gate()).leaf_to_post.satisfied
    assert not found.leaf_to_post.satisfied
    assert "hanging post" in found.leaf_to_post.sentence


def test_curve_runs_from_closed_to_open(gate: Gate) -> None:
    found = solve(gate(direction="push"), step=2.0)
    first, last = found.curve[0], found.curve[-1]

    assert (first.angle, last.angle) == (0.0, -92.0)
    assert isclose(first.length, found.closed_length) and isclose(last.length, found.open_length)
    assert isclose(last.leverage, found.leverage_open)
    assert isclose(last.torque, 2600.0 * found.leverage_open)


def test_every_sentence_gives_lengths_in_both_systems(gate: Gate) -> None:
    for row in solve(gate()).rows:
        assert row.sentence.endswith(".")
        assert row.unit != "mm" or (" mm (" in row.sentence and " in)" in row.sentence)


def test_solving_loads_numpy_and_nothing_heavier() -> None:
    heavy = "'cadquery', 'OCP', 'trimesh', 'scipy', 'pydantic', 'ezdxf', 'reportlab'"
    code = "import sys, hangpost.generators.pivots.solve, hangpost.generators.pivots.ways_out\n"
    code += f"print(sorted({{{heavy}}} & set(sys.modules)))"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert said.stdout.strip() == "[]"


def test_numbers_that_describe_no_gate_are_refused_all_at_once(gate: Gate) -> None:
    with pytest.raises(ValueError, match=r"opening.*torque"):
        gate(opening=float("nan"), torque=-1.0)
