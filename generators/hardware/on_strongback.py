"""Leaf bracket between two rails: the lobed channel on a bar that is bolted to both.

No rail is near the height of the pins, so a bar carries the leaf pivot from the rail below it to
the one above. The bar is tied to the rails last, when the actuator is in its place, and its holes
in the rails are drilled then. Frame of the bar: datum at the leaf pivot, u = -x, v = z, on the
rails' faces. Units: mm.
"""

from dataclasses import dataclass

from hangpost.generators.hardware.design import Bought, Placed, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.leaf_channel import (
    Bed,
    leaf_channel,
    leaf_pin,
    seat_frame,
)
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.slots import round_holes
from hangpost.generators.hardware.tightening import full_tension, through_tube
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.hardware.u_bolted import UBolted, u_size
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import STRONGBACK
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


def bracket_on_strongback(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks
) -> Kit:
    """The bar with its fixings, the channel on it, sheet and list."""
    leaf = hung.leaf
    low, high = _members(hung, mount)
    face = float(leaf.axis_offset + leaf.rail_depth / 2)
    thickness = float(picks.leaf_plate.thickness)
    bolt = bolt_through(picks.leaf_size, STRONGBACK + thickness, shop)
    bed = Bed(
        seat_y=face + STRONGBACK,
        bolt=bolt,
        rows=(0.0,),
        slot=round_holes(bolt, shop, thickness),
        columns=1,
    )
    channel = leaf_channel(hung, shop, problem, mount, picks, bed)
    needed = 2 * (channel.columns[-1] + (0.5 + EDGE) * channel.slot.diameter)
    width = _width(needed, shop)
    bar_seat, seat = seat_frame(mount, face), seat_frame(mount, bed.seat_y)
    held = _Held(hung=hung, shop=shop, picks=picks, mount=mount, width=width, seat=bar_seat)
    bar = Strongback(
        id="strongback",
        bar_thickness=STRONGBACK,
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
    ends = () if held.is_round else (held.fixing(bar),)
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
        templates=_templates(hung, bar, held, mount),
        bought=(*fixing.bought(shop), *rails.bought, *pin_bought),
        fixings=(fixing, *ends),
        reasons=(
            f"No rail is near the pins' height of {mount.height:.0f} mm: a bar {width:.0f} x "
            f"{STRONGBACK:.4g} mm between the rails at {low:.0f} and {high:.0f} mm carries the "
            "leaf bracket. Tie it to the rails last.",
        ),
    )


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


def _width(needed: float, shop: Shop) -> float:
    """The narrowest flat bar at hand that is wide and thick enough, or what plate is cut to."""
    fit = [float(b.width) for b in shop.flat_bar if b.width >= needed]
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
        return max(half, legs + (0.5 + EDGE) * hole + 1.0)

    def points(self, rail: float) -> tuple[Point, ...]:
        """The bolts at a rail whose centre line is at v = `rail`."""
        side = self.width / 2 - (0.5 + EDGE) * self.shop.bolt_hole(self.size) - 2.0
        rows: tuple[float, ...] = (rail,)
        if self.is_round:
            rows = (rail - self.u_bolt.pitch / 2, rail + self.u_bolt.pitch / 2)
        return tuple((u, v) for v in rows for u in (-side, side))

    def marks(self, bar: Strongback) -> list[tuple[str, Hole]]:
        """The holes of the bar that lie at a rail, each with its mark."""
        return [(f"R{h.name}", h) for h in bar.holes if h.use == "leaf"]

    def fixing(self, bar: Strongback) -> Fixing:
        """The bolts through both rails."""
        grip = STRONGBACK + float(self.hung.leaf.rail_depth)
        bolt, leaf = bolt_through(self.size, grip, self.shop), self.hung.leaf
        steel, washer = leaf.frame != "timber", bolt.head.washer_diameter
        return Fixing(
            name="strongback",
            fastener=bolt,
            holes=self.marks(bar),
            plate=STRONGBACK,
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
            )
        placed: list[Placed] = []
        tools: list[Placed] = []
        bought: list[Bought] = []
        for word, rail in zip(("lower", "upper"), rails, strict=True):
            v = rail - self.mount.height
            bent = self._bent(word, rail, [m for m in self.marks(bar) if abs(m[1].v - v) < 80.0])
            placed += bent.placed()
            tools += bent.sockets(self.shop, past)
            bought += bent.bought(self.shop)
        return Kit(placed=tuple(placed), tools=tuple(tools), bought=tuple(bought))

    def _bent(self, word: str, rail: float, legs: list[tuple[str, Hole]]) -> UBolted:
        x, y, _ = self.seat.origin
        return UBolted(
            name=f"strongback {word}",
            bolt=self.u_bolt,
            at=sorted({-h.u for _, h in legs}),
            legs=legs,
            locks=(),
            tube=Frame((x, y, rail), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
            seat=self.seat,
            under=0.0,
            plate=STRONGBACK,
            wall=0.0,
            rides="leaf",
        )


def _templates(hung: HungLeaf, bar: Strongback, held: _Held, mount: Mount) -> tuple[Template, ...]:
    """The sheet for both rails; U-bolts need no holes in them."""
    if held.is_round:
        return ()
    drill = Fastener(kind="hex bolt", size=held.size, length=1.0).diameter + 1.0
    holes = held.fixing(bar).drillings(drill)
    sheet = Template(
        id="leaf-face",
        part_id=bar.id,
        face="leaf, face towards the actuator, both rails",
        datum=f"{mount.leaf_pivot[0]:.1f} mm along the leaf from the hinge axis, at pin height",
        holes=holes,
        outline=bar.outline,
        height=mount.height,
        left_side="latch side",
        right_side="hinge side",
        facing="actuator side",
        through=True,
        depth=float(hung.leaf.rail_depth),
    )
    return (sheet,)
