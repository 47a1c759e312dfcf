"""Every check of strength, making and fasteners for one leaf: which judge looks at which part.

One table here says who judges a part by its type, one in `hosts` a seat's fasteners by what they
go into. What no table names is never passed in silence: it gets a check that warns "not judged".
"""

from collections.abc import Callable, Iterator, Mapping

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.brackets import channel, post_angle, seat_of
from hangpost.generators.judging.extension import extension_checks
from hangpost.generators.judging.fasteners import fixing_checks, zinc_checks
from hangpost.generators.judging.hanging_post import post_checks
from hangpost.generators.judging.latch import crossing_checks, receiver_checks
from hangpost.generators.judging.loads import PinLoads, held_by_lock, pin_loads, pins_hold_wind
from hangpost.generators.judging.making import making_checks
from hangpost.generators.judging.post_torsion import torsion_checks
from hangpost.generators.judging.rail_beam import rail_checks
from hangpost.generators.judging.strongback import strongback_checks
from hangpost.generators.judging.unjudged import unjudged
from hangpost.generators.judging.welded import welded_ear
from hangpost.generators.strength import timber
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.post_channel import PostChannel
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.spacer import SpacerBlock
from hangpost.parts.strongback import Strongback
from hangpost.parts.wedge import WedgeShim
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig

# Of post and leaf bracket, judged with their seats; of the lock, where sleeves take the squeeze.
SADDLES = ("saddle", "rail-saddle", "latch-saddle", "latch-saddle-behind")

Judge = Callable[[Bench, Part, PinLoads], Iterator[Check]]


def bench_for(
    site: Site,
    shop: Shop,
    hung: HungLeaf,
    leaf: LeafDesign,
    known: dict[str, PinLoads] | None = None,
) -> Bench:
    """The leaf with its loads, ready to be judged; `known` are these, where they are at hand."""
    loads = known or {
        at: pin_loads(site, hung, leaf.mount, seat_of(leaf, at), at=at) for at in ("post", "leaf")
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
            found += judge(bench, part, bench.loads[end]) if judge else [unjudged(bench, part)]
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
    if bench.hung.post.kind != "timber" or timber.is_listed(bench.hung.post.species):
        found += post_checks(bench)
        found += torsion_checks(bench)
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


def _weld_ear(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """The ear whose pin is farther out stands for both: on a leaning post they are not alike."""
    ears = [p.item for p in bench.leaf.placed if isinstance(p.item, WeldEar)]
    if part == max(ears, key=lambda ear: ear.reach):
        yield from welded_ear(bench, part, loads)


def _extension(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, PivotExtension)
    ears = (p.item for p in bench.leaf.placed if isinstance(p.item, (PostAngle, WeldEar)))
    ear = min((each.plate_thickness for each in ears), default=part.plate_thickness)
    yield from extension_checks(bench, part, ear, loads)


def _block(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """A saddle or a wedge is judged with its seat; one that nobody knows is not."""
    if not isinstance(part, WedgeShim) and not part.id.startswith(SADDLES):
        yield unjudged(bench, part)


def _receiver(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, LockReceiver)
    yield from receiver_checks(bench, part)


def _crossing(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, CrossingPlate)
    yield from crossing_checks(bench, part)


def _strongback(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    assert isinstance(part, Strongback)
    yield from strongback_checks(bench, part, loads)


def _nothing(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """What is judged with its bracket (a backing plate), or only held apart (a sleeved spacer)."""
    return iter(())


def _held_in_storm(bench: Bench) -> Check:
    lock, drive = held_by_lock(bench.site), bool(bench.hung.actuator.self_locking)
    words = "the lock and the hinges" if lock else "the actuator, which locks itself"
    if pins_hold_wind(bench.site, bench.hung) or lock:
        what = f"in the survival wind {words} hold the closed leaf; shut it before a storm"
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
        working=f"{int(lock)} lock on a post that stands, {int(drive)} self-locking drive",
        warning=True,
    )


JUDGES: Mapping[type[Part], Judge] = {
    PostAngle: post_angle,
    LobedChannel: channel,
    PostChannel: channel,
    WeldEar: _weld_ear,
    PivotExtension: _extension,
    LockReceiver: _receiver,
    CrossingPlate: _crossing,
    SaddleBlock: _block,
    WedgeShim: _block,
    Strongback: _strongback,
    SpacerBlock: _nothing,
    BackingPlate: _nothing,
    PlateWasher: _nothing,
    WeldJig: _nothing,
}
