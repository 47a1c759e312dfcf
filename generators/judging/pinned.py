"""What holds the lock's plates where they were set: spring pins, slot washers, bolts through them.

A slot washer is a link: its round hole is on the bolt, its pin in the slotted plate, so nothing
hangs on friction. The bolt bends over whatever lies between the washer and its host.
Units: N, mm, MPa.
Sources: ISO 8752 and ASME B18.8.2 for the pins (memory); AISC 360-16 J3, J7, F11; NDS 2018 12.3 and
AWC TR-12 for bolts and lags in wood.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.spring_pins import spring_pin
from hangpost.generators.hardware.tube import ROUND, SQUARE, UNKNOWN_WALL
from hangpost.generators.judging.bench import BUY, Bench
from hangpost.generators.judging.unjudged import not_judged
from hangpost.generators.judging.wood import lag_size, unlisted
from hangpost.generators.strength import bolts, lugs, pins, plates, timber, tubes, yield_modes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.strength.tables import row
from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import SlotSpec

YIELD_SHARE = 0.6  # of Fu: yield of a bolt's soft shank; house


@dataclass(frozen=True, slots=True, kw_only=True)
class LatchHost:
    """What the crossing plate is anchored to: a post, or the second leaf's stile."""

    kind: str  # timber, round_tube or round_steel, square_...
    species: str
    depth: float
    wall: float

    @property
    def is_timber(self) -> bool:
        """Whether the anchors stand in wood."""
        return self.kind == "timber"


def latch_host(bench: Bench) -> LatchHost:
    """The host of this lock."""
    lock = bench.site.lock
    if lock is not None and lock.post is not None:
        post = lock.post
        wall = float(post.wall_thickness or UNKNOWN_WALL)
        return LatchHost(kind=post.kind, species=post.species, depth=float(post.width), wall=wall)
    leaf = bench.hung.leaf
    return LatchHost(
        kind=leaf.frame,
        species=leaf.species,
        depth=float(leaf.rail_height),
        wall=float(leaf.rail_wall or UNKNOWN_WALL),
    )


def slot_washer(bench: Bench, way: str) -> PlateWasher | None:
    """The washer over the "upright" or the "level" slots."""
    items = (placed.item for placed in bench.leaf.placed)
    found = (item for item in items if isinstance(item, PlateWasher))
    return next((one for one in found if one.id.startswith(f"{way}-slot")), None)


def cover_check(bench: Bench, of: str, washer: PlateWasher, slot: SlotSpec) -> Check:
    """The slot washer over the slot that it really lies on, at both ends of the travel."""
    cover = washer.half_length - slot.travel - slot.diameter / 2
    return bench.fits(
        BUY,
        f"{of} washers cover their slots",
        f"slot washer past the far end of its slot with the {of} at either end of its travel",
        value=cover,
        least=0.0,
        source="AISC 360-16 J3.2",
        working=f"half length - travel - w/2 = {washer.half_length:.1f} - {slot.travel:.1f} - "
        f"{slot.diameter:.1f}/2",
    )


def pin_checks(
    bench: Bench, of: str, washer: PlateWasher, under: float, each: float, when: str
) -> Iterator[Check]:
    """A spring pin through a slot washer and the plate `under` it, which pulls with `each`."""
    pin, (fy, fu) = spring_pin(bench.shop), bench.steel
    u, v = washer.pin_at
    force = each * hypot(u, v) / v  # along the link, from the bolt to the pin
    double = float(row("spring_pins", pin.size)["double_shear"])
    yield bench.held(
        f"{of} pin shear",
        f"spring pin {pin.words} between slot washer and {of}: {when}",
        demand=force,
        allowed=double / 2 / factor("resistance.rupture"),
        unit="N",
        source="ISO 8752, ASME B18.8.2 (memory): half the double shear, over 2.00",
        working=f"F = {each:.0f} x {hypot(u, v):.1f} / {v:.1f}; {double:.0f} / 2 / 2.00",
    )
    t = min(washer.plate_thickness, under)
    edge = washer.far_length - v
    clear = edge - pin.diameter / 2
    nominal = min(lugs.bearing(fy, t, pin.diameter), bolts.tear_out(fu, clear, t))
    yield bench.held(
        f"{of} pin bearing",
        f"spring pin on the edge of its hole in slot washer or {of}: {when}",
        demand=force,
        allowed=allowable(nominal, "bearing"),
        unit="N",
        source="AISC 360-16 Eq. J7-1, J3-6c",
        working=f"min(1.8 Fy d t, 1.2 lc t Fu) / 2.00, Fy = {fy:.0f}, Fu = {fu:.0f}, d = "
        f"{pin.diameter:.2f}, t = {t:.2f}, lc = {clear:.1f}",
    )


