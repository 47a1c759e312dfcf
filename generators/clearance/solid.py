"""A body as the two geometry libraries know it, and what can be said of it without asking them.

Frame: the body's own coordinates, or those of another body where `places` (4 x 4 each) say where
it stands in them. Units: mm, degrees.
"""

import numpy as np

from hangpost.generators.clearance.records import Array, Moving


class Solid:
    """A body as both libraries know it."""

    def __init__(self, body: Moving) -> None:
        """Refuse a mesh that is open or inside out, which would read as nothing."""
        import fcl
        import manifold3d

        self.body = body
        vertices = np.ascontiguousarray(body.vertices, dtype=np.float64)
        faces = np.ascontiguousarray(body.faces, dtype=np.int64)
        tree = fcl.BVHModel()
        tree.beginModel(len(vertices), len(faces))
        tree.addSubModel(vertices, faces)
        tree.endModel()
        self.tree = fcl.CollisionObject(tree)
        self.inside = manifold3d.Manifold(manifold3d.Mesh64(vertices, faces.astype(np.uint64)))
        good = self.inside.status() == manifold3d.Error.NoError and self.inside.volume() > 0
        if not good:
            raise ValueError(f"{body.name}: the mesh is not closed or is inside out")
        self.low, self.high = vertices.min(axis=0), vertices.max(axis=0)
        self.corners = corners_of(self.low, self.high)
        self.hull = np.asarray(self.inside.hull().to_mesh64().vert_properties)[:, :3]
        self.poses: dict[tuple[float, ...], Array] = {}

    def along(self, angles: tuple[float, ...]) -> Array:
        """Its 4 x 4 placement at each angle."""
        if angles not in self.poses:
            self.poses[angles] = np.array([self.body.pose(angle).matrix for angle in angles])
        return self.poses[angles]


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


def facet_gap(a: Solid, b: Solid, places: Array) -> Array:
    """The same from each facet of a by itself: tells an eye between two ears from one in steel."""
    corners = at_places(b, places)
    low, high = corners.min(axis=1), corners.max(axis=1)
    facets = a.body.vertices[a.body.faces]
    least, most = facets.min(axis=1), facets.max(axis=1)
    found = [
        np.sqrt((np.maximum(np.maximum(least - top, bottom - most), 0.0) ** 2).sum(axis=1).min())
        for bottom, top in zip(low, high, strict=True)
    ]
    return np.array(found)


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
