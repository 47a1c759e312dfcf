"""The sweep against closed forms and against the CAD kernel, which measures the true surfaces.

A distance may be told too small by the chord errors of the meshes, never too large by more than
0.01 mm where a closed form is at hand.
"""

from collections.abc import Callable
from math import asin, cos, degrees, floor, hypot, radians, sin
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.generators.clearance import Bodies, Moving, course, sweep
from hangpost.generators.open_stop import kept_until
from hangpost.generators.writers.mesh import meshed
from hangpost.parts.frame import Frame, turned
from hangpost.parts.solids import cylinder

Pose = Callable[[float], Frame]
SWING = [float(a) for a in range(91)]


def still(angle: float) -> Frame:
    return Frame()


def box(name: str, least: Any, greatest: Any, pose: Pose = still, chord: float = 0.0) -> Moving:
    mesh = trimesh.creation.box(bounds=[least, greatest])
    return Moving(name=name, vertices=mesh.vertices, faces=mesh.faces, pose=pose, chord=chord)


def ball(name: str, radius: float, centre: Any, pose: Pose = still) -> Moving:
    mesh = trimesh.creation.icosphere(subdivisions=3, radius=radius)
    mesh.apply_translation(centre)
    return Moving(name=name, vertices=mesh.vertices, faces=mesh.faces, pose=pose)


def outside(x: float, y: float, box: tuple[float, float, float, float]) -> float:
    """How far a point lies outside an upright rectangle."""
    return hypot(max(box[0] - x, x - box[2], 0.0), max(box[1] - y, y - box[3], 0.0))


def test_a_swinging_rectangle_keeps_the_distance_that_plane_geometry_gives() -> None:
    leaf, wall = (0.0, -10.0, 1000.0, 10.0), (400.0, 965.0, 700.0, 1100.0)

    def true(angle: float) -> float:  # two convex figures apart: nearest at a corner of either
        c, s = cos(radians(angle)), sin(radians(angle))
        corners = [(c * x - s * y, s * x + c * y) for x in leaf[::2] for y in leaf[1::2]]
        back = [(c * x + s * y, c * y - s * x) for x in wall[::2] for y in wall[1::2]]
        return min(
            *(outside(x, y, wall) for x, y in corners), *(outside(x, y, leaf) for x, y in back)
        )

    bodies = [
        box("leaf", (leaf[0], leaf[1], 0), (leaf[2], leaf[3], 50), turned),
        box("wall", (wall[0], wall[1], 0), (wall[2], wall[3], 50)),
    ]
    for end in (30.0, 46.5, 54.0, 60.0):
        (row,) = sweep(bodies, [0.0, 25.0, end], [("leaf", "wall")])
        fine = min(true(a * end / 20000) for a in range(20001))
        assert row.least == pytest.approx(fine, abs=0.01)
        assert true(row.at_angle) == pytest.approx(row.least, abs=1e-6)


def test_nearest_in_the_middle_of_a_step_is_found() -> None:
    arm = box("arm", (0, -5, 0), (500, 5, 10), turned)
    post = box("post", (480, 207, 0), (500, 227, 10))

    coarse = min(course(arm, post, [0.0, 20.0, 40.0]))
    (row,) = sweep([arm, post], [0.0, 20.0, 40.0], [("arm", "post")])
    (fine,) = sweep([arm, post], [a / 20 for a in range(801)], [("arm", "post")])
    assert row.least == pytest.approx(fine.least, abs=0.01) and row.least < coarse - 1
    # There are two places as near as each other to 0.001 mm; either will do.
    assert min(course(arm, post, [row.at_angle])) == pytest.approx(fine.least, abs=0.01)


@settings(max_examples=30, deadline=None)
@given(
    r=st.floats(5, 60),
    other=st.floats(5, 60),
    far=st.floats(150, 400),
    at=st.floats(0, 360),
    high=st.floats(-30, 30),
)
def test_two_balls_as_the_closed_form_has_it(
    r: float, other: float, far: float, at: float, high: float
) -> None:
    spot = (far * 1.1 * cos(radians(at)), far * 1.1 * sin(radians(at)), high)
    swinging = ball("swinging", r, (far, 0, 0), turned)
    resting = ball("resting", other, spot)
    true = min(
        hypot(far * cos(radians(a)) - spot[0], far * sin(radians(a)) - spot[1], high)
        for a in np.linspace(0, 90, 9001)
    )
    gap = true - r - other

    (row,) = sweep([swinging, resting], SWING, [("swinging", "resting")])
    facets = 0.005 * (r + other) + 0.02  # an icosphere of 1280 faces lies so far inside at most
    if gap > 0:
        assert gap - 0.01 <= row.least <= gap + facets
        assert not row.fouls
    elif gap < -facets:
        assert row.least == 0 and row.fouls


