"""What every part of the pack can say of itself, whatever it is made from.

A part is a frozen record of its parameters (mm, kg, degrees). It validates itself when it is
made, declares its holes once, and derives the rest. It is drawn for the right hand; the left
hand is its mirror image in u. Seat frame: u right, v up as one looks at the face, w = 0 touches
the host, w points to the viewer.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, ClassVar, Literal, Self

from hangpost.parts.flat import FlatPattern, Hole
from hangpost.parts.folded import Box3, FoldedPlate
from hangpost.parts.frame import Frame, Vector

if TYPE_CHECKING:
    import cadquery as cq

Hand = Literal["right", "left"]


@dataclass(frozen=True, slots=True)
class Material:
    """What a part is made of: the name for the cut list and the density in kg/mm3."""

    name: str
    density: float


MILD_STEEL = Material("mild steel", 7850e-9)  # EN 1991-1-1:2002 Table A.4: 77.0 to 78.5 kN/m3
PRINTED = Material("ASA, printed (mass if solid)", 1070e-9)  # common practice, no source


@dataclass(frozen=True, slots=True)
class Bore:
    """A hole where it is: `panel` it goes through, a point on its axis, the axis direction."""

    hole: Hole
    panel: str
    origin: Vector
    axis: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(ABC):
    """One thing that is made; `id` is its name on the job, `kind` its family."""

    id: str
    hand: Hand = "right"
    material: Material = MILD_STEEL
    kind: ClassVar[str]
    process: ClassVar[Literal["cut", "print"]]  # who makes it: the fabricator or the printer

    @property
    @abstractmethod
    def handed(self) -> bool:
        """Whether the part differs from its mirror image."""

    @property
    def mark(self) -> str:
        """What is written on the part and its files: the id and, where it matters, the hand."""
        return f"{self.id}-{'RH' if self.hand == 'right' else 'LH'}" if self.handed else self.id

    @property
    @abstractmethod
    def thickness(self) -> float:
        """Thickness of the plate, or height of a printed block as it lies on the bed."""

    @property
    @abstractmethod
    def volume(self) -> float:
        """Volume by closed form, so that a test can hold the solid against it."""

    @property
    @abstractmethod
    def box(self) -> Box3:
        """Least and greatest corner in the seat frame."""

    @property
    def extent(self) -> tuple[float, float, float]:
        """Overall size along u, v and w."""
        (a, b, c), (d, e, f) = self.box
        return (d - a, e - b, f - c)

    @property
    @abstractmethod
    def bores(self) -> tuple[Bore, ...]:
        """Every hole with the place and direction of its axis."""

    @abstractmethod
    def solid(self) -> "cq.Solid":
        """The part as one valid solid in its seat frame."""

    def flat_pattern(self) -> FlatPattern | None:
        """The blank to cut, or None for a part that is not cut from sheet."""
        return None

    @property
    def mass(self) -> float:
        """Mass in kg."""
        return _mass(self)

    def mirrored(self) -> Self:
        """The same part for the other hand."""
        return replace(self, hand="left" if self.hand == "right" else "right")


@lru_cache(maxsize=1000)  # who chooses hardware weighs the same few parts over and over
def _mass(part: Part) -> float:
    return part.volume * part.material.density


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart(Part):
    """A part cut from plate and, if it has flanges, folded."""

    process: ClassVar[Literal["cut", "print"]] = "cut"

    @abstractmethod
    def _folded(self) -> FoldedPlate:
        """The plate for the right hand, from the part's numbers."""

    def drawn(self) -> FoldedPlate:
        """The plate for the right hand."""
        return _once(self)

    @property
    def handed(self) -> bool:
        """Whether the blank differs from its mirror image; the bends keep their side."""
        return _is_handed(self)

    @property
    def plate(self) -> FoldedPlate:
        """The plate for this part's hand."""
        drawn = self.drawn()
        return drawn if self.hand == "right" else drawn.mirrored(across_u=True)

    @property
    def thickness(self) -> float:
        """Thickness of the plate."""
        return self.drawn().thickness

    @property
    def volume(self) -> float:
        """Volume by closed form."""
        return self.drawn().volume

    @property
    def box(self) -> Box3:
        """Least and greatest corner in the seat frame."""
        return self.plate.box

    @property
    def bores(self) -> tuple[Bore, ...]:
        """Holes of the base first, then those of each flange."""
        plate = self.plate
        found = [Bore(h, "seat", (h.u, h.v, 0.0), (0.0, 0.0, 1.0)) for h in plate.holes]
        for flange in plate.flanges:
            fold = plate.fold(flange)
            found += [
                Bore(h, flange.name, fold.point((h.u, h.v, 0.0)), fold.w) for h in flange.holes
            ]
        return tuple(found)

    def solid(self) -> "cq.Solid":
        """The folded plate as one valid solid."""
        from hangpost.parts.solids import folded_solid

        return folded_solid(self.plate)

    def flat_pattern(self) -> FlatPattern:
        """The developed blank."""
        return self.plate.flat_pattern()


@lru_cache(maxsize=256)  # asked for wherever a hole is looked up
def _once(part: SheetPart) -> FoldedPlate:
    return part._folded()


@lru_cache(maxsize=256)  # asked for wherever a part is named
def _is_handed(part: SheetPart) -> bool:
    drawn = part.drawn()
    return _corners(drawn) != _corners(drawn.mirrored(across_u=True))


def _corners(plate: FoldedPlate) -> frozenset[tuple[float, ...]]:
    """Every corner and hole of the blank, to a hundredth, whatever the order."""
    blank = plate.flat_pattern().at_corner()
    loops = (blank.outline, *blank.windows)
    corners = {(round(v.x, 2), round(v.y, 2)) for loop in loops for v in loop.vertices}
    holes = {
        (
            *(round(x, 2) for x in (h.u, h.v, h.diameter, h.slot_length)),
            round(h.slot_angle % 180, 2),
        )
        for h in blank.holes
    }
    return frozenset(corners | holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPart(Part):
    """A part made on a printer, in compression only; it lies on the bed as `print_frame` says."""

    process: ClassVar[Literal["cut", "print"]] = "print"
    material: Material = PRINTED

    @property
    def print_frame(self) -> Frame:
        """From the seat frame to the bed: unless a part says otherwise it lies on its seat."""
        return Frame()
