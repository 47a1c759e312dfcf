"""The plate of a seat: bent between ear and fasteners, pressed by them at its holes.

Units: N, mm, MPa. Frame: the seat frame.
Sources: AISC 360-16 F11.1 (plate in bending), J3.10 (holes), J3.4 (edges); AISC Manual part 9.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import MAKE, Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.ear_bars import ear_actions
from hangpost.generators.judging.ears import Ears
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, plates
from hangpost.generators.strength.factors import allowable
from hangpost.parts.channel import Channel
from hangpost.parts.fastening import Fastener
from hangpost.parts.post_bracket import PostAngle


def angle_seat(
    bench: Bench,
    angle: PostAngle,
    ears: Ears,
    fastener: Fastener,
    demand: Demand,
    loads: PinLoads,
) -> Iterator[Check]:
    """The seat of an angle at its bend and at the row nearest to it."""
    yield _bent(bench, angle, fastener, demand, loads)
    yield _opened(bench, angle, ears, loads)
    half = angle.slot.travel / 2
    edges = min(angle.columns[0] - angle.seat[0], angle.seat[1] - angle.columns[-1]) - half
    yield from _holes(bench, "post bracket", angle.plate_thickness, fastener, demand, loads)
    yield _edge(bench, "post bracket", fastener, min(edges, angle.top - angle.rows[-1]))


def channel_seat(
    bench: Bench, of: str, channel: Channel, fastener: Fastener, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """The lobes of a channel bent in the neck beside the ears."""
    high = min(channel.neck, 2 * channel.half_height)
    # All bolts of one side hang on the same neck, each on its own lever.
    off = np.array([hole.u - channel.root_u for hole in demand.holes])
    slack = np.array([hole.slot_length / 2 for hole in demand.holes])
    bending = demand.tension * (np.abs(off) + slack - channel.root)
    sides = np.column_stack((bending[:, off < 0].sum(axis=1), bending[:, off > 0].sum(axis=1)))
    row, side = np.unravel_index(int(np.argmax(sides)), sides.shape)
    moment = float(sides[row, side])
    fy, t = bench.steel[0], channel.plate_thickness
    yield bench.held(
        f"{of} neck bending",
        f"web of the {of} bent beside its ears by the bolts of one lobe: {loads.words(int(row))}",
        demand=moment,
        allowed=allowable(plates.weak_axis_moment(fy, high, t), "yield"),
        unit="N mm",
        source="AISC 360-16 F11.1",
        working=f"M = sum T e = {moment:.0f}; Fy b t^2 / 4 / 1.67 = {fy:.0f} x "
        f"{high:.1f} x {t:.2f}^2 / 4 / 1.67",
    )
    yield from _holes(bench, of, t, fastener, demand, loads)
    left, right = channel.ends
    outer = max(h.u + h.slot_length / 2 for h in demand.holes)
    inner = min(h.u - h.slot_length / 2 for h in demand.holes)
    room = min(right - outer, inner - left, channel.half_height - max(map(abs, channel.rows)))
    yield _edge(bench, of, fastener, room)


def _bent(
    bench: Bench, angle: PostAngle, fastener: Fastener, demand: Demand, loads: PinLoads
) -> Check:
    """The seat at the row nearest the ear: each column's pull on its lever from the ear's middle.

    Lever b' = b - d/2 as in the AISC Manual part 9 for a hanger without prying; one column bends
    at most b of plate on either side of it, up to the next column or the edge, and all columns
    together bend the whole seat, holes taken out.
    """
    t, d, hole = angle.plate_thickness, fastener.diameter, angle.slot.diameter
    reach = angle.rows[0] - angle.gap / 2 - t / 2
    places = (angle.seat[0], *angle.columns, angle.seat[1])
    sides = [min(b - a, reach) for a, b in pairwise(places)]
    widths = [left + right - hole for left, right in pairwise(sides)]
    widths.append(angle.seat[1] - angle.seat[0] - hole * len(angle.columns))
    pulls = np.maximum(demand.columns, 0.0)
    pulls = np.column_stack((pulls, pulls.sum(axis=1)))
    use = pulls / np.array(widths)
    row, k = np.unravel_index(int(np.argmax(use)), use.shape)
    pull, width, lever = float(pulls[row, k]), widths[int(k)], reach - d / 2
    fy = bench.steel[0]
    return bench.held(
        "post bracket seat bending",
        f"seat of the post bracket bent at the row of fasteners nearest its ear: "
        f"{loads.words(int(row))}",
        demand=pull * lever,
        allowed=allowable(plates.weak_axis_moment(fy, width, t), "yield"),
        unit="N mm",
        source="AISC 360-16 F11.1; lever and width as in the AISC Manual part 9 (memory)",
        working=f"M = Q (b - d/2) = {pull:.0f} x ({reach:.1f} - {d:.2f} / 2); Fy w t^2 / 4 / 1.67 "
        f"= {fy:.0f} x {width:.1f} x {t:.2f}^2 / 4 / 1.67",
    )


def _opened(bench: Bench, angle: PostAngle, ears: Ears, loads: PinLoads) -> Check:
    """The bend opened or closed by what its ear pulls, on the half of the root that is pulled."""
    t, depth = angle.plate_thickness, ears.depth
    axial, strong, _ = ear_actions(ears, loads.force, 1.0)
    along = np.abs(axial) / depth + np.abs(strong) / plates.plastic_modulus(depth, 1.0)
    row = int(np.argmax(along))
    lever = angle.bend_line - angle.gap / 2 - t / 2
    fy = bench.steel[0]
    return bench.held(
        "post bracket bend opening",
        f"bend of the post bracket opened by the pull along its root: {loads.words(row)}",
        demand=float(along[row]) * lever,
        allowed=allowable(plates.weak_axis_moment(fy, 1.0, t), "yield"),
        unit="N mm/mm",
        source="statics on 1 mm of root; AISC 360-16 F11.1",
        working=f"m = q e = {along[row]:.1f} x {lever:.1f}; Fy t^2 / 4 / 1.67 = {fy:.0f} x "
        f"{t:.2f}^2 / 4 / 1.67",
    )


def _holes(
    bench: Bench, of: str, t: float, fastener: Fastener, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """The fasteners against the edges of their holes, across a slot or any way in a round hole."""
    fu, d = bench.steel[1], fastener.diameter
    force = demand.lateral
    row, k = np.unravel_index(int(np.argmax(force)), force.shape)
    slotted = demand.holes[int(k)].slot_length > 0
    clear = 1.5 * d  # J3.4 keeps at least so much from centre to edge; half a hole comes off
    clear -= demand.holes[int(k)].diameter / 2
    nominal = min(bolts.bearing(fu, d, t), bolts.tear_out(fu, clear, t))
    source, working = (
        "AISC 360-16 Eq. J3-6a, c",
        f"min(2.4 d, 1.2 lc) t Fu / 2.00, lc = {clear:.1f}",
    )
    if slotted:
        nominal = bolts.slot_bearing(fu, d, clear, t)
        source, working = "AISC 360-16 Eq. J3-6e, f", f"min(lc, 2 d) t Fu / 2.00, lc = {clear:.1f}"
    yield bench.held(
        f"{of} hole bearing",
        f"fastener against the edge of its hole in the {of}: {loads.words(int(row))}",
        demand=float(force[row, k]),
        allowed=allowable(nominal, "bearing"),
        unit="N",
        source=source,
        working=working,
    )


def _edge(bench: Bench, of: str, fastener: Fastener, edge: float) -> Check:
    return bench.fits(
        MAKE,
        f"{of} fastener edge distance",
        f"fastener at the end of its slot to the edge of the {of}",
        value=edge,
        least=bolts.least_edge(fastener.diameter),
        source="AISC 360-16 Table J3.4",
        working=f"d = {fastener.diameter:.2f}; a size that the table lacks takes 1.5 d",
    )


def row_pitch(points: tuple[tuple[float, float], ...]) -> float:
    """Least distance between two fasteners of a group; infinite for one."""
    found = [
        float(np.hypot(a[0] - b[0], a[1] - b[1]))
        for i, a in enumerate(points)
        for b in points[i + 1 :]
    ]
    return min(found, default=float("inf"))


def spacing(bench: Bench, of: str, fastener: Fastener, demand: Demand) -> Check:
    """Least distance between the fasteners of one seat in its plate."""
    return bench.fits(
        MAKE,
        f"{of} fastener spacing",
        f"nearest two fasteners of the {of}",
        value=row_pitch(demand.group.points),
        least=bolts.least_spacing(fastener.diameter),
        source="AISC 360-16 J3.3: 2 2/3 d",
        working=f"8/3 d, d = {fastener.diameter:.2f}",
    )
