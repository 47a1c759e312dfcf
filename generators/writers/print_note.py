"""What the maker reads beside the files to print: how many of each, how, and why not otherwise.

Plain text in short lines, so that it opens anywhere.
"""

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.drawing_notes import notes
from hangpost.parts.part import Part, PrintedPart

WIDE = 78


def print_note(parts: Sequence[tuple[Part, int]], shop: Shop, job: str) -> bytes | None:
    """The note for these parts and how many are wanted of each; None when nothing is printed."""
    printed = [(part, count) for part, count in parts if isinstance(part, PrintedPart)]
    if not printed:
        return None
    lines = [*wrap(f"To print for: {job}", WIDE), ""]
    for part, count in printed:
        lines.append(f"{count} x {part.mark}: {part.mark}_mm.3mf or {part.mark}_mm.stl, in mm")
    told = dict.fromkeys(note for part, _ in printed for note in notes(part, shop))
    larger = plain(float(shop.printer.hole_compensation))
    told[f"Bores are drawn {larger} mm larger, as the shop file says of this printer."] = None
    lines += ["", *_listed(told), *_listed(c.text for c in cautions("printed"))]
    return "\n".join((*lines, "")).encode("utf-8")


def _listed(texts: Iterable[str]) -> Iterator[str]:
    for text in texts:
        yield from wrap(text, WIDE, initial_indent="- ", subsequent_indent="  ")
