"""Post bracket on a round steel post: the pair of angles on saddles, bolted through the post.

A saddle in front of the post gives each angle a flat seat, one behind it takes the nuts; the
bolts go through the middle of the post, so the bracket cannot turn. Steel sleeves in the saddles
carry the clamping force. Frame of the seat: u = 0 over the post's middle, pin height at v = 0.
Units: mm.
"""

from hangpost.generators.hardware.angle_pair import AnglePair, Seating, angle_pair
from hangpost.generators.hardware.design import Bought, Placed, Template
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.lean import plumb_enough
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.sleeves import bore_for, sleeve
from hangpost.generators.hardware.sleeves import outside as sleeve_outside
from hangpost.generators.hardware.slots import needed, slotted
from hangpost.generators.hardware.tightening import through_tube
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import SADDLE
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.frame import Frame
from hangpost.parts.loop import rectangle
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.saddle import WALL, SaddleBlock, SleeveBore

WRAPS = 0.25  # share of the post's diameter that the arms reach round it; house
PITCH = 4.0  # diameters between bolts in the wall; house, above the 2 2/3 of AISC 360 J3.3
SADDLE_LEAN = 0.3  # degrees that a saddle's fit swallows; house


def bracket_on_round(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """The pair of angles with its saddles, bolts, wrap sheet and list."""
    plumb_enough(hung, SADDLE_LEAN, "saddles follow the post and would tilt the bracket")
    outside, thickness = float(hung.post.width), float(picks.post_plate.thickness)
    size = picks.post_size if picks.post_size in shop.fasteners.bolts else shop.fasteners.bolts[0]
    through, span = thickness + outside + 2 * SADDLE, saddle_span(outside)
    bolt = bolt_through(size, through, shop)
    made = slotted("post", bolt, shop, thickness, needed(mount, picks, "post"), room=span[1])
    bolt = bolt_through(size, through + made.stack, shop)
    seating = Seating(
        datum_x=float(hung.post_centre[0]),
        off=SADDLE,
        fastener=bolt,
        slot=made.slot,
        columns=(0.0,),
        pitch=PITCH * bolt.diameter,
        rows=picks.post_rows,
        span=span,
        covers=span,
        slot_washer=made.washer,
    )
    pair = angle_pair(shop, problem, mount, picks.post_plate, seating, held)
    # The squeeze goes through the sleeves, which stand on the wall.
    tension = through_tube(shop, size, post_tube(hung.post), sleeve_outside(bolt))
    pair = pair.held(host="steel", tension=tension)
    line = front_line(hung, mount)
    placed: list[Placed] = []
    sleeves: list[Bought] = []
    for angle in pair.angles:
        front = _saddle(angle, outside, bore_for(bolt, shop), shop)
        behind = front.backing(id=front.id, height=SADDLE)  # the same block again
        at = line.after(Frame((0.0, middle_of(angle), 0.0)))
        name = f"{angle.place} saddle"
        placed.append(Placed(name=name, item=front, frame=at, rides="ground"))
        frame = at.after(front.behind)
        placed.append(Placed(name=f"{name} behind", item=behind, frame=frame, rides="ground"))
        for block in (front, behind):
            sleeves += [sleeve(bolt, block.sleeve_length(bored)) for bored in block.sleeves]
    return Kit(
        placed=(*pair.placed, *placed),
        tools=pair.tools(shop),
        templates=(_wrap(pair, outside),),
        bought=(*pair.bought(shop), *sleeves),
        fixings=(pair.fixing,),
        reasons=(
            "The angles sit on saddles cut to the post and are bolted through its middle: the "
            "bolts in the wall keep the bracket from turning.",
        ),
    )


def front_line(hung: HungLeaf, mount: Mount) -> Frame:
    """The post's nearest line to the actuator side, at pin height, as a seat frame."""
    x = float(hung.post_centre[0])
    return Frame((x, mount.post_face, mount.height), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def saddle_span(outside: float) -> tuple[float, float]:
    """Least and greatest u of the flat that a saddle offers."""
    depth = WRAPS * outside
    half = (depth * (outside - depth)) ** 0.5 + 2 * WALL
    return -half, half


def middle_of(angle: PostAngle) -> float:
    """V of the middle of an angle's fasteners."""
    middle = (angle.rows[0] + angle.rows[-1]) / 2
    return middle if angle.place == "upper" else -middle


def _saddle(angle: PostAngle, outside: float, bore: float, shop: Shop) -> SaddleBlock:
    """The saddle under one angle, as long as its rows and their washers."""
    middle = (angle.rows[0] + angle.rows[-1]) / 2
    low, high = saddle_span(outside)
    return SaddleBlock(
        id="saddle",
        outside=outside,
        width=high - low,
        length=angle.rows[-1] - angle.rows[0] + 2 * angle.slot.land,
        height=SADDLE,
        depth=WRAPS * outside,
        sleeves=tuple(SleeveBore(0.0, row - middle, bore) for row in angle.rows),
        chamfer=float(shop.printer.chamfer),
    )


def _wrap(pair: AnglePair, outside: float) -> Template:
    """The wrap sheet: entry holes on the front line, their exits half way round."""
    upper = pair.angles[0]
    half = outside / 4
    return Template(
        id="post-wrap",
        part_id="post-bracket",
        face="hanging post, wrapped round, front line towards the actuator",
        datum="the post's line nearest to the actuator side, at pin height",
        holes=pair.fixing.drillings(pair.fixing.fastener.diameter + 1.0),
        outline=rectangle(-half, -upper.top, half, upper.top, 3.0),
        wrap_diameter=outside,
        height=pair.fixing.seat.origin[2],
        left_side="leaf side",
        right_side="away from the leaf",
        facing="actuator side",
        through=True,
        depth=outside,
    )
