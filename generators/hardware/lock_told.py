"""The drilling sheet of a lock receiver's host, and what to tell of the receiver in lines.

Frame of the sheet: the face that looks at the leaf, datum at the bolt's middle while the leaf is
new; of a round post arc from its line nearest to the leaf. Units: mm.
"""

from dataclasses import replace

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.picks import lead_hole
from hangpost.generators.survey.around import Lock
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.flat import Hole
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.loop import rectangle
from hangpost.parts.wrap import Wrap

POCKET = 5.0  # house: room behind the bolt's end
STEPS = 5.0  # mm, lines of the re-set table


def lock_sheet(
    host: Host,
    lock: Lock,
    gap: float,
    receiver: LockReceiver,
    crossing: CrossingPlate,
    anchor: Fixing,
) -> Template:
    """The sheet for the face: the anchors, and the pocket where the bolt passes the face."""
    bolt = anchor.fastener
    drill = bolt.diameter + 1.0 if anchor.is_through else lead_hole(host.species, bolt)
    drilled = list(anchor.drillings(round(drill, 1)))
    past = float(lock.throw) - gap
    if past > 0:
        h: Hole = receiver.opening
        drilled.append(
            Drilling(
                name=h.name,
                u=h.u,
                v=h.v,
                diameter=h.diameter,
                pilot=3.0,
                depth=past + POCKET,
                slot_length=h.slot_length,
                slot_angle=h.slot_angle,
            )
        )
    left, right = crossing.sides
    high, outside = crossing.half_height, host.outside
    datum = "the bolt's middle, marked from the closed leaf"
    flat = outside is None and host.measured
    if outside is not None:
        left, right = -outside / 4, outside / 4
        around = Wrap(outside=outside, paper=0.0)
        drilled = [replace(d, u=around.entry(d.u - host.middle)) for d in drilled]
        datum = "the post's line nearest to the leaf, at the bolt's height"
    return Template(
        id="latch-face",
        part_id=crossing.id,
        face=f"{host.name}, face that looks at the leaf",
        datum=datum,
        holes=tuple(drilled),
        edges=host.edges if flat else (),
        edge_names=("post edge, actuator side", "post edge, far side") if flat else (),
        outline=rectangle(left, -high, right, high, crossing.corner),
        wrap_diameter=outside,
        height=host.seat.origin[2],
        left_side="actuator side" if host.seat.u[1] < 0 else "far side",
        right_side="far side" if host.seat.u[1] < 0 else "actuator side",
        facing="the leaf",
        through=anchor.is_through,
        depth=host.depth,
    )


def lock_notes(
    host: Host,
    lock: Lock,
    gap: float,
    receiver: LockReceiver,
    crossing: CrossingPlate,
    *,
    behind: float,
    pin: str,
    pad: float,
) -> tuple[str, ...]:
    """What the receiver takes, and the re-set table, in lines."""
    r, throw = receiver, float(lock.throw)
    least, most = r.gaps(throw=throw, behind=behind)
    where, off = "", abs(host.middle)
    if host.measured:
        where = f"The latch post's middle stands {off:.0f} mm beside the bolt, as measured. "
    elif host.name == "latch post":
        where = (
            "Assumed, nobody measured it (lock.post_proud): the latch post's middle is level "
            "with the bolt. Check it before drilling. "
        )
    table = [
        f"bolt {line.drop:.0f} mm lower: "
        + (f"let the receiver down {line.lower:.0f} mm" if line.lower else "leave it")
        + f", {line.left:.1f} mm left below the bolt"
        for line in r.reset_table(STEPS)
    ]
    return (
        f"{where}The receiver takes {r.sag_as_set:.1f} mm of sag as set, leads the bolt in up "
        f"to {r.sag_led_in:.1f} mm and can be let down to follow {r.sag_in_all:.1f} mm in all; "
        f"sideways it can be set {crossing.sideways:.0f} mm either way.",
        f"The lock holds with a gap from {least:.1f} to {most:.1f} mm; at {gap:.1f} mm "
        f"the bolt stands {r.engagement(throw=throw, gap=gap, behind=behind):.1f} mm "
        "into the receiver's plate and past it.",
        f"The stop stands {pad:g} mm off the closed leaf: glue a {pad:g} mm rubber strip on.",
        f"Tap the crossing plate for the receiver's bolts. Once the lock runs free, drill "
        f"{pin} through one pin hole of every slot washer and the plate under it, and drive "
        "a spring pin in: then no setting hangs on friction. To set anew, knock the pin out, "
        "set, and drill through the other hole of the washer.",
        *table,
    )
