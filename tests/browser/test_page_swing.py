"""The gate on the page swings: slider, play, plan, curves and figures follow each other."""

import json
import math
from collections.abc import Callable
from typing import Any

import pytest

from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.pack import Pack
from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.solve import solve
from hangpost.generators.report.moving import motion
from hangpost.parts.bodies import Body
from hangpost.parts.frame import Frame

from .opened import Open

Gate = Callable[..., Problem]

TURN = """name => {
    hangpost.scene.updateMatrixWorld(true);
    const found = hangpost.scene.getObjectByName(name).matrixWorld.elements;
    return [Math.atan2(found[1], found[0]) * 180 / Math.PI, found[12], found[13], found[14]];
}"""


@pytest.mark.parametrize("step", [0, 1, 77, 133, 200])
def test_slider_swings_the_leaf_to_the_angle_that_is_shown(
    visit: Open, pack: Pack, step: int
) -> None:
    page = visit().page
    page.evaluate(
        """step => {
            const slider = document.getElementById("opening");
            slider.value = step;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        }""",
        step,
    )
    told = float(page.inner_text("#opening-shown").rstrip("\u00b0"))
    turn, x, y, z = page.evaluate(TURN, "leaf")
    mount = pack.design.leaves[0].mount

    assert told == pytest.approx(mount.opening * step / 200, abs=0.051)
    assert turn == pytest.approx(mount.opening * step / 200, abs=1e-6)
    assert (x, y, z) == pytest.approx((0, 0, 0), abs=1e-9)
    assert f"{told:.1f}" in page.get_attribute("#opening", "aria-valuetext")


def test_slider_and_play_work_from_the_keyboard(visit: Open, pack: Pack) -> None:
    page = visit().page
    page.focus("#opening")
    page.keyboard.press("End")
    opened = page.evaluate(TURN, "leaf")[0]
    page.keyboard.press("ArrowLeft")
    less = page.evaluate(TURN, "leaf")[0]
    page.focus("#play")
    page.keyboard.press("Enter")
    page.wait_for_timeout(500)
    pressed = page.get_attribute("#play", "aria-pressed")
    page.keyboard.press("Enter")
    stopped = page.evaluate(TURN, "leaf")[0]
    page.wait_for_timeout(300)

    assert opened == pytest.approx(pack.design.leaves[0].mount.opening, abs=1e-6)
    assert less == pytest.approx(opened * 199 / 200, abs=1e-6)
    assert pressed == "true"
    assert stopped != pytest.approx(less, abs=0.5)
    assert page.get_attribute("#play", "aria-pressed") == "false"
    assert page.evaluate(TURN, "leaf")[0] == stopped


def test_everything_in_the_scene_stands_where_the_design_says(visit: Open, pack: Pack) -> None:
    page = visit().page
    leaf = pack.design.leaves[0]
    for share in (0.0, 0.123, 0.5, 0.875, 1.0):
        angle = leaf.mount.curve[-1].angle * share
        page.evaluate("share => hangpost.show(share)", share)
        for placed in leaf.placed:
            turn, x, y, z = page.evaluate(TURN, placed.name)
            frame = leaf.pose(placed.rides, angle)

            assert (x, y, z) == pytest.approx(frame.origin, abs=0.01)
            assert math.cos(math.radians(turn)) == pytest.approx(frame.u[0], abs=1e-6)
            assert math.sin(math.radians(turn)) == pytest.approx(frame.u[1], abs=1e-6)


def test_plan_moves_with_the_scene(visit: Open, pack: Pack) -> None:
    page = visit().page
    leaf = pack.design.leaves[0]
    page.evaluate("hangpost.show(0.6)")
    angle = leaf.mount.curve[-1].angle * 0.6
    found = page.evaluate(
        """() => [...document.querySelectorAll("#plan-scene > g[data-rides]")].map(group => {
            const m = group.transform.baseVal.consolidate().matrix;
            return [group.dataset.rides, m.a, m.b, m.e, m.f];
        })"""
    )

    assert {rides for rides, *_ in found} == {"ground", "leaf", "tube", "rod"}
    for rides, a, b, e, f in found:
        frame = leaf.pose(rides, angle)
        assert (a, -b) == pytest.approx(frame.u[:2], abs=1e-5)
        assert (e, -f) == pytest.approx(frame.origin[:2], abs=0.01)


def test_pins_stay_in_their_eyes_over_the_swing(visit: Open, pack: Pack) -> None:
    # Whatever the formulas: the rod's pin rides on the leaf, the tube points at it.
    page = visit().page
    found = page.evaluate(
        """() => Array.from({ length: 50 }, (_, k) => {
            const leaf = hangpost.gate.leaves[0], angle = leaf.open * k / 49;
            const [tube, rod, on] = ["tube", "rod", "leaf"].map(r => hangpost.standing(leaf, r, angle));
            return [tube.x, tube.y, tube.turn, rod.x, rod.y, rod.turn, on.turn];
        })"""
    )
    gx, gy = pack.design.leaves[0].mount.leaf_pivot
    for tx, ty, turn, rx, ry, rod_turn, leaf_turn in found:
        c, s = math.cos(math.radians(leaf_turn)), math.sin(math.radians(leaf_turn))
        assert (rx, ry) == pytest.approx((c * gx - s * gy, s * gx + c * gy), abs=1e-6)
        assert turn == pytest.approx(rod_turn)
        assert math.degrees(math.atan2(ry - ty, rx - tx)) == pytest.approx(turn, abs=1e-6)


