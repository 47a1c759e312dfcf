"""Leaf bracket on a round tube rail: the lobed channel on a saddle, U-bolts round the rail.

It slides along the rail until it is tied, then the locking bolts in the middle of each lobe go
into the rail's near wall, so that neither the thrust moves it nor its weight turns it. Where an
upright of the leaf joins the rail its bolts stand astride that, on a saddle in pieces. Frame of
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
from hangpost.generators.hardware.on_bed import pieces
from hangpost.generators.hardware.past_uprights import Uprights
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.sleeves import bore_for
from hangpost.generators.hardware.slots import round_holes
from hangpost.generators.hardware.tightening import through_print
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.hardware.u_bolted import UBolted, u_bolt, u_size
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

WRAPS = 0.25  # share of the rail's diameter that the arms reach round it; house
LEG_FIT = 1.0  # house: bore over the leg of a U-bolt, on the diameter


def bracket_on_round_rail(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The channel with its saddle, U-bolts, locking bolts, sheet and list."""
    leaf, thickness = hung.leaf, float(picks.leaf_plate.thickness)
    outside, face = float(leaf.rail_depth), float(leaf.axis_offset + leaf.rail_depth / 2)
    height = max(LEAF_SADDLE, float(leaf.actuator_face) - face)
    bent = u_bolt(u_size(picks.leaf_size, shop), outside)
    rail = nearest_rail(hung, mount)
    off = rail - mount.height
    leg = Fastener(kind="U-bolt", size=bent.size, length=bent.leg(height + thickness))
    more = LEG_FIT + float(shop.printer.hole_compensation)
    sleeved = bore_for(Fastener(kind="hex bolt", size=bent.size, length=leg.length), shop)
    beside = max(bent.diameter + more, sleeved) / 2 + WALL
    uprights = Uprights.of(leaf, mount)
    bed = Bed(
        seat_y=face + height,
        bolt=leg,
        rows=(off - bent.pitch / 2, off, off + bent.pitch / 2),
        slot=round_holes(leg, shop, thickness),
        columns=picks.leaf_bolts,
    )
    nearest = leaf_channel(hung, shop, problem, mount, picks, bed)
    bed = replace(bed, taken=uprights.taken(beside))
    channel = leaf_channel(hung, shop, problem, mount, picks, bed)
    astride = uprights.told(nearest, channel, beside)
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
    blocks = _saddles(channel, held, uprights, outside, shop)
    held = replace(
        held,
        tension=min(
            through_print(shop, bent.size, rail_tube(leaf), block, 2 * rows)
            for _, block, rows in blocks
        ),
    )
    pinned, pin_bought = leaf_pin(hung, shop, mount, channel)
    return Kit(
        placed=(
            Placed(name=channel.id, item=channel, frame=seat, rides="leaf"),
            *(Placed(name=b.id, item=b, frame=stands, rides="leaf") for stands, b, _ in blocks),
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
            *astride,
            *_order(blocks),
        ),
        eases=astride[1:],
    )


def _saddles(
    channel: LobedChannel, held: UBolted, uprights: Uprights, outside: float, shop: Shop
) -> list[tuple[Frame, SaddleBlock, int]]:
    """The blocks under the channel, each with where it stands and how many U-bolts it has.

    One block, but where an upright crosses it or the printer's bed is too short.
    """
    bore = held.bolt.diameter + LEG_FIT + float(shop.printer.hole_compensation)
    width = held.bolt.pitch + bore + 4 * WALL
    found = [
        piece
        for low, high in uprights.free(*channel.ends, [-v for v in held.at])
        for piece in pieces(
            shop,
            what="the saddle of the leaf bracket",
            width=width,
            low=-high,
            high=-low,
            rows=[v for v in held.at if -high < v < -low],
            least_rows=1,
            instead="give the bed of another printer",
        )
    ]
    sleeved, side = bore_for(held.lock.fastener, shop), held.bolt.pitch / 2
    made = []
    for number, piece in enumerate(found, 1):
        rows = [v - piece.middle for v in piece.rows]
        legs = [SleeveBore(u, v, bore, "leaf") for v in rows for u in (-side, side)]
        block = SaddleBlock(
            id="rail-saddle" if len(found) == 1 else f"rail-saddle-{number}",
            outside=outside,
            width=width,
            length=piece.length,
            height=held.under,
            depth=WRAPS * outside,
            sleeves=(*legs, *(SleeveBore(0.0, v, sleeved) for v in rows)),
            chamfer=float(shop.printer.chamfer),
            material=shop.printer.plastic,
        )
        made.append((held.tube.after(Frame((0.0, piece.middle, 0.0))), block, len(rows)))
    return made


def _order(blocks: list[tuple[Frame, SaddleBlock, int]]) -> tuple[str, ...]:
    """Which of several saddles goes where: they are alike but for their lengths."""
    if len(blocks) < 2:
        return ()
    from_hinge = sorted(blocks, key=lambda each: each[0].origin[0])
    names = ", ".join(block.id for _, block, _ in from_hinge)
    return (
        f"Saddles of the leaf bracket from the hinge to the latch: {names}. Mark each of them.",
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
