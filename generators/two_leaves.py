"""Two leaves of one gate against each other: latch edges, lap strip, lock receiver, brackets.

Both move at once, so there are as many ways past each other as there are courses: each leaf by
itself where no order is needed, the one that opens first by itself where one is, and both
together with the delay that the control keeps, opening and closing. An actuator runs at one
speed, so its length is what goes evenly with time. Every leaf is taken as a full box of its
thickness: the corner of a thick leaf, or of one off its hinge axis, sweeps a larger circle than
its latch edge has when closed. Frame: the assembly of the whole gate. Units: mm, degrees, s.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, inf

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance, Moving, sweep
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.scene import envelope
from hangpost.generators.pivots.kinematics import angle_of
from hangpost.generators.swing import HOUSE, RUNNING, Meshed, moving

STEP = 2.5  # degrees, at most on the whole; the sweep refines between them
ALIKE = 0.05  # s by which two leaves that take as long may differ


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One way of moving both leaves: when each of them starts; one that never starts stays shut."""

    name: str
    starts: tuple[float, float]
    closing: bool = False

    def ends(self, leaves: Sequence[LeafDesign]) -> float:
        """When the last leaf that moves has arrived."""
        both = zip(self.starts, leaves, strict=True)
        return max(start + leaf.mount.swing_time for start, leaf in both if start < inf)

    def angle(self, leaves: Sequence[LeafDesign], number: int, time: float) -> float:
        """Opening angle of a leaf (0 or 1) at a time."""
        leaf = leaves[number]
        gone = min(max((time - self.starts[number]) / leaf.mount.swing_time, 0.0), 1.0)
        return opened(leaf, 1.0 - gone if self.closing else gone)


def opened(leaf: LeafDesign, share: float) -> float:
    """Opening angle of a leaf whose actuator has gone this share of its way."""
    mount = leaf.mount
    if share in (0.0, 1.0):
        return 0.0 if share == 0.0 else mount.curve[-1].angle
    length = mount.closed_length + share * (mount.open_length - mount.closed_length)
    return angle_of(*mount.post_pivot, *mount.leaf_pivot, length)


def courses(design: Design) -> tuple[Course, ...]:
    """Every way the two leaves go, as the site says."""
    first = (design.site.opens_first or 1) - 1
    delay = design.site.delay
    lead, last = design.leaves[first], design.leaves[1 - first]

    def course(name: str, lead_at: float, last_at: float, *, closing: bool = False) -> Course:
        starts = (lead_at, last_at) if first == 0 else (last_at, lead_at)
        return Course(name=name, starts=starts, closing=closing)

    alone = [course(f"{lead.name} leaf by itself", 0.0, inf)]
    if design.site.opens_first is None:
        alone.append(course(f"{last.name} leaf by itself", inf, 0.0))
    held = f", one held back {delay:g} s" if delay else ""
    if abs(lead.mount.swing_time - last.mount.swing_time) < ALIKE:  # closing is opening run back
        return (*alone, course(f"both together{held}", 0.0, delay))
    return (
        *alone,
        course(f"both opening{held}", 0.0, delay),
        course(f"both closing{held}", delay, 0.0, closing=True),
    )


def passing(design: Design, meshed: Meshed) -> tuple[tuple[Check, ...], tuple[Clearance, ...]]:
    """A check for every course, and the nearest pair of each; nothing for a single gate."""
    if len(design.leaves) < 2:
        return (), ()
    checks: list[Check] = []
    nearest: dict[tuple[str, str], Clearance] = {}
    for course in courses(design):
        row, time = _nearest(design, course, meshed)
        checks.append(_check(design, course, row, time))
        if row.pair not in nearest or row.least < nearest[row.pair].least:
            nearest[row.pair] = row
    return tuple(checks), tuple(nearest.values())


def _nearest(design: Design, course: Course, meshed: Meshed) -> tuple[Clearance, float]:
    """The pair that comes nearest on a course, told at the first leaf's angle, and when."""
    both = [_bodies(design, course, number, meshed) for number in (0, 1)]
    pairs = [(a.name, b.name) for a in both[0] for b in both[1]]
    rows = sweep([*both[0], *both[1]], _times(design, course), pairs)
    worst = min(rows, key=lambda row: (row.least, -row.overlap))
    at_angle = course.angle(design.leaves, 0, worst.at_angle)
    return replace(worst, at_angle=at_angle), worst.at_angle


def _times(design: Design, course: Course) -> list[float]:
    """Times so near to each other that no leaf turns more than about a step between them."""
    end = course.ends(design.leaves)
    turning = max(abs(leaf.mount.curve[-1].angle) / leaf.mount.swing_time for leaf in design.leaves)
    return [float(t) for t in np.linspace(0.0, end, ceil(end * turning / STEP) + 1)]


def _bodies(design: Design, course: Course, number: int, meshed: Meshed) -> list[Moving]:
    """What rides on one leaf, on its course; named as in the assembly."""
    leaf, hung = design.leaves[number], design.site.leaves[number]

    def angle(time: float) -> float:
        return course.angle(design.leaves, number, time)

    riding = [p for p in leaf.placed if p.rides == "leaf"]
    whole = [envelope(hung) if p.name == "leaf" else p for p in riding]
    return [
        replace(moving(leaf, p, meshed, angle), name=f"{leaf.name} {p.name}".strip()) for p in whole
    ]


def _check(design: Design, course: Course, row: Clearance, time: float) -> Check:
    angles = [abs(course.angle(design.leaves, number, time)) for number in (0, 1)]
    where = " and ".join(
        f"the {leaf.name} leaf {angle:.0f} degrees open"
        for leaf, angle in zip(design.leaves, angles, strict=True)
    )
    words = f"{row.pair[0]} to {row.pair[1]}, nearest with {where}{row.sharing}"
    return Check(
        id=f"clearance: two leaves, {course.name}",
        what=f"{course.name}: {words}",
        value=row.distance,
        limit=RUNNING,
        unit="mm",
        source=f"{HOUSE}: room for what moves",
        at_least=True,
    )
