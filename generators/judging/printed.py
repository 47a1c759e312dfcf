"""A printed block between a bracket and its post: saddle or wedge, with steel sleeves in its bores.

It is in compression only. The squeeze of through-bolts goes through the sleeves and past the
print; what presses the seat's edge for moments goes through the print. Units: N, mm, MPa.
Sources: statics; what print stands: house, in factors.csv.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware import sleeves
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import STRENGTH, Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength.factors import allowable
from hangpost.generators.strength.plastics import plastic

LEAST_BOLTS = 2  # through one block, so that it cannot turn; house


def pressed_print(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """The block under one seat: its print, its sleeves, what keeps it from turning."""
    row = int(np.argmax(demand.contact))
    made_of = plastic(bench.shop.printer.material)
    area = demand.contact_width * demand.contact_length
    yield bench.held(
        f"{of} printed block pressed",
        f"print under the edge of the seat of the {of}: {loads.words(row)}",
        demand=float(demand.contact[row]) / area,
        allowed=made_of.short,
        unit="MPa",
        source=f"house: a quarter {made_of.source}; width of contact as on the post",
        working=f"C = {demand.contact[row]:.0f} N on {demand.contact_width:.1f} x "
        f"{demand.contact_length:.1f}",
    )
    yield bench.fits(
        STRENGTH,
        f"{of} printed block kept from turning",
        f"bolts or screws through each printed block under the {of}",
        value=float(len(demand.holes)),
        least=float(LEAST_BOLTS),
        unit="",
        source="house",
        working=f"{len(demand.holes)} holes, {LEAST_BOLTS} at least",
    )
    if fixing.fastener.kind == "hex bolt" and fixing.tension:
        fy, steel = bench.steel[0], sleeves.section(fixing.fastener)
        yield bench.held(
            f"{of} sleeve in its printed block",
            f"steel sleeve about a bolt of the {of}, which takes the bolt's squeeze past the print",
            demand=fixing.tension,
            allowed=allowable(fy * steel, "yield"),
            unit="N",
            source="AISC 360-16 E3, too short to buckle",
            working=f"Fy A / 1.67 = {fy:.0f} x {steel:.1f} / 1.67, "
            f"{sleeves.outside(fixing.fastener):.1f} outside, {sleeves.WALL:g} wall",
        )
