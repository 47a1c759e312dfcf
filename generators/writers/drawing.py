"""Shop drawings: one part a sheet, everything a fabricator asks for without a telephone call.

Landscape, the shop's first paper. Views stand at the left at the largest usual scale that fits,
tables and title block in a column at the right; what finds no room goes on a second sheet.
Frame: mm on the sheet, origin lower left.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.block import Block, joined
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.drawing_tables import bend_table, hole_table, inspection_table
from hangpost.generators.writers.etching import etching
from hangpost.generators.writers.flat_view import flat_block
from hangpost.generators.writers.formed_views import Sights, formed_block
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import MARGIN, PAPERS, Paper
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.shop_words import length_words, mass_words
from hangpost.generators.writers.stamp import Stamp, site_symbol
from hangpost.generators.writers.table import Table, paragraph
from hangpost.generators.writers.title_block import WIDTH, Title, title_block
from hangpost.generators.writers.views import Look
from hangpost.parts.flat import FlatPattern
from hangpost.parts.loop import Box
from hangpost.parts.part import Part

SCALES: Final = tuple(1 / ratio for ratio in (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 50))
GAP: Final = 4.0
QR_ROOM: Final = 38.0
NARROWEST: Final = 1.18  # house: a table in the column is drawn no smaller than by this
LEAST_VIEWS: Final = 95.0  # house: height that is kept for the views


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A part, how many are needed, also of the other hand, and whoever can look at it."""

    part: Part
    quantity: int
    look: Look
    mirrored: int = 0


def part_sheets(drawn: Drawn, shop: Shop, stamp: Stamp) -> tuple[Sheet, ...]:
    """The drawing of one part: a sheet, and a second when tables find no room on it."""
    paper = PAPERS[shop.drawings.paper[0]]
    first, rest = _Board(drawn, shop, stamp, paper, 1).first()
    if not rest:
        return (first,)
    board = _Board(drawn, shop, stamp, paper, 2)
    first, rest = board.first()
    return (first, board.second(rest))


def field_of(paper: Paper) -> Box:
    """What may be drawn on a sheet laid on its side."""
    return (MARGIN, MARGIN, paper.height - MARGIN, paper.width - MARGIN)


@dataclass(frozen=True, slots=True)
class _Board:
    """Lays out the sheets of one part; `count` is how many there will be."""

    drawn: Drawn
    shop: Shop
    stamp: Stamp
    paper: Paper
    count: int

    def first(self) -> tuple[Sheet, list[Table]]:
        """Views, title block, and as many tables as there is room for."""
        left, bottom, right, top = field_of(self.paper)
        column = right - WIDTH
        units, part = self.stamp.units, self.drawn.part
        foot = self._foot(column, bottom, 1.0, 1)  # the scale changes no size of the block
        y = top
        blocks, aside = [], []
        for whole in _tables(part, self.shop, self.stamp):
            table = whole.narrowed(WIDTH) if whole.width <= NARROWEST * WIDTH else whole
            if table.width <= WIDTH and y - table.height >= foot.box[3] + GAP:
                blocks.append(Block(table.items((column, y))))
                y -= table.height + GAP
            else:
                aside.append(table)
        room = (left, bottom, column - GAP, top)
        under, rest = _under(aside, room)
        if under:
            blocks += under
            room = (left, joined(under).box[3] + GAP, column - GAP, top)
        views, scale = _views(Sights.of(part, self.drawn.look), room, self.shop, units)
        blocks += [views, self._foot(column, bottom, scale, 1)]
        return self._sheet(blocks, scale), rest

    def second(self, tables: Sequence[Table]) -> Sheet:
        """What found no room on the first sheet."""
        left, bottom, right, top = field_of(self.paper)
        foot = self._foot(right - WIDTH, bottom, 1.0, 2)
        blocks, y = [foot], top
        for table in tables:
            blocks.append(Block(table.items((left, y))))
            y -= table.height + GAP
        return self._sheet(blocks, 1.0)

    def _sheet(self, blocks: Sequence[Block], scale: float) -> Sheet:
        return Sheet(
            width=self.paper.height,
            height=self.paper.width,
            title=f"drawing {self.drawn.part.mark}",
            items=joined(blocks).items,
            scale=scale,
        )

    def _foot(self, left: float, bottom: float, scale: float, number: int) -> Block:
        """Title block, and above it the site record's symbol beside the notes."""
        part, stamp, units = self.drawn.part, self.stamp, self.stamp.units
        printed = part.process == "print"
        title = Title(
            mark=part.mark,
            name=part.kind,
            rows=(
                ("material", part.material.name if printed else self.shop.steel.grade),
                (
                    "height on the bed" if printed else "thickness",
                    length_words(part.thickness, units),
                ),
                ("finish", "none" if printed else self.shop.finish),
                ("mass, each", mass_words(part.mass, units)),
                ("quantity", str(self.drawn.quantity)),
                ("hand", _hand(part, self.drawn.mirrored)),
            ),
            scale=scale,
            angle=self.shop.drawings.angle,
            sheet=f"{number} of {self.count}",
        )
        block = title_block(title, stamp).at(left, bottom)
        over = block.box[3] + GAP
        code, holds = site_symbol(stamp, part.mark, (left, over + 3.0), QR_ROOM)
        words = Text((left + 1.0, over), f"symbol: {holds} (in the DXF its hash)", 1.8)
        notes_left = code.box[2] + 3.0
        lines: list[Text] = []
        y = 0.0
        for k, said in enumerate(notes(part, self.shop), 1):
            text, tall = paragraph(f"{k}. {said}", (0.0, y), left + WIDTH - notes_left, 1.9)
            lines += text
            y -= tall + 0.7
        beside = Block(tuple(lines)).at(notes_left, over)
        return joined([block, Block((code, words)), beside])


