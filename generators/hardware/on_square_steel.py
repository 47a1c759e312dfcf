"""Post bracket on a square steel tube: the pair of angles, bolted through onto backing plates.

The columns stand as far apart as the tube's rounded corners leave flat for a washer. Frame of
the seat: datum at the post's leaf-side edge at pin height. Units: mm.
"""

from dataclasses import replace
from math import floor, inf

from hangpost.generators.hardware.angle_pair import AnglePair, Seating, angle_pair
from hangpost.generators.hardware.backing import backing
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit, NoHardware, together
from hangpost.generators.hardware.lean import seated, tilt_of
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.post_sheet import flat_post_sheet
from hangpost.generators.hardware.slots import needed, slotted
from hangpost.generators.hardware.tightening import through_sleeves, through_tube
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import Hole

CORNER = 2.0  # outside corner radius over wall, as AISC takes for square tube
ACROSS = 2.4  # holes between columns, EN 1993-1-8 Table 3.3
EDGE = 3.0  # house: the seat ends this far inside the post's edges; a wide seat pulls less
PITCH = 4.0  # diameters between bolts in the wall; house, above the 2 2/3 of AISC 360 J3.3


def bracket_on_square_steel(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """The pair of angles with bolts, backing plates, sheet and list."""
    plate, depth = picks.post_plate, float(hung.post.depth)
    size = picks.post_size if picks.post_size in shop.fasteners.bolts else shop.fasteners.bolts[0]
    grip = depth + 2 * float(plate.thickness)
    bolt = bolt_through(size, grip, shop)
    columns = _columns(hung, bolt, shop.bolt_hole(bolt.size))
    made = slotted(
        "post",
        bolt,
        shop,
        float(plate.thickness),
        needed(mount, picks, "post"),
        room=columns[0],
        apart=columns[1] - columns[0] if len(columns) > 1 else inf,
    )
    grip += made.stack
    bolt = bolt_through(size, grip, shop)
    flush = Seating(
        datum_x=-float(hung.hinge.to_leaf_face),
        off=0.0,
        fastener=bolt,
        slot=made.slot,
        columns=columns,
        pitch=PITCH * bolt.diameter,
        rows=picks.post_rows,
        span=(0.0, float(hung.post.width)),
        covers=(EDGE, float(hung.post.width) - EDGE),
        slot_washer=made.washer,
    )

    def pair_at(off: float) -> AnglePair:
        longer = bolt_through(size, grip + off, shop)
        seating = replace(flush, off=off, fastener=longer)
        return angle_pair(shop, problem, mount, plate, seating, held)

    pair, wedges = seated(hung, shop, pair_at)
    off = pair.fixing.seat.origin[1] - mount.post_face
    plates = [
        backing(
            "post",
            _holes(pair, place),
            bolt=bolt,
            plate=plate,
            shop=shop,
            seat=pair.fixing.seat,
            depth=depth + off,
            tilt=tilt_of(hung),
            host=depth,
            rides="ground",
            use="post",
        )
        for place in range(2)
    ]
    behind = plates[0].item
    assert isinstance(behind, BackingPlate)
    tube = post_tube(hung.post)
    # On a wedge the squeeze goes through sleeves that stand on the wall.
    tension = (
        through_sleeves(shop, bolt, tube)
        if off > 0
        else through_tube(shop, size, tube, min(behind.width, tube.side))
    )
    pair = pair.held(host="steel", tension=tension)
    bracket = Kit(
        placed=(
            *pair.placed,
            *(
                replace(placed, name=f"{word} {placed.name}")
                for word, placed in zip(("upper", "lower"), plates, strict=True)
            ),
        ),
        tools=pair.tools(shop),
        templates=(flat_post_sheet(hung, pair, bolt.through_drill),),
        bought=pair.bought(shop),
        fixings=(pair.fixing,),
        reasons=("The angles are bolted through the tube onto backing plates.",),
    )
    return together((bracket, wedges))


def _holes(pair: AnglePair, place: int) -> list[Hole]:
    return list(pair.angles[place].drawn().holes)


def _columns(hung: HungLeaf, bolt: Fastener, hole: float) -> tuple[float, ...]:
    """One column in the middle or two with their washers on the flat of the tube."""
    width, wall = float(hung.post.width), float(hung.post.wall_thickness or 0.0)
    washer = bolt.head.washer_diameter
    edge = CORNER * wall + max(washer / 2, 1.5 * bolt.diameter)
    apart = width - 2 * edge
    if apart < 0:
        raise NoHardware(
            f"a {bolt.size} bolt and its washer do not lie flat on a {width:.0f} mm tube: use a "
            "smaller bolt or a wider post"
        )
    if apart < max(washer + 1.0, ACROSS * hole + 1.0):
        return (width / 2,)
    half = floor(apart) / 2
    return (width / 2 - half, width / 2 + half)
