"""The lock's other half in a storm: the keeper takes its end's share of the wind on the leaf.

Half of the wind, or 0.7 where a gust on a solid leaf sits off its middle (ASCE 7-10 case B).

A leaf that has sagged rests in the keeper with half of its weight.

Wind from one side goes through the lock's bolt into the keeper plate, from the other side through
the leaf's edge into the stop; both across the post's face. Hinges and lock are end supports.
Frame: the receiver's seat, u across the face, v up. Units: N, mm, MPa.
Sources: AISC 360-16 J3.10, J7, F11; what is pinned: judging/pinned.py.
"""

from collections.abc import Iterator

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import GRAVITY, storm
from hangpost.generators.judging.pinned import anchor_checks, cover_check, pin_checks, slot_washer
from hangpost.generators.strength import bolts, lugs, plates
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.strength.tables import row
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.lock_receiver import LockReceiver

WHEN = "survival wind on the closed leaf, one end's share at the lock"
RESTS = "the leaf has come down in its hinges and rests in the keeper with half its weight"
LAP = 20.0  # mm of the leaf's edge on the stop; house, as it is drawn


def receiver_checks(bench: Bench, part: LockReceiver) -> Iterator[Check]:
    """The keeper about the bolt, its stop, its own bolts."""
    wind, (fy, fu), t = storm(bench.site, bench.hung), bench.steel, part.plate_thickness
    force = wind.force * wind.end_share * factor("load.survival_wind")
    yield bench.held(
        "lock receiver bolt bearing",
        f"lock's bolt on the edge of its opening, the bevel taken off: {WHEN}",
        demand=force,
        allowed=allowable(lugs.bearing(fy, t - part.bevel, part.bolt), "bearing"),
        unit="N",
        source="AISC 360-16 Eq. J7-1",
        working=f"1.8 Fy d t / 2.00 = 1.8 x {fy:.0f} x {part.bolt:.1f} x {t - part.bevel:.2f} / "
        f"2.00; wind {wind.force:.0f} N x {wind.end_share:g}",
    )
    if part.stop_u is not None:
        lever = part.stop_height - LAP / 2
        high = 2 * part.half_height
        yield bench.held(
            "lock receiver stop bending",
            f"stop of the lock receiver bent by the leaf's edge: {WHEN}",
            demand=force * lever,
            allowed=allowable(plates.weak_axis_moment(fy, high, t), "yield"),
            unit="N mm",
            source="AISC 360-16 F11.1",
            working=f"M = {force:.0f} x {lever:.1f}; Fy b t^2 / 4 / 1.67 = {fy:.0f} x {high:.0f} x "
            f"{t:.2f}^2 / 4 / 1.67",
        )
    size = bench.shop.fasteners.bolts[0]
    d, count = float(row("bolts", size)["diameter"]), len(part.bolts)
    yield bench.held(
        "lock receiver bolt shear",
        f"bolts {size} between lock receiver and crossing plate: {WHEN}",
        demand=force / count,
        allowed=min(
            allowable(bolts.shear(bench.bolt_grade[1], d), "bolt"),
            allowable(bolts.slot_bearing(fu, d, part.slot.land - d / 2, t), "bearing"),
        ),
        unit="N",
        source="AISC 360-16 Eq. J3-1, J3-6e, f",
        working=f"{force:.0f} / {count}; the lesser of Fnv Ab / 2.00 and min(lc, 2d) t Fu / 2.00",
    )
    washer = slot_washer(bench, "upright")
    if washer is not None:
        weight = float(bench.hung.leaf.mass) * GRAVITY / 2 * factor("load.weight")
        yield cover_check(bench, "lock receiver", washer, part.slot)
        yield from pin_checks(bench, "lock receiver", washer, t, weight / count, RESTS)


def crossing_checks(bench: Bench, part: CrossingPlate) -> Iterator[Check]:
    """The crossing plate on its host: pins, slot washers and anchors hold it along its slots."""
    wind = storm(bench.site, bench.hung)
    force = wind.force * wind.end_share * factor("load.survival_wind")
    washer, lock = slot_washer(bench, "level"), bench.leaf.lock
    if washer is None or lock is None:
        return
    each = force / len(part.bolts)
    of, behind = "crossing plate", lock.behind  # from the host to the face that its washer is on
    yield cover_check(bench, of, washer, part.slot)
    yield from pin_checks(bench, of, washer, part.plate_thickness, each, WHEN)
    yield from anchor_checks(bench, of, lock.anchor, washer, behind, each, WHEN)
