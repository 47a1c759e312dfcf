"""A leaf bracket on a round rail goes round the uprights of the leaf, astride and in pieces."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiLineString

from hangpost.generators.hardware.build import design_gate, leaf_kit
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.past_uprights import WELD, Uprights
from hangpost.generators.hardware.picks import Picks, usual
from hangpost.generators.hardware.scene import scene
from hangpost.generators.judging.because import what_would_help, why
from hangpost.generators.judging.candidates import Job
from hangpost.generators.judging.demand import ON_WOOD, on_channel
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.on_round_rail import rail_saddles, seat_ends
from hangpost.generators.judging.stock import Stock
from hangpost.generators.judging.trials import search
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.site import Site
from hangpost.generators.swing import bodies_of, seated
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.u_bolt import UBolt

from .family import fits, survey
from .judged_gates import SHOP

SPOTS = (-105.0, -82.0, -64.0, -41.0, -17.0, 0.0, 23.0, 58.0, 71.0, 96.0, 121.0)
PICKS = replace(usual(SHOP), leaf_bolts=1)


@cache
def plain() -> tuple[Site, Problem, Mount]:
    """The gate whose uprights stand at the edges of its leaf alone."""
    site = survey(frame="round_tube", member='"1.90x0.145"').site
    ((problem, mount),) = solve_gate(site, SHOP)
    return site, problem, mount


def crossed(*off: float) -> Site:
    """The same with uprights so far from the leaf pivot, towards the latch."""
    site, _, mount = plain()
    return site.changed({"leaf.stiles": [mount.leaf_pivot[0] + each for each in off]})


def made(*off: float, picks: Picks = PICKS) -> Design:
    _, problem, mount = plain()
    return design_gate(crossed(*off), SHOP, [(problem, mount)], [picks])


def kit(site: Site, moved: float = 0.0) -> Kit:
    _, problem, mount = plain()
    x, y = mount.leaf_pivot
    return leaf_kit(site.leaves[0], SHOP, problem, replace(mount, leaf_pivot=(x + moved, y)), PICKS)


def channel_of(found: Design) -> LobedChannel:
    return next(p for p in found.leaves[0].made if isinstance(p, LobedChannel))


def saddles_of(found: Kit | Design) -> list[SaddleBlock]:
    placed = found.placed if isinstance(found, Kit) else found.leaves[0].placed
    return [p.item for p in placed if isinstance(p.item, SaddleBlock) and "rail" in p.name]


@pytest.mark.parametrize("off", SPOTS)
def test_nothing_lies_in_an_upright_wherever_that_stands(off: float, shelf: Shelf) -> None:
    """Common volumes by manifold3d of the solids that are exported, the U-bolts among them."""
    found = made(off)
    (leaf,) = found.leaves
    rows = seated(leaf, bodies_of(leaf, shelf.mesh))

    assert any("leaf U-bolts" in row.pair for row in rows)
    assert [row for row in rows if row.overlap > 30.0 and "leaf" in row.pair] == []
    assert fits(found) == []


@pytest.mark.parametrize("off", SPOTS)
@pytest.mark.parametrize("bolts", [1, 2])
def test_u_bolts_stand_clear_of_the_weld_and_every_saddle_has_one(off: float, bolts: int) -> None:
    found = made(off, picks=replace(PICKS, leaf_bolts=bolts))
    channel, hung = channel_of(found), found.site.leaves[0]
    size = next(f.fastener.size for f in found.leaves[0].fixings if f.name == "leaf")
    bar = UBolt(size=size, outside=float(hung.leaf.rail_depth)).diameter
    at = {round(hole.u, 6) for hole in channel.drawn().holes if hole.use == "leaf"}

    assert len(at) == 2 * bolts
    for u in at:  # u is to the hinge, the upright's distance to the latch
        assert abs(u + off) > (float(hung.leaf.rail_height) + bar) / 2 + WELD
    blocks = saddles_of(found)
    assert sum(len(block.sleeves) for block in blocks) == 3 * len(at)
    assert all(len(block.sleeves) % 3 == 0 and block.sleeves for block in blocks)


def test_saddles_in_pieces_are_told_in_their_order_from_the_hinge() -> None:
    found = kit(crossed(0.0))
    (said,) = [line for line in found.reasons if line.startswith("Saddles ")]
    names = [name.strip() for name in said.partition(": ")[2].partition(".")[0].split(",")]
    at = {p.name: p.frame.origin[0] for p in found.placed if isinstance(p.item, SaddleBlock)}

    assert len(names) == 2 and [at[name] for name in names] == sorted(at.values())
    assert not [line for line in kit(crossed(600.0)).reasons if line.startswith("Saddles ")]


def test_an_upright_far_away_changes_nothing() -> None:
    near, far = made(-600.0, 500.0), made()

    assert channel_of(near) == channel_of(far)
    (one,), (other,) = saddles_of(near), saddles_of(far)
    assert one == other
    assert near.leaves[0].reasons == far.leaves[0].reasons


def test_what_is_said_would_help_helps() -> None:
    """The pin moved by what the sentence says leaves the bracket as if there were no upright."""
    off = 60.0
    (said,) = kit(crossed(off)).eases
    nearer, farther = (
        float(part.split(" mm")[0].split()[-1])
        for part in (said.partition("pivot ")[2], said.partition(" or ")[2])
    )

    assert said in kit(crossed(off)).reasons
    assert "nearer to the hinge" in said.partition(" or ")[0]
    for moved in (-nearer, farther):
        helped = kit(crossed(off), moved)
        assert not [line for line in helped.reasons if "upright" in line]
        short = kit(crossed(off), moved - np.sign(moved))
        assert [line for line in short.reasons if "upright" in line]


def test_u_bolts_that_would_go_off_the_leaf_are_refused_in_words() -> None:
    site, _, mount = plain()
    at = mount.leaf_pivot[0]
    short = site.changed({"leaf.stiles": [20.0, at + 70.0], "leaf.width": at + 120.0})

    with pytest.raises(NoHardware, match=r"leaf\.stiles.* mm .*fixed\.leaf_pivot"):
        kit(short)


def on_bar(off: float) -> tuple[Site, Kit]:
    """The pins between two rails, where a bar carries the bracket."""
    site, problem, mount = plain()
    stiles = [mount.leaf_pivot[0] + off]
    site = site.changed({"actuator.height": 400.0, "leaf.stiles": stiles})
    return site, leaf_kit(site.leaves[0], SHOP, problem, replace(mount, height=400.0), PICKS)


def test_a_bar_between_two_rails_is_refused_where_an_upright_takes_its_bolts_place(
    shelf: Shelf,
) -> None:
    """By common volumes: without the refusal U-bolts and upright would be in one another."""
    for off in (-20.0, 35.0, 61.0):
        with pytest.raises(NoHardware, match=r"bar between two rails.*fixed\.leaf_pivot"):
            on_bar(off)
    for off in (-140.0, 150.0, 700.0):
        site, made_kit = on_bar(off)
        leaf = replace(made().leaves[0], placed=(*scene(site.leaves[0]), *made_kit.placed))
        rows = seated(leaf, bodies_of(leaf, shelf.mesh))
        bent = [row for row in rows if any("U-bolts" in name for name in row.pair)]
        assert bent and max(row.overlap for row in bent) < 30.0


@given(
    st.lists(st.floats(-300, 300), max_size=4),
    st.floats(10, 45),
    st.floats(60, 200),
    st.floats(55, 190),
)
def test_what_is_left_of_a_stretch_is_the_difference(
    at: list[float], half: float, low: float, high: float
) -> None:
    """By shapely: the stretch less every upright's, the parts without a bolt left out."""
    uprights = Uprights(at=tuple(sorted(at)), half=half, ends=(-1e4, 1e4))
    bolts = (-low + 9.0, -20.0, 31.0, high - 7.0)
    left = LineString([(-low, 0), (high, 0)])
    for each in at:
        left = left.difference(LineString([(each - half, 0), (each + half, 0)]))
    parts = left.geoms if isinstance(left, MultiLineString) else [left]
    spans = [(part.bounds[0], part.bounds[2]) for part in parts if not part.is_empty]
    expected = [(a, b) for a, b in spans if any(a < bolt < b for bolt in bolts)]

    assert np.allclose(uprights.free(-low, high, bolts), np.array(expected).reshape(-1, 2)) or (
        not expected and not uprights.free(-low, high, bolts)
    )


