"""A bracket bolted through a steel tube, rail or post: bolts, friction, walls.

Where all holes are slots the bracket is held along them by friction alone, so the bolts are
tightened to a stated torque and the tube must stand that squeeze. A bolt bears on the near wall;
the far one is not counted. Units: N, mm, MPa. Frame: the seat frame.
Sources: AISC 360-16 J3.6 to J3.10; AISC 360-10 K1 and ring theory for the wall; preload
T / (K d) with K = 0.2 (common practice), up to 0.4 Fu As (house: two thirds of a soft bolt's
yield).
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.sleeves import outside as sleeve_outside
from hangpost.generators.hardware.tightening import full_tension
from hangpost.generators.hardware.tube import Tube, post_tube, rail_tube
from hangpost.generators.judging.bench import Bench, peak
from hangpost.generators.judging.bolt_itself import bolt_itself
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, tubes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.parts.saddle import SaddleBlock


def rail_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of bolts through a tube rail."""
    yield from tube_group(bench, of, fixing, demand, loads, rail_tube(bench.hung.leaf))


def post_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of bolts through a steel post."""
    yield from tube_group(bench, of, fixing, demand, loads, post_tube(bench.hung.post))


def tube_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    """Every check of bolts through a tube."""
    yield from _slip(bench, of, fixing, demand, loads, tube)
    yield bolt_itself(bench, of, fixing, demand, loads, source="AISC 360-16 J3.6, J3.7")
    yield from _wall(bench, of, fixing, demand, loads, tube)


def _spread(bench: Bench, fixing: Fixing, tube: Tube) -> float:
    """How much of the tube's width a bolt squeezes: its washer, its sleeve, a backing plate."""
    washer = fixing.fastener.head.washer_diameter
    if fixing.under > 0:  # a printed block lies between: its sleeve stands on the wall
        return sleeve_outside(fixing.fastener)
    behind = bench.behind(fixing.name)
    if behind is not None:
        return min(behind.width, tube.side)
    return washer


def _saddles(bench: Bench, fixing: Fixing, tube: Tube) -> list[SaddleBlock]:
    """The saddles under and behind a seat on a round post."""
    found = (p.item for p in bench.leaf.placed if p.name.startswith(("upper", "lower")))
    on_post = [i for i in found if isinstance(i, SaddleBlock) and i.id.startswith("saddle")]
    return on_post if tube.is_round and fixing.name == "post" else []


def _pulled_on(bench: Bench, fixing: Fixing, tube: Tube) -> float:
    """How much of the tube's width a pull spreads over: once its sleeve digs in, its saddle."""
    saddles = _saddles(bench, fixing, tube)
    if not saddles:
        return _spread(bench, fixing, tube)
    reach = min(saddle.depth for saddle in saddles)
    return float(2 * (reach * (tube.side - reach)) ** 0.5)


def _slip(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    size = fixing.fastener.size
    wide = _spread(bench, fixing, tube)
    stood = tube.crush(wide)
    wanted, tension = full_tension(bench.shop, size), fixing.tension
    torque = bolts.torque(tension, fixing.fastener.diameter) / 1000
    yield bench.held(
        f"{of} {tube.words} crushed by its bolts",
        f"bolts {size} of the {of} tightened to {torque:.0f} N m squeeze the {tube.words}",
        demand=tension,
        allowed=stood,
        unit="N",
        source=tube.source(wide),
        working=f"squeezed on {wide:.1f}, wall {tube.wall:.2f} (0.93 of nominal), {tube.steel}; "
        f"full preload {wanted:.0f} N"
        + ("" if wanted <= tension + 1e-6 else ", so it is tightened less"),
    )
    if not demand.group.free_along:
        return
    travel = max(hole.slot_length for hole in demand.holes)
    overall = travel + demand.holes[0].diameter
    long = overall > bolts.long_slot_length(fixing.fastener.diameter) * 0.75
    state = "slip_long_slot" if long else "slip_short_slot"
    omega = factor(f"resistance.{state}")
    count = len(demand.holes)
    # What pulls on the bolts presses the plate as much less on the rail.
    pressing = np.maximum(tension * count - demand.tension.sum(axis=1) + demand.contact, 1e-9)
    along = np.abs(demand.along_u.sum(axis=1))
    row = int(np.argmax(along / pressing))
    allowed = allowable(bolts.slip(float(pressing[row])), state)
    yield bench.held(
        f"{of} slip along its slots",
        f"the {of} held along its slots by friction alone: {loads.words(row)}",
        demand=float(along[row]),
        allowed=allowed,
        unit="N",
        source=f"AISC 360-16 Eq. J3-4 without Du, mu = 0.30, Omega {omega:g}",
        working=f"mu N / Omega = 0.30 x {pressing[row]:.0f} / {omega:g}; "
        f"{count} bolts at {tension:.0f} N, torque 0.2 d T = {torque:.0f} N m dry",
    )


def _wall(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    d, shear = fixing.fastener.diameter, demand.lateral
    row, k = peak(shear)
    yield bench.held(
        f"{of} bolt on the {tube.words}'s wall",
        f"bolt of the {of} bearing on the near wall of the {tube.words}: {loads.words(row)}",
        demand=float(shear[row, k]),
        allowed=allowable(tubes.bolt_bearing(tube.fy, d, tube.wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"1.8 Fy d t / 2.00 = 1.8 x {tube.fy:.0f} x {d:.2f} x {tube.wall:.2f} / 2.00",
    )
    most = demand.tension.max(axis=1)
    at, wide = int(np.argmax(most)), _pulled_on(bench, fixing, tube)
    yield bench.held(
        f"{of} bolt pulled into the {tube.words}'s far wall",
        f"a bolt of the {of} pulled against the far wall of the {tube.words}: {loads.words(at)}",
        demand=float(most[at]),
        allowed=tube.crush(wide),
        unit="N",
        source=tube.source(wide),
        working=f"spread over {wide:.1f} of {tube.side:.1f}, wall {tube.wall:.2f}, {tube.steel}",
    )
