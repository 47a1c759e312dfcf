"""Post bracket on a round steel post that is clamped: the angles on saddles, U-bolts behind.

The post is not drilled through: U-bolts draw each angle's saddle against it and hold by friction;
a locking bolt in the middle of each saddle, set last into the near wall, keeps the bracket from
turning. Frame of the seat: u = 0 over the post's middle, pin height at v = 0. Units: mm.
"""

from dataclasses import replace

from hangpost.generators.hardware.angle_pair import AnglePair, Seating, angle_pair
from hangpost.generators.hardware.design import Placed, Template
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.lean import plumb_enough
from hangpost.generators.hardware.on_round import (
    PITCH,
    front_line,
    middle_of,
)
from hangpost.generators.hardware.on_round_rail import LEG_FIT
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.post_sheet import wrapped_post_sheet
from hangpost.generators.hardware.sleeves import bore_for
from hangpost.generators.hardware.tightening import through_print
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.hardware.u_bolted import UBolted, u_bolt, u_size
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import SADDLE, WRAPS
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.post_bracket import PostAngle, SlotSpec
from hangpost.parts.saddle import WALL, SaddleBlock, SleeveBore

CLAMP_LEAN = 0.3  # degrees that a saddle's fit swallows; house


def bracket_clamped(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """The pair of angles with its saddles, U-bolts, locking bolts, wrap sheet and list."""
    plumb_enough(
        hung,
        CLAMP_LEAN,
        "U-bolts stand square to the post they hold and would tilt the bracket",
        other='post.fixing = "saddle" or "weld"',
    )
    outside, thickness = float(hung.post.width), float(picks.post_plate.thickness)
    bent = u_bolt(u_size(picks.post_size, shop), outside)
    leg = Fastener(kind="U-bolt", size=bent.size, length=bent.leg(SADDLE + thickness))
    slot = SlotSpec(
        diameter=shop.bolt_hole(bent.size),
        travel=0.0,  # it is set by turning it about the post and sliding it along
        land=max(
            bent.head.washer_diameter / 2 + 1.0,
            1.5 * bent.diameter,
            shop.bolt_hole(bent.size) / 2 + shop.cutting.edge_factor * thickness,
        ),
    )
    side = bent.pitch / 2
    seating = Seating(
        datum_x=float(hung.post_centre[0]),
        off=SADDLE,
        fastener=leg,
        slot=slot,
        columns=(-side, 0.0, side),
        pitch=PITCH * bent.diameter,
        rows=picks.post_rows,
        span=(-side - slot.half, side + slot.half),
    )
    pair = angle_pair(shop, problem, mount, picks.post_plate, seating, held)
    line = front_line(hung, mount)
    clamped = UBolted(
        name="post",
        bolt=bent,
        at=[way * row for way in (1.0, -1.0) for row in pair.angles[0].rows],
        legs=[(mark, h) for mark, h in pair.fixing.holes if h.u != 0.0],
        locks=[(mark, h) for mark, h in pair.fixing.holes if h.u == 0.0],
        tube=line,
        seat=pair.fixing.seat,
        under=SADDLE,
        plate=thickness,
        wall=float(hung.post.wall_thickness),
        rides="ground",
    )
    block = _saddle(pair.angles[0], clamped, outside, shop)
    legs = len(clamped.legs) // len(pair.angles)
    tension = through_print(shop, bent.size, post_tube(hung.post), block, legs)
    clamped = replace(clamped, tension=tension)
    angles = [p for p in pair.placed if p.item in pair.angles]
    saddles = [
        Placed(
            name=f"{angle.place} saddle",
            item=block,
            frame=line.after(Frame((0.0, middle_of(angle), 0.0))),
            rides="ground",
        )
        for angle in pair.angles
    ]
    return Kit(
        placed=(*angles, *saddles, *clamped.placed()),
        tools=clamped.sockets(shop, pair.angles[0].reach),
        templates=(_wrap(pair, clamped, outside),),
        bought=clamped.bought(shop),
        fixings=clamped.fixings,
        reasons=(
            "The angles sit on saddles and U-bolts clamp them to the post: friction holds until "
            "it is adjusted, then the locking bolts go into the post's near wall so that it "
            "cannot turn.",
        ),
    )


def _saddle(angle: PostAngle, clamped: UBolted, outside: float, shop: Shop) -> SaddleBlock:
    """The saddle under one angle: legs beside the post, sleeved locking bolts in the middle."""
    middle = (angle.rows[0] + angle.rows[-1]) / 2
    bore = clamped.bolt.diameter + LEG_FIT + float(shop.printer.hole_compensation)
    side, sleeved = clamped.bolt.pitch / 2, bore_for(clamped.lock.fastener, shop)
    rows = [row - middle for row in angle.rows]
    legs = [SleeveBore(u, v, bore, "post") for v in rows for u in (-side, side)]
    return SaddleBlock(
        id="saddle",
        outside=outside,
        width=2 * side + bore + 2 * WALL + 0.2,  # narrow: the open leaf passes beside it
        length=angle.rows[-1] - angle.rows[0] + 2 * angle.slot.land,
        height=clamped.under,
        depth=WRAPS * outside,
        sleeves=(*legs, *(SleeveBore(0.0, v, sleeved) for v in rows)),
        chamfer=float(shop.printer.chamfer),
        material=shop.printer.plastic,
    )


def _wrap(pair: AnglePair, clamped: UBolted, outside: float) -> Template:
    """The wrap sheet: the locking bolts' holes on the front line."""
    holes = clamped.drillings()
    return wrapped_post_sheet(
        pair,
        outside,
        holes,
        datum="the post's line nearest to the actuator side, at pin height",
        depth=holes[0].depth,
    )
