"""Post bracket on a timber post: a pair of angles, lag screws in columns near the middle.

The thrust acts across the grain, so the columns keep the loaded edge's distance from the post's
edges and the rows run along it (distances: `strength.timber_spacing`).
Frame of the seat: datum at the post's leaf-side edge at pin height. Units: mm.
"""

from math import ceil, floor

from hangpost.generators.hardware.design import Placed, Template
from hangpost.generators.hardware.ear_room import widest_root
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.picks import Picks, bolt_through, lag_into, slot_travel
from hangpost.generators.hardware.pins import gap_for, pin, pin_list
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.strength import timber, timber_spacing
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.loop import rectangle
from hangpost.parts.post_bracket import PostAngle, SlotSpec

COLUMN = 3.0  # diameters between columns, the least along the load, NDS 2018 Table 12.5.1B
POINT = 12.0  # house: timber left in front of a lag's point


def bracket_on_timber(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The pair of angles with their fasteners, sheet and list; NoHardware says what forbids it."""
    plate, post = picks.post_plate, hung.post
    thickness = float(plate.thickness)
    fastener = _fastener(picks, shop, float(post.depth), thickness)
    hole = shop.bolt_hole(fastener.size)
    slot = SlotSpec(
        diameter=hole,
        travel=slot_travel(fastener, hole),
        land=max(fastener.head.washer_diameter / 2 + 1.0, 1.5 * fastener.diameter),
    )
    columns = _columns(float(post.width), fastener, slot)
    eye = hung.actuator.post_eye
    gap = float(gap_for(eye, shop))
    edge = -float(hung.hinge.to_leaf_face)  # x of the datum

    outside = (columns[0] - slot.half, columns[-1] + slot.half)
    reach_of_root = (edge - mount.root[1], edge - mount.root[0])
    seat = (min(outside[0], reach_of_root[0]), max(outside[1], reach_of_root[1]))
    root_x = widest_root(
        problem, mount, (edge - seat[1], edge - seat[0]), thickness + float(plate.radius)
    )
    root = (edge - root_x[1], edge - root_x[0])

    first = gap / 2 + thickness + fastener.socket_radius + shop.clearances.tool
    bend_line = gap / 2 + thickness + plate.radius
    first = max(first, bend_line + shop.bending.hole_factor * thickness + hole / 2)
    slenderness = (fastener.length - thickness) / fastener.diameter
    pitch = timber_spacing.row_spacing_across(fastener.diameter, slenderness)
    pitch = max(pitch, fastener.head.washer_diameter + 2.0)
    rows = tuple(float(ceil(first + pitch * i)) for i in range(picks.post_rows))

    angles = [
        PostAngle(
            id=f"post-bracket-{place}",
            place=place,  # type: ignore[arg-type]
            plate_thickness=thickness,
            bend_radius=float(plate.radius),
            k_factor=plate.k_factor,
            gap=gap,
            pin=shop.pin_hole(eye.pin),
            pin_u=edge - mount.post_pivot[0],
            reach=mount.reach,
            tip=problem.brackets.ear_tip,
            root=root,
            seat=seat,
            columns=columns,
            rows=rows,
            slot=slot,
            corner=max(float(shop.cutting.corner_radius), thickness),
        )
        for place in ("upper", "lower")
    ]
    fixing = Fixing(
        name="post",
        fastener=fastener,
        holes=[
            (f"{angle.place[0].upper()}{hole.name}", hole)
            for angle in angles
            for hole in angle.drawn().holes
        ],
        plate=thickness,
        seat=post_seat(hung, mount),
        rides="ground",
    )
    at_pin = (*mount.post_pivot, mount.height)
    return Kit(
        placed=(
            *(Placed(name=a.id, item=a, frame=fixing.seat, rides="ground") for a in angles),
            fixing.body(),
            pin("post pin", eye, gap, thickness, at_pin, "ground"),
        ),
        tools=fixing.sockets(shop, mount.reach),
        templates=(_template(hung, angles, fixing, mount),),
        bought=(*fixing.bought(shop), *pin_list(eye, gap, thickness, shop)),
        reasons=(
            f"The fasteners stand in {len(columns)} column(s), {columns[0]:.0f} mm from the post's "
            "edge, because the thrust acts across the grain; the rows run up and down the post.",
        ),
    )


def post_seat(hung: HungLeaf, mount: Mount) -> Frame:
    """The seat frame of the post's face: datum at its leaf-side edge at pin height."""
    origin = (-hung.hinge.to_leaf_face, mount.post_face, mount.height)
    return Frame(origin, (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def _fastener(picks: Picks, shop: Shop, depth: float, plate: float) -> Fastener:
    if picks.post_kind == "lag screw":
        return lag_into(picks.post_size, depth + plate - POINT, shop)
    return bolt_through(picks.post_size, depth + 2 * plate, shop)


def _columns(width: float, fastener: Fastener, slot: SlotSpec) -> tuple[float, ...]:
    """One column in the middle or two as far apart as the post's edges allow."""
    edge = timber_spacing.edge_across(fastener.diameter, loaded=True)
    if width < 2 * edge - 1e-6:
        raise NoHardware(
            f"a {fastener.size} {fastener.kind} wants {edge:.0f} mm to either edge of the post, "
            f"and the post is {width:.0f} mm wide: use a smaller fastener or a wider post"
        )
    apart = width - 2 * edge
    least = max(COLUMN * fastener.diameter, slot.travel + slot.diameter + fastener.diameter / 2)
    least = max(least, fastener.head.washer_diameter + 1.0)
    if apart < least:
        return (width / 2,)
    half = floor(apart) / 2
    return (width / 2 - half, width / 2 + half)


def _template(hung: HungLeaf, angles: list[PostAngle], fixing: Fixing, mount: Mount) -> Template:
    """The sheet for the post's face; both angles on one, so that their rows agree."""
    fastener = fixing.fastener
    drill = fastener.diameter + 1.0 if fixing.is_through else _lead_hole(hung, fastener)
    top = angles[0].top
    left, right = angles[0].seat
    return Template(
        id="post-face",
        part_id="post-bracket",
        face="hanging post, face towards the actuator",
        datum="leaf-side edge of the post at pin height",
        holes=fixing.drillings(drill),
        outline=rectangle(left, -top, right, top, angles[0].corner),
        edges=(0.0, float(hung.post.width)),
        edge_names=("post edge, leaf side", "post edge, far side"),
        height=mount.height,
        left_side="leaf side",
        right_side="away from the leaf",
        facing="actuator side",
        through=fixing.is_through,
        depth=float(hung.post.depth),
    )


def _lead_hole(hung: HungLeaf, fastener: Fastener) -> float:
    """Middle of the range for the thread's lead hole in this species."""
    gravity = timber.specific_gravity(hung.post.species)
    return round(sum(timber.lead_hole(gravity, fastener.diameter)) / 2, 1)
