"""Rules for bought fasteners: which finish, which washer, how tight.

Units: mm, N, N mm. These are the trade's rules; where a standard stands behind one it is named.
Sources: fastener_rules.csv; AISC 360-16 J3.2 (washers over slots); ASME B1.1 and ISO 898-1 threads.
"""

from typing import Literal

from hangpost.generators.strength.bolts import torque
from hangpost.generators.strength.inch import INCH, LBF
from hangpost.generators.strength.tables import table

TO_THE_MAKER = "to the maker's figure"
RUNNING = "beyond running torque"


def allowed_finishes(host: str, finish: str) -> tuple[str, ...]:
    """Fastener finishes that suit a host ("treated timber", "steel", ...) and its surface."""
    for entry in table_rows():
        if entry[0] == host and entry[1] in {finish, "any"}:
            return entry[2]
    hosts = sorted({entry[0] for entry in table_rows()})
    raise KeyError(f"host {host!r} with finish {finish!r}: known hosts are {', '.join(hosts)}")


def reason(host: str, finish: str) -> str:
    """Why those finishes and no others."""
    return next(e[3] for e in table_rows() if e[0] == host and e[1] in {finish, "any"})


def table_rows() -> tuple[tuple[str, str, tuple[str, ...], str], ...]:
    """Host, finish, allowed fastener finishes and reason of each rule."""
    rules = table("fastener_rules").values()
    return tuple(
        (r["host"], r["finish"], tuple(r["allowed"].split(";")), r["reason"]) for r in rules
    )


def washer_cover(outside: float, slot_width: float, slot_length: float) -> float:
    """Metal left past the far end of a slot when the washer sits at one end of its travel.

    `slot_length` is the distance between the two end-arc centres. A washer must cover its slot
    wherever the bolt stands (AISC 360-16 J3.2): negative means that daylight shows.
    """
    return outside / 2 - slot_length - slot_width / 2


def tightening(
    host: str, tension_wanted: float, diameter: float, units: Literal["in", "mm"] = "mm"
) -> str:
    """Words for the tightening of one fastener: timber by feel, steel by torque.

    Torque 0.2 d F is common practice without a source; the maker's figure goes first. What a
    self-locking nut or a zinced thread asks for before the parts touch comes on top: for a
    lightly tightened bolt it is more than the torque itself (ISO 2320; memory).
    """
    if "timber" in host:
        return f"snug, washer just biting into the wood; {TO_THE_MAKER} if there is one"
    moment = torque(tension_wanted, diameter)
    said = (f"{moment / 1000:.0f} N m", f"{moment / (LBF * 12 * INCH):.0f} lbf ft")
    first, other = said if units == "mm" else said[::-1]
    return f"about {first}, {other} {RUNNING} (K = 0.2, dry, common practice) or {TO_THE_MAKER}"