def test_least_agrees_with_the_cad_kernel_on_round_things() -> None:
    import cadquery as cq

    rail = cylinder((0, 0, -300), (0, 0, 1), 21.2, 600)
    rod = cylinder((-200, 60, 0), (1, 0, 0.3), 14.0, 400)
    meshes = [meshed(rail), meshed(rod)]
    bodies = [
        Moving(name=n, vertices=m.vertices, faces=m.faces, pose=still, chord=m.chord)
        for n, m in zip(("rail", "rod"), meshes, strict=True)
    ]
    true = cq.Shape.distance(rail, rod)

    (row,) = sweep(bodies, [0.0], [("rail", "rod")])
    assert true - 0.2 <= row.least <= true  # two chords of 0.05 taken off, never more than true


def test_chord_errors_are_taken_off() -> None:
    a = box("a", (0, 0, 0), (10, 10, 10), chord=0.05)
    b = box("b", (13, 0, 0), (20, 10, 10), chord=0.02)

    (row,) = sweep([a, b], [0.0], [("a", "b")])
    assert row.least == pytest.approx(3 - 0.07)


def test_a_body_in_the_way_is_found_with_its_overlap() -> None:
    leaf = box("leaf", (0, -10, 0), (1000, 10, 50), turned)
    peg = box("peg", (500, 500, 0), (520, 520, 50))

    (row,) = sweep([leaf, peg], SWING, [("leaf", "peg")])
    assert row.fouls and row.least == 0
    assert 40 <= row.at_angle <= 50
    # 20 mm wide leaf over a 20 mm square peg on its corner: never more than the whole peg.
    assert 0.8 * 20 * 20 * 50 < row.overlap <= 20 * 20 * 50 + 1e-6


def test_a_thin_thing_that_a_step_jumps_over_is_found() -> None:
    leaf = box("leaf", (3000, -1, 0), (3400, 1, 50), turned)
    wire = box(
        "wire",
        (3300 * cos(radians(30.5)), 3300 * sin(radians(30.5)), 0),
        (3300 * cos(radians(30.5)) + 2, 3300 * sin(radians(30.5)) + 2, 50),
    )
    at_steps = course(leaf, wire, SWING)

    (row,) = sweep([leaf, wire], SWING, [("leaf", "wire")])
    assert min(at_steps) > 10
    assert row.fouls


def test_a_thing_jumped_over_is_found_although_another_place_looks_nearer() -> None:
    leaf = box("leaf", (3000, -1, 0), (3400, 1, 50), turned)
    x, y = 3300 * cos(radians(30.5)), 3300 * sin(radians(30.5))
    wire = trimesh.creation.box(bounds=[(x, y, 0), (x + 2, y + 2, 50)])
    block = trimesh.creation.box(bounds=[(-40, 3405, 0), (40, 3500, 50)])  # 5 mm past the tip
    both = trimesh.util.concatenate([wire, block])
    fence = Moving(name="fence", vertices=both.vertices, faces=both.faces, pose=still)

    gaps = course(leaf, fence, SWING)
    (row,) = sweep([leaf, fence], SWING, [("leaf", "fence")])
    assert min(gaps) == pytest.approx(5, abs=0.01) and gaps.index(min(gaps)) > 80
    assert row.fouls and row.at_angle == pytest.approx(30.5, abs=0.1)


def test_a_body_within_another_is_found_although_their_surfaces_never_meet() -> None:
    shell = box("shell", (-50, -50, -50), (50, 50, 50))
    core = box("core", (-5, -5, -5), (5, 5, 5), turned)

    (row,) = sweep([shell, core], SWING, [("shell", "core")])
    assert row.fouls and row.overlap == pytest.approx(1000)


