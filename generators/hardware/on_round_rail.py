"""Leaf bracket on a round tube rail: the lobed channel on a saddle, U-bolts round the rail.

It slides along the rail until it is tied, then the locking bolts in the middle of each lobe go
into the rail's near wall, so that neither the thrust moves it nor its weight turns it. Frame of
the seat: datum at the leaf pivot. Units: mm.
"""

from dataclasses import replace

from hangpost.generators.hardware.design import Placed, Template
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.leaf_channel import (
    Bed,
    datum_words,
    leaf_channel,
    leaf_pin,
    nearest_rail,
    seat_frame,
)
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.sleeves import bore_for
from hangpost.generators.hardware.slots import round_holes
from hangpost.generators.hardware.tightening import through_print
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.hardware.u_bolted import UBolted, u_size
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import LEAF_SADDLE
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.loop import rectangle
from hangpost.parts.saddle import WALL, SaddleBlock, SleeveBore
from hangpost.parts.u_bolt import UBolt

WRAPS = 0.25  # share of the rail's diameter that the arms reach round it; house
LEG_FIT = 1.0  # house: bore over the leg of a U-bolt, on the diameter


def bracket_on_round_rail(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The channel with its saddle, U-bolts, locking bolts, sheet and list."""
    leaf, thickness = hung.leaf, float(picks.leaf_plate.thickness)
    outside, face = float(leaf.rail_depth), float(leaf.axis_offset + leaf.rail_depth / 2)
    height = max(LEAF_SADDLE, float(leaf.actuator_face) - face)
    bent = UBolt(size=u_size(picks.leaf_size, shop), outside=outside)
    rail = nearest_rail(hung, mount)
    off = rail - mount.height
    leg = Fastener(kind="U-bolt", size=bent.size, length=bent.leg(height + thickness))
    bed = Bed(
        seat_y=face + height,
        bolt=leg,
        rows=(off - bent.pitch / 2, off, off + bent.pitch / 2),
        slot=round_holes(leg, shop, thickness),
        columns=picks.leaf_bolts,
    )
    channel = leaf_channel(hung, shop, problem, mount, picks, bed)
    holes = [(hole.name, hole) for hole in channel.drawn().holes]
    seat = seat_frame(mount, bed.seat_y)
    # the saddle's v runs along the rail, its u up
    tube = Frame((mount.leaf_pivot[0], face, rail), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    across = sorted({-hole.u for _, hole in holes})
    held = UBolted(
        name="leaf",
        bolt=bent,
        at=across,
        legs=[(mark, h) for mark, h in holes if h.v != off],
        locks=[(mark, h) for mark, h in holes if h.v == off],
        tube=tube,
        seat=seat,
        under=height,
        plate=thickness,
        wall=float(leaf.rail_wall or 0.0),
        rides="leaf",
    )
    block = _saddle(channel, held, outside, shop)
    held = replace(
        held, tension=through_print(shop, bent.size, rail_tube(leaf), block, len(held.legs))
    )
    pinned, pin_bought = leaf_pin(hung, shop, mount, channel)
    return Kit(
        placed=(
            Placed(name=channel.id, item=channel, frame=seat, rides="leaf"),
            Placed(name=block.id, item=block, frame=tube, rides="leaf"),
            *held.placed(),
            pinned,
        ),
        tools=held.sockets(shop, channel.reach),
        templates=(_template(channel, held, shop, mount, outside, off),),
        bought=(*held.bought(shop), *pin_bought),
        fixings=held.fixings,
        reasons=(
            "The leaf bracket is a lobed channel on a saddle, drawn onto the round rail by "
            "U-bolts. They hold by friction: once the leaf is tied, drill the locking bolts in.",
        ),
    )


def _saddle(channel: LobedChannel, held: UBolted, outside: float, shop: Shop) -> SaddleBlock:
    """One block under the whole channel."""
    more = LEG_FIT + float(shop.printer.hole_compensation)
    bore = held.bolt.diameter + more
    legs = [
        SleeveBore(u, v, bore, "leaf")
        for v in held.at
        for u in (-held.bolt.pitch / 2, held.bolt.pitch / 2)
    ]
    locks = [SleeveBore(0.0, v, bore_for(held.lock.fastener, shop)) for v in held.at]
    return SaddleBlock(
        id="rail-saddle",
        outside=outside,
        width=held.bolt.pitch + bore + 4 * WALL,
        length=2 * channel.half_width,
        height=held.under,
        depth=WRAPS * outside,
        sleeves=(*legs, *locks),
        chamfer=float(shop.printer.chamfer),
    )


def _template(
    channel: LobedChannel, held: UBolted, shop: Shop, mount: Mount, outside: float, off: float
) -> Template:
    left, _, right, _ = channel.drawn().outline.bounds
    return Template(
        id="leaf-face",
        part_id=channel.id,
        face="leaf, round rail, line towards the actuator",
        datum=datum_words("rail's line nearest to you", off, mount, shop),
        holes=held.drillings(),
        outline=rectangle(left, off - outside / 4, right, off + outside / 4, 3.0),
        height=mount.height,
        left_side="latch side",
        right_side="hinge side",
        facing="actuator side",
        tied=True,
        depth=held.drillings()[0].depth,
    )
