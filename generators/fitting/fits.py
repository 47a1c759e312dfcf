"""Does what was made for a gate fit what is there: pins in line, seats on their tubes, bolts in.

Pure arithmetic on the placed parts, no solids. Frame: the plan frame of the right hand.
Units: mm.
"""

from collections.abc import Iterator

from hangpost.generators.checks import Check
from hangpost.generators.fitting.check import fit_check
from hangpost.generators.fitting.extension import extension
from hangpost.generators.fitting.pins import pins
from hangpost.generators.fitting.seats import seats
from hangpost.generators.gaps import beyond_open_leaf
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.survey.display import both
from hangpost.generators.survey.post import SMALLEST_ROUND
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.lock_receiver import LEAD
from hangpost.parts.part import Part


def fit_checks(site: Site, hung: HungLeaf, leaf: LeafDesign) -> tuple[Check, ...]:
    """Every check of fit of one leaf."""
    return (
        *pins(leaf),
        *seats(hung, leaf),
        *extension(leaf),
        *_hands(leaf),
        *_lock(leaf),
        *_small_post(site, hung, leaf),
        *_behind(hung, leaf),
    )


def _hands(leaf: LeafDesign) -> Iterator[Check]:
    """Everything is designed for the right hand and mirrored as a whole."""
    made = ((p.name, p.for_hand(leaf.hand).item) for p in leaf.placed)
    wrong = [
        name
        for name, item in made
        if isinstance(item, Part) and item.handed and item.hand != leaf.hand
    ]
    yield fit_check(
        leaf,
        "hand of the parts",
        f"parts made for the other hand{': ' + ', '.join(wrong) if wrong else ''}",
        value=float(len(wrong)),
        limit=0.0,
        unit="",
    )


def _lock(leaf: LeafDesign) -> Iterator[Check]:
    if leaf.lock is None:
        return
    plate = leaf.lock.receiver.plate_thickness
    yield fit_check(
        leaf,
        "lock bolt through its receiver",
        "how far the lock's bolt stands into the receiver's plate and past it",
        value=leaf.lock.engagement,
        limit=plate + LEAD,
        at_least=True,
    )


def _small_post(site: Site, hung: HungLeaf, leaf: LeafDesign) -> Iterator[Check]:
    if not hung.post.is_small:
        return
    yield fit_check(
        leaf,
        "post too small",
        f"a round post of {both(hung.post.width, site.units)} accepted on the word of the site "
        "file (post.accept_small); expect it to bend",
        value=float(hung.post.width),
        limit=float(SMALLEST_ROUND),
        at_least=True,
        warning=True,
        source="common practice, no source",
    )


def _behind(hung: HungLeaf, leaf: LeafDesign) -> Iterator[Check]:
    """Whether the free distance that was measured behind the open leaf is enough."""
    if hung.opening.clear_beyond is None:
        return
    out = beyond_open_leaf(leaf.problem, leaf.mount)
    yield fit_check(
        leaf,
        "room behind the open leaf",
        "free distance behind the open leaf (opening.clear_beyond), for the actuator and the leaf "
        "bracket that stand on its leading side",
        value=float(hung.opening.clear_beyond),
        limit=out + leaf.problem.limits.body_clearance,
        at_least=True,
    )
