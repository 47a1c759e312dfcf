"""Receiver and crossing plate of the lock in their place: packing, fasteners, sheet, notes.

Seat frame: the face that looks at the leaf, datum at the bolt's middle while the leaf is new.
Units: mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hangpost.generators.hardware.design import (
    Bought,
    LockDesign,
    Placed,
)
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.lock_told import lock_assumed, lock_notes, lock_sheet
from hangpost.generators.hardware.picks import bolt_through, lag_into
from hangpost.generators.hardware.sleeves import bore_for, sleeve
from hangpost.generators.hardware.spring_pins import pins_bought, pins_through, spring_pin
from hangpost.generators.hardware.tightening import (
    full_tension,
    through_sleeves,
    through_tube,
)
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.shop import Shop
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.fastening import Fastener
from hangpost.parts.frame import Frame
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.saddle import WALL, SaddleBlock, SleeveBore
from hangpost.parts.spacer import SpacerBlock

SADDLE_LEAST = 8.0  # house: a round post's nearest line to the crossing plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Locked:
    """Kit of the lock's other half, and its figures."""

    kit: Kit
    design: LockDesign


def _turned(at: tuple[float, float], word: str) -> Frame:
    """The frame of a washer in the seat: v along its slot, towards its pinned end."""
    u, v = at
    if word == "level":
        return Frame((u, v, 0.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))
    way = 1.0 if v > 0 else -1.0
    return Frame((u, v, 0.0), (way, 0.0, 0.0), (0.0, way, 0.0))


