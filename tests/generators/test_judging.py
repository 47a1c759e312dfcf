"""Judging a whole leaf: what double loads, thicker plate and stronger wood do, and what is told."""

from dataclasses import fields as dataclass_fields
from dataclasses import replace
from math import isfinite

import numpy as np
import pytest

from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.demand import ON_STEEL, ON_WOOD, on_angle, on_channel
from hangpost.generators.judging.ear_bars import ear_checks
from hangpost.generators.judging.ears import Ears
from hangpost.generators.judging.judge import judge_leaf, make_checks, site_checks, strength_checks
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.timber_hold import hold, holding
from hangpost.generators.judging.wood import lag_size, post_wood
from hangpost.generators.strength import timber
from hangpost.generators.strength.tables import table
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.post_bracket import PostAngle

from .judged_gates import SHOP, bench, demo, designed, with_picks

# What is not in proportion to the loads: a squeeze chosen beforehand, friction under a preload,
# the leaf's own weight and the wind.
# What the preload, the weight or the wind on a locked leaf decides, not the force at the pins.
OTHER_LOADS = (
    "rail crushed",
    "slip along",
    "at the ground",
    "post bending at the pin",  # the weight too
    "lost travel",
    "held in a storm",
    "lock receiver",
    "crossing plate",
)


def single(force: tuple[float, float, float], duration: float = 1.0) -> PinLoads:
    """One load case."""
    return PinLoads(
        force=np.array([force]),
        angle=np.array([0.0]),
        duration=np.array([duration]),
        case=np.array([0]),
        names=("test",),
    )


def angle() -> PostAngle:
    parts = (placed.item for placed in designed().leaves[0].placed)
    return next(p for p in parts if isinstance(p, PostAngle) and p.place == "upper")


def test_ids_are_unique_and_every_check_tells_its_case_and_its_source() -> None:
    checks = judge_leaf(demo(), SHOP, demo().leaves[0], designed().leaves[0])
    ids = [check.id for check in checks]

    assert len(ids) == len(set(ids))
    assert {one.split(": ")[0] for one in ids} == {"strength", "make", "fasteners"}
    assert all(check.what and check.source for check in checks)


@pytest.mark.parametrize("kind", ["lag screw", "hex bolt"])
def test_double_loads_double_every_use(kind: str) -> None:
    one = bench(with_picks(post_kind=kind, post_size="3/8"))
    two = replace(one, loads={pin: loads.scaled(2.0) for pin, loads in one.loads.items()})
    single_, double = (
        {check.id: check for check in (*strength_checks(b), *site_checks(b)) if check.unit != "mm"}
        for b in (one, two)
    )
    compared = [n for n in single_ if not any(word in n for word in OTHER_LOADS)]

    assert len(compared) > 25
    for name in compared:
        assert double[name].utilisation == pytest.approx(2 * single_[name].utilisation), name


def test_thicker_plate_is_never_used_more() -> None:
    thin, loads = angle(), bench().loads["post"]
    before = dict.fromkeys(("ear bending", "bend stress", "ear bearing", "ear tear-out"), np.inf)
    for t in (5.0, 6.35, 8.0, 9.5, 12.7):
        ears = Ears(
            of="post bracket", thickness=t, hole=thin.pin, tip=thin.tip, gap=thin.gap,
            reach=thin.reach, start=2 * thin.plate_thickness, pin_u=thin.pin_u, root=thin.root,
            eye=19.05, pin=12.7,
        )  # fmt: skip
        now = {c.id.split("post bracket ")[1]: c for c in ear_checks(bench(), ears, loads)}
        for name in before:
            assert now[name].utilisation < before[name], (name, t)
            before[name] = now[name].utilisation


def test_stronger_wood_never_holds_less() -> None:
    site, made = demo(), bench()
    fixing, loads = made.fixing("post"), made.loads["post"]
    demand = on_angle(angle(), loads)
    held: dict[str, tuple[float, ...]] = {}
    strength: dict[str, tuple[float, float]] = {}  # density and stiffness decide together
    for species, row in table("species").items():
        post = site.post.model_copy(update={"species": species})
        wood = post_wood(site, replace(site.leaves[0], post=post), 400.0)
        one = hold(fixing, wood, demand)
        held[species] = (one.withdrawal, *(one.lateral(a) for a in (0.0, 45.0, 90.0)))
        strength[species] = (timber.specific_gravity(species), float(row["e"]))
    pairs = [
        (weak, strong)
        for weak in held
        for strong in held
        if weak != strong and all(np.array(strength[strong]) >= np.array(strength[weak]))
    ]

    assert len(pairs) > 15
    for weak, strong in pairs:
        assert all(np.array(held[strong]) >= np.array(held[weak]) - 1e-9), (weak, strong)


