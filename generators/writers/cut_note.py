"""What the fabricator reads beside the cut files: which plate, how many, how large, which file.

A file of the oldest format cannot say its unit; this note says it for all of them.
"""

from collections.abc import Iterator, Sequence

from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.cautions import Where, cautions
from hangpost.generators.writers.cut_name import cut_name
from hangpost.generators.writers.drawing_notes import drill_words, finish_notes
from hangpost.generators.writers.plain_note import plain_note
from hangpost.generators.writers.shop_words import length_words, sides_words, unit_note
from hangpost.parts.flat import FlatPattern
from hangpost.parts.part import Part


def cut_note(parts: Sequence[tuple[Part, int]], shop: Shop, job: str) -> bytes | None:
    """The note for these parts and how many are wanted of each; None when nothing is cut."""
    cut = [(p, n, flat) for p, n in parts if (flat := p.flat_pattern()) is not None]
    if not cut:
        return None
    return plain_note(
        f"To cut for: {job}; revision {shop.revision}",
        [row for part, count, flat in cut for row in _rows(part, count, flat, shop)],
        _told([(part, flat) for part, _, flat in cut], shop),
    )


def _rows(part: Part, count: int, flat: FlatPattern, shop: Shop) -> Iterator[str]:
    """A part: how many, which plate, the blank's overall size, the cut file."""
    units = shop.drawings.units
    thick = length_words(part.thickness, units)
    yield f"{count} x {part.mark}: {shop.steel.grade}, {thick} thick"
    yield f"    blank {sides_words((flat.length, flat.width), units)}"
    yield f"    {cut_name(part, count, shop)}_mm.dxf"


def _told(parts: Sequence[tuple[Part, FlatPattern]], shop: Shop) -> Iterator[str]:
    yield (
        f"Sizes here are in {unit_note(shop.drawings.units)}. Every DXF is in millimetres, also "
        "the one for old machines (-r12), which cannot say so inside. A blank that does not come "
        "out at the size above was opened in another unit."
    )
    yield (
        "True size: no kerf is taken off, there are no lead-ins; the shop adds its own. Holes are "
        "drawn at the diameter of the drawing's table."
    )
    yield (
        "_mm.dxf: cut lines alone, on layer CUT. -bends_mm.dxf: bend lines too, on layers BEND_UP "
        "and BEND_DOWN, and on layer ETCH what is marked. -r12_mm.dxf: cut lines and marks in the "
        "oldest format, with true arcs."
    )
    for part, flat in parts:
        for said in drill_words(flat, shop):
            yield f"{part.mark}: {said}"
    yield from finish_notes(shop)
    where: Where = "zinc" if shop.finish == "galvanised" else "always"
    yield from (caution.text for caution in cautions(where))
