"""In what order the pieces of one end go onto their bolts, from the head to the nut.

Sentences only: the order, that sleeves go in, and which printed block goes where.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.hardware.fixing import Fixing
from hangpost.parts.frame import Vector
from hangpost.parts.part import Part, PrintedPart

# What lies between a bracket and its host, by its kind.
BETWEEN: Final = {
    "wedge shim": "wedge shim, thick end as marked",
    "saddle block": "saddle block",
    "spacer block": "spacer block",
}


@dataclass(frozen=True, slots=True)
class _Piece:
    """A part of one end: as it is made for this hand, and where its middle stands."""

    name: str
    part: Part
    middle: Vector

    @property
    def is_behind(self) -> bool:
        return "behind" in self.name


def going_on(leaf: LeafDesign, end: str) -> Iterator[str]:
    """What is said of the pieces of one end ("post", "leaf")."""
    pieces = list(_pieces(leaf, end))
    if all(piece.part.kind != "strongback" for piece in pieces):  # what it holds says its reason
        yield from (_order(each, pieces, end) for each in leaf.fixings if each.name == end)
    printed = [piece for piece in pieces if isinstance(piece.part, PrintedPart)]
    if any(bore.hole.use == "sleeve" for piece in printed for bore in piece.part.bores):
        yield (
            "A steel sleeve stands in each wide bore of a printed block; the block's drawing gives "
            "its length."
        )
    for behind in (False, True):
        yield from _places([piece for piece in printed if piece.is_behind is behind], end)


def _pieces(leaf: LeafDesign, end: str) -> Iterator[_Piece]:
    rides = "ground" if end == "post" else "leaf"
    for placed in leaf.placed:
        if placed.rides != rides or placed.is_of_the_lock or not isinstance(placed.item, Part):
            continue
        (a, b, c), (d, e, f) = placed.item.box
        made = placed.for_hand(leaf.hand).item
        assert isinstance(made, Part)
        middle = placed.frame.point(((a + d) / 2, (b + e) / 2, (c + f) / 2))
        yield _Piece(placed.name, made, middle)


def _order(fixing: Fixing, pieces: Sequence[_Piece], end: str) -> str:
    """From the head to the nut, or round what a U-bolt hugs."""
    kinds = {piece.part.kind for piece in pieces}
    between = [words for kind, words in BETWEEN.items() if kind in kinds]
    host = "post" if end == "post" else "rail"
    if fixing.fastener.kind == "U-bolt":
        through = " and ".join((*between, "bracket"))
        return f"Each U-bolt goes round the {host} from behind, through {through}; washer, nut."
    over = ("plate washer where the hole is a slot",) if fixing.slot_washer else ()
    stack = ["washer", *over, "bracket", *between, host]
    if fixing.is_through:
        stack += ["saddle block"] if any(piece.is_behind for piece in pieces) else []
        stack += ["backing plate"] if "backing plate" in kinds else []
        stack += ["washer", "nut"]
    return f"On each {fixing.fastener.kind}, from its head: {', '.join(stack)}."


def _places(row: Sequence[_Piece], end: str) -> Iterator[str]:
    """Where each block goes when they are not alike: on a post from the top, on a leaf along it."""
    ordered = sorted(row, key=lambda each: -each.middle[2] if end == "post" else each.middle[0])
    marks = [piece.part.mark for piece in ordered]
    if len(set(marks)) > 1:
        where = "from the top" if end == "post" else "from the hinges to the latch"
        beyond = "Behind the post" if ordered[0].is_behind else "Under the bracket"
        yield f"{beyond}, {where}: {', '.join(marks)}."
