"""Bought things by the words of the counter: inch lengths with inch threads, mm with metric ones.

A length that the shop does not have is asked for as cut to length. Units: mm inside.
"""

from math import ceil
from typing import Final

from hangpost.generators.survey.display import inches, plain, say
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import INCH, Units
from hangpost.parts import tables
from hangpost.parts.fastening import Fastener
from hangpost.parts.u_bolt import UBolt

MARK: Final[dict[Units, float]] = {"in": INCH / 4, "mm": 5.0}  # house: steps of a special length
FINE: Final[dict[Units, float]] = {"in": INCH / 16, "mm": 1.0}  # house: steps of what is bent


def thread_units(size: str) -> Units:
    """The unit that goes with a thread."""
    return "mm" if tables.is_metric(size) else "in"


def up_to_mark(length: float, size: str) -> float:
    """A length that nobody stocks, up to the next quarter inch or 5 mm."""
    return _up(length, MARK[thread_units(size)])


def up_finely(length: float, size: str) -> float:
    """A length that is cut or bent anyway, up to the next sixteenth or mm."""
    return _up(length, FINE[thread_units(size)])


def _up(length: float, step: float) -> float:
    return ceil(length / step - 1e-9) * step


def fastener_words(fastener: Fastener, shop: Shop) -> str:
    """What to ask for: "hex bolt 3/8 x 8 in", "lag screw M10 x 80 mm"."""
    stocked = shop.fasteners.lengths(
        "lag" if fastener.kind == "lag screw" else "bolt", fastener.size
    )
    said = f"{fastener.kind} {sized(fastener)}"
    if any(abs(fastener.length - each) < 1e-6 for each in stocked):
        return said
    return f"{said}, cut to length"


def sized(fastener: Fastener) -> str:
    """Thread and length: "3/8 x 8 in"; of a U-bolt the thread."""
    if fastener.kind == "U-bolt":
        return fastener.size
    if thread_units(fastener.size) == "in":
        return f"{fastener.size} x {inches(fastener.length, parts=32).text} in"
    return f"{fastener.size} x {plain(fastener.length, places=1)} mm"


def washer_words(fastener: Fastener) -> str:
    """What to ask for: "washer for 3/8, 1 in outside"."""
    size, outside = fastener.size, fastener.head.washer_diameter
    wide = f"{inches(outside).text} in" if thread_units(size) == "in" else f"{outside:.0f} mm"
    return f"washer for {size}, {wide} outside"


def u_bolt_words(bolt: UBolt, plate: float) -> str:
    """What to ask for; `plate` as for `leg`."""
    units = thread_units(bolt.size)
    leg = up_finely(bolt.leg(plate), bolt.size)
    inside, long = in_both(round(bolt.inside, 1), units), in_both(leg, units)
    return f"U-bolt {bolt.size}, {inside} inside, legs {long} from the tube's middle"


def tube_words(kind: str, outside: float, wall: float, length: float, size: str) -> str:
    """A piece of tube about a bolt of this thread, its sizes in both units."""
    units = thread_units(size)
    across, thick, long = (in_both(round(v, 1), units) for v in (outside, wall, length))
    return f"{kind} {across} x {thick} wall, {long} long"


def in_both(length: float, units: Units) -> str:
    """A size in the shop's unit and, in brackets, in the other: "0.472 in (12 mm)"."""
    said = say(round(length, 3), "length", units)
    other = (
        f"{plain(length, places=1)} mm" if units == "in" else f"{plain(length / INCH, places=3)} in"
    )
    return f"{said} ({other})"
