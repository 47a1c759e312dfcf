"""As built, judged again: the swing and the strength where the pins really are."""

from collections.abc import Callable
from functools import cache
from math import hypot

import pytest

from hangpost.generators.asbuilt import as_built, drawn_leaf
from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.remedies import placed as pins_at
from hangpost.generators.shelf import Shelf
from hangpost.generators.slipped import AsBuilt
from hangpost.generators.standing import belongs, newly_failing, rejudged, standing
from hangpost.generators.survey.measured import Measured
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import starter
from hangpost.parts.part import Part

SHOP = Shop()
SHELF = Shelf()


@cache
def drawn() -> tuple[LeafDesign, Callable[[LeafDesign], tuple[Check, ...]]]:
    site = site_from_bytes(starter(units="mm").encode())
    hung, design = drawn_leaf(site, SHOP, Measured(), "m.toml")
    return design, lambda leaf: rejudged(site, SHOP, hung, leaf, SHELF)


def built(moved: tuple[float, float]) -> AsBuilt:
    design, judge = drawn()
    measured = Measured.read({"post_pivot_moved": list(moved)}, "mm")
    return as_built(measured, design, SHOP, joint_tilt=5.0, file="m.toml", judge=judge)


def test_brackets_go_with_their_pins_and_nothing_else_moves() -> None:
    design, _ = drawn()
    mount, (dx, dy) = design.mount, (7.0, -3.0)
    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    now = pins_at(design.problem, mount, (px + dx, py + dy), (gx + 5.0, gy))
    moved = standing(design, now, (dx, dy))
    for was, each in zip(design.placed, moved.placed, strict=True):
        far = {"post": (dx, dy), "leaf": (5.0, 0.0)}.get(belongs(was), (0.0, 0.0))
        if isinstance(was.item, Part):
            holes = [(a, b) for a, b in zip(was.item.bores, each.item.bores, strict=True)]  # type: ignore[union-attr]
            pairs = [(was.frame.point(a.origin), each.frame.point(b.origin)) for a, b in holes]
        else:
            pairs = [(was.frame.origin, each.frame.origin)]
        for before, after in pairs:
            assert after[0] - before[0] == pytest.approx(far[0], abs=1e-9), was.name
            assert after[1] - before[1] == pytest.approx(far[1], abs=1e-9), was.name
            assert after[2] == pytest.approx(before[2], abs=1e-9)
    # The pin's bores are on the pin, so the sheets' own check of fit would pass as it did.
    bores = [
        placed.frame.point(bore.origin)
        for placed in moved.placed
        if isinstance(placed.item, Part) and placed.rides == "ground"
        for bore in placed.item.bores
        if bore.hole.use == "pin"
    ]
    assert bores
    assert all(hypot(x - px - dx, y - py - dy) < 1e-6 for x, y, _ in bores)


def test_fasteners_go_with_the_bracket_that_they_hold() -> None:
    design, _ = drawn()
    mount, (dx, dy) = design.mount, (7.0, -3.0)
    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    moved = standing(
        design, pins_at(design.problem, mount, (px + dx, py + dy), (gx + 5.0, gy)), (dx, dy)
    )
    for was, each in zip(design.fixings, moved.fixings, strict=True):
        far = {"post": (dx, dy, 0.0), "leaf": (5.0, 0.0, 0.0)}[was.name]
        for (_, before), (_, after) in zip(was.holes, each.holes, strict=True):
            a = was.seat.point((before.u, before.v, 0.0))
            b = each.seat.point((after.u, after.v, 0.0))
            assert [q - p for p, q in zip(a, b, strict=True)] == pytest.approx(far, abs=1e-9)


def test_a_gate_as_drawn_is_judged_as_it_was() -> None:
    design, judge = drawn()
    still = standing(design, design.mount, (0.0, 0.0))

    assert judge(still) == judge(design)
    assert built((0.0, 0.0)).failing == ()


def test_a_slip_that_makes_the_arm_foul_is_found_though_its_pivots_keep_every_limit() -> None:
    # The further out the ears stand, the nearer the arm comes to them as it folds.
    design, judge = drawn()
    pair = "clearance: actuator body / post-bracket-lower"
    room = {check.id: check.value for check in judge(design)}[pair]
    found = built((0.0, 20.0))
    fouls = {check.id: check for check in found.failing}
    said = " ".join(found.sentences())

    assert room > 10.0
    assert all(row.satisfied for row in found.checks)
    assert fouls[pair].value < 10.0
    assert not found.works
    verdicts = {verdict.part: verdict for verdict in found.verdicts}
    lower = next(v for part, v in verdicts.items() if part.startswith("post-bracket-lower"))
    assert not lower.serves
    assert "actuator body" in lower.why
    assert "Actuator body to post-bracket-lower" in said
    assert "drill again" in said


def test_a_small_slip_makes_nothing_foul() -> None:
    found = built((0.0, 1.0))

    assert found.works
    assert found.again
    assert found.failing == ()


def test_a_bracket_near_the_post_s_edge_is_no_longer_strong_enough_in_wood() -> None:
    design, judge = drawn()
    found = built((20.0, 0.0))
    edge = [check for check in found.again if "edge" in check.id and "post" in check.id]
    was = {check.id: check for check in judge(design)}

    assert edge
    assert any(check.value == pytest.approx(was[check.id].value - 20.0, abs=0.01) for check in edge)
    assert {check.id for check in found.failing} == {
        check.id for check in newly_failing(judge(design), found.again)
    }
    assert any(check.id in {e.id for e in edge} for check in found.failing)
    assert not found.works
    assert any(not verdict.serves for verdict in found.verdicts)
    assert any("loaded edge" in said for said in found.sentences())
