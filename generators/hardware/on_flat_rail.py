"""Leaf bracket on a flat rail, tube or timber: a lobed channel, through-bolts beside its ears.

It is tied to the leaf last, when the actuator is in its place, so the holes in the rail are
drilled on site. On a tube the bracket still has the travel of its slots along the rail; on
timber its holes are round. Where the leaf's face stands proud of its rail, a printed spacer with
steel sleeves fills the recess. Frame of the seat: datum on the rail's centre line at the leaf
pivot. Units: mm.
"""

from hangpost.generators.hardware.backing import backing
from hangpost.generators.hardware.design import Bought, Placed, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.leaf_channel import (
    Bed,
    datum_words,
    leaf_channel,
    leaf_pin,
    nearest_rail,
    seat_frame,
)
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.sleeves import bore_for, sleeve
from hangpost.generators.hardware.slots import Slotted, needed, round_holes, slotted
from hangpost.generators.hardware.tightening import through_sleeves, through_tube
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.strength import timber_spacing
from hangpost.generators.survey.leaf import Leaf
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.loop import rectangle
from hangpost.parts.spacer import SpacerBlock

THINNEST_SPACER = 3.0  # house: a shallower recess is left, the bracket lies on the rail
ROUND = (
    "In wood no squeeze lasts, so the leaf bracket has round holes and no slots: tie the actuator, "
    "clamp the bracket where it lies, then drill through its holes."
)
LOCKED = (
    "Tie the leaf bracket by its slotted bolts, adjust it, then drill its round holes through into "
    "the rail: along a slot nothing but friction holds."
)


def bracket_on_flat_rail(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The channel with its bolts, spacer, sheet and list."""
    plate, leaf = picks.leaf_plate, hung.leaf
    thickness = float(plate.thickness)
    off = nearest_rail(hung, mount) - mount.height
    face = float(leaf.axis_offset + leaf.rail_depth / 2)
    recess = float(leaf.actuator_face) - face
    spacer = recess if recess >= THINNEST_SPACER else 0.0
    seat_y = face + spacer

    grip = float(leaf.rail_depth) + spacer + thickness
    if leaf.frame == "timber":
        grip += thickness
    bolt = bolt_through(picks.leaf_size, grip, shop)
    slides = leaf.frame != "timber"
    made = Slotted(slot=round_holes(bolt, shop, thickness))
    if slides:
        made = slotted("leaf", bolt, shop, thickness, needed(mount, picks, "leaf"))
        bolt = bolt_through(picks.leaf_size, grip + made.stack, shop)
    bed = Bed(
        seat_y=seat_y,
        bolt=bolt,
        rows=(off,),
        slot=made.slot,
        columns=picks.leaf_bolts,
        apart=0.0 if slides else timber_spacing.spacing_in_row(bolt.diameter, across=False),
    )
    channel = leaf_channel(hung, shop, problem, mount, picks, bed)
    seat = seat_frame(mount, seat_y)
    fixing = Fixing(
        name="leaf",
        fastener=bolt,
        holes=[(hole.name, hole) for hole in channel.drawn().holes],
        plate=thickness,
        under=spacer,
        seat=seat,
        rides="leaf",
        host="steel" if slides else "timber",
        tension=_tension(shop, bolt, leaf, spacer) if slides else 0.0,
        slot_washer=made.washer,
    )
    backed: tuple[Placed, ...] = ()
    if leaf.frame == "timber":  # the nuts would pull into the wood
        backed = (
            backing(
                "leaf",
                channel.drawn().holes,
                bolt=bolt,
                plate=plate,
                shop=shop,
                seat=seat,
                depth=float(leaf.rail_depth) + spacer,
                rides="leaf",
                use="leaf",
            ),
        )
    blocks, sleeves = _spacers(channel, spacer, bolt, shop, seat, float(leaf.rail_height))
    pinned, pin_bought = leaf_pin(hung, shop, mount, channel)
    return Kit(
        placed=(
            Placed(name=channel.id, item=channel, frame=seat, rides="leaf"),
            *blocks,
            *backed,
            *fixing.washers(),
            fixing.body(),
            pinned,
        ),
        tools=fixing.sockets(shop, channel.reach),
        templates=(_template(hung, shop, channel, fixing, mount),),
        bought=(*fixing.bought(shop), *sleeves, *pin_bought),
        fixings=(fixing,),
        reasons=(
            "The leaf bracket is a lobed channel: height is scarce on a rail and width is not, "
            "so its bolts stand beside the ears.",
            *((ROUND,) if not slides else (LOCKED,) if picks.leaf_bolts > 1 else ()),
        ),
    )


def _tension(shop: Shop, bolt: Fastener, leaf: Leaf, spacer: float) -> float:
    """How tight the bolts are made on a tube: through sleeves where a spacer lies between."""
    tube = rail_tube(leaf)
    if spacer:
        return through_sleeves(shop, bolt, tube)
    return through_tube(shop, bolt.size, tube, bolt.head.washer_diameter)


def _spacers(
    channel: LobedChannel, height: float, bolt: Fastener, shop: Shop, seat: Frame, rail: float
) -> tuple[tuple[Placed, ...], tuple[Bought, ...]]:
    """What fills the recess under the channel, in one or, for a small printer, two; its sleeves."""
    if not height:
        return (), ()
    half, bores = min(channel.half_height, rail / 2), [(h.u, h.v) for h in channel.drawn().holes]
    lobes = [(-channel.half_width, channel.half_width)]
    if 2 * channel.half_width > max(shop.printer.bed[:2]):
        lobes = [(-channel.half_width, -channel.root), (channel.root, channel.half_width)]
    placed = []
    for number, (left, right) in enumerate(lobes, 1):
        middle = (left + right) / 2
        block = SpacerBlock(
            id="leaf-spacer" if len(lobes) == 1 else f"leaf-spacer-{number}",
            width=right - left,
            length=2 * half,
            height=height,
            corner=channel.corner,
            bores_at=tuple(sorted((u - middle, v) for u, v in bores if left < u < right)),
            bore=bore_for(bolt, shop),
            chamfer=float(shop.printer.chamfer),
            material=shop.printer.plastic,
        )
        frame = seat.after(Frame((middle, 0.0, -height)))
        placed.append(Placed(name=block.id, item=block, frame=frame, rides="leaf"))
    return tuple(placed), tuple(sleeve(bolt, height) for _ in bores)


def _template(
    hung: HungLeaf, shop: Shop, channel: LobedChannel, fixing: Fixing, mount: Mount
) -> Template:
    left, bottom, right, top = channel.drawn().outline.bounds
    half, off = float(hung.leaf.rail_height) / 2, nearest_rail(hung, mount) - mount.height
    return Template(
        id="leaf-face",
        part_id=channel.id,
        face="leaf, face towards the actuator",
        datum=datum_words("rail's centre line", off, mount, shop),
        holes=fixing.drillings(fixing.fastener.through_drill),
        outline=rectangle(
            left, max(bottom, off - half), right, min(top, off + half), channel.corner
        ),
        height=mount.height,
        left_side="latch side",
        right_side="hinge side",
        facing="actuator side",
        tied=True,
        through=True,
        depth=float(hung.leaf.rail_depth),
    )
