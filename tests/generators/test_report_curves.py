"""What moves on the report page: meshes, swept areas and curves, against closed forms and polygons."""

import re
from base64 import b64decode
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy.constants import inch, pound_force
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.solve import solve
from hangpost.generators.report.curves import Curve, curves
from hangpost.generators.report.figures import shown
from hangpost.generators.report.moving import moving
from hangpost.generators.report.plan import plan_view
from hangpost.generators.survey.units import Units

from .report_made import EVIL, Made


def test_meshes_of_the_page_hold_the_volume_of_their_solids(report: Made) -> None:
    leaf = report.design.leaves[0]
    data = moving(report.design, report.shelf.mesh)
    own = {placed.name: placed.for_hand(leaf.hand).item for placed in leaf.placed}

    assert len(data["pieces"]) == len(leaf.placed)
    for piece in data["pieces"]:
        kind = "<u4" if piece["wide"] else "<u2"
        counted = np.frombuffer(b64decode(piece["corners"]), "<u2").reshape(-1, 3)
        points = np.array(piece["low"]) + np.array(piece["span"]) * counted / 65535
        faces = np.frombuffer(b64decode(piece["triangles"]), kind).reshape(-1, 3)
        a, b, c = (points[faces[:, k]] for k in range(3))
        volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6

        # Corners are rounded to 1/65535 of the box.
        assert volume == pytest.approx(report.shelf.solid(own[piece["name"]]).Volume(), rel=5e-3)


def test_area_swept_in_plan_is_what_shapely_finds(report: Made) -> None:
    leaf = report.design.leaves[0]
    view = plan_view(report.design, report.shelf.mesh)
    path = re.search(r'class="ps swept-leaf" d="([^"]+)"', view.scene)
    assert path
    rings = [
        [tuple(map(float, pair.split())) for pair in ring.split("L")]
        for ring in re.findall(r"M([^Z]+)Z", path[1])
    ]
    drawn = sum(signed(ring) for ring in rings)
    box = report.shelf.solid(next(p for p in leaf.placed if p.name == "leaf").item).BoundingBox()
    closed = Polygon(
        [(box.xmin, box.ymin), (box.xmax, box.ymin), (box.xmax, box.ymax), (box.xmin, box.ymax)]
    )
    angles = np.linspace(0, leaf.mount.opening, 400)
    swept = unary_union([affinity.rotate(closed, a, origin=(0, 0)) for a in angles])

    # The brackets on the leaf sweep a little beside it.
    assert abs(drawn) == pytest.approx(swept.area, rel=0.01)
    assert abs(drawn) >= swept.area * 0.999


def signed(ring: list[tuple[float, ...]]) -> float:
    return sum(
        (x0 * y1 - x1 * y0) / 2
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def drawn(curve: Curve) -> list[tuple[float, float]]:
    """The line of a curve read back from its drawing: opening angle and value."""
    path = re.search(r'class="line" d="([^"]+)"', curve.svg)
    assert path
    (x0, x1), (y0, y1) = curve.frame["x"], curve.frame["y"]
    points = [tuple(map(float, p.split())) for p in re.split("[ML]", path[1])[1:]]
    return [
        (
            (x - x0) / (x1 - x0) * curve.frame["opening"],
            (y - y0) / (y1 - y0) * curve.frame["top"],
        )
        for x, y in points
    ]


def bare(problem: Problem, hand: str = "right") -> LeafDesign:
    """A leaf with its pivots and nothing on it."""
    return LeafDesign(
        name="",
        hand="left" if hand == "left" else "right",
        problem=problem,
        mount=solve(problem),
        placed=(),
        templates=(),
        bought=(),
    )


# From scipy.constants, which holds CODATA's and NIST's factors: metres and newtons in one unit.
IN_MM, IN_N = {"mm": 1.0, "in": inch * 1e3}, {"mm": 1.0, "in": pound_force}


@pytest.mark.parametrize("direction", ["pull", "push"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_curves_agree_with_each_other_by_virtual_work(
    gate: Callable[..., Problem], direction: str, units: Units
) -> None:
    # Power in = power out at every angle: thrust x pin speed = edge force x edge speed, and the
    # pin force times the leverage is the torque, which is the same at every angle.
    leaf = bare(gate(direction=direction, opening=90.0))
    found = {curve.key: drawn(curve) for curve in curves(leaf, units)}
    long, strong = IN_MM[units], IN_N[units]
    actuator, width = leaf.problem.actuator, leaf.problem.leaf.width / long
    work = [
        f * r * strong * long
        for (_, f), (_, r) in zip(found["pin_force"], found["leverage"], strict=True)
    ]
    power = [
        force * np.radians(speed) * width * strong * long
        for (_, force), (_, speed) in zip(found["edge_force"], found["leaf_speed"], strict=True)
    ]

    assert [a for a, _ in found["leverage"]] == pytest.approx(
        np.linspace(0, 90, len(work)), abs=0.05
    )
    # A tenth of a pixel on a drawing 174 pixels high.
    assert work == pytest.approx([leaf.problem.torque] * len(work), rel=5e-3)
    assert power == pytest.approx([actuator.thrust * actuator.speed] * len(power), rel=5e-3)


def test_curves_stand_in_the_readers_unit_and_tell_the_script_what_to_divide_by(
    gate: Callable[..., Problem],
) -> None:
    found = {curve.key: curve for curve in curves(bare(gate()), "in")}

    assert {key: curve.unit for key, curve in found.items()} == {
        "leverage": "in", "pin_force": "lbf", "leaf_speed": "\u00b0/s", "edge_force": "lbf",
    }  # fmt: skip
    assert found["leverage"].frame["per"] == pytest.approx(inch * 1e3)
    assert found["edge_force"].frame["per"] == pytest.approx(pound_force)
    assert found["leaf_speed"].frame["per"] == 1.0
    assert ">in</text>" in found["leverage"].svg and " in" in found["leverage"].summary


def test_curve_says_its_ends_in_words(gate: Callable[..., Problem]) -> None:
    leverage, *_ = curves(bare(gate()), "mm")

    assert shown(leverage.values[0]) in leverage.summary
    assert "needed to move the leaf" in leverage.svg
    assert "<script" not in replace(leverage, title=EVIL).svg
