"""The lock's plates are pinned where they were set: friction in a slot holds nothing for good."""

from copy import copy
from dataclasses import replace
from functools import cache

import pytest

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.lock_placing import SADDLE_LEAST
from hangpost.generators.hardware.picks import usual
from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.judging.pinned import slot_washer
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength import timber, yield_modes
from hangpost.generators.strength.tables import row
from hangpost.generators.survey.shop import Drawings, Shop
from hangpost.generators.writers.drawing_notes import notes
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import SlotSpec

from .family import DOUBLE_LOCK, LOCK, survey
from .judged_gates import SHOP

HOSTS = {
    "timber": LOCK.format(kind="timber", size="6x6"),
    "round_steel": LOCK.format(kind="round_steel", size="4"),
    "square_steel": LOCK.format(kind="square_steel", size="4x4x1/4"),
    "second leaf": DOUBLE_LOCK,
}


@cache
def made(host: str, survival: float = 0.0) -> Bench:
    site = survey(more=HOSTS[host], leaves=2 if host == "second leaf" else 1).site
    if survival:
        site = site.changed({"wind.survival": survival})
    solved = solve_gate(site, SHOP)
    design = design_gate(site, SHOP, solved, [usual(SHOP)] * len(solved))
    return bench_for(site, SHOP, site.leaves[-1], design.leaves[-1])


def told(bench: Bench) -> dict[str, Check]:
    return {c.id.split(": ")[1].replace("left-hand leaf ", ""): c for c in strength_checks(bench)}


def part(bench: Bench, kind: type[Part]) -> Part:
    return next(p.item for p in bench.leaf.placed if isinstance(p.item, kind))


@pytest.mark.parametrize("host", HOSTS)
def test_every_slot_of_the_lock_has_a_pin_and_none_hangs_on_friction(host: str) -> None:
    bench = made(host)
    receiver, crossing = part(bench, LockReceiver), part(bench, CrossingPlate)
    pins = [p for p in bench.leaf.placed if p.name.endswith("slot pins")]
    shapes = [s for p in pins if isinstance(p.item, Body) for s in p.item.shapes]
    bought = [b for b in bench.leaf.bought if b.name.startswith("spring pin")]
    slots = [h for p in (receiver, crossing) for h in p.holes if h.slot_length and h.name != "L"]
    checks = told(bench)

    assert len(slots) == len(shapes) == sum(b.quantity for b in bought) == 4
    assert not any("slip" in name for name in checks if "plate" in name)
    for of in ("crossing plate", "lock receiver"):
        assert checks[f"{of} pin shear"].status == checks[f"{of} pin bearing"].status == "pass"
    assert any(name.startswith("crossing plate anchor") for name in checks)


@pytest.mark.parametrize("host", HOSTS)
def test_pins_stand_in_their_washers_and_in_the_plate_below(host: str) -> None:
    bench = made(host)
    plates = {"upright": part(bench, LockReceiver), "level": part(bench, CrossingPlate)}
    names = {"upright": "lock receiver", "level": "crossing plate"}
    by_name = {p.name: p for p in bench.leaf.placed}
    for way, plate in plates.items():
        body = by_name[f"{way} slot pins"].item
        seat = by_name[names[way]].frame
        assert isinstance(body, Body)
        for number, bar in enumerate(body.shapes, 1):
            assert isinstance(bar, Bar)
            washer = by_name[f"{way} slot washer {number}"]
            assert isinstance(washer.item, PlateWasher)
            u, v = washer.item.pin_at
            start = washer.frame.point((u, v, -plate.thickness))
            off = [a - b for a, b in zip(start, seat.origin, strict=True)]
            at = [sum(a * b for a, b in zip(off, axis, strict=True)) for axis in (seat.u, seat.v)]

            assert bar.start == pytest.approx(start)
            assert bar.length == pytest.approx(plate.thickness + washer.item.plate_thickness)
            # all of the pin over the plate, its opening and slots left aside
            outline = plate.drawn().outline
            left, bottom, right, top = outline.bounds
            assert left < at[0] < right and bottom < at[1] < top
            assert outline.distance(*at) - bar.radius >= 1.0


