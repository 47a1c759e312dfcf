"""Quantities as people read them: inches to the nearest fraction, feet, and both systems at once.

The other direction of `units`: millimetres go in, words for a tape, a drawing or a message come
out, with the error the rounding made, so that nobody takes 5 1/2 in for the whole truth.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import copysign, floor, isfinite, log10
from typing import Final

from hangpost.generators.survey.units import (
    BARE,
    FACTORS,
    FOOT,
    INCH,
    POUND,
    POUND_FORCE,
    Kind,
    Units,
)

TAPE: Final = 16  # the finest mark on a common tape, in parts of an inch
LARGEST: Final = 1e12  # what is larger is shown with a power of ten: its last figures say nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What is printed for a length, and printed minus true in mm."""

    text: str
    error: float


def inches(length: float, *, parts: int = TAPE, feet: bool = False) -> Shown:
    """Return a length to the nearest 1/parts inch, without a unit: "5 1/2", "-1/16".

    With `feet`, a foot and more reads as 12' 3 1/2" does; parts is 16, 32 or 64.
    """
    if not isfinite(length):
        return Shown(text="nan", error=float("nan"))
    rounded = Fraction(round(length / INCH * parts), parts)
    sign, size = ("-" if rounded < 0 else ""), abs(rounded)
    error = float(rounded) * INCH - length
    if feet and size >= 12:
        whole_feet, rest = divmod(size, 12)
        return Shown(text=f"{sign}{whole_feet}' {_mixed(rest)}\"", error=error)
    return Shown(text=sign + _mixed(size), error=error)


def _mixed(size: Fraction) -> str:
    whole, part = divmod(size, 1)
    if part == 0:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def millimetres(length: float, *, places: int = 1) -> str:
    """Return a length in mm with trailing zeros cut and never a minus zero."""
    return plain(length, places=places)


def plain(value: float, *, places: int = 2) -> str:
    """Return a number to so many places, trailing zeros cut, never "-0".

    Halves go away from nought, also where the arithmetic has left them a hair short.
    """
    if abs(value) >= LARGEST:
        return f"{value:.3e}"
    text = f"{value + copysign(1e-9, value):.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def tape_mark(units: Units) -> float:
    """Return from one mark of a tape to the next."""
    return INCH / TAPE if units == "in" else 1.0


def marks_beyond(length: float, units: Units, count: int, way: int = 1) -> Iterator[float]:
    """Return the next marks of a tape beyond this length, longer ones or (`way` -1) shorter."""
    mark = tape_mark(units)
    last = floor(way * length / mark + 1e-9)
    return (way * mark * (last + each) for each in range(1, count + 1))


def both(length: float, units: Units, *, parts: int = TAPE) -> str:
    """Return a length in the person's unit with the other in brackets."""
    inch, metric = f"{_near(length, parts)} in", f"{millimetres(length)} mm"
    return f"{inch} ({metric})" if units == "in" else f"{metric} ({inch})"


def _near(length: float, parts: int) -> str:
    """Inches to the nearest part; less than half a part is not nothing."""
    near = inches(length, parts=parts).text
    return plain(length / INCH, places=3) if near == "0" and abs(length) >= 0.05 else near


_BOTH: Final = re.compile(r"(-?[\d.]+) (mm|N m|N) \((-?[\d./ ]+) (in|lbf ft|lbf)\)")
_NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")
# One or more numbers with a metric unit behind the last, but no part of a name such as M10 x 60 mm.
_METRIC: Final = re.compile(
    r"(?<![\w./-])(-?\d+(?:\.\d+)?(?:(?: x | to | and | by )-?\d+(?:\.\d+)?)*)"
    r" (mm/s|mm3|mm|N m|N|kg)(?![\w/])"
)
_NAMES: Final = {"N m": "N mm"}  # what `quantity` is asked for


