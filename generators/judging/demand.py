"""What each fastener of a seat must hold, from the force at the pin: tension, along u, along v.

A pair of angles is two seats that each take half of the level force at their own ear; the weight
rests on one of them. A channel is one seat. The pull is shared by columns first, and within a
column by the two rows nearest the ear: the plate is too limber to bring it further (house).
Frame: the seat frame. Units: N, mm. Arrays: one row a load case, one column a fastener.
"""

from dataclasses import dataclass

import numpy as np

from hangpost.generators.judging.group import Group, lifted
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.parts.channel import Channel
from hangpost.parts.flat import Hole
from hangpost.parts.post_bracket import PostAngle

# Thicknesses of plate from the seat's edge to the middle of what presses there; house
ON_WOOD, ON_STEEL = 2.0, 1.0
PULLED_ROWS = 2  # rows that take part in a pull; house


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """Forces on the fasteners of one seat, and what presses on the host at its edge."""

    holes: tuple[Hole, ...]
    tension: Floats
    along_u: Floats
    along_v: Floats
    columns: Floats  # pull in each column, all its rows together and before prying
    contact: Floats  # (n,)
    contact_length: float  # of the edge that presses, along v
    contact_width: float
    group: Group

    @property
    def lateral(self) -> Floats:
        """Resultant in the plane of the seat."""
        return np.hypot(self.along_u, self.along_v)


def on_angle(
    angle: PostAngle,
    loads: PinLoads,
    contact_at: float = ON_WOOD,
    pin: tuple[float, float] | None = None,
) -> Demand:
    """One of two angles; both look alike from their own ear outwards, so one stands for both.

    `pin` is where the actuator's pin is (u, reach) when an extension carries it past the ears.
    """
    t = angle.plate_thickness
    pin_u, reach = pin or (angle.pin_u, angle.reach)
    level = angle.gap / 2 + t / 2  # of the ear's middle
    fu, fv, fw = loads.force[:, 0] / 2, np.abs(loads.force[:, 1]), loads.force[:, 2] / 2
    inset = contact_at * t
    edges = (angle.seat[0] + inset, angle.seat[1] - inset)
    columns, contact = lifted(angle.columns, fw, fw * pin_u - fu * reach, edges)
    rows = angle.rows[:PULLED_ROWS]
    far = (rows[-1] + angle.rows[PULLED_ROWS]) / 2 if len(angle.rows) > PULLED_ROWS else angle.top
    tipping = -fv * reach / len(angle.columns)
    tension = np.zeros((len(fu), len(angle.rows), len(angle.columns)))
    for j in range(len(angle.columns)):
        pull = columns[:, j]
        taken, _ = lifted(rows, pull, pull * level + tipping, (angle.bend_line, far - inset / 2))
        tension[:, : len(rows), j] = taken
    holes = tuple(angle.drawn().holes) if angle.place == "upper" else ()
    group = _group(holes)
    along_u, along_v = group.in_plane(fu, fv, (pin_u, level))
    return Demand(
        holes=holes,
        tension=tension.reshape(len(fu), -1),
        along_u=along_u,
        along_v=along_v,
        columns=columns,
        contact=contact,
        contact_length=angle.rows[min(1, len(angle.rows) - 1)] - angle.bend_line + inset,
        contact_width=2 * inset,
        group=group,
    )


def on_channel(
    channel: Channel,
    loads: PinLoads,
    contact_at: float = ON_STEEL,
    ends: tuple[float, float] | None = None,
) -> Demand:
    """The one seat of a channel; `ends` are those of what it lies on, where that is shorter."""
    fu, fv, fw = loads.force.T
    inset = contact_at * channel.plate_thickness
    left, right = ends or channel.ends
    holes = tuple(channel.drawn().holes)
    across = sorted({hole.u for hole in holes})
    first = fw * channel.pin_u - fu * channel.reach
    columns, contact = lifted(across, fw, first, (left + inset, right - inset))
    half = channel.half_height
    tipping = np.abs(fv) * channel.reach / len(across)
    tension = np.zeros((len(fu), len(channel.rows), len(across)))
    for j in range(len(across)):
        pull = columns[:, j]
        middle = float(np.mean(channel.rows))
        taken, _ = lifted(channel.rows, pull, pull * middle + tipping, (-half, half))
        tension[:, :, j] = taken
    group = _group(holes)
    along_u, along_v = group.in_plane(fu, fv, (channel.pin_u, 0.0))
    return Demand(
        holes=holes,
        tension=tension.reshape(len(fu), -1),
        along_u=along_u,
        along_v=along_v,
        columns=columns,
        contact=contact,
        contact_length=2 * half,
        contact_width=2 * inset,
        group=group,
    )


def _group(holes: tuple[Hole, ...]) -> Group:
    return Group(
        points=tuple((hole.u, hole.v) for hole in holes),
        slides=tuple(hole.slot_length > 0 and hole.slot_angle == 0 for hole in holes),
    )
