"""The lobed channel that carries the leaf pivot, whatever it is fixed to.

What differs from leaf to leaf (how far off the axis its seat lies, which bolts in which rows,
whether and how far they slide) is a `Bed`. Frame of the seat: datum at the leaf pivot: u = -x,
v = z. Units: mm.
"""

from dataclasses import dataclass
from math import ceil

from hangpost.generators.hardware.design import Bought, Placed
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.pins import ear_tip, gap_for, pin, pin_list
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.display import both
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.bends import allowance
from hangpost.parts.channel import least_gap
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.post_bracket import SlotSpec


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """What the channel lies on and what holds it there."""

    seat_y: float
    bolt: Fastener
    rows: tuple[float, ...]  # v of the bolts
    slot: SlotSpec  # its travel is along the rail
    columns: int  # of bolts on either side of the ears
    apart: float = 0.0  # least distance of two columns that the host wants
    taken: tuple[tuple[float, float], ...] = ()  # from where to where along u no bolt stands

    def places(self, first: float, step: float, way: float) -> tuple[float, ...]:
        """How far off the ears' middle the bolts stand to one side: the nearest that are free."""
        found: list[float] = []
        for _ in range(self.columns):
            at = found[-1] + step if found else first
            met = True
            while met:  # past one thing that is in the way there may be the next
                ends = [b if way > 0 else -a for a, b in self.taken if a < way * at < b]
                at, met = max([at, *map(ceil, ends)]), bool(ends)
            found.append(float(at))
        return tuple(found)


def nearest_rail(hung: HungLeaf, mount: Mount) -> float:
    """Height of the rail whose centre line is nearest to the pins."""
    return float(min(hung.leaf.rails, key=lambda height: (abs(height - mount.height), height)))


def datum_words(line: str, off: float, mount: Mount, shop: Shop) -> str:
    """What the mark at (0, 0) of a leaf's sheet is; `off`: the rail's line above the pins."""
    units = shop.drawings.units
    where = f"{both(mount.leaf_pivot[0], units)} along the leaf from the hinge axis"
    if abs(off) < 0.05:
        return f"{line}, {where}"
    return f"{both(abs(off), units)} {'below' if off > 0 else 'above'} the {line}, {where}"


def seat_frame(mount: Mount, seat_y: float) -> Frame:
    """The seat of the leaf bracket, datum at the leaf pivot."""
    return Frame((mount.leaf_pivot[0], seat_y, mount.height), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def leaf_channel(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, bed: Bed
) -> LobedChannel:
    """The channel on this bed whose ears hold the leaf pivot."""
    plate, bolt, slot = picks.leaf_plate, bed.bolt, bed.slot
    thickness = float(plate.thickness)
    tip = ear_tip(problem, shop, hung.actuator.at_leaf.pin, thickness)
    beside = tip + thickness  # half the ears' root
    web = (1.0 + shop.cutting.edge_factor) * thickness
    if len(bed.rows) > 1:  # holes level with the bends, and not only between them
        bend = allowance(90.0, float(plate.radius), thickness, plate.k_factor)
        web = max(web, shop.bending.hole_factor * thickness + bend / 2)
    column = max(
        beside + bolt.socket_radius + shop.clearances.tool,
        beside + web + slot.diameter / 2 + slot.travel / 2,
        beside + slot.half,
    )
    first = float(round(column + 0.5))
    washer = bolt.head.washer_diameter
    beside_washer = max(washer + slot.travel / 2 + 2.0, slot.half + washer / 2 + 1.0)
    step = float(ceil(max(beside_washer, bed.apart)))
    right, left = bed.places(first, step, 1.0), bed.places(first, step, -1.0)
    return LobedChannel(
        id="leaf-bracket",
        plate_thickness=thickness,
        bend_radius=float(plate.radius),
        k_factor=plate.k_factor,
        gap=eye_gap(hung, shop, picks),
        pin=shop.pin_hole(hung.actuator.at_leaf.pin),
        reach=mount.leaf_pivot[1] - bed.seat_y,
        tip=tip,
        columns=right,
        left_columns=None if left == right else left,
        round_columns=bed.columns - 1,
        rows=bed.rows,
        slot=slot,
        corner=max(float(shop.cutting.corner_radius), thickness),
    )


def eye_gap(hung: HungLeaf, shop: Shop, picks: Picks) -> float:
    """Clear gap between the ears: the eye's, or what leaves the web its neck."""
    plate = picks.leaf_plate
    least = least_gap(picks.leaf_neck * plate.thickness, float(plate.radius))
    return float(max(gap_for(hung.actuator.at_leaf, shop), least))


def leaf_pin(
    hung: HungLeaf, shop: Shop, mount: Mount, channel: LobedChannel
) -> tuple[Placed, tuple[Bought, ...]]:
    """The pin through the channel's ears, and what to buy for it."""
    at = (*mount.leaf_pivot, mount.height)
    eye, gap, plate = hung.actuator.at_leaf, channel.gap, channel.plate_thickness
    placed = pin("leaf pin", eye, gap, plate, at, "leaf")
    return placed, pin_list(eye, gap, plate, shop)
