"""Every constraint on a pair of pivots by plain trigonometry and another geometry library.

Pairs are drawn at random and need not be usable: what is asked is whether the figures are true.
"""

from dataclasses import replace
from functools import cache, partial
from math import acos, cos, degrees, hypot, radians, sin
from types import SimpleNamespace

import numpy as np
import pytest
from shapely import LineString, MultiPoint, Point, Polygon, affinity, box

from hangpost.generators.hardware.ear_room import widest_root
from hangpost.generators.pivots import constraints as c
from hangpost.generators.pivots.pairs import FACETS, Pairs, bracket_moment, root_x
from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Brackets,
    Eye,
    LeafPlan,
    Limits,
    Obstacle,
    PostPlan,
    Problem,
)

SQUARE = PostPlan.square(to_leaf_face=37.0, to_actuator_face=24.0, width=128.0, depth=144.0)
ROUND = PostPlan.round(to_leaf_face=31.0, to_actuator_face=29.0, diameter=121.0)
WALL = Obstacle.between("wall", (930.0, 620.0), (840.0, 760.0))
ANGLES = {"pull": (0.0, 41.0, 93.0), "push": (0.0, -38.0, -93.0)}
GATES = 400
XY = tuple[float, float]


def problem(direction: str = "pull", post: PostPlan = SQUARE) -> Problem:
    return Problem(
        direction=direction,  # type: ignore[arg-type]
        opening=93.0,
        post=post,
        leaf=LeafPlan(
            width=3100.0, thickness=52.0, axis_offset=-7.0, hinge_edge=33.0, rail_from=45.0,
            rail_to=3010.0,
        ),
        actuator=ActuatorPlan(
            retracted=790.0, stroke=310.0, thrust=2900.0, speed=17.0, body_radius=31.0,
            rod_radius=11.0, post_eye=Eye(radius=15.0, thickness=19.0, to_body=46.0),
            leaf_eye=Eye(radius=14.0, thickness=21.0, to_body=71.0),
        ),
        torque=0.0,
        limits=Limits(),
        brackets=Brackets(root_rises=(0.0, 9.0), ear_tip=22.0, seat_half_width=26.0),
        obstacles=(WALL,),
    )  # fmt: skip


def drawn() -> Pairs:
    chance = np.random.default_rng(20)

    def between(low: float, high: float) -> np.ndarray:
        return chance.uniform(low, high, GATES)

    return Pairs(
        px=between(-230.0, 70.0), py=between(35.0, 260.0), gx=between(640.0, 1150.0),
        gy=between(45.0, 140.0),
    )  # fmt: skip


def turned(point: XY, angle: float) -> XY:
    co, si = cos(radians(angle)), sin(radians(angle))
    return co * point[0] - si * point[1], si * point[0] + co * point[1]


def bar(a: XY, b: XY, start: float, end: float, half: float) -> Polygon:
    run = hypot(b[0] - a[0], b[1] - a[1])
    ends = [tuple(p + s * (q - p) / run for p, q in zip(a, b, strict=True)) for s in (start, end)]
    return LineString(ends).buffer(half, cap_style="flat")


def leaf_of(p: Problem, angle: float) -> Polygon:
    leaf = p.leaf
    return affinity.rotate(
        box(leaf.hinge_edge, leaf.back, leaf.width, leaf.face), angle, origin=(0.0, 0.0)
    )


def post_of(p: Problem) -> Polygon:
    o = p.post.outline
    if o.rounding:
        return Point(o.xmin, o.ymin).buffer(o.rounding, quad_segs=128)
    return box(o.xmin, o.ymin, o.xmax, o.ymax)


def every_gate() -> list[tuple[int, XY, XY]]:
    pairs = drawn()
    return [
        (i, (float(pairs.px[i]), float(pairs.py[i])), (float(pairs.gx[i]), float(pairs.gy[i])))
        for i in range(GATES)
    ]


def figures(p: Problem) -> dict[str, np.ndarray]:
    pairs = drawn()
    positions = c.positions_at(pairs, ANGLES[p.direction])
    return {each.name: each.value(p, pairs, positions) for each in c.CONSTRAINTS}


@cache
def figures_of_pull() -> dict[str, np.ndarray]:
    return figures(problem("pull"))


