"""Steel crush sleeves: they stand in printed blocks and take the clamping force. Units: mm."""

from math import pi

from hangpost.generators.hardware.design import Bought
from hangpost.generators.hardware.trade import tube_words
from hangpost.generators.survey.shop import Shop
from hangpost.parts.fastening import Fastener

WALL = 1.6  # house: wall of a crush sleeve
INSIDE = 1.0  # house: sleeve over bolt, on the diameter
FIT = 0.3  # house: sleeve in its bore, on the diameter


def outside(bolt: Fastener) -> float:
    """Outside diameter of the sleeve for a bolt."""
    return bolt.diameter + INSIDE + 2 * WALL


def section(bolt: Fastener) -> float:
    """Steel of the sleeve's cross section, mm2."""
    return pi / 4 * (outside(bolt) ** 2 - (outside(bolt) - 2 * WALL) ** 2)


def bore_for(bolt: Fastener, shop: Shop) -> float:
    """Diameter to print so that the sleeve goes in."""
    return outside(bolt) + FIT + float(shop.printer.hole_compensation)


def sleeve(bolt: Fastener, length: float) -> Bought:
    """One sleeve to buy or cut."""
    return Bought(
        name=tube_words("steel sleeve", outside(bolt), WALL, length, bolt.size),
        quantity=1,
        note="stands in the printed block's bore and takes the clamping force",
    )
