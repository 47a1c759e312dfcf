"""The drilling sheet of a post, flat or wrapped round: both angles on one, so that rows agree.

Frame: datum at pin height, at the post's leaf-side edge or on its front line, u right, v up.
Units: mm.
"""

from hangpost.generators.hardware.angle_pair import AnglePair
from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.loop import rectangle


def flat_post_sheet(hung: HungLeaf, pair: AnglePair, drill: float) -> Template:
    """The sheet for the face towards the actuator, holes of `drill` diameter."""
    upper = pair.angles[0]
    left, right = upper.seat
    return Template(
        id="post-face",
        part_id="post-bracket",
        face="hanging post, face towards the actuator",
        datum=_datum(hung),
        holes=pair.fixing.drillings(drill),
        outline=rectangle(left, -upper.top, right, upper.top, upper.corner),
        edges=(0.0, float(hung.post.width)),
        edge_names=("post edge, leaf side", "post edge, far side"),
        height=pair.fixing.seat.origin[2],
        left_side="leaf side",
        right_side="away from the leaf",
        facing="actuator side",
        through=pair.fixing.is_through,
        depth=float(hung.post.depth),
    )


def _datum(hung: HungLeaf) -> str:
    """What the mark is on a flat post, and how the sheet hangs where that leans."""
    mark = "leaf-side edge of the post at pin height"
    lean = hung.post.lean
    if not (lean.toward_leaf or lean.toward_actuator):
        return mark
    return (
        f"{mark}; the post leans: hang the sheet plumb, its edge line on the post's edge at the "
        "level line alone, and drill level, square to the gate"
    )


def wrapped_post_sheet(
    pair: AnglePair,
    outside: float,
    holes: tuple[Drilling, ...],
    *,
    datum: str,
    depth: float,
    through: bool = False,
) -> Template:
    """The sheet to wrap round a post, its front line towards the actuator."""
    upper, half = pair.angles[0], outside / 4
    return Template(
        id="post-wrap",
        part_id="post-bracket",
        face="hanging post, wrapped round, front line towards the actuator",
        datum=datum,
        holes=holes,
        outline=rectangle(-half, -upper.top, half, upper.top, 3.0),
        wrap_diameter=outside,
        height=pair.fixing.seat.origin[2],
        left_side="leaf side",
        right_side="away from the leaf",
        facing="actuator side",
        through=through,
        depth=depth,
    )
