"""The wood itself under a seat: pressed by its edge, by washers and plates behind, pulled apart.

Units: N, mm, MPa. Frame: the seat frame, the grain along v.
Sources: NDS 2018 3.4.3, 3.10; AISC 360-16 F11.1 for the plate behind.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench, peak
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.wood import Wood
from hangpost.generators.strength import plates, timber, timber_spacing
from hangpost.parts.backing_plate import BackingPlate

BESIDE, SHORT = 9.525, 152.4  # mm, NDS 2018 3.10.4: 3/8 in and 6 in


def crushed(
    bench: Bench, of: str, wood: Wood, demand: Demand, loads: PinLoads, *, rail: bool = False
) -> Check:
    """The wood under the edge of the seat that presses it; the grain of a rail lies across it."""
    row = int(np.argmax(demand.contact))
    high, wide = demand.contact_length, demand.contact_width
    if rail:
        high = min(high, wood.edges[1] - wood.edges[0])
    along, host = (wide, "rail") if rail else (high, "wood")
    # NDS 3.10.4: a short bearing, measured along the grain, is helped by the wood beside it.
    cb = (along + BESIDE) / along if along < SHORT else 1.0
    return bench.held(
        f"{of} pressure on the {host}",
        f"edge of the seat of the {of} pressed into {'a rail of ' if rail else ''}{wood.species}: "
        f"{loads.words(row)}",
        demand=float(demand.contact[row]) / (high * wide),
        allowed=wood.fc_perp * wood.wet_bearing * cb,
        unit="MPa",
        source="NDS 2018 3.10.2, 3.10.4; width of contact 4 t, house",
        working=f"C = {demand.contact[row]:.0f} on {wide:.1f} x {high:.1f}; Fc_perp "
        f"{wood.fc_perp:.2f} x CM {wood.wet_bearing:g} x Cb {cb:.2f}",
    )


def split(bench: Bench, of: str, wood: Wood, demand: Demand, loads: PinLoads) -> Check:
    """Shear in the post where the fasteners pull across its grain."""
    force = np.abs(loads.force[:, 0]) / loads.duration
    row = int(np.argmax(force))
    across = sorted({hole.u for hole in demand.holes})
    width = wood.edges[1] - wood.edges[0]
    deep = max(across[-1] - wood.edges[0], wood.edges[1] - across[0])
    capacity = timber_spacing.connection_shear(wood.fv, wood.depth, width, deep)
    near_end = wood.end - max(abs(hole.v) for hole in demand.holes) < 5 * width
    if not near_end:  # NDS 3.4.3.3(b): without the square of de/d
        capacity /= (deep / width) ** 2
    cd = float(loads.duration[row])
    return bench.held(
        f"{of} post shear at the fasteners",
        f"post pulled across its grain by the fasteners of the {of}: {loads.words(row)}",
        demand=abs(float(loads.force[row, 0])),
        allowed=capacity * cd,
        unit="N",
        source=f"NDS 2018 3.4.3.3({'a' if near_end else 'b'})",
        working=f"2/3 Fv b de{' (de/d)^2' if near_end else ''} CD, Fv = {wood.fv:.2f}, b = "
        f"{wood.depth:.1f}, de = {deep:.1f}, d = {width:.1f}, CD = {cd:g}",
    )


def behind(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """What the bolts pull against on the far face: a washer each, or a plate behind them all."""
    fastener, plate = fixing.fastener, bench.behind(fixing.name)
    row, k = peak(demand.tension)
    pull, hole = float(demand.tension[row, k]), timber.bolt_hole_limits(fastener.diameter)[1]
    bearing = wood.fc_perp * wood.wet_bearing
    if plate is None:
        washer = fastener.head.washer_diameter
        yield bench.held(
            f"{of} washer on the wood",
            f"washer of a bolt of the {of} pressed into the far face of {wood.species}: "
            f"{loads.words(row)}",
            demand=pull,
            allowed=timber.washer_bearing(bearing, washer, hole),
            unit="N",
            source="NDS 2018 3.10.2",
            working=f"Fc_perp CM x area of {washer:.1f} less {hole:.1f} mm, {wood.fc_perp:.2f} x "
            f"{wood.wet_bearing:g}",
        )
    else:
        yield from _backing(bench, of, plate, fastener.head.washer_diameter, bearing, demand, loads)


def _backing(
    bench: Bench,
    of: str,
    plate: BackingPlate,
    washer: float,
    bearing: float,
    demand: Demand,
    loads: PinLoads,
) -> Iterator[Check]:
    """The plate behind: the bolts of one row press a strip of it, as far as the plate is stiff."""
    t, (fy, _) = plate.plate_thickness, bench.steel
    rows = sorted({hole.v for hole in demand.holes})
    pulls = np.column_stack(
        [demand.tension[:, [hole.v == v for hole in demand.holes]].sum(axis=1) for v in rows]
    )
    row, k = peak(pulls)
    pull, us = float(pulls[row, k]), [hole.u for hole in demand.holes]
    spread = plates.spread_on(fy, t, bearing)
    wide = min(max(us) - min(us) + washer + 2 * spread, plate.width)
    pitch = min(np.diff(rows), default=float("inf"))
    high = min(washer + 2 * spread, float(pitch), plate.length)
    yield bench.held(
        f"{of} backing plate on the wood",
        f"backing plate pressed into the far face of the wood by one row of bolts of the {of}: "
        f"{loads.words(row)}",
        demand=pull,
        allowed=bearing * wide * high,
        unit="N",
        source="NDS 2018 3.10.2; spread by the plate's bending as a footing, AISC 360-16 F11.1",
        working=f"Fc_perp CM x {wide:.1f} x {high:.1f}, {bearing:.2f} MPa; spread from the washer "
        f"sqrt(2 Fy t^2 / 4 / 1.67 / p) = {spread:.1f}, t = {t:.2f}, plate {plate.width:.0f} x "
        f"{plate.length:.0f}",
    )
