"""Single checks of whole gates by hand: a post bent at its pin, wood split and pressed, bolts, bars.

NDS and AISC clauses are named at each; strengths of wood are the tables' own, held elsewhere.
"""

from collections import Counter
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import ON_WOOD, on_angle
from hangpost.generators.judging.judge import bench_for, site_checks, strength_checks
from hangpost.generators.judging.strongback import bar_of
from hangpost.generators.judging.timber_hold import hold
from hangpost.generators.judging.wood import WET_BEARING, post_wood
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength import plates, posts
from hangpost.generators.strength.tables import row
from hangpost.generators.survey.site import Site
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.part import Part
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.strongback import Strongback
from hangpost.parts.weld_ear import WeldEar

from .family import survey
from .judged_gates import SHOP


def bench_of(site: Site, **picked: object) -> Bench:
    picks = replace(usual(SHOP), **picked)
    (made,) = design_gate(site, SHOP, solve_gate(site, SHOP), [picks]).leaves
    return bench_for(site, SHOP, site.leaves[0], made)


@cache
def timber() -> Bench:
    return bench_of(survey("timber", toward="away").site, post_kind="hex bolt")


def told(made: Bench) -> dict[str, Check]:
    checks = (*strength_checks(made), *site_checks(made))
    return {c.id.removeprefix("strength: "): c for c in checks}


def told_make(made: Bench) -> dict[str, float]:
    return {c.id.partition(": ")[2]: c.value for c in strength_checks(made)}


def angle_of(made: Bench) -> PostAngle:
    return next(p.item for p in made.leaf.placed if isinstance(p.item, PostAngle))


def test_a_timber_post_bent_at_its_pin_stands_more_for_a_short_load() -> None:
    """NDS 3.3, 2.3.2: Fb S CD; the load that counts is the one worst over its own duration."""
    made = timber()
    post, loads = made.hung.post, made.loads["post"]
    for lasting in (0.9, 1.25):  # of every load alike, so that it must be found in the limit
        held = replace(loads, duration=np.full(len(loads.duration), lasting))
        check = told(replace(made, loads={**made.loads, "post": held}))[
            "hanging post bending at the pin"
        ]
        wide, deep = float(post.width), float(post.depth)
        strength = posts.timber_values(post.species)[0] * min(wide * deep**2, deep * wide**2) / 6

        assert deep <= 304.8  # NDS 4.3.6: no size factor up to 12 in
        assert check.limit == pytest.approx(strength * lasting / made.reserve)


def test_a_timber_post_is_weaker_across_the_grain_near_its_end() -> None:
    """NDS 3.4.3.3: 2/3 Fv b de, times (de/d)2 where the end is nearer than five depths."""
    made = timber()
    post, angle, loads = made.hung.post, angle_of(made), made.loads["post"]
    width, pin = float(post.width), float(made.hung.pin_height)
    de = max(*angle.columns, *(width - u for u in angle.columns))
    fv = posts.timber_values(post.species)[2]
    worst = np.argmax(np.abs(loads.force[:, 0]) / loads.duration)
    plain = 2 / 3 * fv * float(post.depth) * de * loads.duration[worst] / made.reserve
    found = []
    for beyond in (-1.0, 1.0):
        top = pin + max(angle.rows) + 5 * width + beyond
        taller = replace(made.hung, post=post.model_copy(update={"height": top}))
        check = told(replace(made, hung=taller))["post bracket post shear at the fasteners"]
        found.append(check.limit / plain)

    assert 0.4 < de / width < 1.0
    assert found == pytest.approx([(de / width) ** 2, 1.0])


def test_a_seat_s_edge_presses_wood_that_its_neighbours_help() -> None:
    """NDS 3.10.2, 3.10.4: Fc_perp CM (l + 3/8 in) / l along the grain, up to 6 in."""
    made = timber()
    demand = on_angle(angle_of(made), made.loads["post"], ON_WOOD)
    long = demand.contact_length
    species = made.hung.post.species
    wet = WET_BEARING if made.site.wood.service == "wet" else 1.0
    helped = float(row("species", species)["fc_perp"]) * wet * (long + 9.525) / long
    check = told(made)["post bracket pressure on the wood"]

    assert long < 152.4
    assert check.limit == pytest.approx(helped / made.reserve)
    assert check.value == pytest.approx(demand.contact.max() / (long * demand.contact_width))


