"""Words that somebody else has written, made fit for a terminal and a table."""

from typing import Final

LONGEST: Final = 2000  # characters of a line: more nobody reads


def one_line(words: object, longest: int = LONGEST) -> str:
    """The same words on one line without control characters, cut where they never end."""
    text = "".join(sign if sign.isprintable() else "?" for sign in str(words)[: longest + 1])
    return text if len(text) <= longest else f"{text[:longest]}..."
