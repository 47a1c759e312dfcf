"""Bodies that stand for what is already there: post, leaf, actuator, bolts and pins.

They are simple enough to be told in a few numbers: upright boxes, round bars, tubes and
extruded outlines. They go into the assembly and the clearance sweep, not into the cut list.
Frame: each body states its own; units mm.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from hangpost.parts.frame import Vector
from hangpost.parts.loop import Loop
from hangpost.parts.solids import block, cylinder, extruded, half_ring

if TYPE_CHECKING:
    import cadquery as cq


# The kernel stumbles over round bars of one thickness that cross (found at a leaf of round tube);
# a hundredth of a millimetre apart they are no trouble, and nobody makes these bodies.
HAIRS: Final = (0.0, 0.01, 0.02, 0.05)


@dataclass(frozen=True, slots=True)
class Block:
    """An upright box between its least and greatest corner, hollow when `wall` is given.

    A hollow box is a tube along its longest side, open at both ends.
    """

    least: Vector
    greatest: Vector
    wall: float = 0.0

    def solid(self) -> "cq.Shape":
        """The box or tube as a solid."""
        whole = block(self.least, self.greatest)
        if not self.wall:
            return whole
        sizes = [b - a for a, b in zip(self.least, self.greatest, strict=True)]
        along = sizes.index(max(sizes))
        low = [a + (0 if i == along else self.wall) for i, a in enumerate(self.least)]
        high = [b - (0 if i == along else self.wall) for i, b in enumerate(self.greatest)]
        return whole.cut(block((low[0], low[1], low[2]), (high[0], high[1], high[2])))


@dataclass(frozen=True, slots=True)
class Bar:
    """A round bar or, with a bore, a tube: from `start` along `axis` (unit) for `length`."""

    start: Vector
    axis: Vector
    radius: float
    length: float
    bore: float = 0.0  # radius of the bore

    def solid(self) -> "cq.Shape":
        """The bar or tube as a solid."""
        whole = cylinder(self.start, self.axis, self.radius, self.length)
        if not self.bore:
            return whole
        return whole.cut(cylinder(self.start, self.axis, self.bore, self.length))


@dataclass(frozen=True, slots=True)
class Prism:
    """An outline in the plane w = `low`, raised to w = `high`."""

    outline: Loop
    low: float
    high: float

    def solid(self) -> "cq.Shape":
        """The prism as a solid."""
        return extruded(self.outline, (), self.high - self.low).moved((0, 0, self.low))


@dataclass(frozen=True, slots=True)
class Arch:
    """Half a ring of round bar: from centre + side over centre + crown to centre - side."""

    centre: Vector
    side: Vector  # unit
    crown: Vector  # unit, square to side
    radius: float  # to the bar's middle line
    bar: float  # radius of the bar

    def solid(self) -> "cq.Shape":
        """The half ring as a solid."""
        return half_ring(self.centre, self.side, self.crown, self.radius, self.bar)


Shape = Block | Bar | Prism | Arch


@dataclass(frozen=True, slots=True)
class Body:
    """A named thing made of simple shapes that touch or overlap."""

    name: str
    shapes: tuple[Shape, ...]

    def mirrored(self) -> "Body":
        """Mirror image in u."""
        return replace(self, shapes=tuple(_mirrored(shape) for shape in self.shapes))

    def solid(self) -> "cq.Shape":
        """All shapes fused; RuntimeError when the kernel cannot."""
        for hair in HAIRS:
            fused = self.thinned(hair)._fused()
            if len(self.shapes) == 1 or fused.isValid():
                return fused
        raise RuntimeError(f"the CAD kernel cannot fuse the shapes of {self.name}")

    def thinned(self, hair: float) -> "Body":
        """The same with each round bar a hair thinner than the one before it."""
        if not hair:
            return self
        thinner = (
            replace(shape, radius=shape.radius - number * hair) if isinstance(shape, Bar) else shape
            for number, shape in enumerate(self.shapes)
        )
        return replace(self, shapes=tuple(thinner))

    def _fused(self) -> "cq.Shape":
        first, *rest = (shape.solid() for shape in self.shapes)
        return first.fuse(*rest) if rest else first


def _mirrored(shape: Shape) -> Shape:
    if isinstance(shape, Block):
        (x0, y0, z0), (x1, y1, z1) = shape.least, shape.greatest
        return replace(shape, least=(-x1, y0, z0), greatest=(-x0, y1, z1))
    if isinstance(shape, Bar):
        (x, y, z), (a, b, c) = shape.start, shape.axis
        return replace(shape, start=(-x, y, z), axis=(-a, b, c))
    if isinstance(shape, Arch):
        (x, y, z), (a, b, c), (d, e, f) = shape.centre, shape.side, shape.crown
        return replace(shape, centre=(-x, y, z), side=(-a, b, c), crown=(-d, e, f))
    return replace(shape, outline=shape.outline.mirrored(across_x=True))
