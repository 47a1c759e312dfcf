"""The leaf bracket on a timber rail: nothing of it unjudged, and what the rules must say."""

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import ON_WOOD, Demand, on_channel
from hangpost.generators.judging.judge import bench_for, make_checks, site_checks, strength_checks
from hangpost.generators.judging.on_timber_rail import RailHold, rail_hold, timber_rail_group
from hangpost.generators.judging.rail_beam import bent
from hangpost.generators.judging.wood import Wood, rail_wood
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength.tables import table
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.spacer import SpacerBlock

from .family import survey
from .judged_gates import SHOP

BESIDE_WIND = ("closed leaf", "hanging post", "pressure of")


@cache
def made(member: str = "4x4", bolts: int = 2, species: str = "southern pine") -> Bench:
    thick = {"4x4": '"3 1/2"', "2x4": '"1 1/2"'}[member]
    site = survey(
        frame="timber", member=f'"{member}"', thickness=thick, rails='["6 1/2", "25", "46"]'
    ).site
    leaf = site.leaf[0].model_copy(update={"species": species})
    site = site.model_copy(update={"leaf": (leaf,)})
    picks = replace(usual(SHOP), leaf_bolts=bolts, leaf_size="3/8")
    design = design_gate(site, SHOP, solve_gate(site, SHOP), [picks])
    return bench_for(site, SHOP, site.leaves[0], design.leaves[0])


def parts_of(bench: Bench) -> tuple[LobedChannel, Wood, Demand, RailHold]:
    channel = next(p.item for p in bench.leaf.placed if isinstance(p.item, LobedChannel))
    wood = rail_wood(bench.site, bench.hung, bench.leaf.mount, bench.steel[1])
    demand = on_channel(channel, bench.loads["leaf"], ON_WOOD)
    fixing = bench.fixing("leaf")
    assert fixing is not None
    return channel, wood, demand, rail_hold(fixing, wood, demand)


def group(bench: Bench, **other: Demand) -> dict[str, Check]:
    demand, fixing = other.get("demand", parts_of(bench)[2]), bench.fixing("leaf")
    assert fixing is not None
    found = timber_rail_group(bench, "leaf bracket", fixing, demand, bench.loads["leaf"])
    return {check.id.split("leaf bracket ")[1]: check for check in found}


@pytest.mark.parametrize("member", ["2x4", "4x4"])
@pytest.mark.parametrize("bolts", [1, 2])
def test_everything_on_a_timber_leaf_is_judged(member: str, bolts: int) -> None:
    bench = made(member, bolts)
    checks = (*strength_checks(bench), *site_checks(bench))

    assert not [check.id for check in checks if "not judged" in check.id]
    for words in ("bolt lateral", "rail edge distance", "row torn out", "backing plate on the rail",
                  "pressure on the rail", "rail bending", "rail torsion"):  # fmt: skip
        assert any(words in check.id for check in checks), words


def test_unknown_wood_is_said_to_be_unjudged() -> None:
    bench = made()
    leaf = bench.hung.leaf.model_copy(update={"species": "walnut"})
    bench = replace(bench, hung=replace(bench.hung, leaf=leaf))

    assert any("not judged" in c.id and "walnut" in c.what for c in strength_checks(bench))
    assert not any("rail bending" in c.id for c in site_checks(bench))


def test_bracket_on_wood_has_no_slots_and_room_along_the_grain() -> None:
    """Spacing of bolts in a row along the grain: NDS 2018 Table 12.5.1B, 4 D."""
    channel, _, _, held = parts_of(made(bolts=2))
    holes, d = channel.drawn().holes, held.fixing.fastener.diameter

    assert all(hole.slot_length == 0 for hole in holes)
    assert min(np.diff(sorted(h.u for h in holes))) >= 4 * d - 1e-9
    assert "slip along its slots" not in group(made(bolts=2))


def test_slots_in_wood_would_fail_by_friction() -> None:
    channel, _, _, _ = parts_of(made(bolts=1))
    slotted = replace(channel, slot=replace(channel.slot, travel=4.0))
    checks = group(made(bolts=1), demand=on_channel(slotted, made(bolts=1).loads["leaf"], ON_WOOD))

    assert checks["slip along its slots"].status == "fail"


def test_double_loads_double_every_use() -> None:
    one = made()
    two = replace(one, loads={pin: loads.scaled(2.0) for pin, loads in one.loads.items()})
    single, double = (
        {c.id: c for c in (*strength_checks(b, ("leaf",)), *site_checks(b))
         if c.unit != "mm" and not any(words in c.id for words in BESIDE_WIND)}
        for b in (one, two)
    )  # fmt: skip

    assert len(single) > 20
    for name, check in single.items():
        assert double[name].utilisation == pytest.approx(2 * check.utilisation), name


def test_what_a_row_may_pull_out_grows_with_the_shortness_of_its_load() -> None:
    """NDS 2018 Eq. E.3-2 (memory): n Fv t s times CD of Table 2.3.2, 1.6 for what is short."""
    bench = made()
    fixing, wood = bench.fixing("leaf"), parts_of(bench)[1]
    assert fixing is not None
    loads = bench.loads["leaf"]
    for cd in (1.0, 1.6):
        held = replace(loads, duration=np.full_like(loads.duration, cd))
        found = timber_rail_group(bench, "leaf bracket", fixing, parts_of(bench)[2], held)
        check = next(each for each in found if "row torn out" in each.id)
        n, fv, t, s, said = map(float, re.findall(r"(?<=[=x] )[\d.]+", check.working)[:5])

        assert (said, t) == (cd, pytest.approx(wood.depth, abs=0.05))
        assert check.limit * bench.reserve == pytest.approx(n * fv * t * s * cd, rel=5e-3)


