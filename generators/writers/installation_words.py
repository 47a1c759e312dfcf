"""What is said at the gate of drilling, of mounting, tying and tightening, and of the lock.

Sentences only, one leaf's own; the steps they stand in are installation_steps.py. Units: mm inside;
in the words what a tape shows, the shop's unit first.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from hangpost.generators.hardware.design import Drilling, LeafDesign, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.slack import slack
from hangpost.generators.hardware.trade import sized
from hangpost.generators.strength.fastenings import RUNNING
from hangpost.generators.survey.around import People
from hangpost.generators.survey.display import both, plain, shop_first
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.hole_marks import drill, drill_words
from hangpost.generators.writers.installation_order import going_on
from hangpost.generators.writers.shop_words import weld_words
from hangpost.parts.part import Part
from hangpost.parts.weld_ear import WeldEar

WITH_LOCK: Final = {
    "crossing plate": "The crossing plate goes on first, its slots in the middle of their travel.",
    "lock receiver": "Gate on its closed stop: set the slots so that the bolt enters the middle "
    "of the opening without touching, tighten, lock and unlock by hand ten times.",
}


def answers(people: People) -> Iterator[str]:
    """What the survey says of the safety of people, where it says anything."""
    said = {True: "yes", False: "NO", None: "not answered"}
    given = [
        f"{info.description.rstrip('.')}: {said[getattr(people, name)]}."
        for name, info in People.model_fields.items()
        if info.description
    ]
    if people.model_fields_set:
        yield f"The survey's answers, to be seen again at the gate. {' '.join(given)}"


def drilling(sheet: Template, units: Units) -> Iterator[str]:
    """What to drill of a post's sheet, and what to leave for later."""
    first = [hole for hole in sheet.holes if not hole.last]
    if first:
        yield f"{sheet.id}: {_drills(first, through=sheet.through, units=units)}."
    last = [hole.name for hole in sheet.holes if hole.last]
    if last:
        yield f"{sheet.id}: leave {_listed(last)}; drilled last, through the bracket."


def _drills(holes: Sequence[Drilling], *, through: bool, units: Units) -> str:
    """Names, count and drills of some holes; which go through and which are so deep."""
    kinds: dict[tuple[float, float, float], list[str]] = {}
    for hole in holes:
        kinds.setdefault((hole.diameter, hole.pilot, hole.depth), []).append(hole.name)
    return "; ".join(
        f"{_listed(names)}: {len(names)}X {drill_words('drill', diameter, units)}"
        + (f", pilot {drill(pilot, units)}" if pilot else "")
        + (f", {both(deep, units)} deep" if deep else ", from both faces" if through else "")
        for (diameter, pilot, deep), names in kinds.items()
    )


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)


def mounting(leaf: LeafDesign, units: Units) -> Iterator[str]:
    """The post bracket: where its pin must come, and what is drilled once it is there."""
    (px, py), slides = leaf.mount.post_pivot, _slides(leaf, "post")
    yield from going_on(leaf, "post")
    yield from seams(leaf, units)
    if slides:
        yield "Slots in the middle of their travel, bolts hand tight."
    aside = "behind the hinge axis, away from" if px < 0 else "past the hinge axis, towards"
    yield (
        f"The pin's centre must stand {both(abs(px), units)} {aside} the latch, and "
        f"{both(py, units)} from the hinge axis towards the actuator side"
        + (": slide the bracket until it does, then tighten." if slides else ".")
    )
    for sheet in (t for t in leaf.templates if not t.tied):
        last = [hole for hole in sheet.holes if hole.last]
        if last:
            through = _drills(last, through=sheet.through, units=units)
            yield f"Now drill through the bracket {through}. Bolt it there too."
    yield "Put the pin in dry: it must turn by hand."
    yield from tightness(leaf, "post")
    if any(RUNNING in said for end in ("post", "leaf") for said in tightness(leaf, end)):
        yield "Running torque is what a nut takes to turn before the parts touch."