def test_wind_and_weight_decide_the_pins_in_proportion() -> None:
    slow, fast = told(made("timber", 30_000.0)), told(made("timber", 42_426.4069))
    for name in ("pin shear", "pin bearing", "anchor lateral"):
        double = fast[f"crossing plate {name}"].value
        assert double == pytest.approx(2 * slow[f"crossing plate {name}"].value, rel=1e-6)
    bench = made("timber")
    washer = slot_washer(bench, "upright")
    assert washer is not None
    u, v = washer.pin_at
    weight = bench.hung.leaf.mass * 9.80665 / 2 / 2  # half at the lock, on two pins
    link = (u**2 + v**2) ** 0.5 / v

    assert told(bench)["lock receiver pin shear"].value == pytest.approx(weight * link)


def test_pins_hold_half_of_their_double_shear_over_two() -> None:
    """The table's values are from memory: what bears them out is in test_remembered.py."""
    checks = told(made("timber"))
    metric = replace(made("timber"), shop=Shop(drawings=Drawings(units="mm")))

    assert spring_pin(SHOP).diameter == 6.35 and spring_pin(metric.shop).diameter == 6.0
    listed = {s: float(row("spring_pins", s)["double_shear"]) for s in ("1/4", "6")}
    limit = checks["crossing plate pin shear"].limit * SHOP.reserve
    assert limit == pytest.approx(listed["1/4"] / 4)  # one plane, over 2.00
    other = told(metric)["crossing plate pin shear"]
    assert other.limit * metric.reserve == pytest.approx(listed["6"] / 4)


def test_weak_wood_far_from_its_washer_fails_in_a_hurricane() -> None:
    gale = made("timber", 88_000.0)

    assert told(gale)["crossing plate anchor lateral"].status == "fail"


def test_anchor_in_wood_bends_over_the_plate_and_packing_under_its_washer() -> None:
    """AWC TR-12 mode IV by hand: g P + P^2 / 2 (1/qs + 1/qm) = 2 M, over Rd = 3.2 x 1.25."""
    bench = made("timber")
    lock = bench.leaf.lock
    washer = slot_washer(bench, "level")
    assert lock is not None and washer is not None
    root, gap = yield_modes.lag("3/8")[1], lock.behind
    qm = root * timber.bearing_across(0.55, 9.525)
    qs = root * timber.bearing_steel(bench.steel[1], washer.plate_thickness)
    moment = 310.264 * root**3 / 6
    a = (1 / qs + 1 / qm) / 2
    four = (-gap + (gap**2 + 8 * a * moment) ** 0.5) / (2 * a) / 4.0
    limit = told(bench)["crossing plate anchor lateral"].limit

    assert gap > 6.0  # the crossing plate at least
    assert limit * SHOP.reserve == pytest.approx(four * 1.6 * 0.7, rel=1e-3)


def test_a_slot_longer_than_its_washer_reaches_is_found() -> None:
    bench = made("timber")
    for kind, of in ((LockReceiver, "lock receiver"), (CrossingPlate, "crossing plate")):
        plate = part(bench, kind)
        good = told(bench)[f"{of} washers cover their slots"]
        slot = replace(plate.slot, travel=plate.slot.travel + good.value + 1.0)  # type: ignore[attr-defined]
        odd = dataclass_copy(plate, slot)
        placed = tuple(replace(p, item=odd) if p.item is plate else p for p in bench.leaf.placed)
        found = told(replace(bench, leaf=replace(bench.leaf, placed=placed)))

        assert good.status == "pass" and good.value >= 1.0
        assert found[f"{of} washers cover their slots"].status == "fail"


