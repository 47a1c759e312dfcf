"""How long the slots of a bracket are, and what covers them.

A slot is as long as the errors of tape, template, drill and brake ask for (99 of 100 gates), so
far as a standard long slot goes and the seat has room. The fastener's own washer covers a short
one; over a longer one lies a plate washer, and the seat grows until it carries that washer at
both ends of the travel. Units: mm.
"""

from dataclasses import dataclass
from math import ceil, floor, inf
from typing import Final

from hangpost.generators.hardware.picks import Picks
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.strength.bolts import long_slot_length
from hangpost.generators.survey.shop import Shop
from hangpost.parts.fastening import Fastener
from hangpost.parts.plate_washer import LAP, PlateWasher
from hangpost.parts.post_bracket import SlotSpec

USUAL: Final = 12.0  # house: where nobody has said how sure the survey is, own washers permitting
WASHER: Final = 4.5  # house: thinnest plate washer; a thinner one dishes into the slot
BESIDE: Final = 1.0  # house: between a plate washer and whatever lies beside it


@dataclass(frozen=True, slots=True, kw_only=True)
class Slotted:
    """The openings of a seat for its fasteners, and the plate washer over each slot if any."""

    slot: SlotSpec
    washer: PlateWasher | None = None

    @property
    def stack(self) -> float:
        """What lies between the seat and the fastener's own washer."""
        return self.washer.plate_thickness if self.washer else 0.0


def needed(mount: Mount, picks: Picks, end: str) -> float | None:
    """Travel to give at the post or the leaf; None when nobody has said how sure the survey is."""
    if mount.sure is None:
        return None
    share = picks.post_slots if end == "post" else picks.leaf_slots
    return share * mount.sure.travel(end)


def round_holes(fastener: Fastener, shop: Shop, thickness: float) -> SlotSpec:
    """Openings that do not let the bracket move."""
    return SlotSpec(
        diameter=shop.bolt_hole(fastener.size), travel=0.0, land=_land(fastener, shop, thickness)
    )


def slotted(
    end: str,
    fastener: Fastener,
    shop: Shop,
    thickness: float,
    travel: float | None,
    *,
    room: float = inf,
    apart: float = inf,
) -> Slotted:
    """Slots of this travel at the post or the leaf, or of as much as there is place for.

    `room` is from the middle of a slot to the edge of what the seat lies on, `apart` to the next
    slot of the same row; both along the slot.
    """
    opening = round_holes(fastener, shop, thickness)
    hole = opening.diameter
    own = max(0.0, round((fastener.head.washer_diameter - hole) / 2 - 0.25, 1))
    if travel is None:
        return Slotted(slot=_with(opening, min(USUAL, own)))
    longest = long_slot_length(fastener.diameter) - hole
    wanted = min(ceil(2 * travel) / 2, floor(10 * longest) / 10)
    if wanted <= own:
        return Slotted(slot=_with(opening, wanted))
    fits = min((room - hole / 2 - LAP) / 1.5, (apart - BESIDE) / 2 - hole / 2 - LAP)
    given = min(wanted, floor(10 * fits) / 10) if fits < inf else wanted
    if given <= own:
        return Slotted(slot=_with(opening, own))
    long = _with(opening, given)
    washer = PlateWasher(
        id=f"{end}-slot-washer",
        plate_thickness=float(shop.plate_near(WASHER).thickness),
        hole=hole,
        slot=SlotSpec(diameter=hole, travel=given, land=0.0),
    )
    slot = SlotSpec(
        diameter=hole,
        travel=given,
        land=max(long.land, washer.half_width),
        cover=washer.half_length,
    )
    return Slotted(slot=slot, washer=washer)


def _with(opening: SlotSpec, travel: float) -> SlotSpec:
    return SlotSpec(diameter=opening.diameter, travel=travel, land=opening.land)


def _land(fastener: Fastener, shop: Shop, thickness: float) -> float:
    return max(
        fastener.head.washer_diameter / 2 + 1.0,
        1.5 * fastener.diameter,
        shop.bolt_hole(fastener.size) / 2 + shop.cutting.edge_factor * thickness,
    )