def nothing_on_it(problem: Problem, hand: Any, shift: float) -> LeafDesign:
    """A gate, left or right, with nothing on it."""
    return LeafDesign(
        name="",
        hand=hand,
        problem=problem,
        mount=solve(problem),
        placed=(),
        templates=(),
        bought=(),
        shift=shift,
    )


@pytest.mark.parametrize("direction", ["pull", "push"])
@pytest.mark.parametrize(("hand", "shift"), [("right", 0.0), ("left", 6543.25)])
def test_motion_in_the_page_is_the_motion_in_python(
    visit: Open, gate: Gate, direction: str, hand: str, shift: float
) -> None:
    """CLI-06: what the page reckons is what Python reckons."""
    leaf = nothing_on_it(gate(direction=direction, opening=90.0), hand, shift)
    page = visit(solid=False).page
    count = 37
    angles = [leaf.mount.curve[-1].angle * k / (count - 1) for k in range(count)]
    found = page.evaluate(
        """([leaf, angles]) => angles.map(angle => ({
            state: hangpost.state(leaf, angle),
            places: ["ground", "leaf", "tube", "rod"].map(r => hangpost.standing(leaf, r, angle)),
        }))""",
        [motion(leaf), angles],
    )
    corner = (123.0, -45.0, 67.0)
    for angle, here in zip(angles, found, strict=True):
        for rides, place in zip(("ground", "leaf", "tube", "rod"), here["places"], strict=True):
            # A left-hand thing is given mirrored: its corner too has its x turned round.
            own = Placed(name="x", item=Body("x", ()), frame=Frame(corner), rides=rides)  # type: ignore[arg-type]
            wanted = leaf.standing(own, angle).origin
            u, v, w = corner if hand == "right" else (-corner[0], *corner[1:])
            c, s = math.cos(math.radians(place["turn"])), math.sin(math.radians(place["turn"]))
            stands = (c * u - s * v + place["x"], s * u + c * v + place["y"], w)
            assert stands == pytest.approx(wanted, abs=0.01)
        pivots = (*leaf.mount.post_pivot, *leaf.mount.leaf_pivot)
        assert here["state"]["length"] == pytest.approx(
            float(kinematics.length(*pivots, angle)), abs=1e-6
        )
        assert here["state"]["leverage"] == pytest.approx(
            float(kinematics.leverage(*pivots, angle)), abs=1e-6
        )


def test_figures_at_the_slider_are_those_of_pack_json(visit: Open, pack: Pack) -> None:
    page = visit(solid=False).page
    curve = json.loads(pack.files["pack.json"])["mount"]["curve"]
    for k in (0, len(curve) // 3, len(curve) - 1):
        page.evaluate("share => hangpost.show(share)", k / (len(curve) - 1))
        told = {
            key: float(page.inner_text(f"output[data-reading={key}]:not([data-per])"))
            for key in ("angle", "length", "leverage", "edge_speed")
        }
        assert told["angle"] == pytest.approx(abs(curve[k]["angle"]), abs=0.051)
        assert told["length"] == pytest.approx(curve[k]["length"], abs=0.051)
        assert told["leverage"] == pytest.approx(curve[k]["leverage"], abs=0.051)
        assert told["edge_speed"] == pytest.approx(curve[k]["edge_speed"], abs=0.51)
        inch = {
            key: float(page.inner_text(f"output[data-reading={key}][data-per]"))
            for key in ("length", "leverage", "edge_speed", "pin_force")
        }
        newton = float(page.inner_text("output[data-reading=pin_force]:not([data-per])"))
        assert inch["length"] == pytest.approx(curve[k]["length"] / 25.4, abs=0.0051)
        assert inch["leverage"] == pytest.approx(curve[k]["leverage"] / 25.4, abs=0.0051)
        assert inch["edge_speed"] == pytest.approx(curve[k]["edge_speed"] / 25.4, abs=0.051)
        assert inch["pin_force"] == pytest.approx(newton / 4.4482216, abs=0.62)  # NIST SP 811


def test_mark_on_each_curve_lies_on_its_line(visit: Open) -> None:
    page = visit(solid=False).page
    for share in (0.0, 0.37, 1.0):
        page.evaluate("share => hangpost.show(share)", share)
        off = page.evaluate(
            """() => [...document.querySelectorAll("figure[data-curve]")].map(figure => {
                const line = figure.querySelector(".line");
                const m = figure.querySelector(".cursor circle").transform.baseVal.consolidate().matrix;
                let least = 1e9;
                for (let k = 0; k <= 4000; k++) {
                    const p = line.getPointAtLength(line.getTotalLength() * k / 4000);
                    least = Math.min(least, Math.hypot(p.x - m.e, p.y - m.f));
                }
                return least;
            })"""
        )
        assert len(off) == 4
        assert max(off) < 0.2  # pixels of the drawing
