"""A STEP file put in order, so that the same part gives the same bytes in every run.

The CAD kernel's writer varies in three things: the time stamp, the numbers of the placements
(it counts through the whole process), and the order of the colours (it sorts them by where they
lie in memory). Here the header is set, the colours are sorted by what they say, and everything
is numbered anew in the order in which it is referred to. Nothing of the geometry changes.
Source of the format: ISO 10303-21, clear text encoding.
"""

import re
from hashlib import sha256
from typing import Final

STAMP: Final = "2000-01-01T00:00:00"  # no clock: the same site file gives the same bytes

_TEXT_OR_REFERENCE = re.compile(r"('(?:[^']|'')*')|#(\d+)")
_ENTITY = re.compile(r"#(\d+)\s*=\s*((?:'(?:[^']|'')*'|[^;'])*);")
_COLOURS = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
_PLACEMENT = "NEXT_ASSEMBLY_USAGE_OCCURRENCE("


def repeatable(text: str, *, name: str, maker: str) -> str:
    """The file with fixed header and order; `maker` is the tool and its version."""
    head, rest = text.replace("\r\n", "\n").split("ENDSEC;", 1)
    body, tail = rest.split("DATA;", 1)[1].rsplit("ENDSEC;", 1)
    stamp = f"FILE_NAME('{name}','{STAMP}',(''),(''),'Open CASCADE','{maker}','');"
    head = re.sub(r"FILE_NAME\(.*?\);", lambda _: stamp, head, count=1, flags=re.DOTALL)
    entities = {int(m[1]): re.sub(r"\n\s*", "", m[2]) for m in _ENTITY.finditer(body)}
    for number, words in entities.items():
        if words.startswith(_PLACEMENT):
            entities[number] = re.sub(r"\('\d+'", "('0'", words, count=1)
    said = _sorted_colours(entities)
    return f"{head}ENDSEC;\nDATA;\n" + "\n".join(_numbered(entities, said)) + f"\nENDSEC;{tail}"


def _references(words: str) -> list[int]:
    return [int(m[2]) for m in _TEXT_OR_REFERENCE.finditer(words) if m[2]]


def _sorted_colours(entities: dict[int, str]) -> dict[int, str]:
    """What each entity says with all it refers to, as a digest; sorts the lists of colours."""
    said: dict[int, str] = {}
    for root in entities:
        waiting = [root]
        while waiting:  # a walk by hand: files nest deeper than Python recurses
            number = waiting[-1]
            missing = [r for r in _references(entities[number]) if r not in said]
            if number in said or not missing:
                waiting.pop()
                if number not in said:
                    said[number] = _digest(entities, number, said)
            else:
                waiting += missing
    return said


def _digest(entities: dict[int, str], number: int, said: dict[int, str]) -> str:
    words = entities[number]
    if words.startswith(_COLOURS):
        start = re.match(r"[^(]*\('(?:[^']|'')*',\(", words)
        if start is None:
            raise ValueError(f"STEP: unexpected list of colours: {words[:80]}")
        items, end = words[start.end() :].split(")", 1)
        ordered = sorted(_references(items), key=lambda r: said[r])
        words = start.group() + ",".join(f"#{r}" for r in ordered) + ")" + end
        entities[number] = words
    spelled = _TEXT_OR_REFERENCE.sub(lambda m: m[1] or said[int(m[2])], words)
    return sha256(spelled.encode("latin-1")).hexdigest()


def _numbered(entities: dict[int, str], said: dict[int, str]) -> list[str]:
    """Every entity on a line of its own, numbered so that it refers to earlier ones only."""
    used = {r for words in entities.values() for r in _references(words)}
    roots = [n for n in entities if n not in used]
    plain = [n for n in roots if not entities[n].startswith(_COLOURS)]
    colours = sorted((n for n in roots if n not in plain), key=lambda n: said[n])
    order: dict[int, int] = {}
    for root in (*plain, *colours):
        waiting = [root]
        while waiting:
            number = waiting[-1]
            missing = [r for r in _references(entities[number]) if r not in order]
            if number in order or not missing:
                waiting.pop()
                order.setdefault(number, len(order) + 1)
            else:
                waiting += reversed(missing)
    lines, placements = [], 0
    for number, place in order.items():
        words = _TEXT_OR_REFERENCE.sub(lambda m: m[1] or f"#{order[int(m[2])]}", entities[number])
        if words.startswith(_PLACEMENT):
            placements += 1
            words = words.replace("('0'", f"('{placements}'", 1)
        lines.append(f"#{place}={words};")
    return lines
