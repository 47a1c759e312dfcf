"""The gate as the page's own script swings it: coarse meshes and the numbers of the motion.

Each thing is given in the coordinates it rides in, for its leaf's hand: ground and leaf in the
plan frame of the closed gate, tube and rod with their own pin at the origin. The script turns
them by the closed form that `LeafDesign.pose` has too; a test holds the two against each other.
Corners are counted in 65535ths of the thing's box, triangles in corners, both as base64. Units:
mm, degrees.
"""

from base64 import b64encode
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.assembly import colour, open_angle
from hangpost.generators.hardware.design import Design, LeafDesign, Placed
from hangpost.generators.writers.mesh import Mesh, facets
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq

Coarse = Callable[[Part | Body], Mesh]
Data = dict[str, Any]

TOLERANCE: Final = 0.5  # mm between facet and surface: good to look at, not to make from
TURN: Final = 0.4  # radians between neighbouring facets of a part
ROUGH_TURN: Final = 0.6  # of a bolt or a post
STEPS: Final = 65535


def near(placed: Placed) -> bool:
    """Whether a thing belongs into a view of the actuator and what holds it."""
    name = placed.name
    held = "bracket" in name or "extension" in name or name.endswith((" pin", " ear"))
    return placed.rides in ("tube", "rod") or held


def coarse(shape: "cq.Shape", turn: float = TURN) -> Mesh:
    """A mesh to look at: each face of the solid has its own corners, so that edges stay sharp."""
    _, points, triangles = facets(shape, TOLERANCE, turn)
    return Mesh(points, triangles, TOLERANCE)


def moving(design: Design, mesh_of: Coarse) -> Data:
    """Leaves and pieces for the script, as plain data."""
    return {
        "leaves": [motion(leaf) for leaf in design.leaves],
        "pieces": [
            _piece(number, leaf, placed, mesh_of)
            for number, leaf in enumerate(design.leaves)
            for placed in leaf.placed
        ],
    }


def motion(leaf: LeafDesign) -> Data:
    """What the script needs to know where everything of a leaf stands at any angle."""
    return {
        "name": leaf.name,
        "hand": leaf.hand,
        "shift": leaf.shift,
        "open": open_angle(leaf),
        "post": list(leaf.mount.post_pivot),
        "leaf": list(leaf.mount.leaf_pivot),
        "height": leaf.mount.height,
        "thrust": leaf.problem.actuator.thrust,
        "speed": leaf.problem.actuator.speed,
        "width": leaf.problem.leaf.width,
        "torque": leaf.mount.required_leverage * leaf.problem.actuator.thrust,
    }


def _piece(number: int, leaf: LeafDesign, placed: Placed, mesh_of: Coarse) -> Data:
    ours = placed.for_hand(leaf.hand)
    mesh = mesh_of(ours.item).placed(ours.frame)
    low, high = mesh.bounds
    span = np.maximum(high - low, 1e-6)
    corners = np.rint((mesh.vertices - low) / span * STEPS).astype("<u2")
    wide = len(corners) > STEPS
    return {
        "leaf": number,
        "name": placed.name,
        "part": ours.item.mark if isinstance(ours.item, Part) else None,
        "rides": placed.rides,
        "near": near(placed),
        "colour": list(colour(placed)),
        "low": [round(float(x), 4) for x in low],
        "span": [round(float(x), 4) for x in span],
        "wide": wide,
        "corners": _packed(corners),
        "triangles": _packed(mesh.faces.astype("<u4" if wide else "<u2")),
    }


def _packed(numbers: NDArray[Any]) -> str:
    return b64encode(np.ascontiguousarray(numbers).tobytes()).decode("ascii")