@pytest.mark.parametrize("direction", ANGLES)
def test_lengths_angles_speeds_and_times_are_plain_trigonometry(direction: str) -> None:
    p = problem(direction)
    found, a = figures(p), p.actuator
    for i, post, leaf in every_gate():
        at = [turned(leaf, angle) for angle in ANGLES[direction]]
        lengths = [hypot(x - post[0], y - post[1]) for x, y in at]
        # Leverage is how far off the hinge axis the line of the pins passes.
        arms = [
            (post[0] * y - post[1] * x) / long for (x, y), long in zip(at, lengths, strict=True)
        ]
        opened = [
            degrees(acos((post[0] * x + post[1] * y) / hypot(*post) / hypot(x, y))) for x, y in at
        ]
        spare = min(*(each - a.retracted for each in lengths),
                    *(a.retracted + a.stroke - each for each in lengths))  # fmt: skip
        least = min(-arm for arm in arms)

        assert found["stroke"][i] == pytest.approx(spare)
        assert found["leverage"][i] == pytest.approx(least)
        if least > 0:
            dead = min(min(each, 180.0 - each) for each in opened)
            assert found["dead centre"][i] == pytest.approx(dead)
            assert found["speed"][i] == pytest.approx(a.speed / least * p.leaf.width)
        assert found["time"][i] == pytest.approx((max(lengths) - min(lengths)) / a.speed)
        assert found["leaf reach"][i] == pytest.approx(leaf[1] - p.leaf.face)
        assert found["reach"][i] == pytest.approx(post[1] - p.post.face)
        on = min(leaf[0] - p.leaf.rail_from, p.leaf.rail_to - leaf[0])
        assert found["on the leaf"][i] == pytest.approx(on)


@pytest.mark.parametrize("post", [SQUARE, ROUND], ids=["square", "round"])
@pytest.mark.parametrize("direction", ANGLES)
def test_body_rod_and_pin_keep_the_distances_of_polygons(direction: str, post: PostPlan) -> None:
    p = problem(direction, post)
    found, stands, wall = figures(p), post_of(p), box(840.0, 620.0, 930.0, 760.0)
    apart = 0
    for i, pin, leaf in every_gate():
        gaps, folded = [], []
        for angle in ANGLES[direction]:
            at = turned(leaf, angle)
            long = hypot(at[0] - pin[0], at[1] - pin[1])
            a = p.actuator
            body = bar(pin, at, a.post_eye.to_body, a.retracted - a.leaf_eye.to_body, a.body_radius)
            rod = bar(pin, at, a.retracted - a.leaf_eye.to_body, long, a.rod_radius)
            hinged = affinity.rotate(body, -angle, origin=(0.0, 0.0))
            over = hinged.bounds[1] - p.leaf.face  # the leaf's line goes on past its hinge edge
            gaps += [over, body.distance(stands), body.distance(wall)]
            if long > p.actuator.body_end:
                gaps.append(rod.distance(wall))
            before = box(p.leaf.hinge_edge, -9e3, 9e3, p.leaf.face)  # the pin never goes behind
            folded.append(Point(turned(pin, -angle)).distance(before))
        least = min(gaps)
        if least > 0.0:
            apart += 1
            assert found["body clearance"][i] == pytest.approx(least - FACETS, abs=0.02)
        else:
            assert found["body clearance"][i] < 0.0
        if min(folded) > 0.0:
            assert found["folded clearance"][i] == pytest.approx(min(folded), abs=1e-6)
        if Point(pin).distance(stands) > 0.0:
            room = min(Point(pin).distance(stands), pin[1] - p.post.face)
            assert found["pin room"][i] == pytest.approx(room, abs=0.02)
        left, _, right, _ = stands.bounds
        assert found["overhang"][i] == pytest.approx(max(pin[0] - right, left - pin[0]))
    assert 15 < apart < GATES - 15


@pytest.mark.parametrize("direction", ANGLES)
def test_ears_are_never_nearer_than_they_are_told(direction: str) -> None:
    """The ears as bands about pin and root, body and leaf as polygons: on the safe side always."""
    p = problem(direction)
    a, tip = p.actuator, p.brackets.ear_tip
    found, roots = figures(p)["ear clearance"], root_x(p, drawn().px)
    slim = (a.body_radius**2 - (a.post_eye.thickness / 2) ** 2) ** 0.5
    apart = 0
    for i, pin, leaf in every_gate():
        disc = list(Point(pin).buffer(tip, quad_segs=64).exterior.coords)
        ears = [
            MultiPoint([(roots[i] - tip, p.post.face + rise), (roots[i] + tip, p.post.face + rise), *disc]).convex_hull
            for rise in p.brackets.root_rises
        ]  # fmt: skip
        true = []
        for angle in ANGLES[direction]:
            body = bar(pin, turned(leaf, angle), a.post_eye.to_body, a.body_end, slim)
            true += [ear.distance(other) for ear in ears for other in (body, leaf_of(p, angle))]
        assert found[i] <= min(true) + 0.02, (pin, leaf)
        apart += found[i] > 0.0
    assert apart > 15


