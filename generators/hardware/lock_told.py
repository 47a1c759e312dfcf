"""The drilling sheet of a lock receiver's host, and what to tell of the receiver in lines.

Frame of the sheet: the face that looks at the leaf, datum at the bolt's middle while the leaf is
new; of a round post arc from its line nearest to the leaf. Units: mm.
"""

from dataclasses import replace

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.picks import lead_hole
from hangpost.generators.hardware.trade import up_finely
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.display import both
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
    drill = bolt.through_drill if anchor.is_through else lead_hole(host.species, bolt)
    drilled = list(anchor.drillings(drill))
    past = float(lock.throw) - gap
    if past > 0:
        h: Hole = receiver.opening
        drilled.append(
            Drilling(
                name=h.name,
                u=h.u,
                v=h.v,
                diameter=up_finely(h.diameter, bolt.size),  # a drill that is at hand
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
    lock: Lock,
    gap: float,
    receiver: LockReceiver,
    crossing: CrossingPlate,
    *,
    behind: float,
    pin: str,
    pad: float,
) -> tuple[str, ...]:
    """What the receiver takes, how it is pinned, and the re-set table, in lines; mm first."""
    r, throw = receiver, float(lock.throw)
    least, most = r.gaps(throw=throw, behind=behind)
    table = [
        f"{both(line.drop, 'mm')}: "
        + (f"let the receiver down {both(line.lower, 'mm')}" if line.lower else "leave it")
        + f", {both(line.left, 'mm')} left below the bolt"
        for line in r.reset_table(STEPS)
    ]
    return (
        f"The stop stands {both(pad, 'mm')} off the closed leaf: glue a rubber strip of that "
        "thickness on.",
        f"Run the gate for a day and set it again. Then drill {pin} through one pin hole of every "
        "slot washer and the plate under it, and drive a spring pin in: no setting hangs on "
        "friction then. Zinc paint on the bare edges. To set anew, knock the pin out, set, and "
        "drill through the other hole of the washer.",
        f"The lock holds with a gap from {both(least, 'mm')} to {both(most, 'mm')}; at "
        f"{both(gap, 'mm')} its bolt reaches "
        f"{both(r.engagement(throw=throw, gap=gap, behind=behind), 'mm')} into the receiver's "
        "plate and past it.",
        f"The receiver takes {both(r.sag_as_set, 'mm')} of sag as set, leads the bolt in up to "
        f"{both(r.sag_led_in, 'mm')} and can be let down to follow {both(r.sag_in_all, 'mm')} in "
        f"all; sideways it can be set {both(crossing.sideways, 'mm')} either way.",
        f"When the bolt has come down by {'; by '.join(table)}.",
    )


def lock_assumed(host: Host) -> str:
    """Where the latch post's middle was taken to stand, to be looked at before drilling."""
    off = abs(host.middle)
    if host.measured:
        return (
            f"The latch post's middle stands {both(off, 'mm')} beside the lock's bolt, as measured."
        )
    if host.name != "latch post":
        return ""
    return (
        "The latch post's middle was taken to be level with the lock's bolt; nobody measured it "
        "(lock.post_proud). If it is not so, put it in the site file and build again."
    )
