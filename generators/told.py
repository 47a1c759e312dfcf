"""A check in words: the one place where its value and limit become figures that people speak.

pack.json keeps N, mm and MPa. Here a torque is told in N m or lbf ft, a force in N, kN or lbf, in
the units of whoever reads, to four figures and without an exponent.
"""

from math import isfinite

from hangpost.generators.checks import SHARE, Check
from hangpost.generators.survey.display import quantity, shop_first
from hangpost.generators.survey.units import Units


def figure(value: float, unit: str, units: Units, beside: float = 0.0) -> str:
    """A value with its unit, as one speaks of it; in the unit of what it stands `beside`."""
    return " ".join(quantity(value, unit, units, beside)).strip()


def figures(check: Check, units: Units) -> str:
    """What was found against what is wanted: "910.3 N m, at most 385.2 N m".

    A share of all that something holds must leave the shop's reserve: "98.5 %, at most 90.91 %
    with the reserve".
    """
    least = "at least" if check.at_least else "at most"
    value = figure(check.value, check.unit, units, check.limit)
    limit = figure(check.limit, check.unit, units, check.value)
    kept = " with the reserve" if check.unit == SHARE and check.limit < 1.0 else ""
    return f"{value}, {least} {limit}{kept}"


def told(check: Check, units: Units) -> str:
    """A check in a sentence, with its two figures."""
    what = shop_first(check.what[:1].upper() + check.what[1:], units)
    if not isfinite(check.value):  # "not judged": there are no figures
        return what
    return f"{what}: {figures(check, units)} is wanted"


def name_of(check: Check) -> str:
    """Its name without its family: "left-hand leaf, leaf bracket pin shear"."""
    return check.id.split(": ", 1)[-1].replace("-hand leaf ", "-hand leaf, ", 1)


def named(check: Check, units: Units) -> str:
    """A check in one line: its name without its family, its figures, and what share is used."""
    name = name_of(check)
    if not isfinite(check.value):
        return name
    used = check.utilisation
    share = f", {100 * used:.0f} % used" if check.unit and isfinite(used) else ""
    return f"{name}: {figures(check, units)}{share}"
