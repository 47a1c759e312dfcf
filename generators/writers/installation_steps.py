"""The steps of an installation, in order, with one leaf's own numbers and pictures.

Units: mm inside, the shop's unit first in the words.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import radians, sin
from typing import Final

from hangpost.generators.hardware.design import Drilling, LeafDesign
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.hole_marks import drill_words
from hangpost.generators.writers.installation_pictures import (
    height_picture,
    hinge_picture,
    mount_picture,
    stop_picture,
    tie_picture,
)
from hangpost.generators.writers.pictures import Plan, elevation
from hangpost.generators.writers.shop_words import length_words, weld_words
from hangpost.generators.writers.views import Look
from hangpost.parts.part import Part
from hangpost.parts.weld_ear import WeldEar

WITH_BRACKET: Final = {
    "backing plate": "Backing plates go under the nuts on the far face.",
    "saddle block": "Saddle blocks go between the seat and the post.",
    "wedge shim": "Wedge shims go under the seat, thick end as marked, screws right through them.",
    "ear to weld": "Tack the ears with pin and jig in place, take the jig out, then weld; SAF-12.",
}
WITH_LOCK: Final = {
    "lock receiver": "Gate on its closed stop: set the slots so that the bolt enters the middle "
    "of the opening without touching, tighten, lock and unlock by hand ten times.",
    "crossing plate": "The crossing plate goes on first, its slots in the middle. Run the gate for "
    "a day, set it again, then drill through one pin hole of every slot washer and the plate under "
    "it and drive the spring pins in; zinc paint on the bare edges.",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One step: heading, sentences, and a picture when it has one."""

    heading: str
    words: tuple[str, ...]
    picture: Block | None = None


def steps(leaf: LeafDesign, hung: HungLeaf, look: Look, units: Units) -> tuple[Step, ...]:
    """What to do, in order, with this leaf's numbers."""
    plan = Plan.of(leaf, look)
    return (*_before(leaf, hung, plan, look, units), *_fixing(leaf, plan, units))


def _before(
    leaf: LeafDesign, hung: HungLeaf, plan: Plan, look: Look, units: Units
) -> tuple[Step, ...]:
    """Check, print, mark, drill."""
    height = length_words(leaf.problem.height, units)
    drills = tuple(_drill_words(t.id, t.holes, t.through) for t in leaf.templates)
    return (
        Step(
            "Check the gate",
            (
                "Post plumb both ways, footing sound, no rot. The leaf hangs level, swings free "
                f"by hand and stays where it is left. Hinges: {hung.hinge.count}"
                + (
                    "."
                    if hung.hinge.count > 2 or hung.hinge.tether
                    else "; two and no tether: SAF-04."
                ),
                "Measure again from the hinge axis to both post faces. More than 2 mm off the "
                "picture: put the true size in the site file and build again.",
            ),
            hinge_picture(plan, hung, units),
        ),
        Step(
            "Print and prove the templates",
            (
                "At actual size; measure both bars and the tips (250 mm) on every sheet. Check one "
                "true distance of the table with a tape.",
            ),
        ),
        Step(
            "Mark",
            (
                f"Strike one level line across post and leaf, {height} above finished ground. Tape "
                "the templates on it: plumb line plumb, datum on its edge. Prick every dot.",
            ),
            height_picture(elevation(leaf, look), leaf.problem.height, units),
        ),
        Step(
            "Drill",
            (
                *drills,
                "In brackets: how much larger the fraction is, in mm. Have services located first. "
                "Mask for treated timber.",
            ),
        ),
    )


def _drill_words(name: str, holes: Sequence[Drilling], through: bool) -> str:
    kinds: dict[tuple[float, float], int] = {}
    for hole in holes:
        key = (hole.diameter, hole.pilot)
        kinds[key] = kinds.get(key, 0) + 1
    said = "; ".join(
        f"{count}X {drill_words('drill', d)}" + (f", {drill_words('pilot', p)}" if p else "")
        for (d, p), count in kinds.items()
    )
    return f"{name}: {said}" + (", from both faces." if through else ".")


def _fixing(leaf: LeafDesign, plan: Plan, units: Units) -> tuple[Step, ...]:
    """Mount, tie, set the stops, check."""
    mount = leaf.mount
    opening = mount.opening if mount.direction == "pull" else -mount.opening
    retracted_open = mount.open_length < mount.closed_length
    tied_at, tied_length = (
        (opening, mount.open_length) if retracted_open else (0.0, mount.closed_length)
    )
    where = "open" if retracted_open else "closed"
    edge = 2 * leaf.problem.leaf.width * sin(radians(mount.opening) / 2)
    closed, opened = (length_words(v, units) for v in (mount.closed_length, mount.open_length))
    short, far = (length_words(v, units) for v in (mount.margin_retracted, mount.margin_extended))
    tied = length_words(tied_length, units)
    return (
        Step(
            "Mount the post bracket",
            (
                "Washers over every slot. Set the slots to the middle of their travel, tighten, "
                "put the pin in dry: it must turn by hand.",
                *_of_kind(leaf, WITH_BRACKET),
                *_seams(leaf, units),
                *_tightness(leaf, "post"),
            ),
            mount_picture(plan),
        ),
        Step(
            "Tie the actuator",
            (
                f"Stand the leaf {where}. Run the actuator in until {tied} "
                f"is left from pin to pin ({short} short of its end). Pin it to the post, swing "
                "the leaf bracket to the rail, clamp it, then drill and bolt.",
                f"The leaf pivot ends up {length_words(mount.leaf_pivot[0], units)} from the hinge "
                "axis along the leaf.",
                *_tightness(leaf, "leaf"),
            ),
            tie_picture(plan, tied_at, units),
        ),
        Step(
            "Set the stops",
            (
                f"Closed: pin to pin {closed}. Open, {plain(mount.opening)}°: pin to pin {opened}; "
                f"the latch edge has moved {length_words(edge, units)} in a straight line.",
                f"Solid stops carry the gate at both ends. Spare travel left: {short} at the "
                f"short end, {far} at the long end; never less than half of that.",
            ),
            stop_picture(plan, opening, f"{plain(mount.opening)}°"),
        ),
        *_lock(leaf),
        Step(
            "Check the swing",
            (
                "By hand first, power isolated. Look at every pair of the gap table; nothing may "
                "touch, no cable may be pulled. Then powered, nobody within reach.",
            ),
        ),
    )


def _of_kind(leaf: LeafDesign, words: Mapping[str, str]) -> tuple[str, ...]:
    """What has to be said of the kinds of part that this leaf has."""
    kinds = {placed.item.kind for placed in leaf.placed if isinstance(placed.item, Part)}
    return tuple(said for kind, said in words.items() if kind in kinds)


def _seams(leaf: LeafDesign, units: Units) -> tuple[str, ...]:
    """The fillets, where ears are welded on."""
    ears = {p.item for p in leaf.placed if isinstance(p.item, WeldEar) and p.item.weld_leg}
    return tuple(f"Weld: {weld_words(ear, units)}." for ear in ears)


def _tightness(leaf: LeafDesign, end: str) -> tuple[str, ...]:
    """How tight the fasteners of one end are made."""
    return tuple(
        f"{each.fastener.kind}s {each.fastener.size}: tighten {each.tightening}."
        for each in leaf.fixings
        if each.name.split()[0] == end
    )


def _lock(leaf: LeafDesign) -> tuple[Step, ...]:
    """The step for a lock, when the gate has one."""
    said = _of_kind(leaf, WITH_LOCK)
    return (Step("Set the lock receiver", said),) if said else ()
