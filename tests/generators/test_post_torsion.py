"""The hanging post: torque about its own axis by bodies cut free, both moments, the latch's share.

Outside: statics of cut bodies, worked here with vectors of our own; ASCE 7-10 Fig. 29.4-1 case B.
"""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.hanging_post import hinge_heights, post_checks
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.loads import storm
from hangpost.generators.judging.post_bar import post_bar
from hangpost.generators.judging.post_torsion import post_axis, torques, torsion_checks
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.of_site import moving_torque
from hangpost.generators.survey.sections import sold, timber
from hangpost.generators.survey.site import Site

from .family import survey
from .judged_gates import SHOP, demo


def on_bench(site: Site) -> Bench:
    design = design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)])
    return bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def by_name(checks, name):
    return next(c for c in checks if c.id.endswith(name))


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_torque_is_that_of_the_bodies_cut_free(toward: str) -> None:
    """Leaf alone: hinges give back the thrust. Post above a cut: moment of pin and hinges."""
    bench = on_bench(survey(toward=toward).site)
    mount, loads = bench.leaf.mount, bench.loads["post"]
    low, high = hinge_heights(bench)
    pin = np.array([*mount.post_pivot, bench.hung.pin_height])
    axis = np.array([*post_axis(bench), 0.0])
    found = torques(bench)
    for row in range(0, len(found), 17):
        if loads.words(row).startswith("survival"):
            continue
        turn = np.radians(loads.angle[row] * (1 if mount.direction == "pull" else -1))
        gx, gy = mount.leaf_pivot
        leaf_pin = np.array(
            [gx * np.cos(turn) - gy * np.sin(turn), gx * np.sin(turn) + gy * np.cos(turn), pin[2]]
        )
        along = (leaf_pin - pin) / np.linalg.norm(leaf_pin - pin)
        thrust = loads.level[row]
        share = (pin[2] - low) / (high - low)  # moments about the lower hinge
        forces = [(pin, -thrust * along), (np.array([0, 0, high]), share * thrust * along),
                  (np.array([0, 0, low]), (1 - share) * thrust * along)]  # fmt: skip
        cut = [
            abs(sum(np.cross(at - axis, force)[2] for at, force in forces if at[2] > z))
            for z in np.linspace(0, 2000, 401)
        ]

        assert found[row] == pytest.approx(max(cut), rel=1e-9)
        foot = sum(np.cross(at - axis, force)[2] for at, force in forces)
        lever = np.interp(loads.angle[row], [abs(p.angle) for p in mount.curve],
                          [p.leverage for p in mount.curve])  # fmt: skip
        assert abs(foot) == pytest.approx(thrust * lever, rel=2e-3)  # what reaches the ground


def test_what_would_do_does() -> None:
    """The post that the warning names carries the torque, and so does the thrust that it names."""
    bench = on_bench(demo())
    check = by_name(torsion_checks(bench), "hanging post torsion")

    assert check.status == "warn"
    assert "8x8" in check.would_do
    bigger = bench.hung.post.model_copy(update={"size": "8x8", "measured": ()})
    assert bigger.width == pytest.approx(7.25 * 25.4)
    assert check.value * bench.reserve < post_bar(bigger).torsion  # and the next smaller does not:
    smaller = bench.hung.post.model_copy(update={"size": "6x6", "measured": ()})
    assert check.value * bench.reserve > post_bar(smaller).torsion
    least = float(check.would_do.rpartition("at most ")[2].split()[0])
    weak = replace(bench, loads={**bench.loads, "post": bench.loads["post"].scaled(least / 650)})
    check = by_name(torsion_checks(weak), "hanging post torsion")
    assert 0.99 < check.utilisation <= 1.0


def test_timber_is_named_as_it_is_sold_where_the_gate_is() -> None:
    """PS 20: a 6x6 is 5 1/2 in; who works in mm reads a size in mm, and the survey takes either."""
    inch, metric = sold("in", 90.0, 130.0), sold("mm", 90.0, 130.0)

    assert [each.size for each in inch[:2]] == ["5x6", "6x6"]
    assert [each.size for each in metric[:3]] == ["100x140 mm", "120x140 mm", "140x140 mm"]
    for each in (*inch, *metric):
        section = timber(each.size, "dressed")
        assert (section.first, section.second) == (each.thick, each.tall)
        assert each.thick > 90.0 and each.tall > 129.0


def test_moments_about_two_axes_add_on_a_square_post_and_not_on_a_pipe() -> None:
    """AISC 360-16 H1.1, NDS 3.9.2: corners see both moments; a circle sees their resultant."""
    square, pipe = (post_bar(survey(post=kind).site.leaves[0].post) for kind in
                    ("square_steel", "round_steel"))  # fmt: skip

    assert square.both_ways(30.0, -40.0) == 70.0
    assert pipe.both_ways(30.0, -40.0) == 50.0


