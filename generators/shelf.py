"""Each solid is built once and meshed once, whoever asks for it.

With a folder of kept things (see kept.py) a solid, a mesh or a file of a part that another gate
of the same run has needed comes from there: to the byte what would be made anew.
"""

from collections.abc import Callable, Hashable
from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np

from hangpost.generators.kept import Kept
from hangpost.generators.writers.mesh import ROUGH, Mesh, meshed
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq


class Shelf:
    """Keeps what has been built; equal parts are the same part."""

    def __init__(self, kept: Kept | None = None) -> None:
        """Start empty, or with what other gates have left."""
        self._kept = kept
        self._solids: dict[Hashable, cq.Shape] = {}
        self._meshes: dict[Hashable, Mesh] = {}

    def solid(self, item: Part | Body) -> "cq.Shape":
        """The item as a solid in its own frame."""
        if item not in self._solids:
            self._solids[item] = self._solid(item)
        return self._solids[item]

    def mesh(self, item: Part | Body) -> Mesh:
        """The item's mesh in its own frame."""
        if item not in self._meshes:
            self._meshes[item] = self._mesh(item)
        return self._meshes[item]

    def file(self, kind: str, part: Part, make: Callable[[], bytes]) -> bytes:
        """A file that hangs on the part alone."""
        return make() if self._kept is None else self._kept.get(kind, part, make)

    def _solid(self, item: Part | Body) -> "cq.Shape":
        if self._kept is None:
            return item.solid()
        from hangpost.parts.solids import restored, stored

        return restored(self._kept.get("solid", item, lambda: stored(item.solid())))

    def _mesh(self, item: Part | Body) -> Mesh:
        def make() -> Mesh:
            solid = self.solid(item)
            return meshed(solid) if isinstance(item, Part) else meshed(solid, *ROUGH)

        if self._kept is None:
            return make()
        return _mesh_of(self._kept.get("mesh", item, lambda: _bytes_of(make())))


def _bytes_of(mesh: Mesh) -> bytes:
    stream = BytesIO()
    np.savez(stream, vertices=mesh.vertices, faces=mesh.faces, chord=np.array(mesh.chord))
    return stream.getvalue()


def _mesh_of(data: bytes) -> Mesh:
    with np.load(BytesIO(data), allow_pickle=False) as arrays:
        return Mesh(arrays["vertices"], arrays["faces"], float(arrays["chord"]))
