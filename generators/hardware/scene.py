"""What stands at the gate already: post, leaf and actuator as bodies for assembly and sweep.

Post and leaf are in the plan frame of the closed gate; tube and rod of the actuator lie along u
with their own pin at the origin, the tube towards +u, the rod towards -u. Units: mm.
"""

from hangpost.generators.hardware.design import Placed
from hangpost.generators.survey.actuator import Eye
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.bodies import Bar, Block, Body, Shape
from hangpost.parts.frame import Frame, leaned

ABOVE_LEAF = 150.0  # house: how far the post stands above the leaf when nobody measured it
RUNNING_FIT = 1.0  # house: rod in its tube, only to show it
UP = (0.0, 0.0, 1.0)


def scene(hung: HungLeaf) -> tuple[Placed, ...]:
    """Post, leaf and the four pieces of the actuator, each with what it moves with."""
    at_pin = Frame((0.0, 0.0, hung.pin_height))
    actuator = hung.actuator
    return (
        Placed(name="hanging post", item=_post(hung), frame=post_stands(hung), rides="ground"),
        Placed(name="leaf", item=_leaf(hung), frame=Frame(), rides="leaf"),
        Placed(name="actuator body", item=_tube(hung), frame=at_pin, rides="tube"),
        Placed(
            name="actuator post eye",
            item=_eye("actuator post eye", actuator.post_eye, 1.0),
            frame=at_pin,
            rides="tube",
        ),
        Placed(name="actuator rod", item=_rod(hung), frame=at_pin, rides="rod"),
        Placed(
            name="actuator leaf eye",
            item=_eye("actuator leaf eye", actuator.at_leaf, -1.0),
            frame=at_pin,
            rides="rod",
        ),
    )


def envelope(hung: HungLeaf) -> Placed:
    """The leaf as a full box, filled or not: what is measured of it, its thickness in full."""
    leaf = hung.leaf
    half, y = leaf.thickness / 2, leaf.axis_offset
    box = Block((leaf.hinge_edge, y - half, leaf.bottom), (leaf.width, y + half, leaf.top))
    return Placed(name="leaf", item=Body("leaf", (box,)), frame=Frame(), rides="leaf")


def post_stands(hung: HungLeaf) -> Frame:
    """The post's lean, about the datum mark on its face (a round one's middle) at pin height."""
    lean = hung.post.lean
    fixed = (-hung.hinge.to_leaf_face, hung.hinge.to_actuator_face, hung.pin_height)
    if hung.post.is_round:
        fixed = (*hung.post_centre, hung.pin_height)
    return leaned(lean.toward_leaf, lean.toward_actuator, fixed)


def _post(hung: HungLeaf) -> Body:
    x0, y0, x1, y1 = hung.post_box
    top = hung.post.height or hung.leaf.top + ABOVE_LEAF
    wall = hung.post.wall_thickness or 0.0
    if hung.post.is_round:
        x, y = hung.post_centre
        radius = (x1 - x0) / 2
        bore = radius - wall if wall else 0.0
        return Body("hanging post", (Bar((x, y, 0.0), UP, radius, top, bore),))
    return Body("hanging post", (Block((x0, y0, 0.0), (x1, y1, top), wall),))


def _leaf(hung: HungLeaf) -> Body:
    leaf = hung.leaf
    half_deep, half_high = leaf.rail_depth / 2, leaf.rail_height / 2
    left, right = leaf.hinge_edge, leaf.width
    y, wall = leaf.axis_offset, leaf.rail_wall or 0.0
    if leaf.frame == "timber":
        wall = 0.0
    shapes: list[Shape] = []
    for rail in leaf.rails:
        if leaf.frame == "round_tube":
            bore = half_deep - wall if wall else 0.0
            shapes.append(Bar((left, y, rail), (1.0, 0.0, 0.0), half_deep, right - left, bore))
            continue
        low, high = (
            (left, y - half_deep, rail - half_high),
            (right, y + half_deep, rail + half_high),
        )
        shapes.append(Block(low, high, wall))
    for stile in leaf.stile_positions:
        if leaf.frame == "round_tube":
            shapes.append(Bar((stile, y, leaf.bottom), UP, half_deep, leaf.height))
            continue
        low = (stile - half_high, y - half_deep, leaf.bottom)
        high = (stile + half_high, y + half_deep, leaf.top)
        shapes.append(Block(low, high))
    return Body("leaf", tuple(shapes))


def _tube(hung: HungLeaf) -> Body:
    actuator = hung.actuator
    start = actuator.post_eye.to_body
    length = actuator.retracted - start - actuator.at_leaf.to_body
    bore = actuator.rod / 2 + RUNNING_FIT
    along = (1.0, 0.0, 0.0)
    radius = actuator.body_diameter / 2
    return Body("actuator body", (Bar((start, 0.0, 0.0), along, radius, length, bore),))


def _rod(hung: HungLeaf) -> Body:
    actuator = hung.actuator
    inside = actuator.retracted - actuator.post_eye.to_body  # as far as the rod may reach back
    start = actuator.at_leaf.to_body  # nearer to the pin there is only the neck of the eye
    shape = Bar((-start, 0.0, 0.0), (-1.0, 0.0, 0.0), actuator.rod / 2, inside - start)
    return Body("actuator rod", (shape,))


def _eye(name: str, eye: Eye, toward: float) -> Body:
    half = eye.thickness / 2
    ring = Bar((0.0, 0.0, -half), UP, eye.radius, eye.thickness, eye.pin / 2)
    start = (toward * (eye.pin / 2 + eye.radius) / 2, 0.0, 0.0)
    length = eye.to_body - abs(start[0])
    neck = Bar(start, (toward, 0.0, 0.0), min(half, eye.radius), max(length, 1.0))
    return Body(name, (ring, neck))