def test_reserve_of_the_shop_is_kept_on_strength_and_not_on_sizes() -> None:
    plain, kept = bench(), replace(bench(), reserve=2.2)
    for one, other in zip(strength_checks(plain), strength_checks(kept), strict=True):
        if one.at_least or "not judged" in one.id or "crushed" in one.id or "slip" in one.id:
            continue
        assert other.limit == pytest.approx(one.limit * plain.reserve / 2.2), one.id
    assert make_checks(plain) == make_checks(kept)


def test_a_part_without_a_judge_warns() -> None:
    class Strange(PostAngle):
        kind = "strange thing"

    made = bench()
    fields = {f.name: getattr(angle(), f.name) for f in dataclass_fields(angle()) if f.init}
    odd = Strange(**{**fields, "id": "odd"})
    placed = replace(made.leaf.placed[-1], item=odd, rides="ground", name="odd")
    checks = strength_checks(replace(made, leaf=replace(made.leaf, placed=(placed,))))

    assert [c.status for c in checks] == ["warn"]
    assert "not judged" in checks[0].id and "strange thing" in checks[0].what


def test_every_bracket_has_workshop_checks() -> None:
    made = bench()
    items = (placed.item for placed in made.leaf.placed)
    cut = {item.id for item in items if isinstance(item, (PostAngle, LobedChannel))}
    told = {c.id for c in make_checks(made)}

    for name in cut:
        for rule in ("hole to edge", "hole to bend", "flange", "on the sheet", "web between holes"):
            assert f"make: {name} {rule}" in told


@pytest.mark.parametrize("end", ["post", "leaf"])
def test_a_slot_longer_than_its_washer_reaches_is_found(end: str) -> None:
    """AISC 360-16 J3.2: a washer covers its slot wherever the bolt stands in it."""
    made = bench()
    fixing = made.fixing(end)
    assert fixing is not None
    name = f"fasteners: {end} washers cover their slots"
    good = {c.id: c for c in make_checks(made)}[name]
    longer = [
        (mark, replace(h, slot_length=h.slot_length + good.value + 1.0) if h.slot_length else h)
        for mark, h in fixing.holes
    ]
    fixings = tuple(replace(f, holes=longer) if f is fixing else f for f in made.leaf.fixings)
    odd = replace(made, leaf=replace(made.leaf, fixings=fixings))

    assert good.status == "pass" and good.value >= 0
    assert {c.id: c for c in make_checks(odd)}[name].status == "fail"


def test_every_check_has_its_formula_with_numbers() -> None:
    made = bench()
    for check in (*strength_checks(made), *make_checks(made), *site_checks(made)):
        numbers = any(c.isdigit() for c in check.working)
        assert numbers or (check.working and ("finish" in check.id or "bend length" in check.id))


def test_slot_too_near_an_edge_fails() -> None:
    made = bench()
    near = replace(angle().slot, land=angle().slot.land - 8.0)
    odd = replace(angle(), slot=near)  # the outermost row comes so much nearer to the seat's end
    swapped = [
        replace(p, item=odd) if isinstance(p.item, PostAngle) and p.item.place == "upper" else p
        for p in made.leaf.placed
    ]
    leaf = replace(made.leaf, placed=tuple(swapped))
    checks = {c.id: c for c in make_checks(replace(made, leaf=leaf))}

    assert checks["make: post-bracket-upper hole to edge"].status == "fail"


def test_double_gate_names_its_leaves() -> None:
    made = replace(bench(), leaf=replace(bench().leaf, name="left-hand"))

    assert all("left-hand leaf" in c.id for c in (*strength_checks(made), *make_checks(made)))


