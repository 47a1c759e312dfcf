"""What stands in for what a shop file leaves out: a common workshop in the person's own unit.

A workshop that works in mm has metric plate, bar and threads, and prints on A4; one in inches is
the defaults of the records themselves. Drawings speak the unit of the shop file, and without one
that of the site.
"""

import tomllib
from collections.abc import Mapping
from typing import Any, Final

from hangpost.generators.survey.shop_starter import shop_starter
from hangpost.generators.survey.units import Units

PAPER: Final[dict[Units, list[str]]] = {"in": ["letter", "a4"], "mm": ["a4"]}


def completed(given: Mapping[str, Any], units: Units, site_units: Units) -> dict[str, Any]:
    """Return a shop's tables with what is usual put in where they say nothing.

    `units` is what a bare number of these tables means; `site_units` leads on paper if they do not
    say any.
    """
    usual = tomllib.loads(shop_starter("mm")) if units == "mm" else {}
    own = given.get("units")
    lead: Units = own if own in ("in", "mm") else site_units
    usual["drawings"] = {"units": lead, "paper": PAPER[lead]}
    return _filled(given, usual)


def _filled(given: Mapping[str, Any], usual: Mapping[str, Any]) -> dict[str, Any]:
    """What is given, and key by key what is usual beside it."""
    whole = {**usual, **given}
    for key, value in usual.items():
        own = given.get(key)
        if isinstance(value, dict) and isinstance(own, Mapping):
            whole[key] = {**value, **own}
    return whole
