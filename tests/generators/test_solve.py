"""The chosen pivots keep every constraint, looked at by another geometry library, and repeat."""

from collections.abc import Callable
from dataclasses import replace
from math import acos, cos, degrees, hypot, isclose, radians, sin

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, Point, Polygon, box

from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import tie
from hangpost.generators.pivots.plan_shapes import Bar, Box, bar_to_box
from hangpost.generators.pivots.problem import Fixed, LeafPlan, Obstacle, PostPlan, Problem
from hangpost.generators.pivots.search import most_leverage, settle
from hangpost.generators.pivots.solve import mount, solve

Gate = Callable[..., Problem]
XY = tuple[float, float]
TOLERANCE = 1e-5  # mm; what the search may lose by rounding
ROUND = 0.05  # mm; shapely's discs are polygons of 256 sides


def turned(point: XY, angle: float) -> XY:
    c, s = cos(radians(angle)), sin(radians(angle))
    return c * point[0] - s * point[1], s * point[0] + c * point[1]


def bar(a: XY, b: XY, start: float, end: float, half: float) -> Polygon:
    """The rectangle from `start` to `end` along the way from a to b."""
    run = hypot(b[0] - a[0], b[1] - a[1])
    ux, uy = (b[0] - a[0]) / run, (b[1] - a[1]) / run
    return Polygon(
        [
            (a[0] + s * ux - w * uy, a[1] + s * uy + w * ux)
            for s, w in ((start, half), (end, half), (end, -half), (start, -half))
        ]
    )


def assert_usable(problem: Problem, found: Mount) -> None:
    """Every constraint of the design, sampled over the swing without any of our own geometry."""
    p, g = found.post_pivot, found.leaf_pivot
    actuator, leaf, limits = problem.actuator, problem.leaf, problem.limits
    outline, tip = problem.post.outline, problem.brackets.ear_tip
    post = box(outline.xmin, outline.ymin, outline.xmax, outline.ymax)
    if outline.rounding:
        post = Point(outline.xmin, outline.ymin).buffer(outline.rounding, quad_segs=64)
    ear = Polygon(
        MultiPoint(
            [
                (found.root[0], problem.post.face),
                (found.root[1], problem.post.face),
                *Point(p).buffer(tip, quad_segs=64).exterior.coords,
            ]
        ).convex_hull
    )
    ear_height = min(actuator.post_eye.thickness, actuator.leaf_eye.thickness) / 2.0
    slim = (actuator.body_radius**2 - ear_height**2) ** 0.5
    lengths = []
    for t in swing(problem.direction, problem.opening, 0.7):
        at = turned(g, float(t))
        length = hypot(at[0] - p[0], at[1] - p[1])
        lengths.append(length)
        between = degrees(acos((p[0] * at[0] + p[1] * at[1]) / hypot(*p) / hypot(*at)))
        assert limits.dead_centre - 1e-6 <= between <= 180.0 - limits.dead_centre + 1e-6
        body = bar(p, at, actuator.post_eye.to_body, actuator.body_end, actuator.body_radius)
        narrow = bar(p, at, actuator.post_eye.to_body, actuator.body_end, slim)
        rod = bar(p, at, actuator.body_end, length, actuator.rod_radius)
        plate = Polygon(
            [
                turned(corner, float(t))
                for corner in (
                    (leaf.hinge_edge, leaf.back),
                    (leaf.width, leaf.back),
                    (leaf.width, leaf.face),
                    (leaf.hinge_edge, leaf.face),
                )
            ]
        )
        clear = limits.body_clearance - TOLERANCE
        assert body.distance(plate) >= clear
        assert body.distance(post) >= clear
        assert narrow.distance(ear) >= clear - ROUND
        assert ear.distance(plate) >= clear - ROUND
        assert plate.distance(Point(p)) >= limits.folded_clearance - TOLERANCE
        for obstacle in problem.obstacles:
            o = obstacle.outline
            wall = box(o.xmin, o.ymin, o.xmax, o.ymax)
            assert min(body.distance(wall), rod.distance(wall)) >= clear
    assert min(lengths) >= actuator.retracted + limits.margin - TOLERANCE
    assert max(lengths) <= actuator.retracted + actuator.stroke - limits.margin + TOLERANCE
    angles = np.radians(swing(problem.direction, problem.opening, 0.7))
    steps = np.abs(np.diff(lengths) / np.diff(angles))
    assert steps.min() >= problem.needed_leverage - 0.01
    assert found.leaf_pivot[0] - leaf.rail_from >= problem.brackets.leaf_half_length - TOLERANCE
    assert leaf.rail_to - found.leaf_pivot[0] >= problem.brackets.leaf_half_length - TOLERANCE
    assert post.distance(Point(p)) >= actuator.post_eye.radius + problem.brackets.swing_room - ROUND
    assert found.reach <= problem.brackets.max_reach + TOLERANCE
    assert all(row.satisfied for row in found.rows)


