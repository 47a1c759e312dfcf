"""The bar between two rails: bent both ways, twisted, its end bolts in balance, what it gives."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for, site_checks, strength_checks
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.rail_beam import bent
from hangpost.generators.judging.strongback import SHEAR_MODULUS, Bar, bar_of, end_demand
from hangpost.generators.pivots.gate import solve_gate
from hangpost.parts.strongback import Strongback

from .family import survey
from .judged_gates import SHOP

E = 200_000.0
RAILS = {"square_tube": {}, "round_tube": {"member": '"1.90x0.145"'}, "timber": {"rails": '["6 1/2", "25", "46"]', "member": '"4x4"',
                                       "thickness": '"3 1/2"'}}  # fmt: skip
APART = ("closed leaf", "hanging post", "crushed", "pressure of", "U-bolt")


@cache
def made(frame: str = "square_tube") -> Bench:
    site = survey(frame=frame, pin_height='"15"', **RAILS[frame]).site
    site = site.changed({"actuator.height": 400.0})
    design = design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)])
    return bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def part(bench: Bench) -> Strongback:
    return next(p.item for p in bench.leaf.placed if isinstance(p.item, Strongback))


def one(*force: float) -> PinLoads:
    zero = np.array([0.0])
    return PinLoads(
        force=np.array([force]), angle=zero, duration=zero + 1.0, case=zero.astype(int),
        names=("test",),
    )  # fmt: skip


BAR = Bar(low=210.0, high=340.0, lever=90.0, width=80.0, thickness=12.0, holes=26.0, fy=250.0)


@pytest.mark.parametrize("frame", RAILS)
def test_bar_bolts_and_bracket_on_it_are_judged(frame: str) -> None:
    bench = made(frame)
    checks = {c.id: c for c in (*strength_checks(bench), *site_checks(bench))}

    assert not [name for name in checks if "not judged" in name]
    for name in ("strongback bending and torsion", "strongback lost travel",
                 "strongback bolt on the bar",
                 "leaf bracket bolt on the bar", "leaf bracket rail bending"):  # fmt: skip
        assert f"strength: {name}" in checks, name
    # the bracket's own bolts stand in the bar and in no rail
    assert not any("leaf bracket bolt on the rail" in name for name in checks)
    assert not any("leaf bracket slip" in name for name in checks)


def test_out_of_the_leaf_the_bar_is_a_beam_with_a_force_and_a_couple() -> None:
    """Direct stiffness, two beam elements on two bearings, textbook matrices."""

    def element(long: float, stiff: float) -> np.ndarray:
        return stiff * np.array(
            [[12, 6 * long, -12, 6 * long], [6 * long, 4 * long**2, -6 * long, 2 * long**2],
             [-12, -6 * long, 12, -6 * long], [6 * long, 2 * long**2, -6 * long, 4 * long**2]]
        ) / long**3  # fmt: skip

    stiff = E * 80.0 * 12.0**3 / 12
    low, high = element(210.0, stiff), element(340.0, stiff)
    whole = np.zeros((6, 6))
    whole[:4, :4] += low
    whole[2:, 2:] += high
    free = [1, 2, 3, 5]
    for fv, fw in ((0.0, 700.0), (60.0, 500.0), (-60.0, 500.0), (300.0, -200.0)):
        # A force up the bar at the lever out of it turns v towards w the other way round.
        acting = np.array([0.0, fw, -fv * 90.0, 0.0])
        moved = np.zeros(6)
        moved[free] = np.linalg.solve(whole[np.ix_(free, free)], acting)
        ends = (low @ moved[:4])[3], (high @ moved[2:])[1]
        moment, _, _ = BAR.actions(np.array([[0.0, fv, fw]]))

        assert moment[0] == pytest.approx(max(map(abs, ends)))
        if not fv:
            assert BAR.give(np.array([[0.0, 0.0, fw]]))[0] == pytest.approx(abs(moved[2]))


def test_force_along_the_leaf_bends_and_twists_the_bar() -> None:
    """Torque by the lever, shared as the other end is far; Saint-Venant b t^3 / 3 less its ends."""
    moment, strong, torque = BAR.actions(np.array([[1000.0, 0.0, 0.0]]))
    torsion = 80.0 * 12.0**3 * (1 / 3 - 0.21 * 12 / 80 * (1 - (12 / 80) ** 4 / 12))  # Roark
    bent = 1000.0 * 210**2 * 340**2 / (3 * E * 12.0 * 80.0**3 / 12 * 550)
    turned = 1000.0 * 90.0 * 210 * 340 / 550 / (SHEAR_MODULUS * torsion) * 90.0

    assert moment[0] == 0.0
    assert strong[0] == pytest.approx(1000.0 * 210 * 340 / 550)
    assert torque[0] == pytest.approx(1000.0 * 90.0 * 340 / 550)
    assert BAR.give(np.array([[1000.0, 0.0, 0.0]]))[0] == pytest.approx(bent + turned, rel=1e-6)


def test_allowed_values_by_hand() -> None:
    """AISC 360-16 F11.1: Fy Z / 1.67 on the net width; H3: 0.6 Fy over the Saint-Venant stress."""
    weak, strong, torque = BAR.allowed

    assert weak == pytest.approx(250.0 * (80 - 26) * 12**2 / 4 / 1.67)
    assert torque == pytest.approx(0.6 * 250 * 12**2 * 80 / (3 + 1.8 * 12 / 80) / 1.67)
    slender = 550.0 * 80 / 12**2  # over 0.08 E / Fy = 64, under 1.9 E / Fy
    buckling = (1.52 - 0.274 * slender * 250 / E) * 250 * 12 * 80**2 / 6
    assert strong == pytest.approx(buckling * (80 - 26) / 80 / 1.67)


def test_end_bolts_balance_what_reaches_their_rail() -> None:
    bench = made()
    piece, fixing = part(bench), bench.fixing("strongback")
    assert fixing is not None
    bar = bar_of(bench, piece)
    for fu, fw in ((1200.0, 0.0), (-900.0, 300.0), (400.0, -800.0)):
        demand = end_demand(piece, bar, fixing, one(fu, 0.0, fw))
        places = np.array([hole.u for hole in demand.holes])
        pull, press = demand.tension[0], float(demand.contact[0])
        left = -fu * bar.share * bar.lever - float(pull @ places)

        assert (pull >= -1e-9).all() and len(places) == 2
        assert pull.sum() - press == pytest.approx(fw * bar.share)
        assert press > 0 or left == pytest.approx(0.0, abs=1e-6)
        if press > 0:
            edge = piece.width / 2 - piece.bar_thickness
            assert abs(left / press) <= edge + 1e-6
            assert pull.sum() == 0.0 or abs(left / press) == pytest.approx(edge)
        assert demand.along_u.sum() == pytest.approx(fu * bar.share)


def test_double_loads_double_every_use() -> None:
    for frame in RAILS:
        single = made(frame)
        double = replace(single, loads={p: one_.scaled(2.0) for p, one_ in single.loads.items()})
        before, after = (
            {c.id: c for c in (*strength_checks(b, ("leaf",)), *site_checks(b))
             if not c.at_least and not any(words in c.id for words in APART)}
            for b in (single, double)
        )  # fmt: skip
        for name, check in before.items():
            assert after[name].utilisation == pytest.approx(2 * check.utilisation), name


def test_stouter_bar_is_never_used_more_and_never_gives_more() -> None:
    force = np.array([[900.0, -50.0, 600.0]])
    for key, step in (("thickness", 3.0), ("width", 20.0)):
        stouter = replace(BAR, **{key: getattr(BAR, key) + step})
        assert all(b > a for a, b in zip(BAR.allowed, stouter.allowed, strict=True))
        assert stouter.give(force)[0] < BAR.give(force)[0]


def test_locking_bolts_hold_a_bar_on_round_rails() -> None:
    """Friction alone would let it slide; the bolt at the nearer rail takes its share, by statics."""
    bench = made("round_tube")
    checks = {c.id: c for c in strength_checks(bench, ("leaf",))}
    low, high = sorted(map(abs, part(bench).members))
    force = np.abs(bench.loads["leaf"].force)
    shared = np.hypot(force[:, 0], force[:, 1]) * high / (low + high)
    bolts = [f for f in bench.leaf.fixings if f.name.endswith("locking")]

    assert checks["strength: strongback slip of its U-bolts"].status == "warn"
    for name in ("locking bolt shear", "locking bolt on the rail's wall"):
        assert checks[f"strength: strongback {name}"].value == pytest.approx(float(shared.max()))
        assert checks[f"strength: strongback {name}"].status == "pass"
    assert [len(f.holes) for f in bolts] == [1, 1]


def test_bar_on_round_rails_without_locks_is_not_passed_in_silence() -> None:
    bench = made("round_tube")
    bare = tuple(f for f in bench.leaf.fixings if not f.name.endswith("locking"))
    checks = strength_checks(replace(bench, leaf=replace(bench.leaf, fixings=bare)), ("leaf",))

    assert any("strongback fasteners not judged" in c.id for c in checks)


def test_sheet_for_round_rails_has_the_locking_bolts() -> None:
    (sheet,) = [t for t in made("round_tube").leaf.templates if t.id == "leaf-face"]
    heights = sorted({round(hole.v, 1) for hole in sheet.holes})

    assert len(sheet.holes) == 2 and not sheet.through
    assert heights == [round(v, 1) for v in part(made("round_tube")).members]


def test_a_thin_narrow_bar_fails_and_tells_how_much() -> None:
    bench = made()
    thin = replace(part(bench), bar_thickness=5.0)
    placed = tuple(
        replace(p, item=thin) if isinstance(p.item, Strongback) else p for p in bench.leaf.placed
    )
    checks = {
        c.id: c for c in strength_checks(replace(bench, leaf=replace(bench.leaf, placed=placed)))
    }

    assert checks["strength: strongback bending and torsion"].status == "fail"
    assert checks["strength: strongback lost travel"].status == "warn"


def test_rails_under_a_bar_share_by_the_lever() -> None:
    """Forces on a bar between two bearings, statics; the frame under both adds up."""
    bench = made()
    (low, high), loads, leaf = sorted(part(bench).members), bench.loads["leaf"], bench.hung.leaf
    mount = bench.leaf.mount
    row = (loads.force[:, 2], loads.force[:, 0])
    lever = mount.leaf_reach + leaf.thickness / 2
    rails = [min(leaf.rails, key=lambda z, v=v: abs(z - mount.height - v)) for v in (low, high)]
    both = [bent(leaf, mount.leaf_pivot[0], {rail: 1.0}, lever, *row) for rail in rails]
    shares = (high / (high - low), -low / (high - low))
    by_force, by_couple = (
        sum(share * getattr(one, name) for share, one in zip(shares, both, strict=True))
        for name in ("by_force", "by_couple")
    )
    moments = np.outer(row[0], by_force) + np.outer(row[1] * lever, by_couple)
    told = next(c.value for c in site_checks(bench) if "rail bending" in c.id)

    assert sum(shares) == pytest.approx(1.0) and min(shares) > 0.2
    assert told == pytest.approx(np.abs(moments).max())


def test_bar_is_stock_and_as_thick_as_the_bracket_on_it() -> None:
    """So the search for a bracket that passes finds a bar that does: Saint-Venant, t cubed."""
    site = made().site
    shop = SHOP.model_copy(update={"flat_bar": ()})
    found = {}
    for thick in (0.1875, 0.375, 0.5):
        plate = SHOP.plate_near(thick * 25.4)
        picks = replace(usual(SHOP), leaf_plate=plate)
        design = design_gate(site, shop, solve_gate(site, shop), [picks])
        found[thick] = bench_for(site, shop, site.leaves[0], design.leaves[0])

    stock = {plate.thickness for plate in SHOP.plates}
    assert all(part(bench).bar_thickness in stock for bench in found.values())
    assert [part(b).bar_thickness / 25.4 for b in found.values()] == pytest.approx(
        [0.375, 0.375, 0.5]
    )
    torque = {thick: bar_of(bench, part(bench)) for thick, bench in found.items()}
    wide = torque[0.5].width / torque[0.375].width
    grown = torque[0.5].allowed[2] / torque[0.375].allowed[2] / wide
    assert grown == pytest.approx((0.5 / 0.375) ** 2, rel=0.05)
