"""Each solid is built once and meshed once, whoever asks for it.

With a folder of kept things (see kept.py) a solid, a mesh or a file of a part that another gate
of the same run has needed comes from there: to the byte what would be made anew. With a second
process (see beside.py) the kernel works there while this one reckons and draws; what it has not
been asked for is made here.
"""

from collections.abc import Callable, Hashable, Iterable
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

from hangpost.generators.errands import Coarse, Errand, Lasting, Looking, Meshing
from hangpost.generators.kept import Kept
from hangpost.generators.writers.mesh import Mesh
from hangpost.generators.writers.views import Sight, View
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq

    from hangpost.generators.beside import Beside

T = TypeVar("T")


class Shelf:
    """Keeps what has been built; equal parts are the same part."""

    def __init__(self, kept: Kept | None = None, beside: "Beside | None" = None) -> None:
        """Start empty, or with what other gates have left, alone or with another process."""
        self._kept = kept
        self._beside = beside
        self._solids: dict[Hashable, cq.Shape] = {}
        self._made: dict[Errand[Any], Any] = {}
        self._awaited: set[Errand[Any]] = set()

    def expect(self, errands: Iterable[Errand[Any]]) -> None:
        """What will be asked for, in about this order: lets the other process begin."""
        if self._beside is not None:
            wanted = [each for each in errands if each not in self._made]
            self._awaited.update(wanted)
            self._beside.ask(wanted)

    def solid(self, item: Part | Body) -> "cq.Shape":
        """The item as a solid in its own frame."""
        if item not in self._solids:
            self._solids[item] = self._solid(item)
        return self._solids[item]

    def mesh(self, item: Part | Body) -> Mesh:
        """The item's mesh in its own frame."""
        return self.get(Meshing(item))

    def coarse(self, item: Part | Body) -> Mesh:
        """A mesh of few triangles, to look at."""
        return self.get(Coarse(item))

    def look(self, sight: Sight) -> View:
        """What one sees of a part."""
        return self.get(Looking(sight))

    def get(self, errand: Errand[T]) -> T:
        """The answer: as given before, as it comes if it was asked for, or made here and now."""
        while errand not in self._made:
            coming = self._beside.answer() if self._beside and errand in self._awaited else None
            done, answer = coming or (errand, self._answer(errand))
            self._made[done] = answer
        found: T = self._made[errand]
        return found

    def file(self, kind: str, part: Part, make: Callable[[], bytes]) -> bytes:
        """A file that hangs on the part alone."""
        return make() if self._kept is None else self._kept.get(kind, part, make)

    def _answer(self, errand: Errand[Any]) -> Any:
        if self._kept is not None and isinstance(errand, Lasting):
            made = partial(self._written, errand)
            return errand.read(self._kept.get(errand.what, errand.of, made))
        return errand.done(self)

    def _written(self, errand: Lasting[Any]) -> bytes:
        return errand.written(errand.done(self))

    def _solid(self, item: Part | Body) -> "cq.Shape":
        if self._kept is None:
            return item.solid()
        from hangpost.parts.solids import restored, stored

        return restored(self._kept.get("solid", item, lambda: stored(item.solid())))
