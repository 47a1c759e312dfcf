"""Ears welded onto a post: seams by the textbook, the wall behind, one leg for everybody."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import usual
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.choose import choose
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.welded import Welded, seam_force, welded_ear
from hangpost.generators.manifest_part import part_data
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.display import both
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.starter import starter
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.installation_words import seams
from hangpost.parts.weld_ear import WeldEar

from .judged_gates import SHOP

KINDS = ("round_steel", "square_steel")


@cache
def welded_gate(kind: str) -> tuple[Design, Bench]:
    site = site_from_bytes(starter(post=kind).encode()).changed({"post.fixing": "weld"})
    found = solve_gate(site, SHOP)
    design = design_gate(site, SHOP, found, [usual(SHOP)])
    return design, bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def ear_of(bench: Bench) -> WeldEar:
    return next(p.item for p in bench.leaf.placed if isinstance(p.item, WeldEar))


def with_ear(bench: Bench, ear: WeldEar) -> Bench:
    placed = tuple(
        replace(p, item=ear) if isinstance(p.item, WeldEar) else p for p in bench.leaf.placed
    )
    return replace(bench, leaf=replace(bench.leaf, placed=placed))


def told(bench: Bench) -> dict[str, float]:
    checks = welded_ear(bench, ear_of(bench), bench.loads["post"])
    return {c.id.removeprefix("strength: post bracket "): c.utilisation for c in checks}


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_of_a_welded_bracket_is_left_unjudged(kind: str) -> None:
    ids = {c.id for c in strength_checks(welded_gate(kind)[1], ("post",))}

    assert not {i for i in ids if "not judged" in i}
    for rule in ("ear bending", "root stress", "weld", "wall beside the weld", "pin shear"):
        assert f"strength: post bracket {rule}" in ids
    assert "strength: post bracket wall behind the weld" in ids


def straight_seams(bench: Bench) -> Welded:
    """The ear of a square post, as its judge sees it; `ears` plays no part in the seams."""
    ear = ear_of(bench)
    frame = next(p.frame for p in bench.leaf.placed if p.item is ear)
    x, y = bench.leaf.mount.post_pivot
    pin = (frame.origin[0] - x, y - frame.origin[1])  # u = -x, out of the post = +y
    return Welded(of="b", ear=ear, ears=None, tube=post_tube(bench.hung.post), pin=pin)


def test_seams_of_a_straight_ear_are_the_textbook_group() -> None:
    """Two lines of length b, d apart (Shigley Table 9-1, 9-2), moments by plain statics."""
    _, bench = welded_gate("square_steel")
    welded, loads = straight_seams(bench), bench.loads["post"].force
    ear = welded.ear
    b, d = ear.root[1] - ear.root[0], ear.plate_thickness
    lever, beside = welded.pin[1], welded.pin[0] - sum(ear.root) / 2
    fu, fv, fw = (loads * np.array((0.5, 1.0, 0.5))).T
    mx, my, mz = -lever * fv, lever * fu - beside * fw, beside * fv
    polar = b * (3 * d**2 + b**2) / 6
    at_ends = [
        np.hypot(
            np.hypot(fu / (2 * b) - mz * y / polar, fv / (2 * b) + mz * x / polar),
            fw / (2 * b) + mx * y / (b * d**2 / 2) - my * x / (b**3 / 6),
        )
        for x in (-b / 2, b / 2)
        for y in (-d / 2, d / 2)
    ]

    assert seam_force(welded, loads) == pytest.approx(np.max(at_ends, axis=0))


def test_half_working_seams_keep_the_modulus_of_their_ends() -> None:
    """AISC 360-10 Table K4.1 (memory): b3 less (b - be)3, over 12; a thin ear, bent in its plane."""
    _, bench = welded_gate("square_steel")
    thin = replace(straight_seams(bench).ear, plate_thickness=3.0)
    welded = replace(straight_seams(bench), ear=thin, pin=(sum(thin.root) / 2, 4000.0))
    force, b, share = np.array([[1000.0, 0.0, 0.0]]), thin.root[1] - thin.root[0], 0.4
    modulus = 2 * (b**3 - (b - share * b) ** 3) / 12 / (b / 2)
    bending, direct = 500.0 * 4000.0 / modulus, 500.0 / (2 * share * b)

    assert seam_force(welded, force, share)[0] == pytest.approx(np.hypot(bending, direct), rel=3e-3)


@pytest.mark.parametrize("kind", KINDS)
def test_twice_the_load_uses_seams_twice_and_the_wall_no_less(kind: str) -> None:
    _, bench = welded_gate(kind)
    doubled = replace(bench, loads={at: each.scaled(2.0) for at, each in bench.loads.items()})
    one, two = told(bench), told(doubled)

    for name in ("weld", "wall beside the weld", "root stress", "ear bending"):
        assert two[name] == pytest.approx(2 * one[name]), name
    assert two["wall behind the weld"] >= 2 * one["wall behind the weld"] - 1e-9


@pytest.mark.parametrize("kind", KINDS)
def test_twice_the_leg_is_used_half_and_thicker_walls_hold_more(kind: str) -> None:
    _, bench = welded_gate(kind)
    ear = ear_of(bench)
    before = told(bench)
    leg = told(with_ear(bench, replace(ear, weld_leg=2 * ear.weld_leg)))
    post = bench.hung.post.model_copy(update={"wall": float(bench.hung.post.wall_thickness) * 1.3})
    wall = told(replace(bench, hung=replace(bench.hung, post=post)))

    assert leg["weld"] == pytest.approx(before["weld"] / 2)
    assert wall["wall behind the weld"] < before["wall behind the weld"]
    assert wall["wall beside the weld"] < before["wall beside the weld"]


def test_a_weld_that_is_too_small_fails() -> None:
    _, bench = welded_gate("square_steel")
    tiny = with_ear(bench, replace(ear_of(bench), weld_leg=2.0))
    checks = {c.id: c.status for c in strength_checks(tiny, ("post",))}

    assert checks["strength: post bracket least weld leg"] == "fail"


@pytest.mark.parametrize("kind", KINDS)
def test_one_leg_is_drawn_listed_and_told_to_the_welder(kind: str) -> None:
    design, bench = welded_gate(kind)
    ear = replace(ear_of(bench), weld_leg=7.9375)
    leaf = with_ear(bench, ear).leaf
    said = both(7.9375, "in")

    assert said == "5/16 in (7.9 mm)"
    assert any(f"{said} fillet" in note for note in notes(ear, design.shop))
    assert any(f"{said} fillet" in words for words in seams(leaf, "in"))
    weld = part_data(ear, 2, {})["weld"]
    assert weld == {"leg": 7.9375, "length": pytest.approx(ear.weld_length), "seams": 2}


@pytest.mark.parametrize("kind", KINDS)
def test_a_welded_bracket_is_chosen_by_its_plate_alone(kind: str) -> None:
    design, _ = welded_gate(kind)
    found = solve_gate(design.site, SHOP)
    (chosen,) = choose(design.site, SHOP, found)
    told_ = next(r for r in chosen.reasons if r.startswith("The post bracket"))

    assert chosen.passed
    assert "welded to the post" in told_ and "bolt" not in told_


@pytest.mark.parametrize("kind", KINDS)
def test_the_weld_is_judged_for_the_pin_that_the_ear_holds(kind: str) -> None:
    _, bench = welded_gate(kind)
    ear, loads = ear_of(bench), bench.loads["post"]
    tube = post_tube(bench.hung.post)
    welded = Welded(of="b", ear=ear, ears=None, tube=tube, pin=(ear.pin_u, ear.reach))
    share = 1.0
    if kind == "square_steel":  # AISC 360-10 Table K4.1 (memory), by hand
        wall, fy = tube.wall, tube.fy
        share = 10 * wall / tube.side * fy * wall / (bench.steel[0] * ear.plate_thickness)
    checks = {c.id: c.value for c in strength_checks(bench, ("post",))}

    worst = seam_force(welded, loads.force, share).max()
    assert checks["strength: post bracket weld"] == pytest.approx(worst)


def test_the_root_over_a_soft_face_is_stressed_at_its_ends_alone() -> None:
    """AISC 360-10 K1-7, Table K4.1 (memory) by hand: b - be taken out of area and modulus.

    Half of the level force an ear, all of the weight on one; moments about the middle of the root.
    """
    _, bench = welded_gate("square_steel")
    ear, tube, force = ear_of(bench), post_tube(bench.hung.post), bench.loads["post"].force
    t, (left, right) = ear.plate_thickness, ear.root
    b, fy = right - left, bench.steel[0]
    be = b * 10 * tube.wall / tube.side * tube.fy * tube.wall / (fy * t)
    x, y, z = force[:, 0] / 2, force[:, 1], force[:, 2] / 2
    on_edge = z * (ear.pin_u - (left + right) / 2) - x * ear.reach
    whole, ends = t * b**3 / 12, t * (b**3 - (b - be) ** 3) / 12
    stress = abs(z) / (t * be) + abs(on_edge) * b / 2 / ends + abs(y * ear.reach) / (b * t**2 / 6)
    (check,) = (c for c in strength_checks(bench, ("post",)) if "'s face" in c.id)

    assert be < b and ends < whole
    assert check.value == pytest.approx(stress.max(), rel=1e-6)


def test_a_round_post_gives_way_nowhere_in_particular() -> None:
    _, bench = welded_gate("round_steel")

    assert not [c.id for c in strength_checks(bench, ("post",)) if "'s face" in c.id]


@pytest.mark.parametrize("kind", KINDS)
def test_weight_alone_tips_an_ear_on_the_wall(kind: str) -> None:
    """A couple of the weight over the ear's thickness, against what pushes the wall in."""
    _, bench = welded_gate(kind)
    ear, down = ear_of(bench), 800.0
    still = replace(bench.loads["post"], force=np.tile((0.0, -down, 0.0), (548, 1)))
    alone = replace(bench, loads={**bench.loads, "post": still})
    out = replace(still, force=np.tile((0.0, 0.0, 1.0), (548, 1)))
    beside = abs(ear.pin_u - sum(ear.root) / 2)
    lever = ear.reach - min(ear.back_edge(end) for end in ear.root)
    weight, pushed = (
        told(replace(alone, loads={**bench.loads, "post": each}))["wall behind the weld"]
        for each in (still, out)
    )

    assert weight > 0
    # A level push is the same share without its moment, so less than the whole of what it uses.
    assert weight / (down * lever / ear.plate_thickness) <= pushed
    assert weight / (down * lever / ear.plate_thickness) >= pushed / (1 + beside * 0.2)
