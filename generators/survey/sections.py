"""Sections of posts and leaf members as people name them: "6x6", "4x4x1/4", "100x100x5", pipe "3".

A timber "6x6" is a name, not a size; a tube "4x4x1/4" is a size. The text stays as written, with
its unit spelt out, so that it means the same wherever it is read again; these functions turn it
into mm. Sources: PS 20 (timber), ASME B36.10M (pipe), both through parts/tables.py.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from hangpost.generators.survey.units import QuantityError, Units, parse
from hangpost.parts import tables

Surface = Literal["dressed", "rough"]
THINNEST: Final = 15.0  # mm across a tube (house)
LARGEST_NOMINAL: Final = 16  # inches; a bare 150x150 in a mm file is a size in mm
_UNIT: Final = re.compile(r"\s*(mm|cm|in|\"|″)\s*$")
_CROSS: Final = re.compile(r"\s*[xX×]\s*")  # noqa: RUF001 - the sign people type


# Sides of timber that is sold by its size in mm; common practice, no source.
METRIC_TIMBERS: Final = (60, 80, 100, 120, 140, 160, 180, 200, 220, 240, 280)


class SectionError(ValueError):
    """A section nobody can read or that no table lists; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Outside size of a member in mm, and its wall when it is hollow and the text says so."""

    first: float
    second: float
    wall: float | None = None


@dataclass(frozen=True, slots=True)
class Sold:
    """A section of timber as a yard sells it: the name of its size, and both sides in mm."""

    size: str
    thick: float
    tall: float


def sold(units: Units, thick: float, tall: float) -> tuple[Sold, ...]:
    """Timber thicker than this and no less tall, thinnest first: by inch names, or by mm."""
    if units == "mm":
        sides = [(str(side), float(side)) for side in METRIC_TIMBERS]
    else:
        sides = [(name, tables.dressed(int(name))) for name in _nominals()]
    found = []
    for k, (name, deep) in enumerate(sides):
        if deep > thick + 1.0:
            other, high = next((each for each in sides[k:] if each[1] >= tall - 0.5), (name, deep))
            unit = " mm" if units == "mm" else ""
            found.append(Sold(f"{name}x{other}{unit}", deep, high))
    return tuple(found)


def _nominals() -> tuple[str, ...]:
    return tuple(row["nominal"] for row in tables.rows("timber_sizes"))


def spelt_out(text: str, kind: str, units: Units) -> str:
    """Return the section with its unit written behind it, names of sizes left alone."""
    if _UNIT.search(text) or not text.strip():
        return text.strip()
    if kind == "round_steel" or (kind == "timber" and is_nominal(text)):
        return text.strip()
    return f"{text.strip()} {units}"


def timber(text: str, surface: Surface) -> Section:
    """Return the size of a timber: nominal "6x6" by the table, "150x150 mm" as it says."""
    if not is_nominal(text):
        sizes = _sizes(text)
        if len(sizes) != 2:
            raise SectionError('needs two sides, like "6x6"')
        return Section(first=sizes[0], second=sizes[1])
    sides = [int(side) for side in _CROSS.split(text.strip())]
    try:
        first, second = (
            side * tables.INCH if surface == "rough" else tables.dressed(side) for side in sides
        )
    except tables.SizeError as error:
        raise SectionError(str(error)) from None
    return Section(first=first, second=second)


@lru_cache(maxsize=64)
def tube(text: str) -> Section:
    """Return the size of a rectangular tube, "4x4x1/4 in" or "100x100 mm" without a wall."""
    sizes = _sizes(text)
    if len(sizes) not in {2, 3}:
        raise SectionError('needs two sides and a wall, like "4x4x1/4"')
    wall = sizes[2] if len(sizes) == 3 else None
    if wall is not None and not wall < min(sizes[0], sizes[1]) / 2:
        raise SectionError("has a wall that fills the tube")
    _no_wire(min(sizes[0], sizes[1]))
    return Section(first=sizes[0], second=sizes[1], wall=wall)


def round_tube(text: str) -> Section:
    """Return the size of a round tube by outside diameter and, if given, wall."""
    sizes = _sizes(text)
    if len(sizes) not in {1, 2}:
        raise SectionError('needs an outside diameter, like "1.66" or "1.66x0.14"')
    wall = sizes[1] if len(sizes) == 2 else None
    if wall is not None and not wall < sizes[0] / 2:
        raise SectionError("has a wall that fills the tube")
    _no_wire(sizes[0])
    return Section(first=sizes[0], second=sizes[0], wall=wall)


def _no_wire(across: float) -> None:
    """Refuse what is no rail of a gate: most likely inches in a file of millimetres."""
    if across < THINNEST:
        raise SectionError(
            f'is {across:.4g} mm across, less than {THINNEST:g} mm: say the unit, as in "2.375 in"'
        )


def is_nominal(text: str) -> bool:
    """Tell whether a timber's size is a name in inches, as against a size in mm."""
    sides = _CROSS.split(text.strip())
    return len(sides) == 2 and all(
        side.isascii() and side.isdigit() and len(side) <= 2 and int(side) <= LARGEST_NOMINAL
        for side in sides
    )


def _sizes(text: str) -> list[float]:
    if len(text) > 60:
        raise SectionError("is too long to be a section")
    found = _UNIT.search(text)
    unit = found.group(1) if found else "in"
    body = text[: found.start()] if found else text
    try:
        sizes = [
            float(parse(each if _UNIT.search(each) else f"{each} {unit}", "length", "in"))
            for each in _CROSS.split(body.strip())
        ]
    except QuantityError as error:
        raise SectionError(f"cannot be read as a section: {error}") from None
    if not all(0.0 < size <= 2000.0 for size in sizes):
        raise SectionError("has a side of nothing or of more than 2 m")
    return sizes