@pytest.mark.parametrize("direction", ANGLES)
def test_an_ear_s_middle_is_looked_at_as_far_as_it_is_over_the_leaf(direction: str) -> None:
    """The line from pin to root on the leaf, cut off at the hinge edge less the tip."""
    p, pairs = problem(direction), drawn()
    tip, edge = p.brackets.ear_tip, p.leaf.hinge_edge - p.brackets.ear_tip
    to_x, to_y = root_x(p, pairs.px) - pairs.px, p.post.face - pairs.py
    over = 0
    for angle in ANGLES[direction]:
        (at,) = c.positions_at(pairs, (angle,))
        found = c._ear_to_leaf(p, at, to_x, to_y)
        for i, pin, _ in every_gate():
            root = (pin[0] + float(to_x[i]), p.post.face)
            line = LineString([turned(pin, -angle), turned(root, -angle)])
            part = line.intersection(box(edge, -1e4, 1e4, 1e4))
            if part.is_empty:
                assert found[i] >= edge - line.bounds[2] - 1e-6
            else:
                over += 0.0 < part.length < line.length
                assert found[i] == pytest.approx(part.bounds[1] - p.leaf.face - tip, abs=1e-5)
    assert over > 15


def room_of(p: Problem, pin: XY, bodies: list[Polygon], left: float, right: float) -> float:
    """Least distance from an ear whose root is so wide, 5 mm off the post, to bodies."""
    disc = Point(pin).buffer(p.brackets.ear_tip, quad_segs=64).exterior.coords
    ear = MultiPoint([*((x, p.post.face + 5.0) for x in (left, right)), *disc]).convex_hull
    return min(ear.distance(body) for body in bodies)


def test_an_ear_grows_as_wide_as_the_body_lets_it_and_no_wider_than_it_may() -> None:
    """Polygons over the swing: the clearance is kept, and a mm more on either side would break it."""
    p = problem("pull")
    tip, room, a = p.brackets.ear_tip, p.limits.body_clearance, p.actuator
    angles = np.arange(0.0, 93.5, 1.0)
    grown = 0
    for i, pin, leaf in every_gate():
        if figures_of_pull()["ear clearance"][i] < room or pin[1] < 90.0:
            continue
        middle = float(root_x(p, drawn().px)[i])
        still = SimpleNamespace(
            root=(middle - tip, middle + tip),
            post_face=p.post.face,
            post_pivot=pin,
            leaf_pivot=leaf,
        )
        widest = (middle - (61.0 if i % 2 else tip - 6.0), middle + 44.0)
        low, high = widest_root(p, still, widest, lambda x: 5.0, tip)
        bodies = [
            bar(pin, turned(leaf, t), a.post_eye.to_body, a.body_end, a.body_radius) for t in angles
        ]
        clear = partial(room_of, p, pin, bodies)

        assert widest[0] <= low < high <= widest[1]
        if clear(*still.root) < room + 0.1:
            continue
        assert clear(low, high) >= room - 0.02
        for end, more in ((low, (low - 1.0, high)), (high, (low, high + 1.0))):
            assert end in widest or clear(*more) < room + 0.3
            grown += end not in still.root
    assert grown > 10


def test_the_bracket_is_bent_by_the_thrust_on_its_arm() -> None:
    """Greatest moment about the middle of the root: the area of thrust and arm."""
    p, pairs = problem("pull"), drawn()
    found = bracket_moment(p, pairs, c.positions_at(pairs, ANGLES["pull"]))
    for i, pin, leaf in every_gate():
        arm = np.array(pin) - (float(root_x(p, pairs.px)[i]), p.post.face)
        moments = []
        for angle in ANGLES["pull"]:
            way = np.array(turned(leaf, angle)) - pin
            way = p.actuator.thrust * way / np.hypot(*way)
            moments.append(abs(arm[0] * way[1] - arm[1] * way[0]))
        assert found[i] == pytest.approx(max(moments))


def test_limits_are_told_in_the_sense_in_which_they_are_kept() -> None:
    """At its limit nothing is left of a constraint; a limit made harder leaves less."""
    p, pairs = problem(), drawn()
    harder = replace(p, limits=Limits(margin=30.0, dead_centre=22.0, folded_clearance=140.0, body_clearance=19.0, edge_speed=250.0, swing_time=9.0),
                     torque=1e6)  # fmt: skip
    easy, hard = (c.margins(each, pairs, ANGLES["pull"]) for each in (p, harder))
    changed = {"stroke", "dead centre", "folded clearance", "body clearance", "ear clearance",
               "speed", "time", "leverage"}  # fmt: skip

    for name in easy:
        less = bool(np.all(hard[name] < easy[name]))
        assert less == (name in changed), name
    assert hard["leverage"] == pytest.approx(easy["leverage"] - 1e6 / 2900.0)
