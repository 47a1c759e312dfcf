"""What a design is made from: the plate, the fasteners, how many rows. One record, one choice.

Sizes are the shop's own; the strength rules try one `Picks` after another, lightest first, and
`usual` is where they start and what stands when nothing else is asked. Units: mm.
"""

from dataclasses import dataclass, replace

from hangpost.generators.hardware.trade import up_to_mark
from hangpost.generators.strength import timber
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.parts.fastening import Fastener, FastenerKind

USUAL_PLATE = 6.0  # house: what brackets of this size are usually cut from
# Of a self-locking nut over diameter, 1.2 (ASME B18.16.6, ISO 7040; memory), and the threads that
# have to come out of its ring to be held by it.
NUT = 1.4
MIDDLING = 0.5  # house: density of a wood that the tables do not have, for its lead hole


@dataclass(frozen=True, slots=True, kw_only=True)
class Picks:
    """One combination of stock: what the post bracket and the leaf bracket are made with."""

    post_plate: Plate
    post_kind: FastenerKind
    post_size: str
    post_rows: int
    leaf_plate: Plate
    leaf_size: str
    leaf_neck: float = 4.0  # web between the reliefs beside its ears, in thicknesses of plate
    leaf_bolts: int = 1  # on either side of the ears; of two the inner one has no slot
    post_slots: float = 1.0  # share of the travel that the survey's errors ask for
    leaf_slots: float = 1.0

    def words(self) -> str:
        """The combination in one line."""
        rows = f"{self.post_rows} rows of {self.post_size} {self.post_kind}s in each angle"
        plate = f"{self.post_plate.thickness:.4g} mm plate on the post with {rows}"
        count = "two" if self.leaf_bolts == 2 else "one"
        leaf = f"{self.leaf_plate.thickness:.4g} mm plate on the leaf with {count} "
        leaf += f"{self.leaf_size} bolt{'s' if self.leaf_bolts > 1 else ''} on either side"
        return f"{plate}; {leaf}"


def usual(shop: Shop) -> Picks:
    """The combination to start from: the usual plate, middling fasteners, two rows."""
    plate, fasteners = shop.plate_near(USUAL_PLATE), shop.fasteners
    lags = fasteners.lags
    return Picks(
        post_plate=plate,
        post_kind="lag screw" if lags else "hex bolt",
        post_size=middle(lags or fasteners.bolts),
        post_rows=2,
        leaf_plate=plate,
        leaf_size=fasteners.bolts[0],
    )


def middle(sizes: tuple[str, ...]) -> str:
    """The middle one of several sizes, the larger of two."""
    return sizes[len(sizes) // 2]


def bolt_through(size: str, grip: float, shop: Shop) -> Fastener:
    """A bolt of the shop's with room for washer and nut behind `grip` mm of material."""
    bolt = Fastener(kind="hex bolt", size=size, length=grip)
    needed = grip + 2 * bolt.head.washer_thickness + NUT * bolt.diameter
    longer = [each for each in shop.fasteners.lengths("bolt", size) if each >= needed]
    return replace(bolt, length=longer[0] if longer else up_to_mark(needed, size))


def lag_into(size: str, room: float, shop: Shop) -> Fastener:
    """The longest lag screw of the shop's whose point stays inside `room` mm."""
    fitting = [each for each in shop.fasteners.lengths("lag", size) if each <= room]
    return Fastener(kind="lag screw", size=size, length=fitting[-1] if fitting else room)


def lead_hole(species: str, lag: Fastener) -> float:
    """Middle of the range for a lag's thread in this species, or in a middling wood."""
    gravity = timber.specific_gravity(species) if timber.is_listed(species) else MIDDLING
    return round(sum(timber.lead_hole(gravity, lag.diameter)) / 2, 1)
