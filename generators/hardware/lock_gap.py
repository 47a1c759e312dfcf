"""What the gap at the latch has room for: the plates of the receiver, and what packs them out.

Units: mm, from the host towards the leaf's edge.
"""

from math import ceil, inf

from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.lock_placing import SADDLE_LEAST
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.display import both, marks_beyond
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.parts.fastening import head_size
from hangpost.parts.lock_receiver import LEAD, RUN

CLEARANCE = 3.0  # house: room round the lock's bolt
PAD = 3.0  # house: rubber between the stop and the leaf
MOST_PAD = 10.0  # house: the thickest strip
PLATE = 6.0  # house: receiver and crossing plate
THINNEST_SPACER = 3.0  # house
MORE = 60  # marks of a tape by which a gap or a throw is tried longer; house


def keeper(host: Host, shop: Shop, lock: Lock, gap: float, stop: float) -> Plate:
    """The usual plate, or the thickest thinner one that takes less rubber on its stop.

    In front of the leaf's edge stand both plates, a plate washer and the heads of the receiver's
    bolts: NoHardware where no plate of the shop leaves the leaf room.
    """
    throw = float(lock.throw)
    stands = _stands(host, shop, gap, throw)
    passed = [plate for plate, stand in stands.items() if stand <= gap]
    if not passed:
        raise NoHardware(
            f"a gap of {gap:.0f} mm at the latch does not hold receiver and crossing plate: with "
            f"the heads of their bolts they stand {min(stands.values()) - RUN:.0f} mm off the "
            f"{host.name} and the leaf's edge keeps {RUN:g} mm (lock.gap, meeting.gap, lock.throw)"
            f"{_would_do(host, shop, gap, throw)}"
        )
    return min(
        passed,
        key=lambda plate: (pad_for(plate, shop, lock, stop), -plate.thickness),
    )


def _stands(host: Host, shop: Shop, gap: float, throw: float) -> dict[Plate, float]:
    """How much of the gap each plate takes that one would use, with the leaf's own room."""
    usual = shop.plate_near(PLATE)
    before = shop.plates[0].thickness + head_size(shop.fasteners.bolts[0]).head_height + RUN
    return {
        plate: packing_of(host, gap, throw, float(plate.thickness)) + 2 * plate.thickness + before
        for plate in shop.plates
        if plate.thickness <= usual.thickness
    }


def _would_do(host: Host, shop: Shop, gap: float, throw: float) -> str:
    """The least longer gap and the least longer throw that would hold them, tried; in words."""
    units = shop.drawings.units

    def fits(gap: float, throw: float) -> bool:
        return min(_stands(host, shop, gap, throw).values()) <= gap

    gaps, throws = (marks_beyond(value, units, MORE) for value in (gap, throw))
    ways = (
        ("a gap of", next((each for each in gaps if fits(each, throw)), None)),
        ("a bolt that throws", next((each for each in throws if fits(gap, each)), None)),
    )
    said = " or ".join(f"{what} {both(new, units)}" for what, new in ways if new is not None)
    return f"; what would do: {said}" if said else ""


def pad_for(plate: Plate, shop: Shop, lock: Lock, stop: float) -> float:
    """The rubber on the stop, as thick as the stop has to stand off to bend clear of the opening.

    `stop` is where it would be without any; inf where no strip that one would glue on is enough.
    """
    needed = float(lock.bolt_diameter) / 2 + CLEARANCE
    needed += plate.radius + shop.bending.hole_factor * plate.thickness
    pad = max(PAD, float(ceil(needed - abs(stop) - 1e-9)))
    return pad if pad <= MOST_PAD else inf


def packing_of(host: Host, gap: float, throw: float, t: float) -> float:
    """Between the host and the crossing plate, so that the bolt reaches through the receiver."""
    least = SADDLE_LEAST if host.outside is not None else 0.0
    needed = gap - throw + LEAD - t
    packing = max(least, THINNEST_SPACER if 0 < needed < THINNEST_SPACER else needed, 0.0)
    return ceil(2 * packing) / 2
