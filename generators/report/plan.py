"""The plan view of the gate, to scale, as an SVG drawing that the page's script can swing.

Each thing is drawn as its silhouette from above, taken from the same mesh that is checked and
exported, in the coordinates it rides in (see `moving`). The swept area is what leaf and actuator
cover on their way. Drawing frame: mm, x as in the assembly, y downwards (so minus the plan's y).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np
from markupsafe import Markup, escape
from numpy.typing import NDArray

from hangpost.generators.assembly import LEAF, POST, STEEL_POST, colour, open_angle
from hangpost.generators.hardware.design import Design, LeafDesign, Placed
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.report.moving import near
from hangpost.generators.survey.units import INCH, Units
from hangpost.generators.writers.mesh import Mesh
from hangpost.parts.bodies import Body
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part

if TYPE_CHECKING:
    from manifold3d import CrossSection

Meshed = Callable[[Part | Body], Mesh]
Array = NDArray[np.float64]

FINE: Final = 0.3  # mm by which an outline may be made simpler
STEP: Final = 2.0  # degrees from one silhouette of the swept area to the next
AROUND: Final = 150.0  # mm of free room around the drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """One scene drawn several times: the whole gate, and what is around each actuator."""

    scene: Markup  # the groups that both drawings show
    whole: str  # viewBox of the whole gate
    near: tuple[str, ...]  # viewBox around the actuator of each leaf
    bar: float  # length of the scale bar of the whole view, mm
    size: tuple[float, float]  # of the whole view


def plan_view(design: Design, meshed: Meshed) -> PlanView:
    """The plan of the gate, every leaf closed; the script moves it on."""
    groups: list[Markup] = []
    everything: list[Array] = []
    close: list[str] = []
    for number, leaf in enumerate(design.leaves):
        shadows = [_shadow(placed, leaf, meshed) for placed in leaf.placed]
        swept = _swept(leaf, shadows)
        groups.append(_swept_group(swept))
        for placed, shadow in zip(leaf.placed, shadows, strict=True):
            groups.append(_group(number, leaf, placed, shadow))
        groups.append(_obstacles(leaf))
        groups.append(_pivots(number, leaf))
        for outline in (*swept.values(), _still(leaf, shadows)):
            everything += outline.to_polygons()
        close.append(_box(*_bounds(_around(leaf, shadows))))
    low, high = _bounds(everything)
    return PlanView(
        scene=Markup("").join(groups),
        whole=_box(low - AROUND, high + AROUND),
        near=tuple(close),
        bar=_bar(float((high - low).max()), design.site.units),
        size=(float(high[0] - low[0]) + 2 * AROUND, float(high[1] - low[1]) + 2 * AROUND),
    )


def _bar(longest: float, units: Units) -> float:
    """A round length for the scale bar: a quarter of the drawing or so."""
    unit = INCH * 12 if units == "in" else 500.0
    return unit * max(round(longest / 4 / unit), 1)


def _shadow(placed: Placed, leaf: LeafDesign, meshed: Meshed) -> "CrossSection":
    """The silhouette from above, in the coordinates the thing rides in."""
    from manifold3d import CrossSection, FillRule, Manifold, Mesh64

    ours = placed.for_hand(leaf.hand)
    mesh = meshed(ours.item).placed(ours.frame)
    solid = Manifold(Mesh64(mesh.vertices, mesh.faces.astype(np.uint64)))
    flat = solid.project().to_polygons()
    return CrossSection([np.asarray(p) for p in flat], FillRule.Positive).simplify(FINE)


def _swept(leaf: LeafDesign, shadows: Sequence["CrossSection"]) -> dict[str, "CrossSection"]:
    """What leaf and actuator cover over the swing, in the assembly's plan."""
    from manifold3d import CrossSection, OpType

    angles = [float(a) for a in swing(leaf.problem.direction, leaf.problem.opening, STEP)]
    found = {}
    for name, rides in (("leaf", {"leaf"}), ("actuator", {"tube", "rod"})):
        passed = []
        for placed, shadow in zip(leaf.placed, shadows, strict=True):
            if placed.rides in rides:
                seen = [_stood(shadow, leaf, placed, angle) for angle in angles]
                # Between two angles a thing covers what its two silhouettes span.
                passed += [CrossSection.batch_hull([a, b]) for a, b in pairwise(seen)]
        found[name] = CrossSection.batch_boolean(passed, OpType.Add).simplify(FINE)
    return found


def _still(leaf: LeafDesign, shadows: Sequence["CrossSection"]) -> "CrossSection":
    from manifold3d import CrossSection, OpType

    own = [
        _stood(shadow, leaf, placed, 0.0)
        for placed, shadow in zip(leaf.placed, shadows, strict=True)
        if placed.rides == "ground"
    ]
    return CrossSection.batch_boolean(own, OpType.Add)


