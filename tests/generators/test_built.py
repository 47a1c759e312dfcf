"""Gates built with errors, held against a fitter's steps: root finding and polygons."""

from dataclasses import replace
from math import cos, hypot, isclose, radians, sin

import numpy as np
import pytest
from scipy.optimize import brentq
from shapely import Polygon, box

from hangpost.generators.pivots.built import Errors, built
from hangpost.generators.pivots.linear import propagate
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import FACETS
from hangpost.generators.pivots.problem import Problem

from .unsure_gates import TOWARD, off, pair_of, solved

XY = tuple[float, float]


def turned(point: XY, angle: float) -> XY:
    c, s = cos(radians(angle)), sin(radians(angle))
    return c * point[0] - s * point[1], s * point[0] + c * point[1]


def by_hand(problem: Problem, mount: Mount, e: dict[str, float]) -> dict[str, float]:
    """One gate built step by step as a fitter would, the tie found by root finding."""
    outline, leaf, actuator = problem.post.outline, problem.leaf, problem.actuator
    # The post stands where it stands; the hinge is not where the tape said.
    edge = outline.xmax - e["hinge.to_leaf_face"]
    face = outline.ymax + e["hinge.to_actuator_face"]
    across = mount.post_pivot[0] - outline.xmax
    across += e["template on the post's edge"] + e["holes in the post"] + e["post bracket, across"]
    out = mount.post_pivot[1] - outline.ymax + e["post bracket, reach"] + e["seat on the post"]
    pin = turned((across, out), e["post face square to the leaf"])
    post_pin = (edge + pin[0], face + pin[1])
    thick = leaf.thickness + e["leaf.thickness"]
    middle = leaf.axis_offset + e["leaf.axis_offset"]
    leaf_face = middle + thick / 2.0
    gy = leaf_face + mount.leaf_reach + e["leaf bracket, reach"]
    retracted = actuator.retracted + e["actuator.retracted"]
    opened = (problem.opening if problem.direction == "pull" else -problem.opening) + e[
        "leaf set open"
    ]
    closed = e["leaf set closed"]
    tied_at, far_at = (opened, closed) if problem.direction == "pull" else (closed, opened)

    def length(gx: float, angle: float) -> float:
        x, y = turned((gx, gy), angle)
        return hypot(x - post_pin[0], y - post_pin[1])

    wanted = retracted + problem.limits.margin + e["spare when the leaf is tied"]
    gx = brentq(lambda x: length(x, tied_at) - wanted, 500.0, 1500.0, xtol=1e-11)
    far = length(gx, far_at) + e["pins in their holes"]
    stroke = retracted + actuator.stroke + e["actuator.stroke"] - far
    post = box(
        edge - (outline.xmax - outline.xmin), face - (outline.ymax - outline.ymin), edge, face
    )
    gaps = []
    for angle in (tied_at, far_at):
        a, b = post_pin, turned((gx, gy), angle)
        run = hypot(b[0] - a[0], b[1] - a[1])
        ux, uy = (b[0] - a[0]) / run, (b[1] - a[1]) / run
        start, end = actuator.post_eye.to_body, retracted - actuator.leaf_eye.to_body
        r = actuator.body_radius
        body = Polygon(
            [
                (a[0] + s * ux - w * uy, a[1] + s * uy + w * ux)
                for s, w in ((start, r), (end, r), (end, -r), (start, -r))
            ]
        )
        door = [(-5000.0, leaf_face - thick), (5000.0, leaf_face - thick)]
        door += [(5000.0, leaf_face), (-5000.0, leaf_face)]
        gaps += [body.distance(Polygon([turned(c, angle) for c in door])), body.distance(post)]
    # Leverage by its definition: how fast the length changes with the angle.
    step = 1e-4
    arms = [
        abs(length(gx, a + step) - length(gx, a - step)) / radians(2.0 * step)
        for a in (tied_at, far_at)
    ]
    return {
        "stroke": stroke,
        "along the leaf": gx,
        "body clearance": min(gaps) - FACETS,
        "leverage": min(arms),
    }


@pytest.mark.parametrize("toward", TOWARD)
def test_200_gates_built_by_hand_come_out_the_same(toward: str) -> None:
    site, problem, mount = solved(toward)
    listed = off(problem, site)
    chance = np.random.default_rng(7)
    values = {s.name: 2.0 * s.sd * chance.standard_normal(200) for s in listed}
    ours = built(problem, pair_of(mount), Errors(sources=listed, values=values)).figures

    for gate in range(200):
        theirs = by_hand(problem, mount, {name: float(v[gate]) for name, v in values.items()})
        for name, value in theirs.items():
            assert isclose(float(ours[name][gate]), value, abs_tol=1e-4), (gate, name)


@pytest.mark.parametrize("toward", TOWARD)
def test_gate_without_errors_is_the_drawn_one(toward: str) -> None:
    _, problem, mount = solved(toward)
    figures = built(problem, pair_of(mount), Errors(sources=(), values={})).figures
    rows = {row.name: row.value for row in mount.rows}

    assert isclose(float(figures["stroke"][0]), mount.margin_extended, abs_tol=1e-9)
    assert isclose(float(figures["along the leaf"][0]), mount.leaf_pivot[0], abs_tol=1e-9)
    assert isclose(float(figures["leverage"][0]), mount.leverage_least, abs_tol=1e-9)
    for name in ("folded clearance", "dead centre"):
        assert isclose(float(figures[name][0]), rows[name], abs_tol=1e-6)


@pytest.mark.parametrize("toward", TOWARD)
def test_tied_end_takes_up_what_went_before_and_the_far_end_does_not(toward: str) -> None:
    site, problem, mount = solved(toward)
    straight = propagate(problem, pair_of(mount), off(problem, site))
    names = [s.name for s in straight.sources]
    # Along the actuator when it is tied: square to the open leaf, along the closed one.
    hinge = names.index(f"hinge.to_{'actuator' if toward == 'actuator' else 'leaf'}_face")

    assert abs(straight.slopes["tied length"][hinge, 0]) < 1e-9
    assert abs(straight.slopes["along the leaf"][hinge, 0]) > 0.3
    assert abs(straight.slopes["far length"][hinge, 0]) > 0.3


def test_existing_leaf_pivot_takes_up_nothing() -> None:
    site, problem, mount = solved("actuator")
    held = replace(problem, fixed=replace(problem.fixed, gx=mount.leaf_pivot[0]))
    straight = propagate(held, pair_of(mount), off(held, site))
    hinge = [s.name for s in straight.sources].index("hinge.to_actuator_face")

    assert abs(straight.slopes["tied length"][hinge, 0]) > 0.3