@pytest.mark.parametrize("direction", ["pull", "push"])
def test_chosen_pair_keeps_every_constraint(gate: Gate, direction: str) -> None:
    """GEO-01, GEO-03: stroke with its margins, dead centre, leverage and the rest."""
    problem = gate(direction=direction)

    assert_usable(problem, solve(problem))


@given(
    direction=st.sampled_from(["pull", "push"]),
    opening=st.floats(75.0, 102.0),
    to_leaf_face=st.floats(25.0, 70.0),
    to_actuator_face=st.floats(30.0, 95.0),
    width=st.floats(95.0, 190.0),
    is_round=st.booleans(),
    thickness=st.floats(30.0, 75.0),
    axis_offset=st.floats(-12.0, 12.0),
    stroke=st.floats(340.0, 460.0),
    body_radius=st.floats(25.0, 40.0),
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_sensible_gate_gets_a_pair_that_keeps_everything_or_none(
    gate: Gate,
    direction: str,
    opening: float,
    to_leaf_face: float,
    to_actuator_face: float,
    width: float,
    is_round: bool,
    thickness: float,
    axis_offset: float,
    stroke: float,
    body_radius: float,
) -> None:
    base = gate()
    if is_round:
        post = PostPlan.round(
            to_leaf_face=to_leaf_face, to_actuator_face=to_actuator_face, diameter=width
        )
    else:
        post = PostPlan.square(
            to_leaf_face=to_leaf_face,
            to_actuator_face=to_actuator_face,
            width=width,
            depth=width + 10.0,
        )
    problem = replace(
        base,
        direction=direction,
        opening=opening,
        torque=150e3,
        post=post,
        leaf=LeafPlan(width=3300.0, thickness=thickness, axis_offset=axis_offset, rail_to=3300.0),
        actuator=replace(base.actuator, stroke=stroke, body_radius=body_radius),
    )
    found = settle(problem, grid=120)
    assume(found is not None)
    assert found is not None

    assert_usable(problem, mount(problem, found[0], found[2]))


def test_same_problem_gives_the_same_answer_to_the_last_digit(gate: Gate) -> None:
    assert solve(gate()).data() == solve(gate()).data()


def test_post_pivot_is_on_whole_hundredths_and_no_neighbour_is_better(gate: Gate) -> None:
    problem = gate()
    found = solve(problem)
    x, y = found.post_pivot

    assert isclose(x * 100.0, round(x * 100.0), abs_tol=1e-6)
    assert isclose(y * 100.0, round(y * 100.0), abs_tol=1e-6)
    for dx, dy in ((0.01, 0.0), (-0.01, 0.0), (0.0, 0.01), (0.0, -0.01)):
        near = settle(replace(problem, fixed=Fixed(px=x + dx, py=y + dy)), grid=1)
        eligible = near is not None and near[0].least[0] >= 0.9 * found.best_leverage
        assert not eligible or near is None or near[0].moment[0] >= found.bracket_moment - 1e-6


def test_retracted_end_is_tied_at_the_margin_and_the_choice_keeps_nine_tenths(gate: Gate) -> None:
    pull, push = solve(gate()), solve(gate(direction="push"))

    assert isclose(pull.open_length, 780.0, abs_tol=1e-9)
    assert isclose(push.closed_length, 780.0, abs_tol=1e-9)
    for found in (pull, push):
        assert found.leverage_least >= 0.9 * found.best_leverage - 1e-9
        assert isclose(found.stroke_used, abs(found.closed_length - found.open_length))
    assert pull.setback > 0.0 > push.setback  # pushed, the pin lies past the hinge axis


@pytest.mark.parametrize("direction", ["pull", "push"])
def test_bracket_moment_is_thrust_times_the_root_s_distance_from_the_line_of_the_pins(
    gate: Gate, direction: str
) -> None:
    problem = gate(direction=direction)
    found = solve(problem)
    root = Point((found.root[0] + found.root[1]) / 2.0, problem.post.face)
    arms = []
    for t in (found.curve[0].angle, found.curve[-1].angle):
        (px, py), (gx, gy) = found.post_pivot, turned(found.leaf_pivot, t)
        back = (px - 9.0 * (gx - px), py - 9.0 * (gy - py))
        arms.append(LineString([back, (gx, gy)]).distance(root))

    assert isclose(found.bracket_moment, 2600.0 * max(arms), rel_tol=1e-9)


def test_another_rule_is_another_score(gate: Gate) -> None:
    strongest = solve(gate(), score=most_leverage)

    assert isclose(strongest.leverage_least, strongest.best_leverage, abs_tol=1e-9)
    assert strongest.leverage_least > solve(gate()).leverage_least


def test_pull_pair_turned_back_by_the_opening_is_a_push_pair(gate: Gate) -> None:
    pull, push = gate(), gate(direction="push")
    found = solve(pull)
    qx, qy = turned(found.post_pivot, -pull.opening)
    pair = tie(push, np.array([qx]), np.array([qy]))

    assert isclose(float(pair.gx[0]), found.leaf_pivot[0], abs_tol=1e-9)
    assert isclose(float(pair.gy[0]), found.leaf_pivot[1], abs_tol=1e-9)


def test_runners_up_are_usable_and_buy_leverage_with_length(gate: Gate) -> None:
    problem = gate()
    others = solve(problem).runners_up
    arms = [other.leverage_least for other in others]

    assert len(others) >= 3
    assert arms == sorted(arms)
    for other in others:
        again = solve(replace(problem, fixed=Fixed(px=other.post_pivot[0], py=other.post_pivot[1])))
        assert isclose(again.leverage_least, other.leverage_least, abs_tol=1e-9)
        assert_usable(problem, again)


@pytest.mark.parametrize(
    "fixed",
    [
        Fixed(px=-150.0),
        Fixed(py=181.5),
        Fixed(px=-150.0, py=181.5),
        Fixed(gy=70.0),
        Fixed(gx=960.0),
        Fixed(gx=960.0, gy=72.0),
        Fixed(px=-150.0, py=181.5, gx=965.0, gy=70.0),
    ],
)
def test_fixed_coordinates_stay_and_the_rest_is_found(gate: Gate, fixed: Fixed) -> None:
    problem = gate(fixed=fixed)
    found = solve(problem)
    px, py, gx, gy = *found.post_pivot, *found.leaf_pivot

    for wanted, got in ((fixed.px, px), (fixed.py, py), (fixed.gx, gx), (fixed.gy, gy)):
        assert wanted is None or wanted == got
    assert_usable(problem, found)


def test_obstacle_met_in_the_middle_of_the_swing_only_moves_the_pins(gate: Gate) -> None:
    problem = gate()
    free = solve(problem)
    # A corner four millimetres outside the circle of the leaf pivot, at 45 degrees of opening.
    angle = radians(45.0) + np.arctan2(free.leaf_pivot[1], free.leaf_pivot[0])
    r = hypot(*free.leaf_pivot) + 4.0
    x, y = float(r * cos(angle)), float(r * sin(angle))
    kerb = Obstacle.between("kerb", (x, y), (x + 200.0, y + 150.0))
    walled = replace(problem, obstacles=(kerb,))
    found = solve(walled)

    assert found.post_pivot != free.post_pivot
    assert_usable(walled, found)


def test_far_obstacle_changes_nothing(gate: Gate) -> None:
    far = Obstacle.between("garage", (-3000.0, 4000.0), (-2000.0, 9000.0))

    assert solve(gate(obstacles=(far,))).post_pivot == solve(gate()).post_pivot


@given(
    x=st.floats(-300.0, 300.0),
    y=st.floats(-300.0, 300.0),
    angle=st.floats(0.0, 360.0),
    half=st.floats(5.0, 60.0),
)
def test_bar_to_box_is_the_distance_of_polygons(
    x: float, y: float, angle: float, half: float
) -> None:
    ux, uy = cos(radians(angle)), sin(radians(angle))
    ours = float(
        bar_to_box(
            Bar(x=x, y=y, ux=ux, uy=uy, start=30.0, end=210.0, half=half),
            Box(xmin=-70.0, xmax=40.0, ymin=-25.0, ymax=90.0),
        )
    )
    theirs = bar((x, y), (x + ux, y + uy), 30.0, 210.0, half).distance(
        box(-70.0, -25.0, 40.0, 90.0)
    )

    assert isclose(max(ours, 0.0), theirs, abs_tol=1e-9)
