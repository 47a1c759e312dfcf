"""Strongback: a flat or square bar from rail to rail, or stile to stile, that carries a bracket.

It is used where the leaf pivot falls between members. One row of holes at either end fixes it
to the members, others take the leaf bracket.

Frame: the seat frame of the members' actuator-side face, datum at the leaf pivot: v along the
bar (up, or along the leaf when it lies between stiles), w = 0 touches the members. A square bar
is one as thick as it is wide. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts import spacing
from hangpost.parts.flat import Hole, marks, require
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Point, rectangle
from hangpost.parts.part import SheetPart


@dataclass(frozen=True, slots=True, kw_only=True)
class Strongback(SheetPart):
    """A drilled bar; bad values raise ParameterError."""

    kind: ClassVar[str] = "strongback"
    bar_thickness: float
    width: float
    span: tuple[float, float]  # v of its two ends
    members: tuple[float, float]  # v of the middle lines of the two members it is fixed to
    fixings: tuple[Point, ...]  # bolts into the members
    fixing_hole: float
    bracket: tuple[Point, ...]  # bolts of the leaf bracket
    bracket_hole: float

    def __post_init__(self) -> None:
        """Refuse bars that miss a member or are drilled to pieces."""
        low, high = self.members
        nearest = [min((abs(v - m) for _, v in self.fixings), default=1e9) for m in self.members]
        reach = [2 * self.width - gap for gap in nearest]
        ligament = max(self.fixing_hole, self.bracket_hole) / self.width
        require(
            self.id,
            ("bar thickness", self.bar_thickness, 5.0, "house: thinnest bar for a strongback"),
            ("width over thickness", self.width, self.bar_thickness, "flat or square bar"),
            ("end past the lower member", low - self.span[0], 0.0, "it must cross the member"),
            ("end past the upper member", self.span[1] - high, 0.0, "it must cross the member"),
            ("fixing near each member", min(reach), 0.0, "house: within two widths of it"),
            ("width left beside a hole", 0.5 - ligament, 0.0, "house: half the bar"),
            ("hole to edge", self._edge[0], self._edge[1], "EN 1993-1-8 Table 3.3"),
            spacing.rules(self.outline, self.holes, 0.0)[1],
        )

    @property
    def _edge(self) -> tuple[float, float]:
        _, metal, least, _ = spacing.rules(self.outline, self.holes, 0.0)[0]
        return metal, least

    @property
    def length(self) -> float:
        """Cut length."""
        return self.span[1] - self.span[0]

    @property
    def outline(self) -> Loop:
        """The bar's edge, sawn square."""
        return rectangle(-self.width / 2, self.span[0], self.width / 2, self.span[1])

    @property
    def holes(self) -> tuple[Hole, ...]:
        """Fixings first, then the bracket's holes."""
        mark = marks()
        fixed = [Hole(next(mark), u, v, self.fixing_hole, "leaf") for u, v in self.fixings]
        carried = [Hole(next(mark), u, v, self.bracket_hole, "join") for u, v in self.bracket]
        return (*fixed, *carried)

    def _folded(self) -> FoldedPlate:
        """The bar, unbent."""
        return FoldedPlate(thickness=self.bar_thickness, outline=self.outline, holes=self.holes)
