"""The leaf bracket on a round rail: U-bolts, saddle and locking bolts are judged as on a post."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.loads import actuator_weight
from hangpost.generators.judging.rail_beam import bent
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength.crossing import Grid

from .family import survey
from .judged_gates import SHOP

APART = ("pressed for good", "crushed", "U-bolt tension", "slip of its U-bolts", "kept from")


@cache
def made(member: str = "1.90x0.145", bolts: int = 1) -> Bench:
    site = survey(frame="round_tube", member=f'"{member}"').site
    picks = replace(usual(SHOP), leaf_bolts=bolts)
    design = design_gate(site, SHOP, solve_gate(site, SHOP), [picks])
    return bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def told(bench: Bench) -> dict[str, Check]:
    return {c.id.split(": ")[1]: c for c in strength_checks(bench, ("leaf",))}


def test_nothing_on_a_round_rail_is_unjudged() -> None:
    checks = told(made())

    assert not [name for name in checks if "not judged" in name]
    for name in ("saddle pressed for good", "rail crushed by its U-bolts", "U-bolt tension",
                 "slip of its U-bolts", "locking bolt shear and bending",
                 "locking bolt on the rail's wall", "saddle's arms"):  # fmt: skip
        assert f"leaf bracket {name}" in checks, name


@pytest.mark.parametrize("bolts", [1, 2])
def test_locking_bolts_hold_thrust_along_and_weight_about_the_rail(bolts: int) -> None:
    """By statics: force along the rail over their number, torque over the rail's radius."""
    bench = made(bolts=bolts)
    mount, leaf, loads = bench.leaf.mount, bench.hung.leaf, bench.loads["leaf"]
    count, d = 2 * bolts, float(leaf.rail_depth)
    lever = mount.leaf_pivot[1] - float(leaf.axis_offset)  # rail's middle to the pin
    weight = actuator_weight(bench.hung) / 2
    off = min(leaf.rails, key=lambda z: abs(z - mount.height)) - mount.height
    torque = -off * loads.force[:, 2] + weight * lever
    force = np.hypot(loads.force[:, 0], np.abs(torque) / (d / 2)) / count
    wall = told(bench)["leaf bracket locking bolt on the rail's wall"]

    assert wall.value == pytest.approx(float(force.max()), rel=1e-6)


def test_double_loads_double_what_the_loads_decide() -> None:
    one = made()
    two = replace(one, loads={pin: loads.scaled(2.0) for pin, loads in one.loads.items()})
    before, after = told(one), told(two)
    names = [n for n, c in before.items() if not c.at_least and not any(w in n for w in APART)]

    assert len(names) > 15
    for name in names:
        assert after[name].utilisation == pytest.approx(2 * before[name].utilisation), name


def test_tightened_no_more_than_print_and_rail_stand() -> None:
    for member in ("1.66x0.14", "1.90x0.145", "1.90x0.2"):
        checks = told(made(member))
        assert checks["leaf bracket saddle pressed for good"].status == "pass"
        assert checks["leaf bracket rail crushed by its U-bolts"].status == "pass"


def test_rail_that_nothing_locks_is_not_passed_in_silence() -> None:
    bench = made()
    bare = tuple(f for f in bench.leaf.fixings if f.name != "leaf locking")
    checks = told(replace(bench, leaf=replace(bench.leaf, fixings=bare)))

    assert any("not judged" in name for name in checks)


def test_paper_thin_rail_fails_at_its_locking_bolts() -> None:
    bench = made()
    leaf = bench.hung.leaf.model_copy(update={"wall": 0.5})
    checks = told(replace(bench, hung=replace(bench.hung, leaf=leaf)))

    assert checks["leaf bracket locking bolt on the rail's wall"].status == "fail"


def test_round_tubes_of_a_frame_hand_on_twist_by_twice_their_inertia() -> None:
    """Polar moment of a circle, J = 2 I; G = E / (2 (1 + 0.3)) of steel: any textbook."""
    leaf, at, one = made().hung.leaf, 900.0, np.array([1.0])
    middle = leaf.rails[1]
    found = bent(leaf, at, {middle: 1.0}, 100.0, one, one)
    first, *_, last = stiles = sorted(leaf.stile_positions)
    grid = Grid(rails=leaf.rails, stiles=tuple(stiles), torsion=2 / 2.6)
    held = [(rail, x) for rail in (0, len(leaf.rails) - 1) for x in (first, last)]
    force, couple = grid.moments(at, [float(rail == middle) for rail in leaf.rails], held)

    assert found.moment[0] == pytest.approx(np.abs(force + 100.0 * couple).max(), rel=1e-6)
