"""The lock's other half: receiver and crossing plate on the latch post or on the second leaf.

The receiver's slots stand upright and follow the leaf as it sags, the crossing plate's lie level
and follow the gate sideways; each of them is covered whole by a plate washer, and once all is set
a spring pin through washer and plate keeps it there. What packs the two
off the post makes up for a gap that the bolt would not bridge. Seat frame: the face that looks at
the leaf, datum at the bolt's middle while the leaf is new. Units: mm.
"""

from dataclasses import replace
from math import ceil, copysign, isfinite

from hangpost.generators.hardware.design import (
    Placed,
)
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.lock_gap import CLEARANCE, PAD, keeper, packing_of, pad_for
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.lock_placing import (
    Locked,
    LockPlacing,
    half_block,
)
from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.hardware.tube import post_tube, stile_tube
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.display import both, marks_beyond
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.survey.units import Units
from hangpost.parts.bodies import Bar, Block, Body
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.fastening import head_size
from hangpost.parts.frame import Frame
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import SlotSpec
from hangpost.parts.spacing import EDGE, PITCH
from hangpost.parts.tables import shank

BEVEL = 2.0  # house: of the opening's rim
SIDEWAYS = 12.0  # house: travel of the crossing plate's level slots
LEAST = 8  # house: least travel of the receiver's upright slots
LAP = 20.0  # house: how far the stop stands past the leaf's edge
FAR = 1000  # marks of a tape to either side at which the lock is tried; house
TAP = 0.85  # drill to tap over diameter, coarse threads: within 3 % of the listed drills
# House: diameters from a post's edge to an anchor, the tube's round corner in it.
EDGE_OF = {"timber": 4.0, "square_steel": 2.5}
BESIDE = 30.0  # house: how far the anchors may stand beside the lock's bolt
UP = (0.0, 0.0, 1.0)


def on_latch_post(site: Site, shop: Shop, hung: HungLeaf) -> Locked | None:
    """Receiver on the latch post of a single gate, where the post was measured to stand."""
    lock = site.lock
    if lock is None or lock.post is None or lock.gap is None:
        return None
    post, bolt_y = lock.post, _bolt_y(lock, hung)
    x = float(hung.leaf.width + lock.gap)
    host = Host(
        name="latch post",
        kind=post.kind,
        seat=Frame((x, bolt_y, float(lock.bolt_height)), (0.0, -1.0, 0.0), UP),
        depth=float(post.width),
        wide=float(post.depth),
        outside=float(post.width) if post.is_round else None,
        rides="ground",
        species=post.species,
        tube=None if post.kind == "timber" else post_tube(post),
        middle=_middle(hung, lock, float(post.depth)),
        measured=lock.post_proud is not None,
    )
    made = _receiver(host, shop, lock, float(lock.gap), _stopped(hung, lock))
    body = _post_body(hung, host, float(post.wall_thickness))
    return replace(made, kit=replace(made.kit, placed=(body, *made.kit.placed)))


def on_second_leaf(site: Site, shop: Shop) -> Locked | None:
    """Receiver on the stile of the second leaf, in that leaf's own right-hand frame."""
    lock = site.lock
    if lock is None or not site.is_double:
        return None
    first, second = site.leaves
    leaf = second.leaf
    round_ = leaf.frame == "round_tube"
    kinds = {"timber": "timber", "round_tube": "round_steel", "square_tube": "square_steel"}
    bolt_y = _bolt_y(lock, first)
    host = Host(
        name="second leaf",
        kind=kinds[leaf.frame],
        seat=Frame((float(leaf.width), bolt_y, float(lock.bolt_height)), (0.0, 1.0, 0.0), UP),
        depth=float(leaf.rail_height),
        wide=float(leaf.rail_depth),
        outside=float(leaf.rail_depth) if round_ else None,
        rides="leaf",
        species=leaf.species,
        tube=None if leaf.frame == "timber" else stile_tube(leaf),
        rails=tuple(float(rail - lock.bolt_height) for rail in leaf.rails),
        rail=float(leaf.rail_height) / 2,
        ends=(float(leaf.bottom - lock.bolt_height), float(leaf.top - lock.bolt_height)),
        middle=float(leaf.axis_offset) - bolt_y,
    )
    if abs(host.middle) > host.wide / 4:
        raise NoHardware(
            f"the lock's bolt stands {abs(host.middle):.0f} mm beside the middle of the second "
            "leaf's stile, which has to carry the receiver: lock.bolt_to_leaf_face nearer to its "
            "middle"
        )
    return _receiver(host, shop, lock, float(site.meeting.gap), -_stopped(first, lock))


