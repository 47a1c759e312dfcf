"""Leaf bracket between two rails: the lobed channel on a bar that is bolted to both.

No rail is near the height of the pins, so a bar carries the leaf pivot from the rail below it to
the one above. The bar is tied to the rails last, when the actuator is in its place, and its holes
in the rails are drilled then. Frame of the bar: datum at the leaf pivot, u = -x, v = z, on the
rails' faces. Units: mm.
"""

from dataclasses import dataclass

from hangpost.generators.hardware.design import Placed, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.leaf_channel import (
    Bed,
    datum_words,
    leaf_channel,
    leaf_pin,
    seat_frame,
)
from hangpost.generators.hardware.past_uprights import Uprights
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.slots import round_holes
from hangpost.generators.hardware.tightening import full_tension, through_tube, under_bar
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.hardware.u_bolted import UBolted, u_size
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import Hole
from hangpost.parts.frame import Frame
from hangpost.parts.loop import Point
from hangpost.parts.spacing import EDGE
from hangpost.parts.strongback import Strongback
from hangpost.parts.u_bolt import UBolt

LEAST = 9.525  # mm, the thinnest bar between two rails: 3/8 in; house


def bracket_on_strongback(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The bar with its fixings, the channel on it, sheet and list."""
    leaf = hung.leaf
    low, high = _members(hung, mount)
    face = float(leaf.axis_offset + leaf.rail_depth / 2)
    thickness, bar_thickness = float(picks.leaf_plate.thickness), bar_of(shop, picks)
    bolt = bolt_through(picks.leaf_size, bar_thickness + thickness, shop)
    bed = Bed(
        seat_y=face + bar_thickness,
        bolt=bolt,
        rows=(0.0,),
        slot=round_holes(bolt, shop, thickness),
        columns=1,
    )
    channel = leaf_channel(hung, shop, problem, mount, picks, bed)
    needed = 2 * (channel.columns[-1] + _rim(channel.slot.diameter, bar_thickness, shop))
    width = _width(needed, bar_thickness, shop)
    bar_seat, seat = seat_frame(mount, face), seat_frame(mount, bed.seat_y)
    held = _Held(hung=hung, shop=shop, picks=picks, mount=mount, width=width, seat=bar_seat)
    if held.is_round:
        across = [u for u, _ in held.points(0.0)]
        Uprights.of(leaf, mount).refuse("bar between two rails", across, held.u_bolt.diameter / 2)
    bar = Strongback(
        id="strongback",
        bar_thickness=bar_thickness,
        width=width,
        span=(low - mount.height - held.past, high - mount.height + held.past),
        members=(low - mount.height, high - mount.height),
        fixings=tuple(p for rail in (low, high) for p in held.points(rail - mount.height)),
        fixing_hole=shop.bolt_hole(held.size),
        bracket=tuple((h.u, h.v) for h in channel.drawn().holes),
        bracket_hole=shop.bolt_hole(bolt.size),
    )
    fixing = Fixing(
        name="leaf",
        fastener=bolt,
        holes=[(hole.name, hole) for hole in channel.drawn().holes],
        plate=thickness,
        seat=seat,
        rides="leaf",
        tension=full_tension(shop, bolt.size),
    )
    rails = held.kit(bar, (low, high))
    pinned, pin_bought = leaf_pin(hung, shop, mount, channel)
    return Kit(
        placed=(
            Placed(name=bar.id, item=bar, frame=bar_seat, rides="leaf"),
            Placed(name=channel.id, item=channel, frame=seat, rides="leaf"),
            fixing.body(),
            *rails.placed,
            pinned,
        ),
        tools=(*fixing.sockets(shop, channel.reach), *rails.tools),
        templates=_templates(hung, shop, bar, held, mount, (low, high)),
        bought=(*fixing.bought(shop), *rails.bought, *pin_bought),
        fixings=(fixing, *rails.fixings),
        reasons=(
            f"No rail is near the pins' height of {mount.height:.0f} mm: a bar {width:.0f} x "
            f"{bar_thickness:.4g} mm between the rails at {low:.0f} and {high:.0f} mm carries the "
            "leaf bracket. Tie it to the rails last."
            + (" Then drill its locking bolts into both rails." if held.is_round else ""),
        ),
    )


def bar_of(shop: Shop, picks: Picks) -> float:
    """Thickness of the bar: stock, no thinner than the bracket's plate or what is usual."""
    return float(shop.plate_near(max(LEAST, float(picks.leaf_plate.thickness))).thickness)


def _members(hung: HungLeaf, mount: Mount) -> tuple[float, float]:
    """Heights of the rails below and above the pins."""
    below = [float(rail) for rail in hung.leaf.rails if rail < mount.height]
    above = [float(rail) for rail in hung.leaf.rails if rail > mount.height]
    if not below or not above:
        which = "below" if not below else "above"
        raise NoHardware(
            f"the pins are to be {mount.height:.0f} mm above ground and there is no rail {which} "
            "them to carry a strongback: move actuator.height between two rails or to a rail"
        )
    return max(below), min(above)


def _rim(hole: float, thickness: float, shop: Shop) -> float:
    """From a hole's middle to the edge of the bar: so that it neither tears nor cuts badly."""
    return max((0.5 + EDGE) * hole + 2.0, hole / 2 + shop.cutting.edge_factor * thickness + 0.5)


def _width(needed: float, thickness: float, shop: Shop) -> float:
    """The narrowest flat bar of this thickness that is wide enough, or what plate is cut to."""
    fit = [
        float(b.width)
        for b in shop.flat_bar
        if b.width >= needed and abs(b.thickness - thickness) < 0.05
    ]
    return min(fit, default=float(round(needed + 0.5)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Held:
    """How the bar is held to its rails: bolts through flat ones, U-bolts round round ones."""

    hung: HungLeaf
    shop: Shop
    picks: Picks
    mount: Mount
    width: float
    seat: Frame

    @property
    def bar_thickness(self) -> float:
        return bar_of(self.shop, self.picks)

    @property
    def is_round(self) -> bool:
        return self.hung.leaf.frame == "round_tube"

    @property
    def size(self) -> str:
        size = self.picks.leaf_size
        return u_size(size, self.shop) if self.is_round else size

    @property
    def u_bolt(self) -> UBolt:
        return UBolt(size=self.size, outside=float(self.hung.leaf.rail_depth))

    @property
    def past(self) -> float:
        """How far the bar goes past the rails' centre lines."""
        half = float(self.hung.leaf.rail_height) / 2
        hole = self.shop.bolt_hole(self.size)
        legs = self.u_bolt.pitch / 2 if self.is_round else 0.0
        return max(half, legs + _rim(hole, self.bar_thickness, self.shop))

    def points(self, rail: float) -> tuple[Point, ...]:
        """The bolts at a rail whose centre line is at v = `rail`."""
        side = self.width / 2 - _rim(self.shop.bolt_hole(self.size), self.bar_thickness, self.shop)
        if not self.is_round:
            return ((-side, rail), (side, rail))
        half = self.u_bolt.pitch / 2  # legs at both sides, a locking bolt in the middle
        legs = tuple((u, v) for v in (rail - half, rail + half) for u in (-side, side))
        return (*legs, (0.0, rail))

    def marks(self, bar: Strongback) -> list[tuple[str, Hole]]:
        """The holes of the bar that lie at a rail, each with its mark."""
        return [(f"R{h.name}", h) for h in bar.holes if h.use == "leaf"]

    def fixing(self, bar: Strongback) -> Fixing:
        """The bolts through both rails."""
        grip = self.bar_thickness + float(self.hung.leaf.rail_depth)
        bolt, leaf = bolt_through(self.size, grip, self.shop), self.hung.leaf
        steel, washer = leaf.frame != "timber", bolt.head.washer_diameter
        return Fixing(
            name="strongback",
            fastener=bolt,
            holes=self.marks(bar),
            plate=self.bar_thickness,
            seat=self.seat,
            rides="leaf",
            host="steel" if steel else "timber",
            tension=through_tube(self.shop, self.size, rail_tube(leaf), washer) if steel else 0.0,
        )

    def kit(self, bar: Strongback, rails: tuple[float, float]) -> Kit:
        """What holds the bar: bodies, sockets, list."""
        past = 40.0
        if not self.is_round:
            fixing = self.fixing(bar)
            return Kit(
                placed=(fixing.body(),),
                tools=fixing.sockets(self.shop, past),
                bought=fixing.bought(self.shop),
                fixings=(fixing,),
            )
        bents = self.bents(bar, rails)
        return Kit(
            placed=tuple(each for bent in bents for each in bent.placed()),
            tools=tuple(each for bent in bents for each in bent.sockets(self.shop, past)),
            bought=tuple(each for bent in bents for each in bent.bought(self.shop)),
            fixings=tuple(each for bent in bents for each in bent.fixings),
        )

    def bents(self, bar: Strongback, rails: tuple[float, float]) -> tuple[UBolted, ...]:
        """The U-bolts round the lower and the upper rail, and the bolts that lock them."""
        found = []
        for word, rail in zip(("lower", "upper"), rails, strict=True):
            v = rail - self.mount.height
            at = [m for m in self.marks(bar) if abs(m[1].v - v) < 80.0]
            found.append(self._bent(word, rail, at, v))
        return tuple(found)

    def _bent(self, word: str, rail: float, at: list[tuple[str, Hole]], v: float) -> UBolted:
        x, y, _ = self.seat.origin
        leaf, bolt = self.hung.leaf, self.u_bolt
        legs = [m for m in at if abs(m[1].v - v) > 1.0]
        across = sorted({-h.u for _, h in legs})  # U-bolts, which share the bar's width
        stood = under_bar(rail_tube(leaf), self.width / len(across)) / 2 / float(self.shop.reserve)
        return UBolted(
            name=f"strongback {word}",
            bolt=bolt,
            at=across,
            legs=legs,
            locks=[m for m in at if abs(m[1].v - v) <= 1.0],
            tube=Frame((x, y, rail), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
            seat=self.seat,
            under=0.0,
            plate=self.bar_thickness,
            wall=float(leaf.rail_wall or 0.0),
            rides="leaf",
            tension=min(full_tension(self.shop, self.size), stood),
        )


def _templates(
    hung: HungLeaf,
    shop: Shop,
    bar: Strongback,
    held: _Held,
    mount: Mount,
    rails: tuple[float, float],
) -> tuple[Template, ...]:
    """The sheet for both rails; round ones get the holes of the locking bolts only."""
    if held.is_round:
        holes = tuple(hole for bent in held.bents(bar, rails) for hole in bent.drillings())
    else:
        drill = Fastener(kind="hex bolt", size=held.size, length=1.0).through_drill
        holes = held.fixing(bar).drillings(drill)
    sheet = Template(
        id="leaf-face",
        part_id=bar.id,
        face="leaf, face towards the actuator, both rails",
        datum=datum_words("pin height", 0.0, mount, shop),
        holes=holes,
        outline=bar.outline,
        height=mount.height,
        left_side="latch side",
        right_side="hinge side",
        facing="actuator side",
        tied=True,
        through=not held.is_round,
        depth=holes[0].depth if held.is_round else float(hung.leaf.rail_depth),
    )
    return (sheet,)
