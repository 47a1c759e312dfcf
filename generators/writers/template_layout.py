"""Two ways to furnish a template sheet: a head above and a strip below, or a column beside.

Both carry the same things: what face it is, which way is up, the scale proof. The column leaves
nearly the whole height of the paper to a tall bracket; the strip leaves the width to a broad one.
Frame: mm on the sheet.
"""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hangpost.generators.writers.face import Face
from hangpost.generators.writers.ink import Text, arrow, frame
from hangpost.generators.writers.layout import inside
from hangpost.generators.writers.page_map import page_map
from hangpost.generators.writers.paper import Paper, Printer
from hangpost.generators.writers.scale_proof import (
    LOUD,
    MEASURE,
    SMALL,
    SQUARE,
    banner,
    bars,
    inch_mark,
    square,
    square_words,
)
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.stamp import FOOT, Stamp, symbol
from hangpost.generators.writers.table import fitting_size, paragraph
from hangpost.generators.writers.tiles import Tiling, Window
from hangpost.parts.loop import Box, Point

HEAD: Final = 24.0
STRIP: Final = 31.0  # what the proof takes above the foot
SIDE: Final = 9.0  # what the upright bar takes at the left
BAR_STRIP: Final = 8.5  # what the level bar alone takes above the foot
COLUMN: Final = 30.5
BANNER: Final = 6.0
CODE: Final = 17.0  # the small symbol, quiet squares included
COMPACT: Final = 0.8  # of the usual lettering, where a column has much to say
KINDS: Final = {"entry": "ENTRY FACE", "exit": "EXIT FACE", "wrap": "WRAP-AROUND"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a sheet shows of a face."""

    face: Face
    cut: Tiling
    window: Window
    turned: bool  # on its side, UP to the left


@dataclass(frozen=True, slots=True)
class Layout(ABC):
    """The furniture of one sheet."""

    paper: Paper
    printer: Printer

    @property
    def field(self) -> Box:
        """What may be drawn on."""
        return self.printer.field(self.paper)

    @property
    def top(self) -> float:
        """Upper edge of what is left under the banner."""
        return self.field[3] - (0.0 if self.printer.is_true else BANNER)

    @property
    def corner(self) -> Point:
        """Where the two bars meet."""
        return (self.field[0] + 5.5, self.field[1] + FOOT + 3.5)

    @property
    @abstractmethod
    def code_at(self) -> Point:
        """Lower left corner of the small symbol, CODE mm square."""

    def code(self, stamp: Stamp, title: str) -> tuple[Item, ...]:
        """The symbol that names tool, input, revision and sheet."""
        made = symbol(stamp.mark_for(title), self.code_at, CODE)
        return (made,) if made else ()

    @property
    @abstractmethod
    def area(self) -> Box:
        """What is left for the drawing."""

    @abstractmethod
    def proof(self) -> tuple[Item, ...]:
        """The scale proof."""

    @abstractmethod
    def head(self, shown: Shown) -> tuple[Item, ...]:
        """Face, directions, remarks."""

    def holds(self, shown: Shown) -> bool:
        """Whether the words find room on the sheet."""
        return all(inside(item.box, self.field, 1e-3) for item in self.head(shown))

    def banner(self) -> tuple[Item, ...]:
        """Words on a sheet that was made for one printer."""
        if self.printer.is_true:
            return ()
        left, _, right, top = self.field
        box = (left + 0.3, top - BANNER + 1.0, right - 0.3, top - 0.3)
        middle = ((left + right) / 2, top - 3.7)
        return (frame(box, "thick"), Text(middle, banner(self.printer), 3.0, "centre", bold=True))


@dataclass(frozen=True, slots=True)
class StripLayout(Layout):
    """Head above, proof below: the width is the drawing's."""

    @property
    def area(self) -> Box:
        """Between head and proof."""
        left, bottom, right, _ = self.field
        return (left + SIDE, bottom + FOOT + STRIP, right, self.top - HEAD)

    @property
    def code_at(self) -> Point:
        """Left of the square and its words."""
        return (self.field[2] - SQUARE - 23.0 - CODE, self.corner[1] + 3.0)

    def proof(self) -> tuple[Item, ...]:
        """Bars in the corner, 4 in mark and words above the level one, square at the right."""
        x, y = self.corner
        edge = self.field[2] - SQUARE - 0.5
        loud = Text((x + 6.0, y + 24.2), LOUD, SMALL, bold=True)
        room = self.code_at[0] - 1.0 - x - 6.0
        words, _ = paragraph(MEASURE, (x + 6.0, y + 22.6), room, SMALL, lead=1.5)
        beside = tuple(
            Text((edge - 1.2, y + SQUARE - 2.4 - 3.2 * k), said, SMALL, "right")
            for k, said in enumerate(square_words(), 1)
        )
        mark = inch_mark((x + 6.0, y + 7.0), upright=False)
        return (*bars(self.corner), *mark, *square((edge, y + 1.0)), *beside, loud, *words)

    def holds(self, shown: Shown) -> bool:
        """Whether the words stay above the drawing."""
        lowest = min(item.box[1] for item in self.head(shown))
        return lowest >= self.area[3] - 0.1 and Layout.holds(self, shown)

    def head(self, shown: Shown) -> tuple[Item, ...]:
        """Three kinds of line at the left, map, arrow and side at the right."""
        face, top = shown.face, self.top
        left, _, right, _ = self.field
        kind = f"1:1 {kind_words(face)}"
        size = fitting_size(face.title, right - left - 44.0, 3.8, bold=True)
        found: list[Item] = [
            Text((left, top - 4.0), face.title, size, bold=True),
            Text((left, top - 8.6), kind, 2.8, bold=True),
            *self._remarks(face),
        ]
        found += up((right - 9.0, top - 18.0), turned=shown.turned)
        if face.facing:
            found.append(Text((right, top - 22.6), facing_words(face), 3.2, "right", bold=True))
        if len(shown.cut.windows) > 1:
            found += page_map(shown.cut, (right - 40.0, top - 18.0), shown.turned, shown.window)
        return tuple(found)

    def _remarks(self, face: Face) -> tuple[Text, ...]:
        """Sentences one below the other; run together and smaller when there are too many."""
        said = (*face.remarks, *side_words(face))
        left, _, right, _ = self.field
        for sentences, size in ((said, 2.2), ((" ".join(said),), 2.2), ((" ".join(said),), 1.9)):
            found: list[Text] = []
            y = self.top - 10.4
            for remark in sentences:
                lines, tall = paragraph(remark, (left, y), right - left - 44.0, size)
                found += lines
                y -= tall
            if y >= self.top - HEAD:
                break
        return tuple(found)


@dataclass(frozen=True, slots=True)
class ColumnLayout(Layout):
    """Everything but the bars in a column at the right: the height is the drawing's."""

    def holds(self, shown: Shown) -> bool:
        """Whether head and proof find room above one another."""
        return self._clears(self.head(shown)) and Layout.holds(self, shown)

    def _clears(self, head: Sequence[Item]) -> bool:
        edge = self.area[2]
        lowest = min(item.box[1] for item in head)
        highest = max(item.box[3] for item in self.proof() if item.box[0] > edge)
        return lowest > highest + 1.0

    @property
    def area(self) -> Box:
        """Left of the column, above the level bar."""
        left, bottom, right, _ = self.field
        return (left + SIDE, bottom + FOOT + BAR_STRIP, right - COLUMN, self.top)

    @property
    def code_at(self) -> Point:
        """Beside the 4 in mark, under the words."""
        return (self.field[2] - COLUMN + 11.0, self.field[1] + FOOT + SQUARE + 19.0)

    def proof(self) -> tuple[Item, ...]:
        """Bars in the corner, 4 in mark, words and square up the column."""
        x, y = self.field[2] - COLUMN + 2.5, self.field[1] + FOOT + 3.0
        room = COLUMN - 2.5
        found: list[Item] = [*bars(self.corner), *square((x + 1.5, y))]
        for k, said in enumerate(reversed(square_words())):
            found.append(Text((x + 1.5, y + SQUARE + 1.6 + 2.9 * k), said, SMALL))
        foot = y + SQUARE + 14.0
        found += inch_mark((x + 4.0, foot), upright=True)
        loud, tall = paragraph(LOUD, (x + 7.5, foot + 100.0), room - 7.5, SMALL, bold=True)
        words, _ = paragraph(MEASURE, (x + 7.5, foot + 97.0 - tall), room - 7.5, SMALL)
        return (*found, *loud, *words)

    def head(self, shown: Shown) -> tuple[Item, ...]:
        """Title, kind, arrow, side, map and remarks down the column, smaller if they must be."""
        whole = self._column(shown, 1.0)
        return whole if self._clears(whole) else self._column(shown, COMPACT)

    def _column(self, shown: Shown, share: float) -> tuple[Item, ...]:
        face = shown.face
        x, y, room = self.field[2] - COLUMN + 2.5, self.top, COLUMN - 2.5
        found: list[Item] = []
        for words, size, bold in (
            (face.title, 3.0 * share, True),
            (f"1:1 {kind_words(face)}", 2.5 * share, True),
            (facing_words(face), 3.0 * share, True),
        ):
            lines, tall = paragraph(words, (x, y), room, size, bold=bold)
            found += lines
            y -= tall + 0.8
        found += up((x + 8.0, y - 17.0), turned=shown.turned)
        if len(shown.cut.windows) > 1:
            found += page_map(shown.cut, (x + 18.5, y - 16.5), shown.turned, shown.window, 9.0)
        y -= 19.5
        for remark in (*face.remarks, *side_words(face)):
            lines, tall = paragraph(remark, (x, y), room, SMALL * share)
            found += lines
            y -= tall + 0.7
        return tuple(found)


def kind_words(face: Face) -> str:
    """What the sheet is for, and which face it shows."""
    what = "DRILLING TEMPLATE" if face.marks else "MARKING TEMPLATE"
    return f"{what} - {KINDS[face.kind]} as you look at it"


def side_words(face: Face) -> tuple[str, ...]:
    """What lies to the left and to the right, in one line; nothing when nobody said."""
    sides = (("left", face.template.left_side), ("right", face.template.right_side))
    named = "; ".join(f"{hand}: {what}" for hand, what in sides if what)
    return (f"{named[:1].upper()}{named[1:]}.",) if named else ()


def facing_words(face: Face) -> str:
    """The side that the face looks to, in capitals: "YARD SIDE", "FACES THE LEAF"."""
    said = face.facing
    plain = not said or said.endswith("side") or said.startswith("away")
    return (said if plain else f"faces {said}").upper()


def up(at: Point, *, turned: bool) -> tuple[Item, ...]:
    """The arrow that says which way is up, standing on `at`."""
    x, y = at
    if turned:
        way = arrow((x + 7, y + 5), (x - 8, y + 5), 5.0, "thick")
        return (*way, Text((x, y + 7.5), "UP", 4.0, "centre", bold=True))
    way = arrow((x, y), (x, y + 16), 5.0, "thick")
    return (*way, Text((x + 2.5, y + 5), "UP", 4.0, bold=True))