def _hand(part: Part, mirrored: int) -> str:
    """The hand that is drawn, and where the other one is to be found."""
    if not part.handed:
        return "one for both hands"
    this, other = ("RH", "LH") if part.hand == "right" else ("LH", "RH")
    where = f"{mirrored}, own sheet" if mirrored else "none here"
    return f"{this} as drawn; {other} mirrored: {where}"


def _tables(part: Part, shop: Shop, stamp: Stamp) -> list[Table]:
    flat = part.flat_pattern()
    if flat is None:
        (left, bottom, _), _ = part.box
        holes = tuple(b.hole.moved(-left, -bottom) for b in part.bores)
        return [hole_table(holes, stamp.units), inspection_table(part, shop, stamp.units)]
    flat = flat.at_corner()
    found = [hole_table(flat.holes, stamp.units), inspection_table(part, shop, stamp.units)]
    return [*found, bend_table(flat, stamp.units)] if flat.bends else found


def _under(tables: Sequence[Table], room: Box) -> tuple[list[Block], list[Table]]:
    """Tables in the lower left of the room, as long as the views keep their height."""
    left, bottom, right, top = room
    found: list[Block] = []
    rest = []
    y = bottom
    for table in tables:
        if table.width <= right - left and top - (y + table.height) >= LEAST_VIEWS:
            block = Block(table.items((left, y + table.height)))
            found.append(block)
            y += table.height + GAP
        else:
            rest.append(table)
    return found, rest


def _views(sights: Sights, room: Box, shop: Shop, units: str) -> tuple[Block, float]:
    """Flat pattern and formed views, beside or above each other, at the largest scale."""
    left, bottom, right, top = room
    flat = sights.part.flat_pattern()
    formed_needed = flat is None or bool(flat.bends)
    crowded: tuple[Block, float] | None = None  # fits, but something meets: better than nothing
    for scale in SCALES:
        if not _may_fit(sights, flat, scale, (right - left, top - bottom)):
            continue
        pieces = []
        if flat is not None:
            corner = flat.at_corner()
            mark = etching(corner, sights.part.mark) if shop.drawings.etch else None
            seen = "etched face, etched side up" if mark else "marked face"
            strokes = mark.strokes if mark else ()
            drawn = flat_block(corner, scale, shop.drawings.units, strokes)
            pieces.append(_named(drawn, f"flat pattern, seen on the {seen}"))
        if formed_needed:
            angle = shop.drawings.angle
            formed = formed_block(sights, scale, shop.drawings.units, angle)
            pieces.append(_named(formed, "as finished" if flat is None else "as bent"))
        for row in (True, False):
            block = _arranged(pieces, row)
            if block.width <= right - left and block.height <= top - bottom:
                if not overlaps(block.items):
                    return block.centred(room), scale
                crowded = crowded or (block.centred(room), scale)
    if crowded is not None:
        return crowded
    raise ValueError(f"{sights.part.mark}: no scale puts the views on this paper ({units})")


def _may_fit(
    sights: Sights, flat: FlatPattern | None, scale: float, room: tuple[float, float]
) -> bool:
    """Whether the bare views are small enough: a quick answer before anything is drawn."""
    (a, b, c, d), (e, _, f, _) = sights.front.box, sights.right.box
    sizes = [((c - a + f - e) * scale, (d - b + f - e) * scale)]
    if flat is not None:
        sizes.append((flat.length * scale, flat.width * scale))
    if flat is not None and not flat.bends:
        sizes = sizes[1:]
    widths, heights = [w for w, _ in sizes], [h for _, h in sizes]
    beside = sum(widths) <= room[0] and max(heights) <= room[1]
    return beside or (max(widths) <= room[0] and sum(heights) <= room[1])


def _named(block: Block, words: str) -> Block:
    """A view with its name under it."""
    left, bottom, right, _ = block.box
    middle = ((left + right) / 2, bottom - 5.0)
    return Block((*block.items, Text(middle, words, 2.6, "centre", bold=True)))


def _arranged(pieces: Sequence[Block], row: bool) -> Block:
    """Pieces side by side, feet on one line, or one above the other."""
    found: list[Block] = []
    for piece in pieces:
        if not found:
            found.append(piece.at(0.0, 0.0))
        elif row:
            found.append(piece.at(found[-1].box[2] + 5.0, 0.0))
        else:
            found.append(piece.at(0.0, found[-1].box[3] + 6.0))
    return joined(found)
