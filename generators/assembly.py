"""The whole gate as one STEP assembly, at any angle of its leaves.

Frame: x along the closed leaf of a right-hand gate, y towards the actuator, z up from finished
ground; a left-hand leaf is mirrored in x. Units: mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from hangpost.generators.hardware.design import Design, LeafDesign, Placed
from hangpost.parts.bodies import Block, Body
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part

Colour = tuple[float, float, float]

STEEL: Colour = (0.55, 0.60, 0.66)
PLASTIC: Colour = (0.90, 0.62, 0.25)
BOUGHT: Colour = (0.35, 0.37, 0.40)
POST: Colour = (0.72, 0.58, 0.42)
STEEL_POST: Colour = (0.64, 0.66, 0.66)
LEAF: Colour = (0.42, 0.50, 0.45)
ACTUATOR: Colour = (0.30, 0.36, 0.50)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A thing of the assembly where it stands."""

    name: str  # unique in the assembly
    product: str  # shared by equal things
    item: Part | Body
    frame: Frame
    colour: Colour


def assembly_name(design: Design, share: float) -> str:
    """What the assembly is called with every leaf at a share of its opening."""
    return f"{design.site.slug}-{'open' if share else 'closed'}"


def standing(design: Design, share: float) -> Iterator[Standing]:
    """Everything in the assembly at a share of the opening: 0 closed, 1 open."""
    for leaf in design.leaves:
        for placed in leaf.placed:
            item = placed.for_hand(leaf.hand).item
            product = item.mark if isinstance(item, Part) else item.name
            yield Standing(
                name=piece_name(leaf, placed),
                product=f"{leaf.name} {product}".strip() if not isinstance(item, Part) else product,
                item=item,
                frame=leaf.standing(placed, open_angle(leaf) * share),
                colour=colour(placed),
            )


def piece_name(leaf: LeafDesign, placed: Placed) -> str:
    """What a thing on a leaf is called in the whole gate."""
    return f"{leaf.name} {placed.name}".strip()


def open_angle(leaf: LeafDesign) -> float:
    """Signed angle of the open leaf in the frame of the right hand."""
    return leaf.mount.curve[-1].angle


def colour(placed: Placed) -> Colour:
    """What a thing is painted in pictures and assemblies."""
    if isinstance(placed.item, Part):
        return STEEL if placed.item.process == "cut" else PLASTIC
    if placed.name.startswith("actuator"):
        return ACTUATOR
    if placed.name in ("hanging post", "latch post"):
        whole = all(isinstance(shape, Block) and not shape.wall for shape in placed.item.shapes)
        return POST if whole else STEEL_POST  # timber is square and has no wall
    return LEAF if placed.name == "leaf" else BOUGHT
