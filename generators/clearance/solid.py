"""A body as the two geometry libraries know it, and what can be said of it without asking them.

Frame: the body's own coordinates, or those of another body where `places` (4 x 4 each) say where
it stands in them. Units: mm, degrees.
"""

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.clearance.records import Array, Moving

if TYPE_CHECKING:
    import fcl


class Solid:
    """A body as both libraries know it."""

    def __init__(self, body: Moving) -> None:
        """Refuse a mesh that is open or inside out, which would read as nothing."""
        import manifold3d

        self.body = body
        vertices = np.ascontiguousarray(body.vertices, dtype=np.float64)
        faces = np.ascontiguousarray(body.faces, dtype=np.int64)
        self.tree = _tree(vertices, faces)
        self.inside = manifold3d.Manifold(manifold3d.Mesh64(vertices, faces.astype(np.uint64)))
        good = self.inside.status() == manifold3d.Error.NoError and self.inside.volume() > 0
        if not good:
            raise ValueError(f"{body.name}: the mesh is not closed or is inside out")
        self.low, self.high = vertices.min(axis=0), vertices.max(axis=0)
        self.corners = corners_of(self.low, self.high)
        self.poses: dict[tuple[float, ...], Array] = {}

    @cached_property
    def _wrapped(self) -> tuple[Array, NDArray[np.int64]]:
        """Its convex hull: corners and triangles."""
        mesh = self.inside.hull().to_mesh64()
        return np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts, dtype=np.int64)

    @property
    def hull(self) -> Array:
        """The corners of its convex hull."""
        return self._wrapped[0]

    @cached_property
    def wrapped_tree(self) -> "fcl.CollisionObject":
        """Its convex hull: many fewer triangles, and as good from far away."""
        return _tree(*self._wrapped)

    def along(self, angles: tuple[float, ...]) -> Array:
        """Its 4 x 4 placement at each angle."""
        if angles not in self.poses:
            self.poses[angles] = np.array([self.body.pose(angle).matrix for angle in angles])
        return self.poses[angles]


def _tree(vertices: Array, faces: NDArray[np.int64]) -> "fcl.CollisionObject":
    import fcl

    tree = fcl.BVHModel()
    tree.beginModel(len(vertices), len(faces))
    tree.addSubModel(np.ascontiguousarray(vertices), faces)
    tree.endModel()
    return fcl.CollisionObject(tree)


def corners_of(low: Array, high: Array) -> Array:
    """The eight corners of a box."""
    return np.array(np.meshgrid(*zip(low, high, strict=True))).T.reshape(-1, 3)


def at_places(b: Solid, places: Array) -> Array:
    """The corners of b's box at every place."""
    return np.asarray(b.corners @ places[:, :3, :3].transpose(0, 2, 1) + places[:, None, :3, 3])


def box_gap(a: Solid, b: Solid, places: Array) -> Array:
    """Distance between a's box and the box around b, for every place of b; never too large."""
    corners = at_places(b, places)
    low, high = corners.min(axis=1), corners.max(axis=1)
    apart = np.maximum(np.maximum(a.low - high, low - a.high), 0.0)
    return np.asarray(np.linalg.norm(apart, axis=1))


def facet_gap(a: Solid, b: Solid, places: Array, enough: float) -> Array:
    """The same from each facet of a by itself: tells an eye between two ears from one in steel.

    No more than `enough` is told: facets farther than that from all places together are left out.
    """
    corners = at_places(b, places)
    low, high = corners.min(axis=1), corners.max(axis=1)
    facets = a.body.vertices[a.body.faces]
    least, most = facets.min(axis=1), facets.max(axis=1)
    near = _square(least - high.max(axis=0), low.min(axis=0) - most) < enough * enough
    least, most = least[near], most[near]
    found = [
        _square(least - top, bottom - most).min(initial=enough * enough)
        for bottom, top in zip(low, high, strict=True)
    ]
    return np.sqrt(found)


def _square(above: Array, below: Array) -> Array:
    """The square of the distance of boxes, one a row, from how far they lie above and below."""
    return np.asarray((np.maximum(np.maximum(above, below), 0.0) ** 2).sum(axis=1))


def reversed_places(places: Array) -> Array:
    """Where a stands in the coordinates of b."""
    back = np.zeros_like(places)
    back[:, :3, :3] = places[:, :3, :3].transpose(0, 2, 1)
    back[:, :3, 3] = -np.einsum("kij,kj->ki", back[:, :3, :3], places[:, :3, 3])
    back[:, 3, 3] = 1.0
    return back


def slab(a: Solid, b: Solid, places: Array, way: Array) -> Array:
    """Width of the slab square to `way` (a direction) between a and every place of b.

    Any slab between two bodies is no wider than their distance, whatever its direction.
    """
    length = float(np.linalg.norm(way))
    if not 0.99 < length < 1.01:
        return np.full(len(places), -np.inf)
    way = way / length
    turned = places[:, :3, :3].transpose(0, 2, 1) @ way  # the direction as b sees it
    nearest = (turned @ b.hull.T).min(axis=1) + places[:, :3, 3] @ way
    return np.asarray(nearest - (a.hull @ way).max())


def ways_of(b: Solid, places: Array) -> Array:
    """How far any point of b goes from each place to the next.

    No point goes farther than a corner of the box. The corner's way is longer than its chord by
    the sagitta: under 1 in 1000 for a turn of 10 degrees, which is allowed for.
    """
    steps = np.linalg.norm(np.diff(at_places(b, places), axis=0), axis=2)
    return np.asarray(1.002 * steps.max(axis=1))
