"""A note in plain text beside a folder's files: short lines, so that it opens anywhere."""

from collections.abc import Iterable, Sequence
from textwrap import wrap

WIDE = 78


def plain_note(title: str, rows: Sequence[str], told: Iterable[str]) -> bytes:
    """Title, rows as they are, then everything that is told, each once."""
    lines = [*wrap(title, WIDE), "", *rows, ""]
    for text in dict.fromkeys(told):
        lines += wrap(text, WIDE, initial_indent="- ", subsequent_indent="  ")
    return "\n".join((*lines, "")).encode("utf-8")
