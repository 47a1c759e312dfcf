"""From a survey and its pivots to the finished design: which hardware, where it stands.

Two tables say which function makes the hardware of which post and which leaf; a new kind is a
new file and one more line here.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from hangpost.generators.hardware.design import Design, LeafDesign, Placed
from hangpost.generators.hardware.extension import carried
from hangpost.generators.hardware.held import PostMaker
from hangpost.generators.hardware.kit import Kit, NoHardware, made, speaking, together
from hangpost.generators.hardware.lap import lap_strip
from hangpost.generators.hardware.lock import on_latch_post, on_second_leaf
from hangpost.generators.hardware.lock_placing import Locked
from hangpost.generators.hardware.on_flat_rail import bracket_on_flat_rail
from hangpost.generators.hardware.on_round import bracket_on_round
from hangpost.generators.hardware.on_round_clamped import bracket_clamped
from hangpost.generators.hardware.on_round_rail import bracket_on_round_rail
from hangpost.generators.hardware.on_square_steel import bracket_on_square_steel
from hangpost.generators.hardware.on_strongback import bracket_on_strongback
from hangpost.generators.hardware.on_timber import bracket_on_timber
from hangpost.generators.hardware.on_welded import bracket_welded
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.scene import scene
from hangpost.generators.hardware.slack import slack
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import on_rail
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.opening import Choice
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.part import Part

Maker = Callable[[HungLeaf, Shop, Problem, Mount, Picks], Kit]

ON_POST: Mapping[tuple[str, str], PostMaker] = {
    ("timber", "bolted"): bracket_on_timber,
    ("round_steel", "saddle"): bracket_on_round,
    ("round_steel", "clamp"): bracket_clamped,
    ("round_steel", "weld"): bracket_welded,
    ("square_steel", "bolted"): bracket_on_square_steel,
    ("square_steel", "weld"): bracket_welded,
}
ON_LEAF: Mapping[str, Maker] = {
    "square_tube": bracket_on_flat_rail,
    "round_tube": bracket_on_round_rail,
    "timber": bracket_on_flat_rail,
}


def post_kit(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, choice: Choice
) -> Kit:
    """What carries the post pivot; NoHardware when nothing we make holds it there."""
    with made("post bracket", "post", "actuator.post_eye", "fixed.post_pivot"):
        return carried(hung, shop, problem, mount, picks, _on_post(hung), choice.extension)


def leaf_kit(hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks) -> Kit:
    """What carries the leaf pivot; NoHardware when nothing we make holds it there."""
    with made("leaf bracket", "leaf.member", "leaf.rails", "actuator.leaf_eye", "actuator.height"):
        return _on_leaf(hung, mount)(hung, shop, problem, mount, picks)


def design_leaf(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, choice: Choice
) -> LeafDesign:
    """Everything for one leaf; NoHardware when nothing we make holds these pivots."""
    _level(hung)
    kit = together(
        (
            post_kit(hung, shop, problem, mount, picks, choice),
            leaf_kit(hung, shop, problem, mount, picks),
        )
    )
    return LeafDesign(
        name="",
        hand=hung.hand,
        problem=problem,
        mount=mount,
        placed=(*scene(hung), *kit.placed),
        tools=kit.tools,
        templates=kit.templates,
        bought=kit.bought,
        fixings=kit.fixings,
        jigs=kit.jigs,
        reasons=(mount.why, *kit.reasons, *(s.sentence() for s in slack(kit.fixings, mount))),
    )


def design_gate(
    site: Site, shop: Shop, solved: Sequence[tuple[Problem, Mount]], picks: Sequence[Picks]
) -> Design:
    """The design of the whole gate, leaf by leaf."""
    with speaking(site.units):
        return _design(site, shop, solved, picks)


def _design(
    site: Site, shop: Shop, solved: Sequence[tuple[Problem, Mount]], picks: Sequence[Picks]
) -> Design:
    leaves = [
        design_leaf(hung, shop, problem, mount, picked, site.choice)
        for hung, (problem, mount), picked in zip(site.leaves, solved, picks, strict=True)
    ]
    if site.is_double:
        leaves[1] = _with_lock(leaves[1], _lock(site, shop))
        leaves = [_one_of_two(leaf) for leaf in _with_lap(site, leaves)]
        first, second = leaves
        apart = float(site.leaf[0].width + site.meeting.gap + site.leaf[1].width)
        second = replace(second, shift=apart if first.hand == "right" else -apart)
        order = _order(site)
        leaves = [
            replace(leaf, reasons=(*leaf.reasons, *order))
            for leaf in (first, _own_names(first, second))
        ]
    else:
        leaves[0] = _with_lock(leaves[0], _lock(site, shop))
    return Design(site=site, shop=shop, leaves=tuple(leaves))


def _lock(site: Site, shop: Shop) -> Locked | None:
    """What takes the lock's bolt, on the second leaf or on the latch post."""
    with made("lock receiver", "lock", "meeting.gap"):
        if site.is_double:
            return on_second_leaf(site, shop)
        return on_latch_post(site, shop, site.leaves[0])


