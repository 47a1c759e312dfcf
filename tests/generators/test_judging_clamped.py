"""Saddles, wedges and U-bolts: what presses print, what friction holds, what locks hold."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.hardware import sleeves
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import usual
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength import tubes
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.starter import starter
from hangpost.parts.saddle import SaddleBlock

from .judged_gates import SHOP

OF = "strength: post bracket "


@cache
def gate(fixing: str, post: str = "round_steel", lean: float = 0.0) -> tuple[Design, Bench]:
    site = site_from_bytes(starter(post=post).encode()).changed({"post.fixing": fixing})
    site = site.changed({"post.lean.toward_actuator": lean}) if lean else site
    found = solve_gate(site, SHOP)
    design = design_gate(site, SHOP, found, [usual(SHOP)])
    return design, bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def told(bench: Bench) -> dict[str, float]:
    checks = strength_checks(bench, ("post",))
    return {c.id.removeprefix(OF): c.utilisation for c in checks}


def values(bench: Bench) -> dict[str, float]:
    return {c.id.removeprefix(OF): c.value for c in strength_checks(bench, ("post",))}


@pytest.mark.parametrize(
    ("fixing", "post", "lean"),
    [
        ("clamp", "round_steel", 0.0),
        ("saddle", "round_steel", 0.0),
        ("bolted", "timber", 1.5),
        ("bolted", "square_steel", 1.5),
    ],
)
def test_nothing_on_print_is_left_unjudged(fixing: str, post: str, lean: float) -> None:
    names = set(told(gate(fixing, post, lean)[1]))

    assert not {name for name in names if "not judged" in name}
    assert {"printed block pressed", "printed block kept from turning"} <= names


def about_the_post(bench: Bench) -> np.ndarray:
    """Moment of each force about the post's axis, in plan: x Fy - y Fx from the post's middle."""
    seat, force = bench.fixing("post").seat, bench.loads["post"].force
    plan = force[:, :1] * np.array(seat.u[:2]) + force[:, 2:] * np.array(seat.w[:2])
    arm = np.array(bench.leaf.mount.post_pivot) - np.array(bench.hung.post_centre)
    return arm[0] * plan[:, 1] - arm[1] * plan[:, 0]


def test_locking_bolts_hold_the_moment_about_the_post_and_the_weight() -> None:
    """Statics in plan; the weight rests on one angle, so on half of the bolts."""
    _, bench = gate("clamp")
    radius, count = float(bench.hung.post.width) / 2, len(bench.fixing("post locking").holes)
    turning = np.abs(about_the_post(bench)) / radius / count
    expected = np.hypot(turning, np.abs(bench.loads["post"].force[:, 1]) / (count / 2)).max()

    assert count == 4
    assert values(bench)["locking bolt on the post's wall"] == pytest.approx(expected)
    assert values(bench)["locking bolt on its hole"] == pytest.approx(expected)


def test_friction_of_the_u_bolts_by_hand() -> None:
    """Two halves at mu 0.2 over 2.00, on half of the tension: 0.2 N D and 0.4 N, both over 2."""
    _, bench = gate("clamp")
    legs, outside = bench.fixing("post"), float(bench.hung.post.width)
    force = bench.loads["post"].force
    left = 0.5 * legs.tension * len(legs.holes) - np.maximum(force[:, 2], 0.0)
    about = np.abs(about_the_post(bench)) / (0.2 * left * outside / 2)
    along = np.abs(force[:, 1]) / (0.4 * left / 2)

    assert values(bench)["slip of its U-bolts"] == pytest.approx(np.hypot(about, along).max())


def test_twice_the_load_uses_twice_what_the_load_alone_decides() -> None:
    for fixing in ("clamp", "saddle"):
        _, bench = gate(fixing)
        two = replace(bench, loads={at: each.scaled(2.0) for at, each in bench.loads.items()})
        before, after = told(bench), told(two)
        words = ("printed block pressed", "locking bolt", "saddle's arms", "saddle kept pressed")
        names = [n for n in before if n.startswith(words)]

        assert len(names) >= (1 if fixing == "saddle" else 5)
        for name in names:
            assert after[name] == pytest.approx(2 * before[name]), name


def test_u_bolt_carries_its_tightening_and_the_pull() -> None:
    _, bench = gate("clamp")
    tension = bench.fixing("post").tension
    calm = replace(bench, loads={at: each.scaled(1e-9) for at, each in bench.loads.items()})
    pulled = values(bench)["U-bolt tension"] - tension

    assert values(calm)["U-bolt tension"] == pytest.approx(tension, rel=1e-6)
    assert pulled == pytest.approx(values(bench)["saddle kept pressed"])
    kept = next(c for c in strength_checks(bench, ("post",)) if "saddle kept pressed" in c.id)
    assert kept.limit == pytest.approx(0.5 * tension / SHOP.reserve)  # half is left in print; house
    # At least its share of the straight pull on all legs of one saddle.
    assert pulled >= bench.loads["post"].force[:, 2].max() / 8


def test_print_is_pressed_no_harder_than_it_stands_for_good() -> None:
    _, bench = gate("clamp")
    used = told(bench)
    fixing = bench.fixing("post")
    saddle = bench.part("saddle")
    chord = 2 * (saddle.depth * (2 * saddle.radius - saddle.depth)) ** 0.5
    bores = 2 * np.pi / 4 * sleeves.bore_for(fixing.fastener, SHOP) ** 2

    assert used["saddle pressed for good"] <= 1.0 + 1e-9
    assert used["post crushed by its U-bolts"] <= 1.0 + 1e-9
    assert saddle.bearing == pytest.approx(chord * saddle.length - bores)
    assert values(bench)["saddle pressed for good"] == pytest.approx(
        4 * fixing.tension / saddle.bearing
    )


def test_without_locking_bolts_a_clamp_fails() -> None:
    _, bench = gate("clamp")
    bare = tuple(
        replace(each, holes=()) if each.name == "post locking" else each
        for each in bench.leaf.fixings
    )
    checks = {
        c.id.removeprefix(OF): c.status
        for c in strength_checks(replace(bench, leaf=replace(bench.leaf, fixings=bare)), ("post",))
    }

    assert checks["kept from turning"] == "fail"


def test_locking_bolts_stand_in_sleeves_that_are_bought() -> None:
    design, bench = gate("clamp")
    locks, saddle = bench.fixing("post locking"), bench.part("saddle")
    middle = [s for s in saddle.sleeves if s.u == 0.0]
    listed = [b for b in design.leaves[0].bought if b.name.startswith("steel sleeve")]

    assert len(middle) == 2
    for bore in middle:
        assert bore.diameter > sleeves.outside(locks.fastener)
        assert saddle.sleeve_length(bore) == pytest.approx(locks.under)
    assert sum(b.quantity for b in listed) == len(locks.holes)
    assert all(f"({plain(locks.under, places=1)} mm) long" in b.name for b in listed)


def test_a_sleeve_and_not_its_saddle_takes_the_squeeze_to_the_wall() -> None:
    """Ring with two opposite forces (Roark) on the sleeve's own width, at Omega 1.67."""
    _, bench = gate("saddle")
    fixing, tube = bench.fixing("post"), post_tube(bench.hung.post)
    outside = fixing.fastener.diameter + 1.0 + 2 * 1.6
    ring = tubes.round_crush(tube.fy, tube.side, tube.wall, outside) / 1.67

    assert fixing.tension == pytest.approx(ring / SHOP.reserve)
    assert told(bench)["post crushed by its bolts"] == pytest.approx(1.0)
    assert told(bench)["sleeve in its printed block"] < 1.0


