"""What the maker reads beside the files to print: how many of each, how, and why not otherwise."""

from collections.abc import Iterator, Sequence

from hangpost.generators.survey.display import both
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.drawing_notes import key_sizes, on_the_bed, print_notes
from hangpost.generators.writers.plain_note import plain_note
from hangpost.generators.writers.shop_words import sides_words, unit_note
from hangpost.parts.part import Part, PrintedPart


def print_note(parts: Sequence[tuple[Part, int]], shop: Shop, job: str) -> bytes | None:
    """The note for these parts and how many are wanted of each; None when nothing is printed."""
    printed = [(part, count) for part, count in parts if isinstance(part, PrintedPart)]
    if not printed:
        return None
    return plain_note(
        f"To print for: {job}; revision {shop.revision}",
        [row for part, count in printed for row in _rows(part, count, shop)],
        _told([part for part, _ in printed], shop),
    )


def _compensation(shop: Shop) -> str:
    return both(float(shop.printer.hole_compensation), shop.drawings.units)


def _rows(part: Part, count: int, shop: Shop) -> Iterator[str]:
    """A part with its overall size: a file opened in the wrong unit shows at once."""
    yield f"{count} x {part.mark}: {sides_words(part.extent, shop.drawings.units)}"
    yield f"    {part.mark}_mm.3mf or {part.mark}_mm.stl, in mm"


def _told(parts: Sequence[PrintedPart], shop: Shop) -> Iterator[str]:
    units = shop.drawings.units
    yield f"Sizes here are in {unit_note(units)}; the files are in mm."
    for part in parts:
        yield from print_notes(part)
        for said in (*key_sizes(part, units), *on_the_bed(part, shop)):
            yield f"{part.mark}: {said}"
    yield f"Bores are drawn {_compensation(shop)} larger, as the shop file says of this printer."
    yield from (caution.text for caution in cautions("printed"))
