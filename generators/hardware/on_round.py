"""Post bracket on a round steel post: the pair of angles on saddles, bolted through the post.

A saddle in front of the post gives each angle a flat seat, one behind it takes the nuts; the
bolts go through the middle of the post, so the bracket cannot turn. Steel sleeves in the saddles
carry the clamping force. Frame of the seat: u = 0 over the post's middle, pin height at v = 0.
Units: mm.
"""

from collections.abc import Iterator

from hangpost.generators.hardware.angle_pair import AnglePair, Seating, angle_pair
from hangpost.generators.hardware.design import Bought, Placed, Template
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.leaning_round import (
    bolted_near_middle,
    datum_words,
    lean_of,
    leans,
    on_skin,
    slopes_of,
)
from hangpost.generators.hardware.on_bed import pieces
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.post_sheet import wrapped_post_sheet
from hangpost.generators.hardware.sleeves import bore_for, sleeve
from hangpost.generators.hardware.slots import needed, slotted
from hangpost.generators.hardware.tightening import through_sleeves
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import SADDLE, WRAPS, saddle_half
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.frame import Frame
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.saddle import SaddleBlock, SleeveBore

SWELL = 0.75  # by how much a hollow widens where it goes deeper, at that share of the diameter
PITCH = 4.0  # diameters between bolts in the wall; house, above the 2 2/3 of AISC 360 J3.3


def bracket_on_round(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """The pair of angles with its saddles, bolts, wrap sheet and list."""
    outside, thickness = float(hung.post.width), float(picks.post_plate.thickness)
    size = picks.post_size if picks.post_size in shop.fasteners.bolts else shop.fasteners.bolts[0]

    span = saddle_span(outside)

    def pair_at(off: float) -> AnglePair:
        through = thickness + outside + 2 * off
        bolt = bolt_through(size, through, shop)
        made = slotted("post", bolt, shop, thickness, needed(mount, picks, "post"), room=span[1])
        bolt = bolt_through(size, through + made.stack, shop)
        seating = Seating(
            datum_x=float(hung.post_centre[0]),
            off=off,
            fastener=bolt,
            slot=made.slot,
            columns=(0.0,),
            pitch=PITCH * bolt.diameter,
            rows=picks.post_rows,
            span=span,
            covers=span,
            slot_washer=made.washer,
        )
        return angle_pair(shop, problem, mount, picks.post_plate, seating, held)

    off, pair = SADDLE, pair_at(SADDLE)
    if leans(hung):
        upper = pair.angles[0]
        bolted_near_middle(hung, upper.rows[-1])
        off += abs(slopes_of(hung)[1]) * (upper.rows[-1] + upper.slot.land)
        pair = pair_at(off)
    bolt = pair.fixing.fastener
    # The squeeze goes through the sleeves, which stand on the wall.
    tension = through_sleeves(shop, bolt, post_tube(hung.post))
    pair = pair.held(host="steel", tension=tension)
    placed: list[Placed] = []
    sleeves: list[Bought] = []
    for name, at, block in saddles(hung, mount, pair, off, shop):
        placed.append(Placed(name=name, item=block, frame=at, rides="ground"))
        sleeves += [sleeve(bolt, block.sleeve_length(bored)) for bored in block.sleeves]
    return Kit(
        placed=(*pair.placed, *placed),
        tools=pair.tools(shop),
        templates=(_wrap(hung, pair, outside),),
        bought=(*pair.bought(shop), *sleeves),
        fixings=(pair.fixing,),
        reasons=(
            "The angles sit on saddles cut to the post and are bolted through its middle: the "
            "bolts in the wall keep the bracket from turning.",
            *_told(hung),
        ),
    )


def front_line(hung: HungLeaf, mount: Mount) -> Frame:
    """The post's nearest line to the actuator side, at pin height, as a seat frame."""
    x = float(hung.post_centre[0])
    return Frame((x, mount.post_face, mount.height), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def saddle_span(outside: float) -> tuple[float, float]:
    """Least and greatest u of the flat that a saddle offers."""
    half = saddle_half(outside)
    return -half, half


def middle_of(angle: PostAngle) -> float:
    """V of the middle of an angle's fasteners."""
    middle = (angle.rows[0] + angle.rows[-1]) / 2
    return middle if angle.place == "upper" else -middle


def saddles(
    hung: HungLeaf, mount: Mount, pair: AnglePair, off: float, shop: Shop
) -> Iterator[tuple[str, Frame, SaddleBlock]]:
    """Every saddle where it stands: front and back of each angle, in pieces if the bed is short.

    Seats and bores are plumb and the hollows follow the post, so those of a leaning post are as
    much thicker as the post has gone from them.
    """
    line, (du, dw) = front_line(hung, mount), slopes_of(hung)
    outside, bore = float(hung.post.width), bore_for(pair.fixing.fastener, shop)
    low, high = saddle_span(outside)
    plumb = (du, dw) == (0.0, 0.0)
    for angle in pair.angles:
        side = 1.0 if angle.place == "upper" else -1.0
        land = angle.slot.land
        found = pieces(
            shop,
            what="the saddle",
            width=high - low,
            low=angle.rows[0] - land,
            high=angle.rows[-1] + land,
            rows=angle.rows,
            least_rows=1,
        )
        for number, piece in enumerate(found, 1):
            v = side * piece.middle
            which = f" {number}" if len(found) > 1 else ""
            same = plumb and len(found) == 1
            front = SaddleBlock(
                id="saddle" if same else f"saddle-{angle.place}{which.replace(' ', '-')}",
                outside=outside,
                width=high - low + (abs(du) + SWELL * abs(dw)) * piece.length,
                length=piece.length,
                height=off - v * dw,
                depth=WRAPS * outside,
                sleeves=tuple(
                    SleeveBore(-v * du, at, bore) for at in sorted(side * r - v for r in piece.rows)
                ),
                lean=lean_of(hung),
                chamfer=float(shop.printer.chamfer),
                material=shop.printer.plastic,
            )
            behind = front.id if same else f"{front.id}-behind"
            stands = line.after(Frame((v * du, v, v * dw)))
            name = f"{angle.place} saddle{which}"
            yield name, stands, front
            back = front.backing(id=behind, height=off + v * dw)
            yield f"{name} behind", stands.after(front.behind), back


def _told(hung: HungLeaf) -> tuple[str, ...]:
    if not leans(hung):
        return ()
    return (
        f"The post leans {hung.post.lean.words}: the saddles' hollows follow it, their seats and "
        "bolts stay plumb and level. No saddle changes places with another.",
    )


def _wrap(hung: HungLeaf, pair: AnglePair, outside: float) -> Template:
    """The wrap sheet: entry holes on the front line, their exits half way round."""
    holes = pair.fixing.drillings(pair.fixing.fastener.through_drill)
    if leans(hung):
        holes = on_skin(hung, pair.fixing.seat, holes)
    return wrapped_post_sheet(
        pair,
        outside,
        holes,
        datum=datum_words(hung),
        depth=outside,
        through=not leans(hung),  # of a leaning post every exit is told by itself
    )
