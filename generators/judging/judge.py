"""Every check of strength, making and fasteners for one leaf: which judge looks at which part.

Two tables say who judges a part by its type and a seat's fasteners by what they go into. What no
table names is never passed in silence: it gets a check of its own that warns "not judged".
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from math import nan

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import ON_STEEL, ON_WOOD, Demand, on_angle, on_channel
from hangpost.generators.judging.ears import Ears, bar_checks, ear_checks
from hangpost.generators.judging.extension import extension_checks
from hangpost.generators.judging.fasteners import fixing_checks, zinc_checks
from hangpost.generators.judging.hanging_post import post_checks
from hangpost.generators.judging.latch import crossing_checks, receiver_checks
from hangpost.generators.judging.loads import PinLoads, held_by_lock, pin_loads, pins_hold_wind
from hangpost.generators.judging.making import making_checks
from hangpost.generators.judging.on_timber import timber_group
from hangpost.generators.judging.on_timber_rail import timber_rail_group
from hangpost.generators.judging.on_tube import post_group, rail_group
from hangpost.generators.judging.rail_beam import rail_checks
from hangpost.generators.judging.seat import angle_seat, channel_seat, spacing
from hangpost.generators.judging.welded import welded_ear
from hangpost.generators.judging.wood import known_species, post_wood
from hangpost.generators.survey.actuator import Eye
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.channel import Channel
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.frame import Frame
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.post_channel import PostChannel
from hangpost.parts.spacer import SpacerBlock
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig

Judge = Callable[[Bench, Part, PinLoads], Iterator[Check]]
OnHost = Callable[[Bench, str, Fixing, Demand, PinLoads], Iterator[Check]]


def bench_for(site: Site, shop: Shop, hung: HungLeaf, leaf: LeafDesign) -> Bench:
    """The leaf with its loads, ready to be judged."""
    loads = {
        at: pin_loads(site, hung, leaf.mount, _seat(leaf, at), at=at) for at in ("post", "leaf")
    }
    return Bench(
        site=site,
        shop=shop,
        hung=hung,
        leaf=leaf,
        loads=loads,
        reserve=float(shop.reserve),
    )


def judge_leaf(site: Site, shop: Shop, hung: HungLeaf, leaf: LeafDesign) -> tuple[Check, ...]:
    """Every check of one leaf."""
    bench = bench_for(site, shop, hung, leaf)
    return (*strength_checks(bench), *make_checks(bench), *site_checks(bench))


def strength_checks(bench: Bench, ends: tuple[str, ...] = ("post", "leaf")) -> tuple[Check, ...]:
    """What holds the pins at the given ends: every part, every seat."""
    found: list[Check] = []
    for part, end in _parts(bench):
        if end in ends:
            judge = JUDGES.get(type(part))
            found += judge(bench, part, bench.loads[end]) if judge else [_unjudged(bench, part)]
    return tuple(found)


def make_checks(bench: Bench, ends: tuple[str, ...] = ("post", "leaf")) -> tuple[Check, ...]:
    """Workshop rules for every part, and the rules for what is bought."""
    found: list[Check] = []
    for part, end in _parts(bench):
        if end in ends:
            found += making_checks(bench, part)
            found += zinc_checks(bench, part)
    for fixing in bench.leaf.fixings:
        if fixing.name in ends:
            found += fixing_checks(bench, fixing)
    return tuple(found)


def site_checks(bench: Bench) -> tuple[Check, ...]:
    """What does not hang on the hardware chosen: post, rail, who holds the leaf in a storm."""
    found: list[Check] = []
    if bench.hung.post.kind != "timber" or known_species(bench.hung.post.species):
        found += post_checks(bench)
    found += rail_checks(bench)
    found.append(_held_in_storm(bench))
    return tuple(found)


def _parts(bench: Bench) -> Iterator[tuple[Part, str]]:
    """Every different part once, with the end of the actuator it belongs to."""
    seen: set[str] = set()
    for placed in bench.leaf.placed:
        part = placed.item
        if isinstance(part, Part) and part.id not in seen:
            seen.add(part.id)
            yield part, "leaf" if placed.rides == "leaf" else "post"


def _seat(leaf: LeafDesign, at: str) -> Frame:
    """The frame of the seat that carries this pin."""
    for fixing in leaf.fixings:
        if fixing.name == at:
            return fixing.seat
    return Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def _post_angle(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, PostAngle)
    if part.place == "lower":  # the upper one's mirror image: judged once, with the weight on it
        return
    eye = bench.hung.actuator.post_eye
    start = part.plate_thickness + part.bend_radius
    ears = _ears("post bracket", part, part.root, start, eye)
    pin = None
    if part.joins:  # the pin is farther out: the extension is judged for its own part
        pin = _pin_on(bench)
        ears = replace(ears, pin_u=pin[0], reach=pin[1])
        yield from bar_checks(bench, ears, loads)
    else:
        yield from ear_checks(bench, ears, loads)
    fixing = bench.fixing("post")
    if fixing is None:
        yield _unheld(bench, part)
        return
    host = ON_WOOD if bench.hung.post.kind == "timber" else ON_STEEL
    demand = on_angle(part, loads, host, pin)
    yield from angle_seat(bench, part, ears, fixing.fastener, demand, loads)
    yield spacing(bench, "post bracket", fixing.fastener, demand)
    yield from _on_host(bench, "post bracket", fixing, demand, loads)


def _pin_on(bench: Bench) -> tuple[float, float]:
    """Where the post pin is in the frame of the post's seat: u and reach."""
    seat, mount = _seat(bench.leaf, "post"), bench.leaf.mount
    off = (mount.post_pivot[0] - seat.origin[0], mount.post_pivot[1] - seat.origin[1])
    w = seat.w
    return (off[0] * seat.u[0] + off[1] * seat.u[1], off[0] * w[0] + off[1] * w[1])