def test_denser_wood_never_holds_less() -> None:
    """Apart from the group factor, which goes by stiffness and may fall a little."""
    held = {name: parts_of(made(species=name))[3] for name in table("species")}
    rising = sorted(held.values(), key=lambda one: one.wood.gravity)

    for weak, strong in pairwise(rising):
        for angle in (0.0, 40.0, 90.0):
            one, other = (each.lateral(angle) / each.factors for each in (strong, weak))
            assert one >= other * (1 - 1e-9)
    assert all(0.6 < one.factors < 0.7 for one in rising)  # CM 0.7 times Cg just under 1


def test_thrust_acts_along_the_grain_of_a_rail() -> None:
    """The value by hand: NDS 2018 Eq. 12.3-1 to 12.3-6 at 1 degree is that along the grain."""
    bench = made()
    held, lateral = parts_of(bench)[3], group(bench)["bolt lateral"]
    along = min(held.modes(0.0).values()) * held.factors

    assert "1 degrees to the grain" in lateral.what or "2 degrees to the grain" in lateral.what
    assert lateral.limit * bench.reserve == pytest.approx(along, rel=0.01)


def test_bolts_too_near_edge_or_end_fail() -> None:
    bench = made()
    _, wood, demand, held = parts_of(bench)
    d, far = held.fixing.fastener.diameter, max(abs(h.u) for h in demand.holes)
    near = replace(wood, edges=(wood.edges[0], 1.4 * d))
    short = replace(wood, end=far + 6.9 * d)  # 7 D, and EN wants 80 mm

    assert rail_hold(held.fixing, short, demand).factors < held.factors
    assert rail_hold(held.fixing, replace(wood, end=far + 3.4 * d), demand).factors == 0.0
    for odd, name in ((near, "rail edge distance"), (short, "rail end distance")):
        with pytest.MonkeyPatch.context() as patch:
            at = "hangpost.generators.judging.on_timber_rail.rail_wood"
            patch.setattr(at, lambda *_, wood=odd: wood)
            assert group(bench)[name].status == "fail", name


def test_recess_under_the_bracket_weakens_its_bolts() -> None:
    bench = made()
    _, wood, demand, held = parts_of(bench)
    blocked = rail_hold(replace(held.fixing, under=12.0), wood, demand)

    assert blocked.lateral(0.0) < 0.85 * held.lateral(0.0)


@pytest.mark.parametrize(("force", "along"), [(900.0, 0.0), (0.0, 2100.0), (-350.0, 1800.0)])
def test_a_rail_alone_bends_as_a_beam_on_two_bearings(force: float, along: float) -> None:
    """Force and couple on a simple beam, statics of any textbook."""
    leaf, lever, at = made().hung.leaf.model_copy(update={"rails": (600.0,)}), 140.0, 910.0
    found = bent(leaf, at, {600.0: 1.0}, lever, np.array([force]), np.array([along]))
    first, *_, last = sorted(leaf.stile_positions)
    a, b, couple = at - first, last - at, along * lever

    # The seat's u runs against x, so a force along u at the lever in +y turns from x towards y.
    beside = (abs(couple - force * b) * a / (a + b), abs(couple + force * a) * b / (a + b))
    assert found.moment[0] == pytest.approx(max(beside))


def test_a_pivot_on_a_stile_bends_its_rail_as_one_just_beside_it() -> None:
    bench = made()
    at, ends = bench.leaf.mount.leaf_pivot[0], bench.hung.leaf.stile_positions
    bends = []
    for off in (0.0, 3.0):
        leaf = bench.hung.leaf.model_copy(update={"stiles": (ends[0], at + off, ends[-1])})
        found = site_checks(replace(bench, hung=replace(bench.hung, leaf=leaf)))
        bends.append(next(c.value for c in found if "rail bending" in c.id))

    assert bends[0] == pytest.approx(bends[1], rel=0.03)
    assert bends[0] > 0.0


def test_spacer_too_long_for_the_printer_is_two() -> None:
    bench = made("2x4")
    blocks = [p.item for p in bench.leaf.placed if isinstance(p.item, SpacerBlock)]
    small = SHOP.model_copy(
        update={"printer": SHOP.printer.model_copy(update={"bed": (130.0, 120.0, 200.0)})}
    )
    site = survey(frame="timber", thickness='"2 1/4"', rails='["6 1/2", "25", "46"]').site
    solved = solve_gate(site, small)
    design = design_gate(site, small, solved, [usual(small)])
    halves = [p.item for p in design.leaves[0].placed if isinstance(p.item, SpacerBlock)]

    assert len(blocks) == 0 and len(halves) == 2
    assert all(h.width <= 130.0 and len(h.bores_at) == 1 for h in halves)
    leaf = design.leaves[0]
    told = make_checks(bench_for(site, small, site.leaves[0], leaf))
    assert not [c.id for c in told if "printer" in c.id and c.status == "fail"]