def test_saddles_of_other_places_are_not_passed_in_silence() -> None:
    _, bench = gate("saddle")
    placed = next(p for p in bench.leaf.placed if isinstance(p.item, SaddleBlock))
    other = replace(placed, name="elsewhere", item=replace(placed.item, id="elsewhere"))
    alone = replace(bench, leaf=replace(bench.leaf, placed=(other,)))

    assert [c.status for c in strength_checks(alone, ("post",))] == ["warn"]


def test_locking_bolt_is_bent_over_its_sleeve() -> None:
    """EN 1993-1-8 3.13.2(3), both ends held: M = V h / 2, core of ASME B1.1, Z = d3/6 (F11.1)."""
    _, bench = gate("clamp")
    locks, shear = bench.fixing("post locking"), values(bench)["locking bolt on its hole"]
    d, pitch = 12.7, 25.4 / 13  # 1/2-13 UNC, ASME B1.1
    core = d - 0.9743 * pitch
    fnt, fnv, _ = bench.bolt_grade
    held = fnv * np.pi / 4 * d**2 / 2.00
    bent = min(1.0, 1.6 * np.pi / 32 * 6) * 0.8 * fnt * core**3 / 6 / 1.67
    moment = shear * (locks.under + locks.plate / 2) / 2

    expected = np.hypot(shear / held, moment / bent)
    assert values(bench)["locking bolt shear and bending"] == pytest.approx(expected, rel=1e-3)
