"""Each solid is built once and meshed once, whoever asks for it."""

from collections.abc import Hashable
from typing import TYPE_CHECKING

from hangpost.generators.writers.mesh import Mesh, meshed
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq


class Shelf:
    """Keeps what has been built; equal parts are the same part."""

    def __init__(self) -> None:
        """Start empty."""
        self._solids: dict[Hashable, cq.Shape] = {}
        self._meshes: dict[Hashable, Mesh] = {}

    def solid(self, item: Part | Body) -> "cq.Shape":
        """The item as a solid in its own frame."""
        if item not in self._solids:
            self._solids[item] = item.solid()
        return self._solids[item]

    def mesh(self, item: Part | Body) -> Mesh:
        """The item's mesh in its own frame."""
        if item not in self._meshes:
            self._meshes[item] = meshed(self.solid(item))
        return self._meshes[item]