def _stood(
    shadow: "CrossSection", leaf: LeafDesign, placed: Placed, angle: float
) -> "CrossSection":
    """A silhouette where it stands at an angle."""
    frame = standing(leaf, placed, angle)
    return shadow.transform(
        np.array(
            [
                [frame.u[0], frame.v[0], frame.origin[0]],
                [frame.u[1], frame.v[1], frame.origin[1]],
            ]
        )
    )


def standing(leaf: LeafDesign, placed: Placed, angle: float) -> Frame:
    """Where the coordinates in which a thing rides stand, for the leaf's hand."""
    frame = leaf.pose(placed.rides, angle)
    frame = frame if leaf.hand == "right" else frame.mirrored()
    x, y, z = frame.origin
    return Frame((x + leaf.shift, y, z), frame.u, frame.v)


def _around(leaf: LeafDesign, shadows: Sequence["CrossSection"]) -> list[Array]:
    """Post, actuator and what holds it, closed and open."""
    found: list[Array] = []
    for placed, shadow in zip(leaf.placed, shadows, strict=True):
        if not near(placed) and placed.name != "hanging post":
            continue
        for angle in (0.0, open_angle(leaf)):
            found += _stood(shadow, leaf, placed, angle).to_polygons()
    return found


def _bounds(outlines: Sequence[Array]) -> tuple[Array, Array]:
    points = np.concatenate([np.asarray(outline) for outline in outlines])
    return points.min(axis=0), points.max(axis=0)


def _box(low: Array, high: Array) -> str:
    """The viewBox around two corners of the plan, y turned downwards."""
    room = 0.04 * float((high - low).max())
    x, y = float(low[0]) - room, -float(high[1]) - room
    wide, deep = (float(side) + 2 * room for side in high - low)
    return f"{x:.1f} {y:.1f} {wide:.1f} {deep:.1f}"


def _path(shadow: "CrossSection") -> str:
    """The outline as SVG path data; a silhouette's holes wind the other way."""
    return "".join(
        "M" + "L".join(f"{x:.1f} {-y + 0.0:.1f}" for x, y in np.asarray(outline)) + "Z"
        for outline in shadow.to_polygons()
    )


def _group(number: int, leaf: LeafDesign, placed: Placed, shadow: "CrossSection") -> Markup:
    """One thing, where it stands closed, with what the script needs to move it."""
    kind = "made" if isinstance(placed.item, Part) else _kind(placed)
    return Markup(
        '<g data-leaf="{}" data-rides="{}" transform="{}">'
        '<path class="ps plan-{}" d="{}"><title>{}</title></path></g>'
    ).format(number, placed.rides, _transform(leaf, placed), kind, _path(shadow), placed.name)


def _kind(placed: Placed) -> str:
    if placed.name.startswith("actuator"):
        return "actuator"
    painted = {POST: "post", STEEL_POST: "steel", LEAF: "leaf"}
    return painted.get(colour(placed), "bought")


def _transform(leaf: LeafDesign, placed: Placed) -> str:
    frame = standing(leaf, placed, 0.0)
    turn = np.degrees(np.arctan2(frame.u[1], frame.u[0]))
    x, y, _ = frame.origin
    return f"translate({x:.3f} {-y + 0.0:.3f}) rotate({-turn + 0.0:.4f})"


def _swept_group(swept: dict[str, "CrossSection"]) -> Markup:
    return Markup("").join(
        Markup('<path class="ps swept-{}" d="{}"><title>{}</title></path>').format(
            name, _path(area), f"area that the {name} sweeps"
        )
        for name, area in swept.items()
    )


def _obstacles(leaf: LeafDesign) -> Markup:
    found = []
    side = 1.0 if leaf.hand == "right" else -1.0
    for obstacle in leaf.problem.obstacles:
        box = obstacle.outline
        x0, x1 = sorted(side * x + leaf.shift for x in (box.left, box.right))
        found.append(
            Markup(
                '<rect class="ps plan-obstacle" x="{:.1f}" y="{:.1f}" width="{:.1f}" '
                'height="{:.1f}"><title>{}</title></rect>'
            ).format(x0, -box.top, x1 - x0, box.top - box.bottom, escape(obstacle.name))
        )
    return Markup("").join(found)


def _pivots(number: int, leaf: LeafDesign) -> Markup:
    """Marks of the hinge axis and of both pivots: a cross, a ring and a square."""
    side = 1.0 if leaf.hand == "right" else -1.0
    (px, py), (gx, gy) = leaf.mount.post_pivot, leaf.mount.leaf_pivot
    return Markup(
        '<g transform="translate({:.3f} 0)">'
        '<path class="ms" d="M-26 0H26M0 -26V26"/><title>hinge axis</title></g>'
        '<g transform="translate({:.3f} {:.3f})">'
        '<circle class="ms" r="17"/><title>post pivot</title></g>'
        '<g data-leaf="{}" data-rides="leaf" transform="translate({:.3f} 0)">'
        '<g transform="translate({:.3f} {:.3f})">'
        '<path class="ms" d="M-16 -16H16V16H-16Z"/><title>leaf pivot</title></g></g>'
    ).format(leaf.shift, side * px + leaf.shift, -py, number, leaf.shift, side * gx, -gy)
