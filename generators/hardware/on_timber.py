"""Post bracket on a timber post: a pair of angles, lag screws in columns near the middle.

The thrust acts across the grain, so the columns keep the loaded edge's distance from the post's
edges and the rows run along it (distances: `strength.timber_spacing`).
Frame of the seat: datum at the post's leaf-side edge at pin height. Units: mm.
"""

from dataclasses import replace
from math import floor, inf

from hangpost.generators.hardware.angle_pair import AnglePair, Seating, angle_pair
from hangpost.generators.hardware.backing import backing
from hangpost.generators.hardware.design import Placed
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit, NoHardware, together
from hangpost.generators.hardware.lean import seated, tilt_of
from hangpost.generators.hardware.picks import Picks, bolt_through, lag_into, lead_hole
from hangpost.generators.hardware.post_sheet import flat_post_sheet
from hangpost.generators.hardware.slots import needed, slotted
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.strength import timber_spacing
from hangpost.generators.survey.display import both
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.stock import Plate
from hangpost.parts.fastening import Fastener
from hangpost.parts.post_bracket import SlotSpec

BACKING = 0.75  # of the bracket's plate: how thick the plates behind the post are at least; house
WANDER = 2.0  # mm that template and drill may be off together; house, as in `pivots.errors`
EDGE = 3.0  # house: the seat ends this far inside the post's edges; a wide seat pulls less
POINT = 12.0  # house: timber left in front of a lag's point


def bracket_on_timber(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """The pair of angles with their fasteners, sheet and list; NoHardware says what forbids it."""
    depth, thickness = float(hung.post.depth), float(picks.post_plate.thickness)
    size = _fastener(picks, shop, depth, thickness)
    edge, apart = _room(float(hung.post.width), size)
    travel = needed(mount, picks, "post")
    made = slotted("post", size, shop, thickness, travel, room=edge, apart=apart or inf)
    slot, stack = made.slot, thickness + made.stack
    fastener = _fastener(picks, shop, depth, stack)
    slenderness = (fastener.length - thickness) / fastener.diameter
    flush = Seating(
        datum_x=-float(hung.hinge.to_leaf_face),
        off=0.0,
        fastener=fastener,
        slot=slot,
        columns=_columns(float(hung.post.width), fastener, slot),
        pitch=timber_spacing.row_spacing_across(fastener.diameter, slenderness),
        rows=picks.post_rows,
        span=(0.0, float(hung.post.width)),
        covers=(EDGE, float(hung.post.width) - EDGE),
        slot_washer=made.washer,
    )

    def pair_at(off: float) -> AnglePair:
        longer = _fastener(picks, shop, depth + off, stack)  # through a wedge as well
        seating = replace(flush, off=off, fastener=longer)
        return angle_pair(shop, problem, mount, picks.post_plate, seating, held)

    pair, wedges = seated(hung, shop, pair_at)
    pair = pair.held(host="timber")
    first = flush.columns[0]
    through = pair.fixing.is_through
    drill = fastener.through_drill if through else lead_hole(hung.post.species, fastener)
    behind: tuple[Placed, ...] = ()
    if through:  # washers would pull into the wood
        off = pair.fixing.seat.origin[1] - mount.post_face
        behind = tuple(
            replace(each, name=f"{angle.place} {each.name}")
            for angle in pair.angles
            for each in (
                backing(
                    "post",
                    angle.drawn().holes,
                    bolt=fastener,
                    plate=_behind(picks, shop),
                    shop=shop,
                    seat=pair.fixing.seat,
                    depth=depth + off,
                    tilt=tilt_of(hung),
                    host=depth,
                    rides="ground",
                    use="post",
                    across=float(hung.post.width) - 2 * EDGE,
                ),
            )
        )
    bracket = Kit(
        placed=(*pair.placed, *behind),
        tools=pair.tools(shop),
        templates=(flat_post_sheet(hung, pair, drill),),
        bought=pair.bought(shop),
        fixings=(pair.fixing,),
        reasons=(
            f"The fasteners stand in {'two columns' if len(flush.columns) > 1 else 'one column'}, "
            f"{both(first, shop.drawings.units)} from the post's edge, because the thrust acts "
            "across the grain; the rows run up and down the post.",
            "Hang the bracket by the slotted row of each angle, adjust it, then drill its round "
            "holes through into the post: along a slot nothing but friction holds.",
        ),
    )
    return together((bracket, wedges))


def _fastener(picks: Picks, shop: Shop, depth: float, over: float) -> Fastener:
    """What goes through `over` mm of plate and washer and `depth` of post."""
    if picks.post_kind == "lag screw":
        return lag_into(picks.post_size, depth + over - POINT, shop)
    return bolt_through(picks.post_size, over + depth + float(_behind(picks, shop).thickness), shop)


def _behind(picks: Picks, shop: Shop) -> Plate:
    """Plate for behind the post."""
    return shop.plate_near(BACKING * float(picks.post_plate.thickness))


def _columns(width: float, fastener: Fastener, slot: SlotSpec) -> tuple[float, ...]:
    """One column in the middle or two as far apart as the post's edges allow."""
    edge = timber_spacing.edge_across(fastener.diameter, loaded=True)
    if width < 2 * edge - 1e-6:
        raise NoHardware(
            f"a {fastener.size} {fastener.kind} wants {edge:.0f} mm to either edge of the post, "
            f"and the post is {width:.0f} mm wide: use a smaller fastener or a wider post"
        )
    apart = width - 2 * edge
    least = max(_least(fastener), slot.travel + slot.diameter + fastener.diameter / 2)
    if apart < least:
        return (width / 2,)
    # Never nearer to an edge, even when template and drill are off.
    half = floor(50 * max(least, apart - 2 * WANDER) + 1e-6) / 100
    return (width / 2 - half, width / 2 + half)


def _room(width: float, fastener: Fastener) -> tuple[float, float]:
    """From a column to the post's edge and to the other column, 0 where there is none."""
    edge = timber_spacing.edge_across(fastener.diameter, loaded=True)
    apart = width - 2 * edge
    least = _least(fastener)
    return (edge, max(least, apart - 2 * WANDER)) if apart >= least else (width / 2, 0.0)


def _least(fastener: Fastener) -> float:
    """Two columns are never nearer: what the load across the grain asks, and room for washers."""
    apart = timber_spacing.spacing_in_row(fastener.diameter, across=True)
    return max(apart, fastener.head.washer_diameter + 1.0)
