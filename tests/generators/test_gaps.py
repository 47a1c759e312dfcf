"""Gaps that close on people: widths by another geometry library, body parts by the table."""

from dataclasses import replace
from functools import cache
from math import cos, hypot, isclose, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, MultiPolygon, Point, Polygon, affinity, box

from hangpost.generators.fitting.fits import fit_checks
from hangpost.generators.gaps import CAUTION, Gap, beyond_open_leaf, body_parts, gaps, source
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.manifest import _around
from hangpost.generators.outlines import box_corners, disc, distance, outline, turn
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.plan_shapes import Box
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.rows import leaf_to_post
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import starter

WALL = '\n[[obstacle]]\nname = "garden wall"\nfrom = [3000, 150]\nto = [3400, 350]\n'


@cache
def solved(toward: str, post: str = "timber", more: str = "") -> tuple[Problem, Mount]:
    text = starter(units="mm", toward=toward, post=post) + more
    return solve_gate(site_from_bytes(text.encode()), Shop())[0]


def by_name(found: tuple[Gap, ...]) -> dict[str, Gap]:
    return {gap.name: gap for gap in found}


def leaf_at(problem: Problem, angle: float) -> Polygon:
    leaf = problem.leaf
    closed = box(leaf.hinge_edge, leaf.back, leaf.width, leaf.face)
    return affinity.rotate(closed, angle, origin=(0.0, 0.0))


def test_body_parts_are_those_of_the_table_in_the_order_of_their_gaps() -> None:
    """SAF-02: the gap table has a source and is no statement of compliance."""
    # ISO 13854 (EN 349): finger 25, toes 50, hand 100, arm and foot 120, leg 180, head 300,
    # body 500 mm (memory; finger, foot and body are also in the project's reference values).
    assert {part.name: part.gap for part in body_parts()} == {
        "finger": 25.0,
        "toes": 50.0,
        "hand": 100.0,
        "arm or foot": 120.0,
        "leg": 180.0,
        "head": 300.0,
        "body": 500.0,
    }
    assert "ISO 13854" in source()
    assert "competent person" in CAUTION and "no statement" in CAUTION


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_leaf_to_post_is_the_distance_of_polygons(toward: str) -> None:
    """GEO-08."""
    problem, mount = solved(toward)
    o = problem.post.outline
    post = box(o.xmin, o.ymin, o.xmax, o.ymax)
    gap = by_name(gaps(problem, mount))["leaf to hanging post, at the hinge"]
    sign = 1.0 if toward == "actuator" else -1.0
    widths = [leaf_at(problem, sign * t).distance(post) for t in np.arange(0.0, 90.5, 1.0)]

    assert isclose(gap.closed, widths[0], abs_tol=1e-6)
    assert isclose(gap.open, widths[-1], abs_tol=1e-6)
    assert isclose(gap.least, min(widths), abs_tol=1e-6)
    assert isclose(gap.greatest, max(widths), abs_tol=1e-6)


def test_actuator_to_leaf_is_the_distance_of_polygons() -> None:
    """GEO-08: the body of the actuator too."""
    problem, mount = solved("actuator")
    actuator = problem.actuator
    gap = by_name(gaps(problem, mount))["actuator to leaf"]
    widths = []
    for t in (0.0, 90.0):
        c, s = cos(radians(t)), sin(radians(t))
        gx, gy = mount.leaf_pivot
        dx = c * gx - s * gy - mount.post_pivot[0]
        dy = s * gx + c * gy - mount.post_pivot[1]
        run = hypot(dx, dy)
        body = box(
            actuator.post_eye.to_body,
            -actuator.body_radius,
            actuator.body_end,
            actuator.body_radius,
        )
        matrix = [dx / run, -dy / run, dy / run, dx / run, *mount.post_pivot]
        widths.append(affinity.affine_transform(body, matrix).distance(leaf_at(problem, t)))

    assert isclose(gap.closed, widths[0], abs_tol=1e-6)
    assert isclose(gap.open, widths[1], abs_tol=1e-6)


