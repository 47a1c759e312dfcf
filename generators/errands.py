"""What a pack asks of the CAD kernel, as records that can be sent to the process that has it.

An errand says what is wanted and of which part or body; `done` does it. Two equal errands have
the same answer, so a shelf keeps one for both.
"""

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar, Generic, Protocol, TypeVar

from hangpost.generators.assembly import Standing, assembly_name, standing
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.scene import envelope
from hangpost.generators.report.moving import ROUGH_TURN, TURN, coarse
from hangpost.generators.report.pictures import Portrait, part_picture, portraits
from hangpost.generators.writers.formed_views import sights
from hangpost.generators.writers.mesh import ROUGH, Mesh, mesh_bytes, mesh_of, meshed
from hangpost.generators.writers.pictures import ABOVE, ACTUATOR_SIDE
from hangpost.generators.writers.pictures import sights as gate_sights
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.sheet_dxf import sheet_dxf
from hangpost.generators.writers.step import Piece, assembly_step, part_step
from hangpost.generators.writers.views import Sight, View, looking
from hangpost.parts.bodies import HAIRS, Body
from hangpost.parts.part import Part

if TYPE_CHECKING:
    from hangpost.generators.shelf import Shelf

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)


class Errand(Protocol[T_co]):
    """Something the kernel is asked for."""

    def done(self, shelf: "Shelf") -> T_co:
        """The answer, from the solids on the shelf."""


class Lasting(ABC, Generic[T]):
    """An errand whose answer hangs on one part or body alone: every gate that has it can use it."""

    __slots__ = ()
    what: ClassVar[str]  # what is made

    @property
    @abstractmethod
    def of(self) -> Part | Body:
        """What it is made of."""

    @abstractmethod
    def done(self, shelf: "Shelf") -> T:
        """The answer, from the solids on the shelf."""

    @abstractmethod
    def written(self, answer: T) -> bytes:
        """The answer as it is kept."""

    @abstractmethod
    def read(self, data: bytes) -> T:
        """The answer from what was kept."""


@dataclass(frozen=True, slots=True)
class Meshing(Lasting[Mesh]):
    """The mesh that is printed, painted and swung."""

    what = "mesh"
    item: Part | Body

    @property
    def of(self) -> Part | Body:
        """The part or body."""
        return self.item

    def done(self, shelf: "Shelf") -> Mesh:
        """Fine for what is made, rough for what only stands there."""
        solid = shelf.solid(self.item)
        if isinstance(self.item, Part):
            return meshed(solid)
        try:
            return meshed(solid, *ROUGH)
        except RuntimeError:  # bars that cross may go apart by a hair
            return meshed(self.item.thinned(HAIRS[-1]).solid(), *ROUGH)

    def written(self, answer: Mesh) -> bytes:
        """Its corners and triangles."""
        return mesh_bytes(answer)

    def read(self, data: bytes) -> Mesh:
        """The mesh, to the bit."""
        return mesh_of(data)


@dataclass(frozen=True, slots=True)
class Coarse:
    """The mesh that the report page swings."""

    item: Part | Body

    def done(self, shelf: "Shelf") -> Mesh:
        """Good to look at, not to make from."""
        turn = TURN if isinstance(self.item, Part) else ROUGH_TURN
        return coarse(shelf.solid(self.item), turn)


@dataclass(frozen=True, slots=True)
class Painting:
    """The picture of a part."""

    part: Part

    def done(self, shelf: "Shelf") -> bytes:
        """A PNG file, from the mesh."""
        return part_picture(self.part, shelf.mesh)


@dataclass(frozen=True, slots=True)
class Portraying:
    """A picture of the gate."""

    portrait: Portrait

    def done(self, shelf: "Shelf") -> bytes:
        """A PNG file, from the meshes."""
        return self.portrait.painted(shelf.mesh)


@dataclass(frozen=True, slots=True)
class Looking:
    """What one sees of a part."""

    sight: Sight

    def done(self, shelf: "Shelf") -> View:
        """By hidden-line removal."""
        return looking(shelf.solid)(self.sight)


@dataclass(frozen=True, slots=True)
class Stepping(Lasting[bytes]):
    """The STEP file of a part."""

    what = "step"
    part: Part

    @property
    def of(self) -> Part:
        """The part."""
        return self.part

    def done(self, shelf: "Shelf") -> bytes:
        """One solid, named."""
        return part_step(self.part.mark, shelf.solid(self.part))

    def written(self, answer: bytes) -> bytes:
        """The file itself."""
        return answer

    def read(self, data: bytes) -> bytes:
        """The file itself."""
        return data


@dataclass(frozen=True, slots=True)
class Assembling:
    """The STEP file of the gate at one angle."""

    name: str
    pieces: tuple[Standing, ...]

    def done(self, shelf: "Shelf") -> bytes:
        """Every piece in its place."""
        placed = [
            Piece(
                name=each.name,
                product=each.product,
                shape=shelf.solid(each.item),
                frame=each.frame,
                colour=each.colour,
            )
            for each in self.pieces
        ]
        return assembly_step(self.name, placed)


@dataclass(frozen=True, slots=True)
class Drafting:
    """A sheet as a DXF file: needs no kernel, but takes long, and both processes have a core."""

    path: str  # where it goes; no two sheets go to the same place
    sheet: Sheet = field(compare=False)
    mark: str = field(compare=False)

    def done(self, shelf: "Shelf") -> bytes:
        """The file."""
        return sheet_dxf(self.sheet, self.mark)


def assembling(design: Design, share: float) -> Assembling:
    """The assembly with every leaf at a share of its opening: 0 closed, 1 open."""
    return Assembling(assembly_name(design, share), tuple(standing(design, share)))


def errands(design: Design) -> Iterator[Errand[object]]:
    """All that a design asks for, first what is wanted first."""
    parts = [part for part, _ in design.parts]
    placed = [
        (leaf, each.for_hand(leaf.hand).item)
        for leaf in design.leaves
        for each in (*leaf.placed, *leaf.tools)
    ]
    if len(design.leaves) > 1:  # which are swung past each other whole
        hung = zip(design.leaves, design.site.leaves, strict=True)
        placed += [(leaf, envelope(each).for_hand(leaf.hand).item) for leaf, each in hung]
    shown = dict.fromkeys(
        each.for_hand(leaf.hand).item for leaf in design.leaves for each in leaf.placed
    )
    for part in parts:
        for sight in sights(part):
            yield Looking(sight)
    for leaf in design.leaves:
        for eye in (ABOVE, ACTUATOR_SIDE):
            for _, sight in gate_sights(leaf, eye):
                yield Looking(sight)
    for item in dict.fromkeys((*parts, *(item for _, item in placed))):
        yield Meshing(item)
    for part in parts:
        yield Painting(part)
    for item in shown:
        yield Coarse(item)
    for part in parts:
        yield Stepping(part)
    for share in (0.0, 1.0):
        yield assembling(design, share)
    for portrait in portraits(design):
        yield Portraying(portrait)