def test_numbers_are_finite_where_something_holds() -> None:
    usual_ = judge_leaf(demo(), SHOP, demo().leaves[0], designed(usual(SHOP)).leaves[0])

    assert all(isfinite(c.value) and isfinite(c.limit) for c in usual_ if "not judged" not in c.id)


@pytest.mark.parametrize("kind", ["lag screw", "hex bolt"])
def test_a_wedge_under_the_seat_is_a_gap_that_the_fastener_bends_over(kind: str) -> None:
    """AWC TR-12: what lies between plate and wood bears nothing; mode IV by hand for the wedge."""
    made = bench(with_picks(post_kind=kind, post_size="3/8"))
    seat = next(p.item for p in made.leaf.placed if isinstance(p.item, PostAngle))
    wood = post_wood(made.site, made.hung, made.steel[1])
    demand, fixing = on_angle(seat, made.loads["post"], ON_WOOD), made.fixing("post")
    assert fixing is not None
    flat, on_wedge = (hold(replace(fixing, under=g), wood, demand).modes(90.0) for g in (0.0, 9.0))

    d, _, _, fyb = lag_size("3/8")
    if kind == "lag screw":
        d = 0.265 * 25.4
    else:
        fyb = 310.264
    qm = 6100 * 0.55**1.45 / 0.375**0.5  # psi, rounded to 50 in the table
    qm = round(qm / 50) * 50 * 0.006894757 * d
    qs = 1.5 * made.steel[1] * d
    p, moment = 3.2 * 1.25 * on_wedge["IV"], fyb * d**3 / 6
    assert 9.0 * p + p**2 / 2 * (1 / qs + 1 / qm) == pytest.approx(2 * moment, rel=1e-3)
    assert min(on_wedge.values()) < 0.8 * min(flat.values())


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("kind", ["lag screw", "hex bolt"])
def test_fasteners_too_close_to_hold_anything_fail_and_nothing_is_divided_by_none(
    kind: str,
) -> None:
    """NDS 12.5.1: columns nearer than 3 D, across the grain, are not allowed: C delta is 0."""
    made = bench(with_picks(post_kind=kind, post_size="3/8"))
    seat = next(p.item for p in made.leaf.placed if isinstance(p.item, PostAngle))
    demand, fixing = on_angle(seat, made.loads["post"], ON_WOOD), made.fixing("post")
    assert fixing is not None
    middle = sum(hole.u for hole in demand.holes) / len(demand.holes)
    close = tuple(
        replace(hole, u=middle + (10.0 if hole.u > middle else -10.0)) for hole in demand.holes
    )
    wood = post_wood(made.site, made.hung, made.steel[1])
    found = holding(
        made, "post bracket", fixing, wood, replace(demand, holes=close), made.loads["post"]
    )

    for check in found:
        assert check.status == "fail" or "withdrawal" in check.id.split(" lateral")[0], check.id


def test_leaf_bracket_that_passes_pulls_less_than_its_tee_stub_holds() -> None:
    """EN 1993-1-8 Table 6.2 with all bolts of a lobe at the nearer one's place, the other its edge."""
    made = bench(
        with_picks(leaf_plate=SHOP.plate_near(9.5), leaf_neck=4.0, leaf_bolts=2, leaf_size="1/2")
    )
    checks = {c.id.split("leaf bracket ")[-1]: c for c in strength_checks(made, ("leaf",))}
    part = next(p.item for p in made.leaf.placed if isinstance(p.item, LobedChannel))
    demand, fixing = on_channel(part, made.loads["leaf"], ON_STEEL), made.fixing("leaf")
    assert fixing is not None
    assert checks["neck bending"].status == checks["bolt shear and tension"].status == "pass"
    off = np.array([hole.u - part.root_u for hole in demand.holes])
    pull = max(demand.tension[:, side].sum(axis=1).max() for side in (off > 0, off < 0))
    m, n = np.abs(off).min() - part.root, np.ptp(np.abs(off))
    width = min(part.neck, 2 * part.half_height)
    plate = made.steel[0] * width * part.plate_thickness**2 / 4 / 1.67
    bolt = 310.0 * np.pi / 4 * fixing.fastener.diameter**2 / 2.0

    assert pull < min(2 * plate / m, (plate + n * bolt) / (m + n), bolt)
