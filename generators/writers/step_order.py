"""A STEP file put in order, so that the same part gives the same bytes in every run.

The CAD kernel's writer varies in four things: the time stamp, the numbers of the placements
(it counts through the whole process), the order of the colours, which come last (it sorts them
by where they lie in memory), and the sign of nought, and with it where its lines break. Here the
header is set, every entity stands on one line, placements count from one, the colours are sorted
by what they paint and how and numbered anew, and nought has no sign. Nothing of the geometry
changes. Source of the format: ISO 10303-21, clear text encoding.
"""

import re
from itertools import count
from typing import Final

STAMP: Final = "2000-01-01T00:00:00"  # no clock: the same site file gives the same bytes

_TEXT_OR_REFERENCE = re.compile(r"('(?:[^']|'')*')|#([0-9]+)")
_TEXT = re.compile(r"'(?:[^']|'')*'")
_REFERENCE = re.compile(r"#([0-9]+)")
_ENTITY = re.compile(r"#([0-9]+)\s*=\s*(.*);")
_BREAK = re.compile(r"\n\s*(?!#[0-9]+\s*=|\s|$)")  # before what goes on, not before the next
_SIGNED_NOUGHT = re.compile(r"(?<=[(,])-0\.(?=[,)])")
_COLOURS = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
_FIRST_COLOUR = re.compile(r"#[0-9]+\s*=\s*(?:COLOUR_RGB|" + re.escape(_COLOURS[:-1]) + r")\(")
_PLACEMENT = re.compile(r"(?<=NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')[0-9]+(?=')")

Entities = dict[str, str]  # what each says, by its number


def repeatable(text: str, *, name: str, maker: str) -> str:
    """The file with fixed header and order; `maker` is the tool and its version."""
    head, rest = text.replace("\r\n", "\n").split("ENDSEC;", 1)
    body, tail = rest.split("DATA;", 1)[1].rsplit("ENDSEC;", 1)
    stamp = f"FILE_NAME('{name}','{STAMP}',(''),(''),'Open CASCADE','{maker}','');"
    head = re.sub(r"FILE_NAME\(.*?\);", lambda _: stamp, head, count=1, flags=re.DOTALL)
    places = count(1)
    whole = _PLACEMENT.sub(lambda _: str(next(places)), _BREAK.sub("", body))
    first = _FIRST_COLOUR.search(whole)
    at = first.start() if first else len(whole)
    shape = [_plain(line) for line in whole[:at].split("\n") if line]
    before = int(shape[-1].partition("=")[0].strip(" #")) if shape else 0
    colours = {number: _plain(words) for number, words in _ENTITY.findall(whole[at:])}
    lines = [*shape, *_numbered(colours, before)]
    return f"{head}ENDSEC;\nDATA;\n" + "\n".join(lines) + f"\nENDSEC;{tail}"


def _plain(words: str) -> str:
    """A line without the sign of nought; nothing is done where text stands between quotes."""
    if "-0." in words and not _has_text(words):
        words = _SIGNED_NOUGHT.sub("0.", words)
    return words


def _has_text(words: str) -> bool:
    """Whether more than empty text stands in it."""
    return "'" in words.replace("''", "")


def _references(words: str, entities: Entities) -> list[str]:
    """What an entity refers to, as far as it is among these."""
    return [r for r in _REFERENCE.findall(_TEXT.sub("", words)) if r in entities]


def _numbered(entities: Entities, before: int) -> list[str]:
    """Every entity on a line, numbered after `before`, so that it refers to earlier ones only."""
    refers = {number: _references(words, entities) for number, words in entities.items()}
    used = {r for references in refers.values() for r in references}
    roots = [number for number in entities if number not in used]
    colours = [number for number in roots if entities[number].startswith(_COLOURS)]
    order: dict[str, str] = {}
    for root in roots:
        if root not in colours:
            _walk(root, refers, order, before)
    said = {number: _with_sorted_items(number, entities, order) for number in colours}
    for number in sorted(colours, key=lambda each: _spelled(each, said, entities, order)):
        entities[number] = said[number]
        refers[number] = _references(said[number], entities)
        _walk(number, refers, order, before)
    return [f"#{place} = {_renumbered(entities[n], order)};" for n, place in order.items()]


def _walk(root: str, refers: dict[str, list[str]], order: dict[str, str], before: int) -> None:
    """Number a root after all that it refers to; by hand, files nest deeper than Python calls."""
    waiting = [root]
    while waiting:
        number = waiting[-1]
        missing = [] if number in order else [r for r in refers[number] if r not in order]
        if missing:
            waiting += reversed(missing)
        else:
            waiting.pop()
            order.setdefault(number, str(before + len(order) + 1))


def _with_sorted_items(number: str, entities: Entities, order: dict[str, str]) -> str:
    """A list of colours, its items in the order of what they paint."""
    words = entities[number]
    start = re.match(r"[^(]*\('(?:[^']|'')*',\(", words)
    if start is None:
        raise ValueError(f"STEP: unexpected list of colours: {words[:80]}")
    items, end = words[start.end() :].split(")", 1)
    ordered = sorted(_references(items, entities), key=lambda r: _spelled(r, {}, entities, order))
    return start.group() + ",".join(f"#{r}" for r in ordered) + ")" + end


def _spelled(number: str, said: Entities, entities: Entities, order: dict[str, str]) -> str:
    """What an entity says, with the number of what is numbered and the words of what is not."""
    if number in order or number not in entities:
        return order.get(number, number).zfill(9)
    words = said.get(number, entities[number])
    return _TEXT_OR_REFERENCE.sub(lambda m: m[1] or _spelled(m[2], said, entities, order), words)


def _renumbered(words: str, order: dict[str, str]) -> str:
    return _TEXT_OR_REFERENCE.sub(lambda m: m[1] or f"#{order.get(m[2], m[2])}", words)
