"""What may be picked from: the shop's plates and fasteners, or what `--stock` leaves of them.

A limit is said as it is said at the counter: "1/4 in plate", "1/2 lag screws", "M12 bolts". What
is not mentioned stays free, but naming a fastener for the post leaves out the other kind there.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.generators.survey.units import QuantityError, parse
from hangpost.parts.fastening import FastenerKind

SAME = 0.15  # mm: two thicknesses that are one; house
SAID = re.compile(
    r"^(?P<size>.+?)\s*(?:in|inch)?\s+"
    r"(?P<what>plates?|lags?|lag screws?|coach screws?|bolts?|hex bolts?|leaf bolts?)$",
    re.IGNORECASE,
)


class StockError(ValueError):
    """A limit that names nothing in this shop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Plates, and fasteners for the post by kind and size, and bolts for the leaf."""

    plates: tuple[Plate, ...]
    post: tuple[tuple[FastenerKind, str], ...]
    leaf: tuple[str, ...]

    @classmethod
    def of(cls, shop: Shop, limits: Sequence[str] = ()) -> "Stock":
        """What the shop has, narrowed by what was said."""
        plates, lags, bolts = list(shop.plates), list(shop.fasteners.lags), shop.fasteners.bolts
        some_plates: list[Plate] = []
        some: dict[str, list[str]] = {"lag": [], "bolt": []}
        for words in limits:
            said = SAID.match(words.strip())
            if said is None:
                raise StockError(
                    f'--stock "{words}": say a size and what it is, as "1/4 in plate", '
                    '"1/2 lag screws" or "M12 bolts"'
                )
            size, what = said["size"].strip(), said["what"].lower()
            if what.startswith("plate"):
                some_plates.append(_plate(size, words, shop, plates))
            elif "bolt" in what:
                some["bolt"].append(_size(size, words, bolts))
            else:
                some["lag"].append(_size(size, words, lags))
        named_lags, named_bolts = some["lag"], some["bolt"]
        free = not (named_lags or named_bolts)
        post: list[tuple[FastenerKind, str]] = []
        post += [("lag screw", size) for size in (lags if free else named_lags)]
        post += [("hex bolt", size) for size in (bolts if free else named_bolts)]
        return cls(
            plates=tuple(some_plates or plates),
            post=tuple(post),
            leaf=tuple(named_bolts or bolts),
        )


def _plate(size: str, words: str, shop: Shop, plates: list[Plate]) -> Plate:
    try:
        thickness = float(parse(size, "length", shop.units))
    except QuantityError as error:
        raise StockError(f'--stock "{words}": {error}') from None
    for plate in plates:
        if abs(plate.thickness - thickness) <= SAME:
            return plate
    there = ", ".join(f"{plate.thickness / 25.4:.4g} in" for plate in plates)
    raise StockError(f'--stock "{words}": this shop has no such plate; it has {there}')


def _size(size: str, words: str, listed: Sequence[str]) -> str:
    wanted = size.replace('"', "").strip().upper()
    for each in listed:
        if each.upper() == wanted:
            return each
    there = ", ".join(listed) or "none"
    raise StockError(f'--stock "{words}": this shop has no such size; it has {there}')