def half_block(level: PlateWasher, hole: float) -> float:
    """Half the height of what lies under an anchor's washer."""
    return max(level.half_width, hole / 2 + 3.0 + WALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class LockPlacing:
    """Everything on its host."""

    host: Host
    shop: Shop
    lock: Lock
    gap: float
    receiver: LockReceiver
    crossing: CrossingPlate
    washers: tuple[PlateWasher, PlateWasher]
    packing: float
    pad: float  # rubber on the stop

    @property
    def behind(self) -> float:
        """From the host to the receiver's back."""
        return self.packing + self.crossing.plate_thickness

    def locked(self) -> Locked:
        """Kit and notes."""
        upright, level = self.washers
        t = self.crossing.plate_thickness  # the receiver's too
        setting = self._fixing("receiver", self.receiver, upright, self.behind)
        anchor = self._fixing("latch", self.crossing, level, self.packing)
        blocks, sleeves = self._blocks(anchor.fastener)
        placed = (
            self._placed("crossing plate", self.crossing, self.packing),
            self._placed("lock receiver", self.receiver, self.behind),
            *self._washers(upright, "upright", self.receiver.bolts, self.behind + t),
            *self._washers(level, "level", self.crossing.bolts, self.packing + t),
            *self._pins(),
            *blocks,
            setting.body(),
            anchor.body(),
        )
        tools = (*setting.sockets(self.shop, 0.0), *anchor.sockets(self.shop, 0.0))
        kit = Kit(
            placed=placed,
            tools=tools,
            templates=(
                lock_sheet(self.host, self.lock, self.gap, self.receiver, self.crossing, anchor),
            ),
            bought=(
                *setting.bought(self.shop, washers=0)[:1],
                *self._anchors(anchor),
                pins_bought(
                    spring_pin(self.shop),
                    len(self.receiver.bolts) + len(self.crossing.bolts),
                    t + upright.plate_thickness,
                ),
                *sleeves,
            ),
            reasons=(),
        )
        design = LockDesign(
            receiver=self.receiver,
            behind=self.behind,
            throw=float(self.lock.throw),
            gap=self.gap,
            anchor=anchor,
            setting=setting,
            assumed=lock_assumed(self.host),
            notes=lock_notes(
                self.lock,
                self.gap,
                self.receiver,
                self.crossing,
                behind=self.behind,
                pin=spring_pin(self.shop).words,
                pad=self.pad,
            ),
        )
        return Locked(kit=kit, design=design)

    def _at(self, off: float) -> Frame:
        seat = self.host.seat
        return Frame(seat.point((0.0, 0.0, off)), seat.u, seat.v)

    def _placed(self, name: str, part: Part, off: float) -> Placed:
        return Placed(name=name, item=part, frame=self._at(off), rides=self.host.rides)

    def _washers(
        self, washer: PlateWasher, word: str, at: Sequence[tuple[float, float]], off: float
    ) -> tuple[Placed, ...]:
        """A washer on each bolt, its pinned end away from the opening or out to a side."""
        return tuple(
            Placed(
                name=f"{word} slot washer {number}",
                item=washer,
                frame=self._at(off).after(_turned((u, v), word)),
                rides=self.host.rides,
            )
            for number, (u, v) in enumerate(at, 1)
        )

    def _pins(self) -> tuple[Placed, ...]:
        """A spring pin through each washer and the plate under it, as they are drilled on site."""
        pin, t = spring_pin(self.shop), self.crossing.plate_thickness
        upright, level = self.washers
        made = (
            (upright, "upright", self.receiver.bolts, self.behind + t),
            (level, "level", self.crossing.bolts, self.packing + t),
        )
        return tuple(
            pins_through(
                f"{word} slot pins",
                [(self._at(off).after(_turned(each, word)), washer.pin_at) for each in at],
                pin,
                under=t,
                over=washer.plate_thickness,
                rides=self.host.rides,
            )
            for washer, word, at, off in made
        )

    def _fixing(
        self, name: str, part: LockReceiver | CrossingPlate, washer: PlateWasher, off: float
    ) -> Fixing:
        """The fasteners in the slots of one of the two plates, heads on its washers."""
        t = part.plate_thickness
        bears = t + washer.plate_thickness
        if isinstance(part, LockReceiver):
            length = bears + self.crossing.plate_thickness + min(self.packing, 2.0)
            fastener = Fastener(kind="hex bolt", size=self._size, length=length)
        else:
            fastener = self._anchor(bears + self.packing)
        slots = [(h.name, h) for h in part.holes if h.name != "L" and h.slot_length]
        return Fixing(
            name=name,
            fastener=fastener,
            holes=slots,
            plate=bears,
            seat=self._at(off),
            rides=self.host.rides,
            host="timber" if self.host.kind == "timber" and part is self.crossing else "steel",
            washer=False,  # the plate washers are in its place
            tension=self._tension(fastener, part),
        )

    def _tension(self, bolt: Fastener, part: LockReceiver | CrossingPlate) -> float:
        """How tight: plate on plate as the bolt stands it, through a tube as that stands it."""
        if isinstance(part, LockReceiver):
            return full_tension(self.shop, bolt.size)
        tube = self.host.tube
        if tube is None:
            return 0.0  # wood, by feel
        if self.packing or self.host.outside is not None:  # printed blocks, with sleeves in them
            return through_sleeves(self.shop, bolt, tube)
        return through_tube(self.shop, bolt.size, tube, bolt.head.washer_diameter)

    @property
    def _size(self) -> str:
        return self.shop.fasteners.bolts[0]

    def _anchor(self, over: float) -> Fastener:
        if self.host.kind == "timber":
            lags = self.shop.fasteners.lags
            if self._size in lags and self.host.depth > 80.0:
                return lag_into(self._size, over + self.host.depth - 12.0, self.shop)
        under = SADDLE_LEAST if self.host.outside is not None else 0.0
        return bolt_through(self._size, over + self.host.depth + under, self.shop)

    def _anchors(self, anchor: Fixing) -> tuple[Bought, ...]:
        listed = anchor.bought(self.shop, washers=1)  # under the nuts; the heads have their own
        return listed if anchor.is_through else listed[:1]

    def _blocks(self, anchor: Fastener) -> tuple[tuple[Placed, ...], tuple[Bought, ...]]:
        """What packs the crossing plate off its host at each anchor, and behind a round one."""
        if self.host.outside is None and not self.packing:
            return (), ()
        bore, (_, level) = bore_for(anchor, self.shop), self.washers
        half = max(half_block(level, level.hole), bore / 2 + WALL + 0.1)
        placed: list[Placed] = []
        sleeves: list[Bought] = []
        left, right = self.host.edges
        for word, (u, v) in zip(("lower", "upper"), self.crossing.bolts, strict=True):
            at = self.host.seat.after(Frame((u, v, 0.0)))
            name = f"{word} latch block"
            if self.host.outside is None:
                block = SpacerBlock(
                    id="latch-block",
                    width=2 * min(u - left, right - u, self.crossing.sides[1]),
                    length=2 * half,
                    height=self.packing,
                    corner=3.0,
                    bores_at=((0.0, 0.0),),
                    bore=bore,
                    chamfer=min(float(self.shop.printer.chamfer), (self.packing - 1.0) / 2),
                    material=self.shop.printer.plastic,
                )
                placed.append(Placed(name=name, item=block, frame=at, rides=self.host.rides))
                sleeves.append(sleeve(anchor, self.packing))
                continue
            saddle = saddle_for(self.host.outside, self.packing, half, bore, self.shop)
            far = replace(saddle, id="latch-saddle-behind", height=SADDLE_LEAST)
            behind = at.after(saddle.behind)
            placed.append(Placed(name=name, item=saddle, frame=at, rides=self.host.rides))
            placed.append(
                Placed(name=f"{name} behind", item=far, frame=behind, rides=self.host.rides)
            )
            sleeves += [sleeve(anchor, b.sleeve_length(b.sleeves[0])) for b in (saddle, far)]
        return tuple(placed), tuple(sleeves)


def saddle_for(outside: float, height: float, half: float, bore: float, shop: Shop) -> SaddleBlock:
    """The saddle of a round latch post under one anchor."""
    depth = 0.25 * outside
    chord = (depth * (outside - depth)) ** 0.5
    return SaddleBlock(
        id="latch-saddle",
        outside=outside,
        width=2 * (chord + 2 * WALL),
        length=2 * half,
        height=height,
        depth=depth,
        sleeves=(SleeveBore(0.0, 0.0, bore),),
        chamfer=float(shop.printer.chamfer),
        material=shop.printer.plastic,
    )
