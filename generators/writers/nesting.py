"""One job's flats laid out on the shop's sheet: an extra, so that a shop can see what it takes.

Parts are packed by their rectangles, turned by a quarter where that helps; one layout for each
thickness, as many sheets as it takes. rectpack does the packing. Frame: mm, a sheet's lower left
corner at the origin; further sheets stand to its right.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hangpost.generators.survey.shop import Sheet as StockSheet
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.dxf import CUT, ETCH
from hangpost.generators.writers.dxf_document import Layer, Pen, dxf_bytes
from hangpost.generators.writers.ink import Place
from hangpost.parts.flat import FlatPattern
from hangpost.parts.loop import Loop, rectangle
from hangpost.parts.part import Part

STOCK: Final = Layer("STOCK_DO_NOT_CUT", 8)
BETWEEN_SHEETS: Final = 100.0
_STEPS: Final = 100  # rectpack wants whole numbers: hundredths of a mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One piece on a sheet: where its lower left corner lies and whether it is turned."""

    mark: str
    flat: FlatPattern  # its corner at the origin
    sheet: int
    x: float
    y: float
    turned: bool

    @property
    def place(self) -> Place:
        """Where it lies on its own sheet."""
        if not self.turned:
            return Place(self.x, self.y)
        return Place(self.x + self.flat.width, self.y, angle=90.0)

    def placed(self, loop: Loop) -> Loop:
        """A loop of the piece where it lies on its own sheet."""
        return loop.mapped(lambda x, y: self.place.point((x, y)))

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Outline, windows and holes where they lie."""
        flat = self.flat
        return tuple(
            self.placed(loop)
            for loop in (flat.outline, *flat.windows, *(h.loop for h in flat.holes))
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """Everything of one thickness on sheets of one size."""

    thickness: float
    stock: StockSheet
    laid: tuple[Laid, ...]

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return 1 + max((piece.sheet for piece in self.laid), default=-1)

    @property
    def used(self) -> float:
        """Share of the sheets that ends up in parts."""
        whole = self.sheets * self.stock.length * self.stock.width
        return sum(piece.flat.area for piece in self.laid) / whole


class TooLargeError(ValueError):
    """A flat that no sheet of the shop holds."""


def nests(parts: Sequence[tuple[Part, int]], shop: Shop) -> tuple[Nest, ...]:
    """A layout for each thickness; raises TooLargeError naming what does not fit."""
    by_thickness: dict[float, list[tuple[str, FlatPattern]]] = defaultdict(list)
    for part, count in parts:
        flat = part.flat_pattern()
        if flat is not None:
            cut = flat.as_cut(shop.cutting.least_hole(flat.thickness)).at_corner()
            by_thickness[flat.thickness] += [(part.mark, cut)] * count
    return tuple(
        Nest(thickness=t, stock=shop.sheet, laid=_packed(pieces, shop.sheet))
        for t, pieces in sorted(by_thickness.items())
    )


def _packed(pieces: Sequence[tuple[str, FlatPattern]], stock: StockSheet) -> tuple[Laid, ...]:
    import rectpack

    packer = rectpack.newPacker(rotation=True)
    gap = stock.spacing
    for k, (_, flat) in enumerate(pieces):
        packer.add_rect(_whole(flat.length + gap), _whole(flat.width + gap), k)
    wide, high = int((stock.length - gap) * _STEPS), int((stock.width - gap) * _STEPS)
    packer.add_bin(wide, high, count=len(pieces))
    packer.pack()
    placed = sorted(packer.rect_list(), key=lambda r: r[5])
    if len(placed) != len(pieces):
        missing = sorted({m for k, (m, _) in enumerate(pieces)} - {pieces[r[5]][0] for r in placed})
        raise TooLargeError(
            f"{', '.join(missing)}: larger than a sheet of "
            f"{stock.length:g} x {stock.width:g} mm less {gap:g} mm around every piece"
        )
    found = []
    for sheet, x, y, width, _, k in placed:
        mark, flat = pieces[k]
        turned = width != _whole(flat.length + gap)
        corner = (x / _STEPS + gap, y / _STEPS + gap)
        found.append(
            Laid(mark=mark, flat=flat, sheet=sheet, x=corner[0], y=corner[1], turned=turned)
        )
    return tuple(found)


def _whole(size: float) -> int:
    """Hundredths of a mm, never less than the size."""
    return int(-(-round(size * _STEPS, 6) // 1))


def nest_dxf(nest: Nest) -> bytes:
    """The sheets side by side: cuts on one layer, the sheets' own edges on another."""
    stock = nest.stock
    pitch = stock.length + BETWEEN_SHEETS

    def draw(pen: Pen) -> None:
        for k in range(nest.sheets):
            edge = rectangle(k * pitch, 0.0, k * pitch + stock.length, stock.width)
            pen.loop(edge, STOCK.name)
        for piece in nest.laid:
            off = piece.sheet * pitch
            for line in (line for hole in piece.flat.marked for line in hole.cross):
                (ax, ay), (bx, by) = piece.place.points(line)
                pen.line((ax + off, ay), (bx + off, by), ETCH.name)
            for loop in piece.loops:
                moved = loop.moved(off, 0.0)
                edges = moved.edges
                if len(edges) == 2 and all(abs(e.bulge - 1) < 1e-9 for e in edges):
                    pen.circle(edges[0].centre, 2 * edges[0].radius, CUT.name)
                else:
                    pen.loop(moved, CUT.name)

    width = (nest.sheets - 1) * pitch + stock.length
    etched = any(piece.flat.marked for piece in nest.laid)
    layers = (CUT, STOCK, ETCH) if etched else (CUT, STOCK)
    return dxf_bytes("R2010", layers, (0.0, 0.0, width, stock.width), draw)