def _order(site: Site) -> tuple[str, ...]:
    """In which order two leaves move, when one laps over the other or takes its lock."""
    first = site.opens_first
    if first is None:
        return ()
    lap = (
        f"The leaves lap by {site.meeting.overlap:.0f} mm"
        if site.meeting.overlap
        else ("The receiver's stop laps behind the leaf with the lock")
    )
    return (
        f"{lap}: leaf {first} opens first and closes last, leaf {3 - first} closes first; let the "
        f"control hold it back {site.delay:g} s either way, which the clearances are reckoned for.",
    )


def _with_lap(site: Site, leaves: Sequence[LeafDesign]) -> list[LeafDesign]:
    """The leaves, the strip on the one that closes first if they lap."""
    if not site.meeting.overlap or site.opens_first is None:
        return list(leaves)
    first = site.opens_first - 1  # to open
    strip = lap_strip(site, leaves[1].lock)
    return [
        leaf if number == first else replace(leaf, placed=(*leaf.placed, strip))
        for number, leaf in enumerate(leaves)
    ]


def _with_lock(leaf: LeafDesign, locked: Locked | None) -> LeafDesign:
    """The leaf's design with the receiver that stands on its side, if there is a lock."""
    if locked is None:
        return leaf
    kit = locked.kit
    return replace(
        leaf,
        placed=(*leaf.placed, *kit.placed),
        tools=(*leaf.tools, *kit.tools),
        templates=(*leaf.templates, *kit.templates),
        bought=together((Kit(bought=leaf.bought), kit)).bought,
        lock=locked.design,
        reasons=(*leaf.reasons, *kit.reasons),
    )


def _one_of_two(leaf: LeafDesign) -> LeafDesign:
    """The leaf named by its hand, and its sheets too, so that nothing is mixed up."""
    name = "right-hand" if leaf.hand == "right" else "left-hand"
    sheets = tuple(
        replace(sheet, id=f"{name}-{sheet.id}", face=f"{name} leaf: {sheet.face}")
        for sheet in leaf.templates
    )
    return replace(leaf, name=name, templates=sheets)


def _own_names(first: LeafDesign, second: LeafDesign) -> LeafDesign:
    """The second leaf with new ids for parts that share a mark with the first but differ."""
    marked = {part.mark: part for part in _parts(first)}

    def own(placed: Placed) -> Placed:
        item = placed.item
        if not isinstance(item, Part):
            return placed
        part = placed.for_hand(second.hand).item
        assert isinstance(part, Part)
        other = marked.get(part.mark, part)
        same = other == part or (not part.handed and other == part.mirrored())
        return placed if same else replace(placed, item=replace(item, id=f"{item.id}-2"))

    return replace(second, placed=tuple(own(placed) for placed in second.placed))


def _parts(leaf: LeafDesign) -> Iterator[Part]:
    for placed in leaf.placed:
        item = placed.for_hand(leaf.hand).item
        if isinstance(item, Part):
            yield item


def _level(hung: HungLeaf) -> None:
    """Both pivots must stay level enough for the actuator's joints."""
    tilt, allowed = hung.tilt_from_rise, float(hung.actuator.joint_tilt)
    if tilt > allowed:
        raise NoHardware(
            f"the hinges lift the leaf by {hung.hinge.rise:.0f} mm, which tilts the actuator by "
            f"{tilt:.1f} degrees; its joints allow {allowed:g} (actuator.joint_tilt)"
        )


def _on_post(hung: HungLeaf) -> PostMaker:
    """The bracket for the post's kind and fixing; "auto" is the first of its kind."""
    kind, fixing = hung.post.kind, hung.post.fixing
    fitting = {how: make for (what, how), make in ON_POST.items() if what == kind}
    if fixing != "auto" and fixing not in fitting:
        raise NoHardware(
            f'post.fixing = "{fixing}" does not go with a {kind} post; what does: '
            f"{', '.join(fitting)}"
        )
    return next(iter(fitting.values())) if fixing == "auto" else fitting[fixing]


def _on_leaf(hung: HungLeaf, mount: Mount) -> Maker:
    """The bracket for the leaf's rails, or a bar between two where none is near the pins."""
    return ON_LEAF[hung.leaf.frame] if on_rail(hung, mount.height) else bracket_on_strongback
