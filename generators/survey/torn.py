"""A file that is no TOML: what the parser stumbled over, by line and key, for whoever typed it.

The two slips that people make: a size with a fraction or a unit that is not in quotes, and a table
or a key that is there twice. All else is told in the parser's own words with its line.
"""

import re
from typing import Final

from hangpost.generators.one_line import one_line
from hangpost.generators.survey.mistakes import Mistake, shown

_PLACE: Final = re.compile(r"(.*) \(at (?:line (\d+), column \d+|end of document)\)", re.DOTALL)
_TWICE: Final = ("Cannot declare", "Cannot overwrite", "Cannot mutate", "Cannot redefine", "Dupl")
_TABLE: Final = re.compile(r"\[+([^\[\]#]{1,60})\]*")
_UNQUOTED: Final = "Expected newline or end of document after a statement"


def torn(error: str, text: str, file: str) -> Mistake:
    """What to tell for an error of tomllib over this text."""
    found = _PLACE.fullmatch(error)
    lines = text.replace("\r\n", "\n").rstrip().split("\n")
    number = min(int(found[2]) if found and found[2] else len(lines), len(lines))
    line, words = lines[number - 1].strip(), found[1] if found else error
    table = "" if line.startswith("[") else _table(lines[: number - 1])
    name, is_pair, value = line.partition("=")
    if line.startswith("["):
        name, is_pair, value = _table([line]), "", ""
    key = shown(".".join(each for each in (table, name.strip()) if each))[1:-1]
    at = f"(line {number})"
    if words.startswith(_TWICE):
        once = "once; for two leaves every table of theirs is [[leaf]]" if key == "leaf" else "once"
        return Mistake(file=file, key=key, wrong=f"is there already {at}", allowed=once)
    if words == _UNQUOTED and is_pair:
        return Mistake(
            file=file,
            key=key,
            value=shown(value.strip())[1:-1],
            wrong=f"cannot be read {at}",
            allowed='a number, or text in quotes as "5 1/2 in"',
        )
    said = one_line(words, 160)
    return Mistake(file=file, key="", wrong=f"is not a TOML file: line {number}: {said}")


def _table(lines: list[str]) -> str:
    """The table that the last of these lines stands in."""
    found = (_TABLE.match(line.strip()) for line in reversed(lines))
    return next((str(head[1]).strip() for head in found if head), "")