def shop_first(sentence: str, units: Units) -> str:
    """Return a sentence that says mm, N or kg with the reader's unit first.

    "12.7 mm (1/2 in) of 40 mm" is "1/2 in (12.7 mm) of 1 9/16 in (40 mm)" to who works in inches.
    """
    if units == "mm":
        return sentence
    return _METRIC.sub(_with_inches, _BOTH.sub(r"\3 \4 (\1 \2)", sentence))


def _with_inches(found: re.Match[str]) -> str:
    """What was found, in inches and pounds, and itself in brackets."""
    numbers, unit = found.groups()
    before = found.string[: found.start()]
    if re.search(r"(?:\b(?:in|lbf|ft|lb|in/s) \(| x )$", before):  # told in both, or a bolt's name
        return found[0]
    if unit == "mm":
        said, name = _NUMBER.sub(lambda n: _near(float(n[0]), TAPE), numbers), "in"
    else:
        asked, times = (_NAMES[unit], 1000.0) if unit in _NAMES else (unit, 1.0)
        name = quantity(0.0, asked, "in")[1]
        said = _NUMBER.sub(lambda n: quantity(float(n[0]) * times, asked, "in")[0], numbers)
    return f"{said} {name} ({found[0]})"


def degrees_words(angle: float) -> str:
    """Return an angle in whole degrees in words: "1 degree", "39 degrees"."""
    text = plain(angle, places=0)
    return f"{text} degree" if text == "1" else f"{text} degrees"


def say(value: float, kind: Kind, units: Units) -> str:
    """Return any quantity in the unit a bare number of that file has, with its name."""
    unit = BARE[units][kind]
    number = value / FACTORS[kind][unit]
    if kind == "length" and unit == "in":
        shown = inches(value, parts=64)
        text = shown.text if abs(shown.error) < 1e-6 else plain(number, places=3)
    else:
        text = plain(number, places=3)
    return f"{text} {unit}".strip()


# What a check is reckoned in, and what people speak of: (from this value on, factor, name).
_SPOKEN: Final[dict[Units, dict[str, tuple[tuple[float, float, str], ...]]]] = {
    "mm": {
        "N": ((0.0, 1.0, "N"), (10_000.0, 1e-3, "kN")),
        "N mm": ((0.0, 1e-3, "N m"), (10_000_000.0, 1e-6, "kN m")),
        "share": ((0.0, 100.0, "%"),),
    },
    "in": {
        "share": ((0.0, 100.0, "%"),),
        "mm": ((0.0, 1 / INCH, "in"),),
        "mm/s": ((0.0, 1 / INCH, "in/s"),),
        "mm3": ((0.0, 1 / INCH**3, "in3"),),
        "kg": ((0.0, 1 / POUND, "lb"),),
        "N": ((0.0, 1 / POUND_FORCE, "lbf"),),
        "N mm": ((0.0, 1 / (POUND_FORCE * FOOT), "lbf ft"),),
        "N/mm": ((0.0, INCH / POUND_FORCE, "lbf/in"),),
        "N mm/mm": ((0.0, 1 / POUND_FORCE, "lbf in/in"),),
        "MPa": ((0.0, INCH**2 / POUND_FORCE, "psi"), (10.0, INCH**2 / POUND_FORCE / 1e3, "ksi")),
    },
}


def quantity(value: float, unit: str, units: Units, beside: float = 0.0) -> tuple[str, str]:
    """Return number and unit of what was reckoned in `unit`, as people who use `units` say it.

    Four figures, never an exponent; the unit also suits the number that it stands `beside`.
    """
    factor, name = 1.0, unit
    for start, by, called in _SPOKEN[units].get(unit, ()):
        if max(abs(value), abs(beside)) >= start:
            factor, name = by, called
    return four_figures(value * factor), name


def four_figures(value: float) -> str:
    """Return a number to four figures, whole ones in full, trailing zeros cut."""
    if not value or not isfinite(value):
        return plain(value) if isfinite(value) else str(value)
    return plain(value, places=min(max(3 - floor(log10(abs(value))), 0), 6))