def test_a_pin_in_the_bore_of_a_tube_is_no_overlap() -> None:
    tube = trimesh.creation.annulus(r_min=40, r_max=50, height=100)
    pin = box("pin", (-5, -5, -20), (5, 5, 20), turned)
    body = Moving(name="tube", vertices=tube.vertices, faces=tube.faces, pose=still)

    (row,) = sweep([body, pin], SWING, [("tube", "pin")])
    assert row.overlap == 0 and not row.fouls
    assert row.least == pytest.approx(40 - hypot(5, 5), abs=0.2)


def test_touching_by_design_is_no_fault_but_penetration_is() -> None:
    post = box("post", (0, 0, 0), (100, 100, 500))
    seat = box("seat", (10, 100, 100), (90, 106, 300))
    deep = box("deep", (10, 99, 100), (90, 106, 300))
    pairs = [("post", "seat"), ("post", "deep")]

    good, bad = sweep([post, seat, deep], SWING, pairs, touching=pairs)
    assert not good.fouls and good.touching and good.overlap == pytest.approx(0, abs=1e-6)
    assert bad.fouls and bad.overlap == pytest.approx(80 * 200)
    (untold,) = sweep([post, seat], SWING, [("post", "seat")])
    assert untold.fouls  # nobody said that the two may touch


def test_touching_may_be_told_in_either_order() -> None:
    post = box("post", (0, 0, 0), (100, 100, 500))
    seat = box("seat", (10, 100, 100), (90, 106, 300))

    (row,) = sweep([post, seat], SWING, [("seat", "post")], touching=[("post", "seat")])
    assert row.touching and not row.fouls


def test_nothing_changes_when_the_whole_scene_is_moved_or_the_pair_turned_round() -> None:
    def placed(pose: Pose) -> Pose:
        return lambda angle: turned(25, (7000, -3000, 400)).after(pose(angle))

    leaf, post = ((0, -10, 0), (1000, 10, 50)), ((300, 700, 10), (340, 760, 40))
    (here,) = sweep([box("l", *leaf, turned), box("p", *post)], SWING, [("l", "p")])
    (there,) = sweep(
        [box("l", *leaf, placed(turned)), box("p", *post, placed(still))], SWING, [("l", "p")]
    )
    (round_,) = sweep([box("l", *leaf, turned), box("p", *post)], SWING, [("p", "l")])
    assert there.least == pytest.approx(here.least, abs=1e-6) and there.overlap == pytest.approx(
        here.overlap, rel=1e-6
    )
    assert round_.least == pytest.approx(here.least, abs=0.01)


def test_two_that_move_as_one_are_looked_at_once() -> None:
    calls = []

    def counted(angle: float) -> Frame:
        calls.append(angle)
        return turned(angle)

    a, b = box("a", (0, 0, 0), (10, 10, 10), counted), box("b", (15, 0, 0), (20, 10, 10), turned)
    (row,) = sweep([a, b], SWING, [("a", "b")])
    assert row.least == pytest.approx(5) and row.at_angle == 0
    assert len(calls) == len(SWING) + 1  # placed at every angle, measured at one


def test_meshes_that_would_read_as_nothing_are_refused() -> None:
    good = trimesh.creation.box((10, 10, 10))
    still_box = box("b", (20, 0, 0), (30, 10, 10))
    for faces in (good.faces[1:], good.faces[:, ::-1]):
        bad = Moving(name="bad", vertices=good.vertices, faces=faces, pose=still)
        with pytest.raises(ValueError, match="bad"):
            sweep([bad, still_box], SWING, [("bad", "b")])


def test_a_leaf_is_told_how_far_it_may_open_before_it_comes_too_near() -> None:
    """A bar of 1 m turning to a ball of 50 mm at 75 degrees: sin of the angle between them tells."""
    at, radius, limit = radians(75.0), 50.0, 100.0
    bar = box("bar", (0, -10, 0), (1000, 10, 20), turned)
    mark = ball("mark", radius, (500 * cos(at), 500 * sin(at), 10))
    away = asin((radius + 10 + limit) / 500)

    last = kept_until(Bodies([bar, mark]), ("bar", "mark"), SWING, limit)
    assert last == floor(degrees(at - away))
    assert kept_until(Bodies([bar, mark]), ("bar", "mark"), SWING[60:], limit) is None