def _bolt_y(lock: Lock, hung: HungLeaf) -> float:
    return float(hung.leaf.actuator_face - lock.bolt_to_leaf_face)


def _middle(hung: HungLeaf, lock: Lock, wide: float) -> float:
    """U of a latch post's middle: 0 at the bolt unless the post was measured."""
    if lock.post_proud is None:
        return 0.0
    middle_y = float(hung.leaf.actuator_face + lock.post_proud) - wide / 2
    return _bolt_y(lock, hung) - middle_y


def _column(host: Host, bolt: float) -> float:
    """U of the anchors: at the lock's bolt, or as far aside as post and edges ask for."""
    column = host.middle
    if host.outside is None:
        low, high = host.edges
        edge = EDGE_OF[host.kind] * bolt
        if low + edge <= high - edge:
            column = min(max(0.0, low + edge), high - edge)
    most = BESIDE if host.outside is None else host.outside / 4
    if abs(column) > most:
        raise NoHardware(
            f"the latch post's middle stands {abs(host.middle):.0f} mm beside the lock's bolt, and "
            f"the receiver's anchors would stand {abs(column):.0f} mm beside it, where "
            f"{most:.0f} mm are allowed (lock.post_proud, lock.bolt_to_leaf_face, lock.post)"
        )
    return column


def _stopped(hung: HungLeaf, lock: Lock) -> float:
    """U of the face of the leaf that a stop on a latch post is behind: the one that comes last."""
    to_face = float(lock.bolt_to_leaf_face)
    if hung.pulls:
        return float(hung.leaf.thickness) - to_face
    return -to_face


def _post_body(hung: HungLeaf, host: Host, wall: float) -> Placed:
    x, bolt_y, _ = host.seat.origin
    y = bolt_y - host.middle
    top = float(hung.post.height or hung.leaf.top)
    if host.outside is not None:
        r = host.outside / 2
        bar = Bar((x + r, y, 0.0), UP, r, top, r - wall if wall else 0.0)
        body = Body("latch post", (bar,))
    else:
        half = host.wide / 2
        block = Block((x, y - half, 0.0), (x + host.depth, y + half, top), wall)
        body = Body("latch post", (block,))
    return Placed(name="latch post", item=body, frame=Frame(), rides="ground")