def test_latch_edge_closes_on_its_post_from_far_to_its_gap() -> None:
    problem, mount = solved("actuator")
    gap = by_name(gaps(problem, mount, latch_gap=47.0))["latch edge to what it closes on"]

    assert isclose(gap.closed, 47.0, abs_tol=1e-9)
    assert gap.greatest > 3000.0
    assert gap.closes == "closing"
    assert [part.name for part in gap.parts] == [p.name for p in body_parts() if p.gap > 47.0]


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_leaf_opens_towards_what_is_behind_it(toward: str) -> None:
    problem, mount = solved(toward)
    gap = by_name(gaps(problem, mount, clear_beyond=430.0))[
        "latch edge to what is behind the open leaf"
    ]

    assert isclose(gap.open, 430.0, abs_tol=1e-6)
    assert isclose(gap.closed, 430.0 + problem.leaf.width, rel_tol=0.02)
    assert gap.closes == "opening"
    assert [part.name for part in gap.parts] == ["body"]


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_what_stands_out_past_the_open_leaf_is_that_of_polygons(toward: str) -> None:
    """The actuator and the bracket's eye as shapely has them, seen along the open leaf."""
    problem, mount = solved(toward)
    sign = 1.0 if toward == "actuator" else -1.0
    (px, py), open_at = mount.post_pivot, sign * mount.opening
    pin = affinity.rotate(Point(mount.leaf_pivot), open_at, origin=(0.0, 0.0))
    run = hypot(pin.x - px, pin.y - py)
    along = [
        ((pin.x - px) * s / run + px, (pin.y - py) * s / run + py)
        for s in (problem.actuator.post_eye.to_body, problem.actuator.body_end)
    ]
    body = LineString(along).buffer(problem.actuator.body_radius, cap_style="flat")
    eye = pin.buffer(problem.brackets.ear_tip)
    seen = affinity.rotate(MultiPolygon([body, eye]), -open_at, origin=(0.0, 0.0)).bounds
    out = seen[3] - problem.leaf.face if toward == "actuator" else problem.leaf.back - seen[1]

    assert beyond_open_leaf(problem, mount) == pytest.approx(max(0.0, out), abs=0.5)
    assert (out > 100.0) is (toward == "actuator")  # pushed open, nothing stands on that side


def test_free_distance_behind_the_open_leaf_reaches_gaps_and_checks() -> None:
    """The site file's `opening.clear_beyond`: 430 mm is told, 60 mm is no room for the actuator."""
    text = starter(units="mm", toward="actuator", post="timber")
    for clear, status in ((430, "pass"), (60, "fail")):
        given = text.replace("\n[actuator]", f"\nclear_beyond = {clear}\n\n[actuator]", 1)
        site, shop = site_from_bytes(given.encode()), Shop()
        (hung,), (leaf,) = (
            site.leaves,
            design_gate(site, shop, solve_gate(site, shop), [usual(shop)]).leaves,
        )
        found = {check.id: check.status for check in fit_checks(site, hung, leaf)}
        told = {gap["name"]: gap["open"] for gap in _around(site, hung, leaf)["gaps"]}

        assert found["fit: room behind the open leaf"] == status
        assert isclose(told["latch edge to what is behind the open leaf"], clear, abs_tol=1e-6)


def test_obstacle_is_listed_by_its_name() -> None:
    problem, mount = solved("actuator", more=WALL)
    found = by_name(gaps(problem, mount))
    o = problem.obstacles[0].outline
    wall = box(o.xmin, o.ymin, o.xmax, o.ymax)

    assert isclose(
        found["leaf to garden wall"].closed, leaf_at(problem, 0.0).distance(wall), abs_tol=1e-6
    )
    assert found["leaf to garden wall"].least == 0.0  # the leaf runs into it


def test_a_part_is_caught_where_it_fits_in_and_then_no_longer() -> None:
    for toward in ("actuator", "away"):
        problem, mount = solved(toward)
        for gap in gaps(problem, mount, latch_gap=47.0, clear_beyond=430.0):
            assert gap.least <= min(gap.closed, gap.open) + 1e-9
            assert gap.greatest >= max(gap.closed, gap.open) - 1e-9
            assert gap.greatest - gap.least > 1.0
            for part in body_parts():
                fits = part.gap <= gap.greatest or part.name == "finger"
                assert (part in gap.parts) is (fits and part.gap > gap.least)
            assert gap.name in gap.sentence and " mm (" in gap.sentence
            assert "safe" not in gap.sentence


def test_round_post_is_never_told_further_off_than_it_is() -> None:
    problem, mount = solved("actuator", post="round_steel")
    o = problem.post.outline
    gap = by_name(gaps(problem, mount))["leaf to hanging post, at the hinge"]
    true = leaf_at(problem, 0.0).distance(MultiPoint([(o.xmin, o.ymin)])) - o.rounding

    assert 0.0 <= true - gap.closed < 0.01 * o.rounding


