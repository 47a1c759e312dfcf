"""The end of a bar on a round rail: U-bolts draw it on, locking bolts keep it from sliding.

The bar lies flat on the rail, steel on steel. Units: N, mm, MPa. Frame: the bar's seat frame.
Sources: AISC 360-16 J3, J7; ring theory (Roark); friction 0.2, house.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.tightening import under_bar
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.clamped import leg_pulled
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, tubes
from hangpost.generators.strength.factors import allowable

LEGS = 2  # of one U-bolt


def bar_on_round(
    bench: Bench,
    of: str,
    legs: Fixing,
    locks: Fixing,
    demand: Demand,
    loads: PinLoads,
    width: float,
) -> Iterator[Check]:
    """Every check of the fasteners at the end with the greater share, `demand` being its own."""
    long = width / len({hole.u for _, hole in legs.holes})
    tube, d = rail_tube(bench.hung.leaf), legs.fastener.diameter
    fnv = bench.bolt_grade[1]
    pulls = demand.columns.max(axis=1) / LEGS
    tension = legs.tension
    yield leg_pulled(bench, of, legs, pulls, loads, "the pull added whole")
    yield bench.held(
        f"{of} rail crushed by its U-bolts",
        f"rail squeezed between the {of} and a U-bolt tightened to "
        f"{bolts.torque(tension, d) / 1000:.0f} N m",
        demand=LEGS * tension,
        allowed=under_bar(tube, long),
        unit="N",
        source="ring theory (Roark)",
        working=f"squeezed on {long:.1f} of the bar, D {tube.side:.1f}, wall {tube.wall:.2f} (0.93 "
        f"of nominal), {tube.steel}",
    )
    along = np.abs(demand.along_u.sum(axis=1))
    clamping = np.maximum(tension * len(legs.holes) - demand.columns.sum(axis=1), 1e-9)
    held = allowable(tubes.clamp_slide(1.0), "clamp_slip") * clamping
    row = int(np.argmax(along / held))
    yield bench.held(
        f"{of} slip of its U-bolts",
        f"the {of} sliding along the rail while U-bolts alone hold it; its locking bolts must be "
        f"in before the gate works: {loads.words(row)}",
        demand=float(along[row]),
        allowed=float(held[row]),
        unit="N",
        source="house: mu 0.2 on paint or zinc, Omega 2.00",
        working=f"mu 2N / 2.00 = 0.2 x 2 x {clamping[row]:.0f} / 2.00",
        warning=True,
    )
    count, size = len(locks.holes), locks.fastener.diameter
    shear = np.hypot(along, np.abs(demand.along_v.sum(axis=1))) / count
    row = int(np.argmax(shear))
    force = float(shear[row])
    yield bench.held(
        f"{of} locking bolt shear",
        f"locking bolt of the {of} between bar and rail: {loads.words(row)}",
        demand=force,
        allowed=allowable(bolts.shear(fnv, size), "bolt"),
        unit="N",
        source="AISC 360-16 Eq. J3-1",
        working=f"V / {count}; Fnv Ab / 2.00 = {fnv:.0f} x {bolts.shank_area(size):.1f} / 2.00",
    )
    yield bench.held(
        f"{of} locking bolt on the rail's wall",
        f"locking bolt of the {of} bearing on the near wall of the rail: {loads.words(row)}",
        demand=force,
        allowed=allowable(tubes.bolt_bearing(tube.fy, size, tube.wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"1.8 Fy d t / 2.00 = 1.8 x {tube.fy:.0f} x {size:.2f} x {tube.wall:.2f} / 2.00",
    )
