"""The steps of an installation, in order, with one leaf's own numbers and pictures.

What is said of drilling and fixing is installation_words.py. Units: mm inside; in the words what a
tape shows, the shop's unit first.
"""

from dataclasses import dataclass
from math import radians, sin
from typing import Final

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.survey.display import both, plain, shop_first
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.installation_pictures import (
    height_picture,
    hinge_picture,
    mount_picture,
    stop_picture,
    tie_picture,
)
from hangpost.generators.writers.installation_words import drilling, locking, mounting, tying
from hangpost.generators.writers.pictures import Plan, elevation
from hangpost.generators.writers.views import Look

ASTRAY: Final = 2.0  # mm, house: more than a tape reads wrong


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
    """Check, print, mark, drill what stands in the ground."""
    height = both(leaf.problem.height, units)
    sheets = [t for t in leaf.templates if not t.tied]
    assumed = leaf.lock.assumed if leaf.lock else ""
    return (
        Step(
            "Check the gate",
            (
                f"Post {_stands(hung)}, footing sound, no rot. The leaf hangs level, swings free "
                f"by hand and stays where it is left. Hinges: {hung.hinge.count}"
                + (
                    "."
                    if hung.hinge.count > 2 or hung.hinge.tether
                    else "; two and no tether: SAF-04."
                ),
                f"Measure again from the hinge axis to both post faces. More than "
                f"{both(ASTRAY, units)} off the picture: put the true size in the site file and "
                "build again.",
                *([shop_first(assumed, units)] if assumed else []),
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
                "the templates of the posts on the level line that each names: UP up, plumb line "
                "plumb, datum where the sheet says. Prick every dot. The leaf is not drilled yet.",
            ),
            height_picture(elevation(leaf, look), leaf.problem.height, units),
        ),
        Step(
            "Drill the posts" if sheets else "Nothing to drill yet",
            (
                *(words for sheet in sheets for words in drilling(sheet, units)),
                "In brackets: how much larger the fraction is. Have services located first. Mask "
                "for treated timber.",
            )
            if any(sheet.holes for sheet in sheets)
            else ("The post gets no holes; the leaf is drilled when the actuator is tied.",),
        ),
    )


def _stands(hung: HungLeaf) -> str:
    """How the post must stand: plumb, or leaning as it was surveyed and made up for."""
    lean = hung.post.lean.words
    return f"leaning as surveyed, {lean}" if lean else "plumb both ways"


def _fixing(leaf: LeafDesign, plan: Plan, units: Units) -> tuple[Step, ...]:
    """Mount, tie, set the stops, check."""
    mount = leaf.mount
    opening = mount.opening if mount.direction == "pull" else -mount.opening
    tied_at = opening if mount.open_length < mount.closed_length else 0.0
    edge = 2 * leaf.problem.leaf.width * sin(radians(mount.opening) / 2)
    closed, opened = (both(v, units) for v in (mount.closed_length, mount.open_length))
    short, far = (both(v, units) for v in (mount.margin_retracted, mount.margin_extended))
    lock = locking(leaf, units)
    return (
        Step("Mount the post bracket", tuple(mounting(leaf, units)), mount_picture(plan, units)),
        Step(
            "Tie the actuator, then drill the leaf",
            tuple(tying(leaf, units)),
            tie_picture(plan, tied_at, units),
        ),
        Step(
            "Set the stops",
            (
                f"Closed: pin to pin {closed}. Open, {plain(mount.opening)}°: pin to pin {opened}; "
                f"the latch edge has moved {both(edge, units)} in a straight line.",
                f"Solid stops carry the gate at both ends. Spare travel left: {short} at the "
                f"short end, {far} at the long end; never less than half of that.",
            ),
            stop_picture(plan, opening, f"{plain(mount.opening)}°"),
        ),
        *((Step("Set the lock receiver", lock),) if lock else ()),
        Step(
            "Check the swing",
            (
                "By hand first, power isolated. Look at every pair of the gap table; nothing may "
                "touch, no cable may be pulled. Then powered, nobody within reach.",
                "Tell the owner: shut the gate before a storm. Its hardware is reckoned for that "
                "wind on the shut leaf only.",
                f"The actuator turns {plain(mount.turn, places=0)}° about its post pin over the "
                "swing. Its cable gets a loop that follows, hangs lower than where it goes in, so "
                "that water drips off, and is tied to what stands still, clear of every edge. The "
                "brackets have no hole for it: drill none.",
            ),
        ),
    )