def test_ear_of_the_post_bracket_comes_as_near_to_the_leaf_as_its_hull() -> None:
    problem, mount = solved("away")
    tip = problem.brackets.ear_tip
    (px, py), (x0, x1) = mount.post_pivot, mount.root
    round_tip = [(px + tip * cos(t), py + tip * sin(t)) for t in np.linspace(0.0, 6.2832, 721)]
    ear = MultiPoint([(x0, mount.post_face), (x1, mount.post_face), *round_tip]).convex_hull
    gap = by_name(gaps(problem, mount))["post bracket to leaf"]

    # 24 corners stand for the round tip, from outside.
    assert 0.0 <= ear.distance(leaf_at(problem, 0.0)) - gap.closed < 0.01 * tip


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_the_leaf_bracket_is_a_hull_from_the_leaf_s_face_about_its_pin(toward: str) -> None:
    problem, mount = solved(toward)
    a, tip, face = problem.actuator, problem.brackets.ear_tip, problem.leaf.face
    (gx, gy), (px, py) = mount.leaf_pivot, mount.post_pivot
    feet = MultiPoint([(gx - tip, face), (gx + tip, face)])
    ear = feet.union(Point(gx, gy).buffer(tip, quad_segs=180)).convex_hull
    gap = by_name(gaps(problem, mount))["leaf bracket to actuator"]
    for told, angle in ((gap.closed, 0.0), (gap.open, mount.opening)):
        way = angle if toward == "actuator" else -angle
        pin = affinity.rotate(Point(gx, gy), way, origin=(0.0, 0.0))
        run = hypot(pin.x - px, pin.y - py)
        along = [
            (px + (pin.x - px) * s / run, py + (pin.y - py) * s / run)
            for s in (a.post_eye.to_body, a.body_end)
        ]
        body = LineString(along).buffer(a.body_radius, cap_style="flat")
        turned_ear = affinity.rotate(ear, way, origin=(0.0, 0.0))
        # 24 corners stand for the round tip, from outside.
        assert 0.0 <= turned_ear.distance(body) - told < 0.01 * tip


@pytest.mark.parametrize(("toward", "post"), [("actuator", "timber"), ("away", "square_steel")])
def test_the_leaf_itself_keeps_from_its_post_what_polygons_say(toward: str, post: str) -> None:
    problem, _ = solved(toward, post)
    o, sign = problem.post.outline, 1.0 if toward == "actuator" else -1.0
    stands = box(o.xmin, o.ymin, o.xmax, o.ymax)
    widths = [leaf_at(problem, sign * t).distance(stands) for t in np.arange(0.0, 90.01, 0.5)]

    assert leaf_to_post(problem).value == pytest.approx(min(widths), abs=1e-6)
    # A leaf that is made longer at its hinge edge comes nearer by as much.
    nearer = replace(problem, leaf=replace(problem.leaf, hinge_edge=problem.leaf.hinge_edge - 5.0))
    widths = [leaf_at(nearer, sign * t).distance(stands) for t in np.arange(0.0, 90.01, 0.5)]
    assert leaf_to_post(nearer).value == pytest.approx(min(widths), abs=1e-6)


corner = st.tuples(st.floats(-300.0, 300.0), st.floats(-300.0, 300.0))


@given(
    a=st.tuples(st.floats(5.0, 120.0), st.floats(5.0, 60.0), corner, st.floats(0.0, 360.0)),
    b=st.tuples(st.floats(5.0, 120.0), st.floats(5.0, 60.0), corner, st.floats(0.0, 360.0)),
)
def test_distance_of_outlines_is_that_of_polygons(a, b) -> None:  # type: ignore[no-untyped-def]
    shapes = []
    for wide, high, (x, y), angle in (a, b):
        corners = box_corners(Box(xmin=x, xmax=x + wide, ymin=y, ymax=y + high))
        shapes.append(turn(corners, angle))
    theirs = Polygon(shapes[0]).distance(Polygon(shapes[1]))

    assert isclose(distance(*shapes), theirs, abs_tol=1e-6)


def test_outline_is_the_convex_hull() -> None:
    chance = np.random.default_rng(4)
    points = [(float(x), float(y)) for x, y in chance.normal(size=(60, 2))]
    ours = Polygon(outline(points))

    assert isclose(ours.area, MultiPoint(points).convex_hull.area, rel_tol=1e-12)
    assert ours.exterior.is_ccw
    assert Polygon(disc(3.0, 4.0, 7.0)).contains(MultiPoint([(3.0, 4.0)]).buffer(6.999))