def _weld_ear(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, WeldEar)
    yield from welded_ear(bench, part, loads)


def _extension(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, PivotExtension)
    ears = (p.item for p in bench.leaf.placed if isinstance(p.item, (PostAngle, WeldEar)))
    ear = min((each.plate_thickness for each in ears), default=part.plate_thickness)
    yield from extension_checks(bench, part, ear, loads)


def _receiver(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, LockReceiver)
    yield from receiver_checks(bench, part)


def _crossing(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, CrossingPlate)
    yield from crossing_checks(bench, part)


def _channel(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, Channel)
    on_leaf = part.fixed_to == "leaf"
    of = "leaf bracket" if on_leaf else "post bracket"
    eye = bench.hung.actuator.at_leaf if on_leaf else bench.hung.actuator.post_eye
    root = (part.root_u - part.root, part.root_u + part.root)
    start = part.plate_thickness + part.bend_radius
    yield from ear_checks(bench, _ears(of, part, root, start, eye), loads)
    fixing = bench.fixing(part.fixed_to)
    if fixing is None:
        yield _unheld(bench, part)
        return
    timber = on_leaf and bench.hung.leaf.frame == "timber"
    demand = on_channel(part, loads, ON_WOOD if timber else ON_STEEL)
    yield from channel_seat(bench, of, part, fixing.fastener, demand, loads)
    yield spacing(bench, of, fixing.fastener, demand)
    yield from _on_host(bench, of, fixing, demand, loads)


def _ears(
    of: str, part: PostAngle | Channel, root: tuple[float, float], start: float, eye: Eye
) -> Ears:
    return Ears(
        of=of,
        thickness=part.plate_thickness,
        hole=part.pin,
        tip=part.tip,
        gap=part.gap,
        reach=part.reach,
        start=start,
        pin_u=part.pin_u,
        root=root,
        eye=float(eye.thickness),
        pin=float(eye.pin),
    )


def _nothing(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """What is judged with its bracket (a backing plate), or only held apart (a sleeved spacer)."""
    return iter(())


def _on_host(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    end = fixing.name
    kind = bench.hung.post.kind if end == "post" else bench.hung.leaf.frame
    judge = HOSTS.get((end, kind))
    clamped = any(placed.name == f"{end} U-bolts" for placed in bench.leaf.placed)
    if judge is None or clamped:
        how = "U-bolts" if clamped else "fasteners"
        words = f"the {how} of the {of} on a {end} of {kind.replace('_', ' ')}"
        yield _not_judged(bench, f"{of} fasteners", words)
        return
    yield from judge(bench, of, fixing, demand, loads)


def _timber_post(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    if not known_species(bench.hung.post.species):
        words = f"fasteners in {bench.hung.post.species}, a species that the tables do not have"
        yield _not_judged(bench, f"{of} fasteners", words)
        return
    wood = post_wood(bench.site, bench.hung, bench.steel[1])
    yield from timber_group(bench, of, fixing, wood, demand, loads)


def _timber_rail(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    if not known_species(bench.hung.leaf.species):
        words = f"fasteners in {bench.hung.leaf.species}, a species that the tables do not have"
        yield _not_judged(bench, f"{of} fasteners", words)
        return
    yield from timber_rail_group(bench, of, fixing, demand, loads)


def _unjudged(bench: Bench, part: Part) -> Check:
    return _not_judged(bench, f"{part.id}", f"{part.id} ({part.kind})")


def _unheld(bench: Bench, part: Part) -> Check:
    return _not_judged(bench, f"{part.id} fasteners", f"the fasteners of {part.id}")


def _not_judged(bench: Bench, name: str, words: str) -> Check:
    return bench.fits(
        "strength",
        f"{name} not judged",
        f"not judged: no rule of this program covers {words}; let a competent person look at it",
        value=nan,
        least=0.0,
        unit="",
        source="house: nothing passes in silence",
        warning=True,
    )


def _held_in_storm(bench: Bench) -> Check:
    lock, drive = held_by_lock(bench.site), bool(bench.hung.actuator.self_locking)
    words = "the lock and the hinges" if lock else "the actuator, which locks itself"
    if pins_hold_wind(bench.site, bench.hung) or lock:
        what = f"in the survival wind {words} hold the closed leaf"
    else:
        what = "nothing holds the closed leaf in the survival wind: no lock, no self-locking drive"
    return bench.fits(
        "strength",
        "closed leaf held in a storm",
        what,
        value=1.0 if lock or drive else 0.0,
        least=1.0,
        unit="",
        source="house",
        warning=True,
    )


JUDGES: Mapping[type[Part], Judge] = {
    PostAngle: _post_angle,
    LobedChannel: _channel,
    PostChannel: _channel,
    WeldEar: _weld_ear,
    PivotExtension: _extension,
    LockReceiver: _receiver,
    CrossingPlate: _crossing,
    SpacerBlock: _nothing,
    BackingPlate: _nothing,
    PlateWasher: _nothing,
    WeldJig: _nothing,
}

HOSTS: Mapping[tuple[str, str], OnHost] = {
    ("post", "timber"): _timber_post,
    ("post", "round_steel"): post_group,
    ("post", "square_steel"): post_group,
    ("leaf", "square_tube"): rail_group,
    ("leaf", "timber"): _timber_rail,
}
