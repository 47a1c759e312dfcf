"""Numbers on the page: each one is looked up in the data of pack.json and says where it came from.

A number is written as an HTML `data` element: what is read is rounded, `value` is the number as
pack.json has it and `data-at` the place in pack.json. So nothing can be shown that is not in the
pack, and a test can hold every number on the page against it.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import floor, isfinite, log10
from typing import Any

from markupsafe import Markup

from hangpost.generators.survey.display import inches, quantity
from hangpost.generators.survey.units import INCH, POUND, Units

PLACES = 6  # decimals of pack.json


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes numbers of the pack; lengths in the person's unit first."""

    data: Mapping[str, Any]
    units: Units

    def at(self, path: str) -> Any:
        """Whatever stands at a path such as `leaves.0.mount.curve`."""
        found: Any = self.data
        for step in path.split("."):
            found = found[int(step) if isinstance(found, Sequence) else step]
        return found

    def num(self, path: str, places: int | None = None) -> Markup:
        """The number at a path; to four figures unless `places` says how many decimals."""
        return self._written(path, lambda value: shown(value, places))

    def spoken(self, path: str, beside: str, unit: str) -> Markup:
        """A value of a check in the unit people speak of, N m or lbf ft for N mm; `data-unit` says.

        `beside` is the path of the number it is held against, which gets the same unit.
        """
        other = float(self.at(beside) or 0.0)
        name = quantity(float(self.at(path) or 0.0), unit, self.units, other)[1]
        number = self._written(
            path, lambda value: _typeset(quantity(value, unit, self.units, other)[0]), name
        )
        return Markup("{}&nbsp;{}").format(number, name) if name else number

    def own(self, path: str, unit: str) -> Markup:
        """A number in the person's own unit alone, of a table that has no room for both."""
        if self.own_unit(unit) == unit:
            return self._written(path, lambda value: shown(value, 1))
        return self._written(path, lambda value: shown(value / INCH, 3), self.own_unit(unit))

    def own_unit(self, unit: str) -> str:
        """The unit that `own` writes what is reckoned in `unit` in."""
        return quantity(0.0, unit, self.units)[1]

    def size(self, path: str) -> Markup:
        """A length, whichever way it points."""
        return self.length(path, form=abs)

    def mass(self, path: str) -> Markup:
        """A mass in both units, the person's own first."""
        metric = Markup("{}&nbsp;kg").format(self.num(path, 2))
        pounds = Markup("{}&nbsp;lb").format(shown(float(self.at(path)) / POUND, 2))
        return self._pair(metric, pounds)

    def angle(self, path: str) -> Markup:
        """An opening angle, whichever way the leaf swings."""
        return Markup("{}&deg;").format(self._written(path, lambda value: shown(abs(value), 1)))

    def share(self, path: str) -> Markup:
        """A share as a percentage, never rounded up to all or down to nothing."""
        return Markup("{}&nbsp;%").format(self._written(path, _percent))

    def _written(self, path: str, form: Callable[[float], str], unit: str = "") -> Markup:
        value = self.at(path)
        if value is None or not isfinite(value):
            return Markup('<data value="" data-at="{}">&ndash;</data>').format(path)
        exact = json.dumps(round(float(value), PLACES) + 0.0)
        told = Markup(' data-unit="{}"').format(unit) if unit else ""
        return Markup('<data value="{}" data-at="{}"{}>{}</data>').format(
            exact, path, told, form(value)
        )

    def length(self, path: str, places: int = 1, form: Callable[[float], float] = float) -> Markup:
        """A length in mm and in inches, the person's own unit first."""
        number = self._written(path, lambda value: shown(form(value), places))
        metric = Markup("{}&nbsp;mm").format(number)
        fraction = inches(form(float(self.at(path)))).text
        inch = Markup("{}&nbsp;in").format(_typeset(fraction).replace(" ", "\u00a0"))
        return self._pair(metric, inch)

    def _pair(self, metric: Markup, inch: Markup) -> Markup:
        first, second = (inch, metric) if self.units == "in" else (metric, inch)
        return Markup('{} <span class="also">({})</span>').format(first, second)


def _percent(value: float) -> str:
    for places in range(3):
        text = shown(100.0 * value, places)
        if (text == "100") == (value == 1.0) and (text == "0") == (value == 0.0):
            return text
    return text


def shown(value: float, places: int | None = None) -> str:
    """A number as it is read: so many decimals, or four figures and never an exponent."""
    if places is None:
        size = floor(log10(abs(value))) if value and isfinite(value) else 0
        places = min(max(3 - size, 0), 4)
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return _typeset(text)


def _typeset(text: str) -> str:
    return text.replace("-", "\u2212") if text != "-0" else "0"