def dataclass_copy(plate: Part, slot: SlotSpec) -> Part:
    """The same plate with another slot, as somebody might cut it: past its own rules."""
    odd = copy(plate)
    object.__setattr__(odd, "slot", slot)
    return odd


def test_drawings_list_and_sheet_say_what_is_pinned() -> None:
    bench = made("timber")
    washer = slot_washer(bench, "level")
    assert washer is not None
    for piece in (part(bench, CrossingPlate), part(bench, LockReceiver), washer):
        assert any("spring pin" in said and "1/4 in" in said for said in notes(piece, SHOP))
    assert any("Tap holes" in line for line in notes(part(bench, CrossingPlate), SHOP))
    lock = bench.leaf.lock
    assert lock is not None
    assert any("drill 1/4 in" in note and "a spring pin in" in note for note in lock.notes)


def test_nothing_of_a_lock_is_unjudged_whatever_it_stands_on() -> None:
    for host in HOSTS:
        assert not [name for name in told(made(host)) if "not judged" in name], host


def test_bolt_through_a_post_presses_its_near_wall_by_more_than_the_wind() -> None:
    """Two walls as supports of a bolt pulled outside them: P (1 + e / D), textbook statics."""
    bench = made("square_steel")
    lock, washer = bench.leaf.lock, slot_washer(bench, "level")
    assert lock is not None and washer is not None
    each = told(bench)["crossing plate pin shear"].value
    u, v = washer.pin_at
    lever = lock.behind + washer.plate_thickness / 2
    near = each * v / (u**2 + v**2) ** 0.5 * (1 + lever / 101.6)

    assert told(bench)["crossing plate anchor on the wall"].value == pytest.approx(near)


@pytest.mark.parametrize("host", ["timber", "round_steel", "square_steel"])
def test_anchors_come_out_behind_what_they_hold_on_or_end_in_the_wood(host: str) -> None:
    """Nuts are 0.8 to 0.9 of the diameter high (ISO 4032); a lag's point stays inside."""
    bench = made(host)
    post = bench.site.lock.post
    named = {p.name: p for p in bench.leaf.placed if isinstance(p.item, Body)}
    shaft = named.pop("latch post").item.shapes[0]
    middle = shaft.start[0] if isinstance(shaft, Bar) else (shaft.least[0] + shaft.greatest[0]) / 2
    (anchors,) = (p for name, p in named.items() if name.startswith("latch "))
    shank = max(anchors.item.shapes, key=lambda bar: bar.length)
    tail = anchors.frame.point(shank.start)[0]  # x goes on from the leaf into the post
    behind = tail - (middle + float(post.width) / 2)

    if not isinstance(shaft, Bar):
        sizes = [b - a for a, b in zip(shaft.least, shaft.greatest, strict=True)]
        assert sizes[:2] == pytest.approx([float(post.width), float(post.depth)])
    if "lag" in anchors.name:
        assert -float(post.width) / 2 < behind < -6.0
    else:
        packed = SADDLE_LEAST if post.is_round else 0.0
        assert 0.85 * 2 * shank.radius + 1.0 <= behind - packed < 60.0


@pytest.mark.parametrize("host", ["timber", "round_steel", "square_steel"])
def test_the_lock_s_sheet_says_which_side_is_whose(host: str) -> None:
    """As one looks at the face, up is up: what is on the right is up x normal; y is the actuator's."""
    leaf = made(host).leaf
    (sheet,) = (t for t in leaf.templates if t.id == "latch-face")
    (plate,) = (p for p in leaf.placed if isinstance(p.item, CrossingPlate))
    (nx, _, _) = plate.frame.w
    right = (0.0, nx, 0.0)  # (0, 0, 1) x (nx, 0, 0)

    assert abs(nx) == pytest.approx(1.0)
    assert sheet.right_side == ("actuator side" if right[1] > 0 else "far side")
    assert {sheet.left_side, sheet.right_side} == {"actuator side", "far side"}