def anchor_checks(
    bench: Bench, of: str, anchor: Fixing, washer: PlateWasher, behind: float, each: float,
    when: str,
) -> Iterator[Check]:  # fmt: skip
    """One anchor pulled sideways at its washer, `behind` off the host."""
    host = latch_host(bench)
    if host.is_timber:
        if words := unlisted(host.species):
            yield not_judged(bench, f"{of} anchors", words)
            return
        yield _in_wood(bench, of, anchor, washer, behind, each, when, host)
        return
    yield from _in_steel(bench, of, anchor, washer, behind, each, when, host)


def _in_wood(
    bench: Bench, of: str, anchor: Fixing, washer: PlateWasher, behind: float, each: float,
    when: str, host: LatchHost,
) -> Check:  # fmt: skip
    fastener, species = anchor.fastener, host.species.strip().lower()
    gravity, fu = timber.specific_gravity(species), bench.steel[1]
    d, dowel, fyb, main = fastener.diameter, fastener.diameter, yield_modes.BOLT_YIELD, host.depth
    if not anchor.is_through:
        d, dowel, tip, fyb = lag_size(fastener.size)
        main = yield_modes.lag_main_length(fastener.length - anchor.plate - behind, tip)
    side = washer.plate_thickness
    modes = yield_modes.single_shear(
        diameter=dowel,
        main=main,
        side=side,
        bearing_main=timber.bearing_across(gravity, d),
        bearing_side=timber.bearing_steel(fu, side),
        yield_strength=fyb,
        angle=90.0,
        gap=behind,
    )
    mode, reference = yield_modes.reference(modes)
    cm = timber.WET_LATERAL if bench.site.wood.service == "wet" else 1.0
    cd = factor("duration.survival_wind")
    listed = ", ".join(f"{name} {value:.0f}" for name, value in modes.items())
    return bench.held(
        f"{of} anchor lateral",
        f"{fastener.kind} {fastener.size} of the {of} in {species}, its washer {behind:.1f} mm off "
        f"the wood: {when}",
        demand=each,
        allowed=reference * cm * cd,
        unit="N",
        source="NDS 2018 12.3, Table 11.3.1; AWC TR-12 Table 1-1 for the gap",
        working=f"Z by mode: {listed}; mode {mode} governs; CD {cd:g}, CM {cm:g}; G = "
        f"{gravity:g}, lm = {main:.1f}, gap {behind:.1f}",
    )


def _in_steel(
    bench: Bench, of: str, anchor: Fixing, washer: PlateWasher, behind: float, each: float,
    when: str, host: LatchHost,
) -> Iterator[Check]:  # fmt: skip
    fastener, lever = anchor.fastener, behind + washer.plate_thickness / 2
    fnt, fnv, _ = bench.bolt_grade
    d, fy = fastener.diameter, YIELD_SHARE * fnt / 0.75  # AISC 360-16 Table J3.2: Fnt = 0.75 Fu
    shear = allowable(bolts.shear(fnv, d), "bolt")
    moment = allowable(pins.bending_strength(fy, d), "yield")
    yield bench.used(
        f"{of} anchor shear and bending",
        f"bolt {fastener.size} of the {of} as a cantilever, its washer {lever:.1f} mm off the "
        f"host's wall: {when}",
        share=pins.shear_and_bending(each / shear, each * lever / moment),
        source="AISC 360-16 Eq. J3-1, F11.1; EN 1993-1-8:2005 3.13.2(3)",
        working=f"sqrt(({each:.0f} / {shear:.0f})^2 + ({each:.0f} x {lever:.1f} / "
        f"{moment:.0f})^2), Fy 0.6 Fu = {fy:.0f}",
    )
    steel = plates.steel(ROUND if host.kind.startswith("round") else SQUARE)[0]
    wall, near = tubes.design_wall(host.wall), each * (1 + lever / host.depth)
    yield bench.held(
        f"{of} anchor on the wall",
        f"bolt {fastener.size} of the {of} on the near wall of its host, the far wall pulling "
        f"back: {when}",
        demand=near,
        allowed=allowable(tubes.bolt_bearing(steel, d, wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"V (1 + e / D) = {each:.0f} x (1 + {lever:.1f} / {host.depth:.1f}); 1.8 Fy d t / "
        f"2.00 = 1.8 x {steel:.0f} x {d:.2f} x {wall:.2f} / 2.00",
    )