def test_weight_of_the_leaf_bends_the_post_at_the_pin_too() -> None:
    bench = on_bench(demo())
    heavy = bench.hung.leaf.model_copy(update={"mass": bench.hung.leaf.mass * 2})
    light, laden = (
        by_name(post_checks(b), "bending at the pin")
        for b in (bench, replace(bench, hung=replace(bench.hung, leaf=heavy)))
    )
    low, high = hinge_heights(bench)
    hung = bench.hung
    arm = hung.leaf.width / 2 + hung.hinge.to_leaf_face + hung.post.width / 2
    share = (high - hung.pin_height) / (high - low)  # a couple of the hinges, 0 at the upper

    assert laden.value - light.value == pytest.approx(hung.leaf.mass * 9.80665 * arm * share)


@pytest.mark.parametrize(("fill", "share"), [(0.45, 0.5), (0.9, 0.7)])
def test_an_end_of_a_solid_leaf_takes_seven_tenths_of_the_wind(fill: float, share: float) -> None:
    """ASCE 7-10 case B: the force 0.2 of the width off the middle, so 0.7 of it at one end."""
    bench = on_bench(demo().changed({"leaf.fill": fill, "wind.operating": 2000.0}))
    wind = storm(bench.site, bench.hung)
    latch = by_name(post_checks(bench), "latch post bending at the ground")
    keeper = by_name(strength_checks(bench), "lock receiver bolt bearing")

    assert latch.value == pytest.approx(wind.force * share * bench.site.lock.bolt_height)
    assert keeper.value == pytest.approx(wind.force * share)


def test_a_blocked_leaf_pushes_its_post_over() -> None:
    """Statics: torque over the leaf's width at its edge, the same force at the hinges."""
    bench = on_bench(demo())
    strong = bench.hung.actuator.model_copy(update={"thrust": bench.hung.actuator.thrust * 3})
    pushed = replace(bench, hung=replace(bench.hung, actuator=strong))
    hung, leaf = bench.hung, bench.hung.leaf
    check = by_name(post_checks(pushed), "bending at the ground")

    lever = max(point.leverage for point in bench.leaf.mount.curve)
    edge = strong.thrust * 1.25 * lever / leaf.width
    over = edge * (leaf.bottom + leaf.height / 2)
    hangs = leaf.mass * 9.80665 * (leaf.width / 2 + hung.hinge.to_leaf_face + hung.post.width / 2)
    bar = post_bar(hung.post)
    assert "blocks" in check.what
    assert check.value == pytest.approx((over + hangs) / bar.moment)  # CD 1: stalls add up
    weak = bench.hung.actuator.model_copy(update={"thrust": bench.hung.actuator.thrust / 3})
    plain = by_name(
        post_checks(replace(bench, hung=replace(bench.hung, actuator=weak))),
        "bending at the ground",
    )
    assert plain.value == pytest.approx(hangs / bar.moment / 0.9)  # the weight for good


@pytest.mark.parametrize(("post", "fy"), [("round_steel", 240.0), ("square_steel", 315.0)])
def test_a_steel_post_is_twisted_up_to_its_shear_yield(post: str, fy: float) -> None:
    """AISC 360-16 H3.1: 0.6 Fy C / 1.67 of the design wall; of a pipe by J / (D/2), elastic."""
    given = survey(post=post).site.leaves[0].post
    side, wall = float(given.width), 0.93 * float(given.wall_thickness)
    if post == "round_steel":
        inside = side - 2 * wall
        shaft = pi / 32 * (side**4 - inside**4) / (side / 2)
    else:
        shaft = 2 * (side - wall) ** 2 * wall - 4.5 * (4 - pi) * wall**3

    assert post_bar(given).torsion == pytest.approx(0.6 * fy * shaft / 1.67, rel=1e-6)


def test_what_a_soft_post_loses_at_the_latch_edge_is_bow_and_twist() -> None:
    """Beam on two hinges, F a2 b2 / 3 E I L, over the leverage; torque times height over G J."""
    bench = on_bench(demo())
    hung, mount, leaf = bench.hung, bench.leaf.mount, bench.hung.leaf
    bar, (low, high) = post_bar(hung.post), hinge_heights(bench)
    torque = moving_torque(bench.site, hung).total
    a, b = hung.pin_height - low, high - hung.pin_height
    bow = torque / mount.leverage_least * a**2 * b**2
    bow /= 3 * bar.modulus * bar.section.inertia * (a + b)
    twist = torque * hung.pin_height / (bar.shear_modulus * bar.section.torsion)
    check = by_name(torsion_checks(bench), "hanging post lost travel")

    assert check.value == pytest.approx(leaf.width * (bow / mount.leverage_least + twist))
    assert check.limit == pytest.approx(leaf.width / 50)


def test_a_timber_post_is_twisted_as_long_as_the_load_lasts() -> None:
    """NDS 2.3.2: CD on the shear stress, here that of a lasting load."""
    bench = on_bench(demo())
    loads = bench.loads["post"]
    lasting = replace(loads, duration=np.full(len(loads.duration), 0.9))
    check = by_name(
        torsion_checks(replace(bench, loads={**bench.loads, "post": lasting})),
        "hanging post torsion",
    )

    assert check.limit == pytest.approx(0.9 * post_bar(bench.hung.post).torsion / bench.reserve)
