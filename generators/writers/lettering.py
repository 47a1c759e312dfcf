"""Part marks as strokes, for a laser or a scriber that knows lines and no letters.

The letters are our own, drawn with straight strokes on a grid (strokes.csv): the free stroke
fonts that there are come with conditions on their data, and a part mark needs forty signs.
Units: mm; the mark starts at its lower left corner and reads along u.
"""

import csv
from functools import cache
from math import cos, radians, sin
from pathlib import Path
from typing import Final

from hangpost.parts.loop import Point

GRID: Final = 6.0  # height of a capital in strokes.csv
WIDE: Final = 4.0
PITCH: Final = 5.5  # from one sign to the next

Strokes = tuple[tuple[Point, ...], ...]


def etched(words: str, at: Point, height: float, angle: float = 0.0) -> Strokes:
    """The strokes of a mark; raises ValueError for a sign that cannot be etched."""
    size, c, s = height / GRID, cos(radians(angle)), sin(radians(angle))
    found: list[tuple[Point, ...]] = []
    for place, sign in enumerate(words.upper()):
        if sign == " ":
            continue
        if sign not in _signs():
            raise ValueError(f"{sign!r} cannot be etched; signs are {''.join(_signs())} and blank")
        for stroke in _signs()[sign]:
            points = [((x + place * PITCH) * size, y * size) for x, y in stroke]
            found.append(tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in points))
    return tuple(found)


def length_of(words: str, height: float) -> float:
    """How long a mark is."""
    return (PITCH * len(words) - (PITCH - WIDE)) * height / GRID if words else 0.0


@cache
def _signs() -> dict[str, Strokes]:
    """Every sign and its strokes, as strokes.csv has them."""
    text = Path(__file__).with_name("strokes.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines()[1:])
    return {row["sign"]: tuple(_stroke(s) for s in row["strokes"].split(",")) for row in rows}


def _stroke(numbers: str) -> tuple[Point, ...]:
    found = [float(n) for n in numbers.split()]
    return tuple(zip(found[::2], found[1::2], strict=True))
