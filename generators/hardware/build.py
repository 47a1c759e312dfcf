"""From a survey and its pivots to the finished design: which hardware, where it stands.

Two tables say which function makes the hardware of which post and which leaf; a new kind is a
new file and one more line here.
"""

from collections.abc import Callable, Mapping, Sequence

from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.kit import Kit, NoHardware, together
from hangpost.generators.hardware.on_square_rail import bracket_on_square_rail
from hangpost.generators.hardware.on_timber import bracket_on_timber
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.scene import scene
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site

Maker = Callable[[HungLeaf, Shop, Problem, Mount, Picks], Kit]

ON_POST: Mapping[str, Maker] = {"timber": bracket_on_timber}
ON_LEAF: Mapping[str, Maker] = {"square_tube": bracket_on_square_rail}


def design_leaf(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> LeafDesign:
    """Everything for one leaf; NoHardware when nothing we make holds these pivots."""
    kit = together(
        (
            _maker(ON_POST, hung.post.kind, "post")(hung, shop, problem, mount, picks),
            _maker(ON_LEAF, hung.leaf.frame, "leaf")(hung, shop, problem, mount, picks),
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
        reasons=(mount.why, *kit.reasons),
    )


def design_gate(
    site: Site, shop: Shop, solved: Sequence[tuple[Problem, Mount]], picks: Picks
) -> Design:
    """The design of the whole gate, leaf by leaf."""
    leaves = tuple(
        design_leaf(hung, shop, problem, mount, picks)
        for hung, (problem, mount) in zip(site.leaves, solved, strict=True)
    )
    return Design(site=site, shop=shop, leaves=leaves)


def _maker(table: Mapping[str, Maker], kind: str, where: str) -> Maker:
    if kind not in table:
        raise NoHardware(f"no {where} hardware for {kind} yet; there is for {', '.join(table)}")
    return table[kind]