def _receiver(host: Host, shop: Shop, lock: Lock, gap: float, face: float) -> Locked:
    """Receiver, crossing plate, packing, fasteners, sheet and notes on one host.

    `face` is u of the leaf's face that comes to the stop.
    """
    plate = keeper(host, shop, lock, gap, face)
    pad = pad_for(plate, shop, lock, face)
    pad = pad if isfinite(pad) else PAD  # a check says what is too near
    stop = face + copysign(pad, face)
    t, bolt_size = float(plate.thickness), shop.fasteners.bolts[0]
    packing = packing_of(host, gap, float(lock.throw), t)
    behind = packing + t
    tapped = round(TAP * shank(bolt_size), 1)
    hole, washer_plate = shop.bolt_hole(bolt_size), float(shop.plates[0].thickness)
    upright, level = (
        PlateWasher(
            id=f"{way}-slot-washer",
            plate_thickness=washer_plate,
            hole=hole,
            slot=SlotSpec(diameter=hole, travel=travel, land=0.0),
            pin=spring_pin(shop).diameter,
            web=t,
            head=head_size(bolt_size).washer_diameter / 2,
        )
        for way, travel in (("upright", max(2 * ceil(float(lock.sag)), LEAST)), ("level", SIDEWAYS))
    )
    high = replace(upright.slot, land=upright.half_width)
    room = float(lock.bolt_diameter) + 2 * CLEARANCE
    sag = float(lock.sag)
    at = sag + room / 2 + PITCH * room + high.travel / 2 + hole / 2
    at = float(ceil(max(at, sag + room / 2 + high.travel / 2 + upright.half_length)))
    free = max(room / 2 + EDGE * room, upright.half_width) + 1.0
    aside = max(0.0, upright.half_width + 0.5 - (abs(stop) - float(plate.radius)))
    aside = 0.0 - copysign(
        aside, stop
    )  # where the stop is near the bolt its washers stand beside it
    receiver = LockReceiver(
        id="lock-receiver",
        plate_thickness=t,
        bolt=float(lock.bolt_diameter),
        clearance=CLEARANCE,
        sag=sag,
        bevel=BEVEL,
        sides=(min(aside, 0.0) - free, max(aside, 0.0) + free),
        half_height=at + high.travel / 2 + upright.far_length,
        bolts=((aside, -at), (aside, at)),
        slot=high,
        stop_u=stop,
        stop_height=gap - behind + LAP,
        bend_radius=float(plate.radius),
        k_factor=plate.k_factor,
        fixed_to="join",
    )
    flat = replace(level.slot, land=level.half_width)
    fixed = float(ceil(receiver.half_height + high.travel / 2 + level.half_width + 2.0))
    half = half_block(level, hole)
    anchors = _anchors(host, fixed, half, float(lock.bolt_height), shop.drawings.units)
    wide = max((room + SIDEWAYS) * (0.5 + EDGE), SIDEWAYS / 2 + level.far_length) + 1.0
    column = _column(host, shank(bolt_size))
    crossing = CrossingPlate.under(
        receiver,
        id="crossing-plate",
        plate_thickness=t,
        sides=(min(column, 0.0) - wide, max(column, 0.0) + wide),
        half_height=max(anchors) + level.half_width + 2.0,
        bolts=((column, -anchors[0]), (column, anchors[1])),
        slot=flat,
        receiver_hole=tapped,
    )
    return LockPlacing(
        host=host,
        shop=shop,
        lock=lock,
        gap=gap,
        receiver=receiver,
        crossing=crossing,
        washers=(upright, level),
        packing=packing,
        pad=pad,
    ).locked()


def _anchors(
    host: Host, least: float, half: float, height: float, units: Units
) -> tuple[float, float]:
    """How far below and above the bolt the anchors stand, clear of rails; NoHardware without.

    `height` is the bolt's: where there is no place, the nearest others that have one are told.
    """
    found = _past_rails(host, least, half)
    if found is None:
        ways = (marks_beyond(height, units, FAR, way) for way in (-1, 1))
        free = (
            next((z for z in way if _past_rails(host.raised(z - height), least, half)), None)
            for way in ways
        )
        said = " or ".join(both(z, units) for z in free if z is not None)
        raise NoHardware(
            f"the lock receiver finds no place on the {host.name} clear of its rails: "
            + (f"lock.bolt_height {said} would do" if said else "no height of the lock would do")
        )
    return found


def _past_rails(host: Host, least: float, half: float) -> tuple[float, float] | None:
    """Distances from the bolt, down and up, at which nothing stands behind an anchor."""
    found = []
    for way, end in zip((-1.0, 1.0), host.ends, strict=True):
        at = least
        while any(abs(way * at - rail) < host.rail + half for rail in host.rails):
            at += 1.0
        if not at + half <= way * end:
            return None
        found.append(at)
    low, high = found
    return low, high