def tying(leaf: LeafDesign, units: Units) -> Iterator[str]:
    """The leaf bracket goes where the actuator says; what is drilled there, and how else."""
    mount = leaf.mount
    retracted_open = mount.open_length < mount.closed_length
    length = mount.open_length if retracted_open else mount.closed_length
    where = f"open at {plain(mount.opening)}°" if retracted_open else "closed"
    short = both(mount.margin_retracted, units)
    yield (
        f"Stand the leaf {where}. Run the actuator in until {both(length, units)} is left from pin "
        f"to pin ({short} short of its end) and switch it off. Pin it to both brackets, swing the "
        "leaf bracket to the rail, its pin on the level line, and clamp it there."
    )
    yield (
        f"The leaf pivot ends up {both(mount.leaf_pivot[0], units)} from the hinge axis along the "
        "leaf."
    )
    yield from going_on(leaf, "leaf")
    for sheet in (t for t in leaf.templates if t.tied):
        first = [hole for hole in sheet.holes if not hole.last]
        last = [hole for hole in sheet.holes if hole.last]
        if first:
            through = _drills(first, through=sheet.through, units=units)
            yield f"Drill in the middle of the clamped bracket's slots {through}. Bolt it on."
        if last:
            through = _drills(last, through=sheet.through, units=units)
            yield f"{'Then drill' if first else 'Drill'} through its round holes {through}."
        yield from _from_paper(leaf, sheet, both(length, units), units)
    yield from tightness(leaf, "leaf")


def _from_paper(leaf: LeafDesign, sheet: Template, length: str, units: Units) -> Iterator[str]:
    """What to do when the leaf was drilled from its paper and not from the bracket."""
    travel = max((hole.slot_length for hole in sheet.holes), default=0.0)
    if not travel:
        yield f"Never drill the leaf from {sheet.id} alone: this bracket cannot be slid to suit."
        return
    shares = [row.absorbed for row in slack(leaf.fixings, leaf.mount) if row.end == "leaf"]
    share = f"; that does in {100 * shares[0]:.0f} of 100 gates" if shares else ""
    yield (
        f"Or drilled before from {sheet.id}: hang the bracket on those bolts and slide it in its "
        f"slots, {both(travel / 2, units)} either way, until pin to pin is {length}{share}. Then "
        "tighten."
    )


def _slides(leaf: LeafDesign, end: str) -> bool:
    """Whether the bracket of that end has slots."""
    return any(
        hole.slot_length
        for each in leaf.fixings
        if each.name.split()[0] == end
        for _, hole in each.holes
    )


def _of_the_lock(leaf: LeafDesign) -> tuple[str, ...]:
    """What is to be said of the lock's plates that there are."""
    kinds = {
        placed.item.kind
        for placed in leaf.placed
        if isinstance(placed.item, Part) and placed.is_of_the_lock
    }
    return tuple(said for kind, said in WITH_LOCK.items() if kind in kinds)


def seams(leaf: LeafDesign, units: Units) -> Iterator[str]:
    """How ears that are welded on are held, and their fillets."""
    ears = {p.item for p in leaf.placed if isinstance(p.item, WeldEar) and p.item.weld_leg}
    if ears:
        yield from (words for words in leaf.reasons if "jig" in words)
        yield "Zinc and paint off first: SAF-12."
    yield from (f"Weld: {weld_words(ear, units)}." for ear in ears)


def tightness(leaf: LeafDesign, end: str) -> tuple[str, ...]:
    """How tight the fasteners of one end are made."""
    ours = (each for each in leaf.fixings if each.name.split()[0] == end)
    return _tight(*((_called(each), each) for each in ours))


def _called(fixing: Fixing) -> str:
    """What its fasteners are called at the gate."""
    locking = fixing.name.endswith("locking")
    return "locking bolts" if locking else f"{fixing.fastener.kind}s"


def _tight(*named: tuple[str, Fixing]) -> tuple[str, ...]:
    """How tight, of fasteners by their name in a sentence."""
    return tuple(
        f"{_capital(name)} {sized(each.fastener)}: tighten {each.tightening}."
        for name, each in named
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def locking(leaf: LeafDesign, units: Units) -> tuple[str, ...]:
    """The receiver of a lock, in the order of work; nothing where there is none."""
    lock = leaf.lock
    if lock is None:
        return ()
    made = _tight(("anchors", lock.anchor), ("bolts of the receiver", lock.setting))
    return (*_of_the_lock(leaf), *made, *(shop_first(said, units) for said in lock.notes))