def test_print_off_the_middle_of_its_bolts_counts_less() -> None:
    """B' = B - 2 e, the rule for footings.

    Meyerhof, The bearing capacity of foundations under eccentric and inclined loads, 3rd ICSMFE,
    Zurich 1953 (memory).
    """
    off = 19.0
    (found,) = saddles_of(made(-600.0))
    block = replace(found, length=found.length + 60.0)
    aside = replace(block, sleeves=tuple(replace(s, v=s.v + off) for s in block.sleeves))
    bores = 2 * block.half_chord * block.length - block.bearing

    assert block.pressed_length == pytest.approx(block.length)
    assert aside.pressed_length == pytest.approx(block.length - 2 * off)
    assert aside.bearing + bores == pytest.approx(2 * block.half_chord * (block.length - 2 * off))


def test_forces_turn_about_the_end_of_the_print_where_the_channel_overhangs() -> None:
    """Statics: the moments of thrust, U-bolts and contact about the print's end are in balance."""
    found = made(-92.0)
    bench = bench_for(found.site, SHOP, found.site.leaves[0], found.leaves[0])
    channel, ends = channel_of(found), seat_ends(bench)
    assert ends is not None
    left, right = channel.ends
    assert (ends[0] > left + 1.0) != (ends[1] < right - 1.0)  # at one end it overhangs
    loads = bench.loads["leaf"]
    demand = on_channel(channel, loads, ON_WOOD, ends)
    inset = ON_WOOD * channel.plate_thickness
    across = sorted({hole.u for hole in demand.holes})
    edges = (min(ends[0] + inset, across[0]), max(ends[1] - inset, across[-1]))
    pull, thrust = loads.force[:, 2], loads.force[:, 0]
    moment = pull * channel.pin_u - thrust * channel.reach
    bolted = demand.columns @ np.array(across)
    pressed = demand.contact > 1.0
    at_edge = (bolted - moment) / np.where(pressed, demand.contact, 1.0)
    lifted = pressed & (demand.columns.max(axis=1) > 1.0)

    assert lifted.any()
    for at in at_edge[lifted]:
        assert min(abs(at - turns) for turns in edges) < 0.1
    assert np.allclose(demand.columns.sum(axis=1)[lifted] - demand.contact[lifted], pull[lifted])
    # the same pulls bend the neck: each bolt on its lever from the ears' root
    neck = next(c for c in strength_checks(bench, ("leaf",)) if "neck bending" in c.id)
    bent, held_longer = (
        float((each.columns * (np.abs(across) - channel.root)).max())
        for each in (demand, on_channel(channel, loads, ON_WOOD))
    )
    assert neck.value == pytest.approx(bent)
    assert bent > 1.01 * held_longer