def test_the_bolt_that_is_told_is_the_worst_of_all_bolts_under_all_loads() -> None:
    """AISC 360-16 J3.7, Eq. J3-3b: T over F'nt, or V alone; Omega 2.00, over the nominal area."""
    made = bench_of(survey("square_steel").site)
    demand = on_angle(angle_of(made), made.loads["post"], 1.0)
    fnt, fnv, _ = made.bolt_grade
    fixing = made.fixing("post")
    assert fixing is not None
    area = np.pi / 4 * fixing.fastener.diameter**2
    tension, shear = demand.tension / area, np.hypot(demand.along_u, demand.along_v) / area
    straight = np.maximum(2.0 * shear / fnv, 2.0 * tension / fnt)
    sloping = (2.0 * shear / fnv + 2.0 * tension / fnt) / 1.3
    check = told(made)["post bracket bolt shear and tension"]

    assert check.value == pytest.approx(np.maximum(straight, sloping).max(), rel=1e-6)


def test_the_pin_stands_off_the_middle_of_the_bar_that_it_twists() -> None:
    site = survey("timber", pin_height='"15"').site.changed({"actuator.height": 400.0})
    made = bench_of(site)
    placed = next(p for p in made.leaf.placed if isinstance(p.item, Strongback))
    assert isinstance(placed.item, Strongback)
    middle = placed.frame.point((0.0, 0.0, placed.item.bar_thickness / 2))
    bar = bar_of(made, placed.item)

    assert bar.lever == pytest.approx(made.leaf.mount.leaf_pivot[1] - middle[1])
    rails = sorted(made.hung.leaf.rails, key=lambda z: abs(float(z) - made.hung.pin_height))[:2]
    assert bar.span == pytest.approx(abs(float(rails[0] - rails[1])))


@pytest.mark.parametrize(
    ("post", "fixing"), [("timber", ""), ("square_steel", "weld"), ("round_steel", "weld")]
)
def test_pins_are_bent_over_the_gaps_that_there_are_between_eye_and_ears(
    post: str, fixing: str
) -> None:
    """EN 1993-1-8 Fig. 3.11: F (b + 4 c + 2 a) / 8; gap and ears where they stand in the gate."""
    swaps = {"fixing": f'"{fixing}"'} if fixing else {}
    made = bench_of(survey(post, **swaps).site)
    ears = [p for p in made.leaf.placed if isinstance(p.item, PostAngle | WeldEar)]
    low, high = sorted(ears, key=lambda p: p.frame.origin[2] if fixing else p.item.place == "upper")
    t = low.item.plate_thickness
    gap = high.frame.origin[2] - low.frame.origin[2] - t if fixing else low.item.gap
    eye, force = float(made.hung.actuator.post_eye.thickness), made.loads["post"].level.max()

    assert gap >= eye
    check = told(made)["post bracket pin bending"]
    assert check.value == pytest.approx(force * (eye + 2 * (gap - eye) + 2 * t) / 8)


def test_the_lobe_that_is_bent_most_is_told_whichever_side_it_is_on() -> None:
    """A channel alike on both sides: thrust from the left bends it as one from the right does."""
    made = bench_of(survey("timber").site)
    (channel,) = (p.item for p in made.leaf.placed if isinstance(p.item, LobedChannel))
    loads = made.loads["leaf"]
    turned = replace(loads, force=loads.force * np.array([-1.0, 1.0, 1.0]))
    one, other = (
        told(replace(made, loads={**made.loads, "leaf": each}))["leaf bracket neck bending"].value
        for each in (loads, turned)
    )

    assert channel.left_columns is None
    assert one == pytest.approx(other) and one > 0.0


