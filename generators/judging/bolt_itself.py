"""The bolt itself, whatever it goes through: shear and tension together.

Units: N, mm, MPa. Source: AISC 360-16 J3.6, J3.7.
"""

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench, peak
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts


def bolt_itself(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, *, source: str
) -> Check:
    """The bolt with the greatest share of its shear and tension.

    One in a slot may still come to bear at its end: all of the force counts as shear.
    """
    fnt, fnv, _ = bench.bolt_grade
    d, shear = fixing.fastener.diameter, demand.lateral
    both = np.maximum.reduce(
        (shear / fnv, demand.tension / fnt, (shear / fnv + demand.tension / fnt) / 1.3)
    )
    row, k = peak(both)
    return bench.used(
        f"{of} bolt shear and tension",
        f"bolt of the {of} in shear and tension: {loads.words(row)}",
        share=bolts.shear_and_tension(
            fnt,
            fnv,
            d,
            shear_force=float(shear[row, k]),
            tension_force=float(demand.tension[row, k]),
        ),
        source=source,
        working=f"V = {shear[row, k]:.0f}, T = {demand.tension[row, k]:.0f}, Fnv {fnv:.0f}, Fnt "
        f"{fnt:.0f}, Omega 2.00, Ab = {bolts.shank_area(d):.1f}",
    )