def test_torque_presses_each_saddle_by_its_share_of_the_bolts() -> None:
    """Statics: torque over the rail's radius, shared like the locking bolts, on its own arms."""
    found = made(0.0)
    bench = bench_for(found.site, SHOP, found.site.leaves[0], found.leaves[0])
    pair = [block for block, _ in rail_saddles(bench)]
    assert len(pair) == 2
    leaf, mount, loads = bench.hung.leaf, bench.leaf.mount, bench.loads["leaf"]
    lever = mount.leaf_pivot[1] - float(leaf.axis_offset)
    off = min(leaf.rails, key=lambda z: abs(z - mount.height)) - mount.height
    torque = -off * loads.force[:, 2] - lever * loads.force[:, 1]
    each = float(np.abs(torque).max()) / (float(leaf.rail_depth) / 2) / 2
    check = next(c for c in strength_checks(bench, ("leaf",)) if "saddle's arms" in c.id)
    least = min(block.pressed_length for block in pair)

    assert check.value == pytest.approx(each / (pair[0].depth * least))


def test_a_bracket_too_weak_astride_an_upright_says_where_the_pin_would_do() -> None:
    """What the search says is borne out: with the pin there, the same stock passes."""
    _, problem, mount = plain()
    site = crossed(60.0).changed({"actuator.thrust": 3200.0})
    job = Job(site=site, shop=SHOP, hung=site.leaves[0], problem=problem, mount=mount)
    stock = Stock.of(SHOP)
    best, tried = search(job, "leaf", stock)
    said = [*why(job, "leaf", best, tried), *what_would_help(job, "leaf", best, stock, stock)]

    assert not best.passed and said[-1].startswith("With the leaf pivot ")
    by = float(said[-1].partition("pivot ")[2].partition(" mm")[0])
    x, y = mount.leaf_pivot
    moved = replace(job, mount=replace(mount, leaf_pivot=(x - by, y)))
    assert search(moved, "leaf", stock)[0].passed