def test_an_ear_is_told_where_and_when_it_is_bent_most() -> None:
    """AISC 360-16 F11, E3, D2: N/Nc + M/Mc + m/mc at six sections under every load, the worst."""
    made = bench_of(survey("square_steel", fixing='"weld"').site)
    (first, *_) = (p.item for p in made.leaf.placed if isinstance(p.item, WeldEar))
    middle = sum(first.root) / 2  # so wide at its root that it is bent most before it
    ear = replace(first, root=(middle - 5 * first.tip, middle + 5 * first.tip))
    wide = [replace(p, item=ear) if p.item == first else p for p in made.leaf.placed]
    made = replace(made, leaf=replace(made.leaf, placed=tuple(wide)))
    (left, right), t, long = ear.root, ear.plate_thickness, ear.reach
    fy, force = made.steel[0], made.loads["post"].force
    found = []
    for share in (1 / 6, 1 / 3, 1 / 2, 2 / 3, 5 / 6, 1.0):
        depth = float(np.interp(share, [0.0, 1.0], [2 * ear.tip, right - left]))
        beside = (ear.pin_u - (left + right) / 2) * share
        pull = force[:, 2] / 2
        on_edge = np.abs(pull * beside - force[:, 0] / 2 * long * share)
        on_flat = np.abs(force[:, 1]) * long * share
        pushed = plates.axial_strength(fy, depth, t, long) / 1.67
        axial = np.abs(pull) / np.where(pull > 0, fy * depth * t / 1.67, pushed)
        edge = plates.strong_axis_moment(fy, depth, t, long) / 1.67
        flat = plates.weak_axis_moment(fy, depth, t) / 1.67
        found.append(float((axial + on_edge / edge + on_flat / flat).max()))

    assert found.index(max(found)) < 3
    assert told(made)["post bracket ear bending"].value == pytest.approx(max(found))


def test_a_part_is_listed_as_often_as_it_stands_in_the_gate() -> None:
    site = survey("square_steel", leaves=2).site
    made = design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)] * 2)
    standing = [part.mark for leaf in made.leaves for part in leaf.made]
    items = [p.item for leaf in made.leaves for p in leaf.placed if isinstance(p.item, Part)]

    assert sum(count for _, count in made.parts) == len(items)
    assert {part.mark: count for part, count in made.parts} == Counter(standing)


def test_a_seat_s_last_row_keeps_its_distance_from_the_end() -> None:
    """AISC 360-16 Table J3.4: from hole to edge, the nearest of all, slots at their ends."""
    made = bench_of(survey("square_steel").site, post_rows=3)
    angle = angle_of(made)
    flat_left, flat_right = angle.seat
    near = [angle.top - v for v in angle.rows]
    for u in angle.columns:
        near += [u - flat_left - angle.slot.travel / 2, flat_right - u - angle.slot.travel / 2]

    assert told_make(made)["post bracket fastener edge distance"] == pytest.approx(min(near))


def test_the_lag_screw_that_is_told_is_the_worst_of_all_under_all_loads() -> None:
    """NDS Eq. 12.4-1: R over W' Z' / (W' cos2 a + Z' sin2 a), for every screw and every load."""
    made = bench_of(survey("timber").site)
    fixing, loads = made.fixing("post"), made.loads["post"]
    wood = post_wood(made.site, made.hung, made.steel[1])
    demand = on_angle(angle_of(made), loads, ON_WOOD)
    held = hold(fixing, wood, demand)
    grain = np.degrees(np.arctan2(np.abs(demand.along_u), np.abs(demand.along_v)))
    lateral, pull = np.hypot(demand.along_u, demand.along_v), demand.tension
    z, w = held.laterals(grain) * loads.duration[:, None], held.withdrawal * loads.duration[:, None]
    both, turn = np.hypot(lateral, pull), np.arctan2(pull, lateral)
    value = w * z / (w * np.cos(turn) ** 2 + z * np.sin(turn) ** 2)
    check = told(made)["post bracket lag screw lateral and withdrawal"]

    assert fixing.fastener.kind == "lag screw"
    worst = float((both / value).max()) * made.reserve
    assert check.utilisation == pytest.approx(worst, rel=2e-3)  # between nodes of 5 degrees
