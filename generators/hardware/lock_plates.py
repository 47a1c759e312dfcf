"""Receiver and crossing plate of a lock, as its host lets them be.

The receiver's slots stand upright and follow the leaf as it sags, the crossing plate's lie level
and follow the gate sideways; each of them is covered whole by a plate washer, and once all is set
a spring pin through washer and plate keeps it there. What packs the two
off the post makes up for a gap that the bolt would not bridge. Seat frame: the face that looks at
the leaf, datum at the bolt's middle while the leaf is new. Units: mm.
"""

from dataclasses import replace
from math import ceil, copysign, isfinite

from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.lock_gap import CLEARANCE, PAD, keeper, packing_of, pad_for
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.lock_placing import Locked, LockPlacing, half_block
from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.display import both, marks_beyond
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.generators.survey.units import Units
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.fastening import head_size
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


def plates_on(host: Host, shop: Shop, lock: Lock, gap: float, face: float) -> Locked:
    """Receiver, crossing plate, packing, fasteners, sheet and notes on one host.

    `face` is u of the leaf's face that comes to the stop.
    """
    plate = keeper(host, shop, lock, gap, face)
    pad = pad_for(plate, shop, lock, face)
    pad = pad if isfinite(pad) else PAD  # a check says what is too near
    packing = packing_of(host, gap, float(lock.throw), float(plate.thickness))
    upright, level = washers = _slot_washers(shop, lock, float(plate.thickness))
    receiver = _receiver(lock, plate, upright, face + copysign(pad, face), gap - packing)
    return LockPlacing(
        host=host,
        shop=shop,
        lock=lock,
        gap=gap,
        receiver=receiver,
        crossing=_crossing(host, shop, lock, receiver, level),
        washers=washers,
        packing=packing,
        pad=pad,
    ).locked()


def _slot_washers(shop: Shop, lock: Lock, under: float) -> tuple[PlateWasher, PlateWasher]:
    """The washers over the upright and over the level slots, on plates `under` thick."""
    bolt_size = shop.fasteners.bolts[0]
    hole = shop.bolt_hole(bolt_size)
    upright, level = (
        PlateWasher(
            id=f"{way}-slot-washer",
            plate_thickness=float(shop.plates[0].thickness),
            hole=hole,
            slot=SlotSpec(diameter=hole, travel=travel, land=0.0),
            pin=spring_pin(shop).diameter,
            web=under,
            head=head_size(bolt_size).washer_diameter / 2,
        )
        for way, travel in (("upright", max(2 * ceil(float(lock.sag)), LEAST)), ("level", SIDEWAYS))
    )
    return upright, level


def _room(lock: Lock) -> float:
    """Width of the opening that the lock's bolt goes through."""
    return float(lock.bolt_diameter) + 2 * CLEARANCE


def _receiver(
    lock: Lock, plate: Plate, upright: PlateWasher, stop: float, gap: float
) -> LockReceiver:
    """The plate that the bolt goes into; `gap` is left in front of the packing."""
    high = replace(upright.slot, land=upright.half_width)
    room, sag = _room(lock), float(lock.sag)
    at = sag + room / 2 + PITCH * room + high.travel / 2 + upright.hole / 2
    at = float(ceil(max(at, sag + room / 2 + high.travel / 2 + upright.half_length)))
    free = max(room / 2 + EDGE * room, upright.half_width) + 1.0
    # Where the stop is near the bolt its washers stand beside it.
    beside = max(0.0, upright.half_width + 0.5 - (abs(stop) - float(plate.radius)))
    aside = 0.0 - copysign(beside, stop)
    return LockReceiver(
        id="lock-receiver",
        plate_thickness=float(plate.thickness),
        bolt=float(lock.bolt_diameter),
        clearance=CLEARANCE,
        sag=sag,
        bevel=BEVEL,
        sides=(min(aside, 0.0) - free, max(aside, 0.0) + free),
        half_height=at + high.travel / 2 + upright.far_length,
        bolts=((aside, -at), (aside, at)),
        slot=high,
        stop_u=stop,
        stop_height=gap - float(plate.thickness) + LAP,
        bend_radius=float(plate.radius),
        k_factor=plate.k_factor,
        fixed_to="join",
    )


def _crossing(
    host: Host, shop: Shop, lock: Lock, receiver: LockReceiver, level: PlateWasher
) -> CrossingPlate:
    """The plate under the receiver, whose level slots are fixed to the host."""
    flat = replace(level.slot, land=level.half_width)
    fixed = float(ceil(receiver.half_height + receiver.slot.travel / 2 + level.half_width + 2.0))
    half = half_block(level, level.hole)
    anchors = _anchors(host, fixed, half, float(lock.bolt_height), shop.drawings.units)
    wide = max((_room(lock) + SIDEWAYS) * (0.5 + EDGE), SIDEWAYS / 2 + level.far_length) + 1.0
    bolt = shank(shop.fasteners.bolts[0])
    column = _column(host, bolt)
    return CrossingPlate.under(
        receiver,
        id="crossing-plate",
        plate_thickness=receiver.plate_thickness,
        sides=(min(column, 0.0) - wide, max(column, 0.0) + wide),
        half_height=max(anchors) + level.half_width + 2.0,
        bolts=((column, -anchors[0]), (column, anchors[1])),
        slot=flat,
        receiver_hole=round(TAP * bolt, 1),
    )


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
