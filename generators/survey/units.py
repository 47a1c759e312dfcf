# ruff: noqa: RUF001 - primes, dashes and fraction glyphs are what people type
r"""Quantities as people write them: one parser for every measured field.

What the survey calls "5 1/2", "12' 3-1/2\"", "161,29 cm", "180 lb" or "16 mm/s" becomes one
float in the house units: mm, kg, N, mm/s, degrees, s, MPa. A bare number is in the file's own
units:

    units = "in":  in, lb, lbf, in/s, wind mph, ksi
    units = "mm":  mm, kg, N, mm/s, wind m/s, MPa
    both:          angles in degrees, times in seconds, shares between 0 and 1

"lb" in a force field means pounds-force, as actuator labels print it; "kg" is never a force.
Sources: the inch is 25.4 mm and the pound 0.45359237 kg exactly (international yard and pound
agreement, 1959); standard gravity 9.80665 m/s2 (3rd CGPM, 1901); mile = 5280 ft.
"""

import re
from math import isfinite
from typing import Final, Literal

Kind = Literal["length", "mass", "force", "speed", "wind", "angle", "time", "stress", "share"]
Units = Literal["in", "mm"]

INCH: Final = 25.4
FOOT: Final = 304.8
POUND: Final = 0.45359237
POUND_FORCE: Final = POUND * 9.80665
LONGEST_TEXT: Final = 60  # characters; a longer string is no measurement

_SPEEDS: Final = {
    "mm/s": 1.0,
    "cm/s": 10.0,
    "m/s": 1000.0,
    "in/s": INCH,
    "ft/s": FOOT,
    "ft/min": FOOT / 60,
    "in/min": INCH / 60,
    "mph": 5280 * FOOT / 3600,
    "km/h": 1e6 / 3600,
}
FACTORS: Final[dict[Kind, dict[str, float]]] = {
    "length": {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "ft": FOOT},
    "mass": {"kg": 1.0, "g": 0.001, "lb": POUND},
    "force": {
        "N": 1.0,
        "kN": 1000.0,
        "lbf": POUND_FORCE,
        "lb": POUND_FORCE,
        "kgf": 9.80665,
    },
    "speed": _SPEEDS,
    "wind": _SPEEDS,
    "angle": {"deg": 1.0},
    "time": {"s": 1.0, "min": 60.0},
    "stress": {
        "MPa": 1.0,
        "N/mm2": 1.0,
        "ksi": 1000 * POUND_FORCE / INCH**2,
        "psi": POUND_FORCE / INCH**2,
    },
    "share": {"": 1.0, "%": 0.01},
}
BARE: Final[dict[Units, dict[Kind, str]]] = {
    "in": {
        "length": "in",
        "mass": "lb",
        "force": "lbf",
        "speed": "in/s",
        "wind": "mph",
        "angle": "deg",
        "time": "s",
        "stress": "ksi",
        "share": "",
    },
    "mm": {
        "length": "mm",
        "mass": "kg",
        "force": "N",
        "speed": "mm/s",
        "wind": "m/s",
        "angle": "deg",
        "time": "s",
        "stress": "MPa",
        "share": "",
    },
}
_SPELLINGS: Final = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "foot": "ft",
    "feet": "ft",
    "lbs": "lb",
    "degree": "deg",
    "degrees": "deg",
    "°": "deg",
    "n": "N",
    "kn": "kN",
    "kph": "km/h",
    "sec": "s",
    "mpa": "MPa",
    "n/mm2": "N/mm2",
    "n/mm²": "N/mm2",
}
_GLYPHS: Final = {
    **{"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"},
    **{"⅓": "1/3", "⅔": "2/3"},
}
_PLAIN: Final = str.maketrans(
    {
        "′": "'", "’": "'", "‘": "'", "ʹ": "'",
        "″": '"', "”": '"', "“": '"', "ʺ": '"',
        "⁄": "/", "−": "-", "–": "-", "‐": "-", "\u2011": "-",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "º": "°",
    }
)  # fmt: skip
_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_NUMBER: Final = re.compile(
    rf"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)|(?P<decimal>{_DECIMAL})"
)
_FEET: Final = re.compile(r"(?P<feet>[0-9]+)\s*(?:ft|foot|feet|')\s*-?\s*(?P<rest>[0-9].*)", re.I)
_DASHED_FEET: Final = re.compile(r"(?P<feet>[0-9]+)-(?P<rest>[0-9]+-[0-9]+/[0-9]+)\s*ft", re.I)
_PLUS_MINUS: Final = re.compile(r"±|\+\s*/?\s*-")


class QuantityError(ValueError):
    """Text or a number that is no such quantity; the message says why in one clause."""


class Measure(float):
    """A quantity in house units that remembers the plus-minus it was measured to."""

    __slots__ = ("plus_minus",)
    plus_minus: float

    def __new__(cls, value: float, plus_minus: float = 0.0) -> "Measure":
        """Return the float with its plus-minus, 0.0 when none was given."""
        made = super().__new__(cls, value)
        made.plus_minus = plus_minus
        return made


