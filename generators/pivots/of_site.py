"""A survey and a shop made into the numbers that the search for the pins works on.

What neither of the two says is the house's choice, and said here: the ear's radius about its pin,
the plate that the shortest reach is reckoned with, the length of the leaf bracket. mm, N, degrees.
"""

from math import hypot, radians, sqrt, tan

from hangpost.generators.pivots.plan_shapes import Box
from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Brackets,
    Eye,
    Fixed,
    LeafPlan,
    Limits,
    Obstacle,
    PostPlan,
    Problem,
)
from hangpost.generators.pivots.torque import Torque, hinges, slope, start, wind
from hangpost.generators.strength.wind import velocity_pressure
from hangpost.generators.survey import actuator as survey
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.survey.stock import Plate
from hangpost.parts.saddle import WALL
from hangpost.parts.wedge import LEAST_TILT, tilts

EAR_OVER_PIN = 1.75  # ear's radius as a multiple of the pin's diameter; house
USUAL_PLATE = 8.0  # mm; house
THIN, THICK = 6.0, 13.0  # mm of plate that post brackets are bent from, as a rule; house
LEAF_BRACKET = 105.0  # mm to either side of its pin along the rail; house
SADDLE = 12.0  # mm from a round post's nearest line to the seats on its saddles; house
WRAPS = 0.25  # share of a round post's diameter that a saddle reaches round it; house
WEDGE = 4.0  # mm, the thin end of a wedge shim on a post that leans; house
SEAT_LENGTH = 160.0  # mm that a seat goes above and below the pins, about; house
CORNER = 2.0  # outside corner radius over wall, as AISC takes for square tube
LEAF_SADDLE = 5.0  # mm from a round rail's nearest line to the seat on its saddle, least; house
STRONGBACK = 12.7  # mm, room for the bar between two rails, 1/2 in; house
ON_RAIL = 0.25  # share of a rail's height that the pins may lie off its centre line; house
HEADS = 14.0  # mm that plate washers and bolt heads stand out of a bracket's plate; house


def problem_of(site: Site, shop: Shop, leaf_index: int = 0) -> Problem:
    """The search problem of one leaf; bare floats, so that nothing of the survey clings to it."""
    hung = site.leaves[leaf_index]
    tip = EAR_OVER_PIN * max(hung.actuator.post_eye.pin, hung.actuator.at_leaf.pin)
    plate = shop.plate_near(USUAL_PLATE)
    under, _ = _under_ear(hung, plate, tip)
    shortest = float(plate.thickness + plate.radius + tip)
    clear, leaf = shop.clearances, hung.leaf
    return Problem(
        direction="pull" if hung.pulls else "push",
        opening=float(hung.opening.angle),
        post=_post(hung),
        leaf=LeafPlan(
            width=float(leaf.width),
            thickness=float(leaf.thickness),
            axis_offset=float(leaf.axis_offset),
            hinge_edge=float(leaf.hinge_edge),
            rail_from=float(leaf.hinge_edge),
            rail_to=float(leaf.width),
        ),
        actuator=_actuator(hung.actuator),
        torque=moving_torque(site, hung).total,
        limits=Limits(
            margin=float(clear.stroke_margin),
            dead_centre=float(clear.dead_centre),
            folded_clearance=float(clear.folded),
            body_clearance=float(clear.body),
            edge_speed=_maybe(hung.opening.edge_speed_limit),
            swing_time=_maybe(hung.opening.time_limit),
        ),
        brackets=Brackets(
            max_reach=float(shop.limits.reach),
            max_overhang=float(shop.limits.overhang),
            least_reach=under + shortest,
            cut_to_post=hung.post.fixing == "weld",
            max_leaf_reach=float(shop.limits.leaf_reach),
            least_leaf_reach=leaf_lift(hung)
            + max(shortest, _over_bolts(hung.actuator, plate.thickness, shop)),
            ear_tip=tip,
            root_rises=_root_rises(hung, shop, tip),
            seat_half_width=tip + _corner(hung),
            leaf_half_length=LEAF_BRACKET,
            swing_room=float(clear.eye_swing),
        ),
        obstacles=tuple(_obstacles(hung)),
        fixed=Fixed(
            px=_maybe(hung.fixed.post_pivot[0]),
            py=_maybe(hung.fixed.post_pivot[1]),
            gx=_maybe(hung.fixed.leaf_pivot[0]),
            gy=_maybe(hung.fixed.leaf_pivot[1]),
        ),
        height=float(hung.pin_height),
    )


def _root_rises(hung: HungLeaf, shop: Shop, tip: float) -> tuple[float, ...]:
    """Where an ear's root begins with the thinnest and the thickest plate that may be chosen."""
    usual = [each for each in shop.plates if THIN - 1e-6 <= each.thickness <= THICK + 1e-6]
    plates = (shop.plate_near(USUAL_PLATE), *usual[:1], *usual[-1:])
    rises = [_under_ear(hung, plate, tip)[1] for plate in plates]
    return tuple(sorted({min(rises), max(rises)}))


def _under_ear(hung: HungLeaf, plate: Plate, tip: float) -> tuple[float, float]:
    """What lies between post and bracket, and how far off the post an ear's root begins."""
    if hung.post.fixing == "weld":  # cut to the post itself
        radius = float(hung.post.width) / 2.0
        drop = radius - sqrt(radius**2 - min(tip, radius) ** 2) if hung.post.is_round else 0.0
        return 0.0, -drop
    under = _made_up(hung) + (SADDLE if hung.post.is_round else 0.0)
    return under, float(under + plate.thickness + plate.radius)


