"""The leaf bracket on a round rail: U-bolts, saddle and locking bolts are judged as on a post."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.loads import actuator_weight
from hangpost.generators.judging.on_round_rail import OnRail, rail_saddles
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


@pytest.mark.parametrize("each", [1, 2, 4])
def test_arms_of_each_saddle_press_back_their_share_of_the_torque(each: int) -> None:
    """By statics: a couple on the radius of the rail, sideways as large in locking bolts and arms.

    The arms' ends push along the normal of the rail there, so outwards too, onto the legs.
    """
    bench = made()
    legs, locks = bench.fixing("leaf"), bench.fixing("leaf locking")
    ((saddle, _),) = rail_saddles(bench)
    force = np.array([[300.0, -700.0, 90.0]])
    held = OnRail(
        of="b", legs=legs, locks=locks, saddle=saddle, tube=rail_tube(bench.hung.leaf), reach=150.0,
        off=-20.0, each=each, columns=np.array([[40.0, 260.0]]),
    )  # fmt: skip
    radius = float(bench.hung.leaf.rail_depth) / 2
    arm = np.array([0.0, -20.0, -(150.0 + legs.under + radius)])  # from the pin to the rail's axis
    couple = abs(np.cross(-arm, force[0])[0]) / radius * each / len(legs.holes)
    up = radius - saddle.depth  # of an arm's end above the axis; it stands on the circle there
    outward = couple * up / np.sqrt(radius**2 - up**2)

    assert held.sideways(force)[0] == pytest.approx(couple)
    assert held.pulls(force)[0] == pytest.approx(260.0 / 2 + outward / each)


def test_what_presses_the_arms_is_worked_out_as_it_is_told() -> None:
    """All legs stand on one saddle here, so it takes the whole torque, not half as on a post."""
    bench = made()
    ((saddle, _),) = rail_saddles(bench)
    check = told(bench)["leaf bracket saddle's arms"]
    words, area = check.working.split(" N on ")

    assert words.startswith("T / (D/2) x 1 = ")
    assert area.startswith(f"{saddle.depth:.1f} x {saddle.length:.1f}")
    pressed = float(words.rpartition("= ")[2]) / (saddle.depth * saddle.length)
    assert check.value == pytest.approx(pressed, rel=3e-3)


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