def parse(given: object, kind: Kind, units: Units) -> Measure:
    """Return the quantity in house units; raises QuantityError with the reason in words."""
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        raise QuantityError(f"is not {_a(kind)}")
    if not isinstance(given, str):
        return Measure(_tidy(_finite(given) * FACTORS[kind][BARE[units][kind]]))
    text = given.translate(_PLAIN).replace("''", '"').strip()
    if not text:
        raise QuantityError("is empty")
    if len(given) > LONGEST_TEXT:
        raise QuantityError(f"is longer than {LONGEST_TEXT} characters")
    for glyph, fraction in _GLYPHS.items():
        text = text.replace(glyph, f" {fraction}")
    value_text, *more = _PLUS_MINUS.split(text)
    if len(more) > 1:
        raise QuantityError("has more than one plus-minus")
    value = _signed(value_text.strip(), kind, units)
    if not more:
        return Measure(value)
    spread_unit = units
    if kind == "length" and not _is_bare(value_text) and _is_bare(more[0]):
        # "140 mm +- 1": the plus-minus follows the value's own unit, not the file's
        spread_unit = "mm" if _unit_of(value_text, kind) in {"mm", "cm", "m"} else "in"
    spread = _signed(more[0].strip(), kind, spread_unit)
    if not spread >= 0.0:
        raise QuantityError("has a negative plus-minus")
    return Measure(value, spread)


def _noun(kind: Kind) -> str:
    return {"wind": "wind speed", "share": "number"}.get(kind, kind)


def _a(kind: Kind) -> str:
    return ("an " if kind == "angle" else "a ") + _noun(kind)


def _finite(number: float) -> float:
    try:
        value = float(number)
    except OverflowError:
        raise QuantityError("is too large") from None
    if not isfinite(value):
        raise QuantityError("is not a finite number")
    return value


def _tidy(value: float) -> float:
    # Nine places take the binary dust off, so that 12 ft is 3657.6 mm and not a hair more.
    return round(_finite(value), 9)


def _is_bare(text: str) -> bool:
    return re.search(r"[A-Za-z'\"%°]", text) is None


def _unit_of(text: str, kind: Kind) -> str:
    found = re.search(r"[A-Za-z'\"%°][^0-9]*[0-9²]?\s*$", text.strip())
    return _unit(found.group().strip(), kind) if found else ""


def _signed(text: str, kind: Kind, units: Units) -> float:
    text = text.strip()
    sign = -1.0 if text.startswith("-") else 1.0
    unsigned = text[1:].lstrip() if text[:1] in {"-", "+"} else text
    if kind == "length":
        feet = _DASHED_FEET.fullmatch(unsigned) or _FEET.fullmatch(unsigned)
        if feet:
            return sign * _feet_and_inches(feet["feet"], feet["rest"])
    number = _NUMBER.match(unsigned)
    if not number:
        raise QuantityError(f"cannot be read as {_a(kind)}")
    unit_text = unsigned[number.end() :].strip()
    # "95%" and '5"' may touch the number; "12-" or "1e3" may not pass as a unit
    unit = _unit(unit_text, kind) if unit_text else BARE[units][kind]
    return sign * _tidy(_value(number) * FACTORS[kind][unit])


def _feet_and_inches(feet: str, rest: str) -> float:
    number = _NUMBER.match(rest)
    if not number or _SPELLINGS.get(rest[number.end() :].strip().lower(), "in") != "in":
        raise QuantityError("cannot be read as feet and inches")
    if rest[number.end() :].strip().lower() not in {"", "in", '"', "inch", "inches"}:
        raise QuantityError("cannot be read as feet and inches")
    inches = _value(number)
    if inches >= 12.0:
        raise QuantityError("has twelve inches or more after the feet")
    return _tidy(float(feet) * FOOT + inches * INCH)


def _value(number: re.Match[str]) -> float:
    if number["decimal"] is not None:
        text = number["decimal"]
        # 1,250 is 1250 to one reader and 1.25 to another
        if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
            raise QuantityError("could mean thousands or decimals; write it without the comma")
        return float(text.replace(",", "."))
    over, under = int(number["over"]), int(number["under"])
    if under == 0:
        raise QuantityError("divides by zero")
    if number["whole"] is not None and over >= under:
        raise QuantityError("has a fraction of one or more after the whole number")
    return int(number["whole"] or 0) + over / under


def _unit(text: str, kind: Kind) -> str:
    spelt = text.replace(" ", "").rstrip(".")
    for candidate in (spelt, spelt.lower(), _SPELLINGS.get(spelt.lower(), "")):
        if candidate and candidate in FACTORS[kind]:
            return candidate
    shown = text if len(text) <= 20 else text[:17] + "..."
    raise QuantityError(f'has "{shown}" where a unit of {_noun(kind)} is wanted')


def allowed_units(kind: Kind) -> str:
    """Return the units a field of this kind may carry, for a message."""
    named = [unit for unit in FACTORS[kind] if unit]
    return ", ".join(named)