def _made_up(hung: HungLeaf) -> float:
    """How far off a leaning post its seats stand so as to be plumb, on wedges or deeper saddles."""
    lean = hung.post.lean
    across, up = tilts(float(lean.toward_leaf), float(lean.toward_actuator))
    if hypot(across, up) < LEAST_TILT:
        return 0.0
    along = abs(tan(radians(up))) * SEAT_LENGTH
    if hung.post.is_round:
        return along
    return WEDGE + max(tan(radians(across)) * float(hung.post.width), 0.0) + along


def _corner(hung: HungLeaf) -> float:
    """How much of a post's width no ear's root can use, at either edge."""
    welded = hung.post.fixing == "weld"
    if not hung.post.is_round:  # the edge of a tube is too round to weld to
        return CORNER * float(hung.post.wall_thickness) if welded else 0.0
    outside = float(hung.post.width)
    return 0.0 if welded else max(0.0, outside / 2.0 - saddle_half(outside))


def saddle_half(outside: float) -> float:
    """Half the flat that the saddle of a round post offers."""
    depth = WRAPS * outside
    return float(sqrt(depth * (outside - depth)) + 2.0 * WALL)


def leaf_lift(hung: HungLeaf) -> float:
    """How far the leaf bracket's seat stands proud of the leaf's face."""
    leaf = hung.leaf
    recess = float(leaf.thickness - leaf.rail_depth) / 2.0
    if not on_rail(hung, float(hung.pin_height)):
        return max(0.0, STRONGBACK - recess)
    return max(0.0, LEAF_SADDLE - recess) if leaf.frame == "round_tube" else 0.0


def on_rail(hung: HungLeaf, height: float) -> bool:
    """Whether a rail is near enough to this height to carry the leaf bracket itself."""
    off = min(abs(float(rail) - height) for rail in hung.leaf.rails)
    return off <= ON_RAIL * float(hung.leaf.rail_height)


def _over_bolts(actuator: survey.Actuator, plate: float, shop: Shop) -> float:
    """Reach of a leaf bracket whose bolts the body, drawn in, passes at its clearance."""
    if actuator.at_leaf.to_body >= LEAF_BRACKET:
        return 0.0
    return float(actuator.body_diameter / 2.0 + shop.clearances.body + plate + HEADS)


def moving_torque(site: Site, hung: HungLeaf) -> Torque:
    """What it takes to move this leaf in the site's operating wind."""
    leaf, lean = hung.leaf, hung.post.lean
    friction = hinges(pull=float(leaf.friction), width=float(leaf.width))
    return Torque(
        wind=wind(
            pressure=velocity_pressure(float(site.wind.operating_m_s)),
            width=float(leaf.width),
            height=float(leaf.height),
            fill=float(leaf.fill),
        ),
        hinges=friction,
        start=start(hinge_torque=friction, factor=float(hung.actuator.start_up_factor)),
        slope=slope(
            mass=float(leaf.mass),
            width=float(leaf.width),
            lean=(float(lean.toward_leaf), float(lean.toward_actuator)),
            rise=float(hung.hinge.rise),
            opening=float(hung.opening.angle),
        ),
    )


def _post(hung: HungLeaf) -> PostPlan:
    to_leaf, to_actuator = float(hung.hinge.to_leaf_face), float(hung.hinge.to_actuator_face)
    if hung.post.is_round:
        return PostPlan.round(
            to_leaf_face=to_leaf, to_actuator_face=to_actuator, diameter=float(hung.post.width)
        )
    return PostPlan.square(
        to_leaf_face=to_leaf,
        to_actuator_face=to_actuator,
        width=float(hung.post.width),
        depth=float(hung.post.depth),
    )


def _actuator(actuator: survey.Actuator) -> ActuatorPlan:
    return ActuatorPlan(
        retracted=float(actuator.retracted),
        stroke=float(actuator.stroke),
        thrust=float(actuator.thrust),
        speed=float(actuator.speed),
        body_radius=float(actuator.body_diameter) / 2.0,
        rod_radius=float(actuator.rod) / 2.0,
        post_eye=_eye(actuator.post_eye),
        leaf_eye=_eye(actuator.at_leaf),
    )


def _eye(eye: survey.Eye) -> Eye:
    return Eye(radius=float(eye.radius), thickness=float(eye.thickness), to_body=float(eye.to_body))


def _obstacles(hung: HungLeaf) -> list[Obstacle]:
    """What stands in the actuator's way: all that reaches its height."""
    radius = float(hung.actuator.body_diameter) / 2.0
    low, high = hung.pin_height - radius, hung.pin_height + radius
    met = [
        each
        for each in hung.obstacles
        if each.bottom < high and (each.top is None or each.top > low)
    ]
    boxes = [tuple(float(side) for side in each.box) for each in met]
    return [
        Obstacle(name=each.name, outline=Box(xmin=x0, ymin=y0, xmax=x1, ymax=y1))
        for each, (x0, y0, x1, y1) in zip(met, boxes, strict=True)
    ]


def _maybe(value: float | None) -> float | None:
    return None if value is None else float(value)
