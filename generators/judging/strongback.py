"""The bar between two rails: bent both ways, twisted, held at its ends; how far the pin gives way.

Frame of the bar: u across it (along the leaf), v along it, w out of the leaf; datum at the leaf
pivot. It is taken as simply supported at the two rails in bending and held against turning there
by its pairs of bolts. A force at the pin stands off the bar's middle by a lever, so what acts
along the leaf twists the bar. Units: N, mm, MPa, N mm.
Sources: statics; AISC 360-16 F11 (bending, lateral buckling), H3.1, H3-6 (torsion, and all
together: its form, house), J3 (bolts); Saint-Venant (Roark) for a rectangle.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bar_on_round import bar_on_round
from hangpost.generators.judging.bench import MAKE, Bench
from hangpost.generators.judging.bolt_itself import bolt_itself
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.group import Group, lifted
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.on_timber_rail import timber_rail_group
from hangpost.generators.judging.on_tube import rail_group
from hangpost.generators.judging.unjudged import not_judged
from hangpost.generators.judging.wood import rail_wood, unlisted
from hangpost.generators.strength import bolts, plates, posts
from hangpost.generators.strength.factors import allowable
from hangpost.parts.strongback import Strongback

OF = "strongback"
SHEAR_MODULUS = plates.STEEL_MODULUS / 2.6
LOST = 1 / 200  # of the leaf's width: what its latch edge may stay behind by the bar; house


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """The bar as a beam: where the pin stands between its rails, and what it can carry."""

    low: float  # from the pin's level to the lower rail
    high: float  # to the upper rail
    lever: float  # from the middle of the bar's thickness to the pin
    width: float
    thickness: float
    holes: float  # width that the bracket's holes take out
    fy: float

    @property
    def span(self) -> float:
        """From rail to rail."""
        return self.low + self.high

    @property
    def share(self) -> float:
        """Of a force at the pin, what the nearer rail takes."""
        return max(self.low, self.high) / self.span

    @property
    def shaft(self) -> float:
        """Torque over the greatest shear stress of a rectangle (Roark)."""
        short, long = sorted((self.width, self.thickness))
        return short**2 * long / (3 + 1.8 * short / long)

    @property
    def allowed(self) -> tuple[float, float, float]:
        """Moment out of the leaf, moment in its plane, torque, each over its Omega."""
        weak = plates.weak_axis_moment(self.fy, self.width - self.holes, self.thickness)
        strong = plates.strong_axis_moment(self.fy, self.width, self.thickness, self.span)
        net = (self.width - self.holes) / self.width
        return (
            allowable(weak, "yield"),
            allowable(strong * net, "yield"),
            allowable(0.6 * self.fy * self.shaft, "yield"),
        )

    def actions(self, force: Floats) -> tuple[Floats, Floats, Floats]:
        """The greatest moment out of the leaf, in its plane, and torque, one a row of forces."""
        fu, fv, fw = force.T
        a, b, span = self.low, self.high, self.span
        couple = fv * self.lever
        out = np.maximum(np.abs(fw * b + couple) * a, np.abs(fw * a - couple) * b) / span
        return out, np.abs(fu) * a * b / span, np.abs(fu) * self.lever * self.share

    def give(self, force: Floats) -> Floats:
        """How far the pin moves along the force in the level plane, by the bar alone."""
        a, b, span = self.low, self.high, self.span
        weak = self.width * self.thickness**3 / 12
        strong = self.thickness * self.width**3 / 12
        torsion = posts.rectangle(self.width, self.thickness).torsion
        bent = a**2 * b**2 / (3 * plates.STEEL_MODULUS * span)
        twisted = self.lever**2 * a * b / (span * SHEAR_MODULUS * torsion)
        level = np.maximum(np.hypot(force[:, 0], force[:, 2]), 1e-9)
        work = force[:, 0] ** 2 * (bent / strong + twisted) + force[:, 2] ** 2 * bent / weak
        return np.asarray(work / level)


def bar_of(bench: Bench, part: Strongback) -> Bar:
    """The beam that this strongback is."""
    low, high = part.members
    mount, leaf = bench.leaf.mount, bench.hung.leaf
    face = float(leaf.axis_offset + leaf.rail_depth / 2)
    return Bar(
        low=-low,
        high=high,
        lever=mount.leaf_pivot[1] - face - part.bar_thickness / 2,
        width=part.width,
        thickness=part.bar_thickness,
        holes=part.bracket_hole * len({v for v in part.bracket}),
        fy=bench.steel[0],
    )


def strongback_checks(bench: Bench, part: Strongback, loads: PinLoads) -> Iterator[Check]:
    """The bar itself, its end fixings in the rails, and what it lets the leaf lose."""
    bar = bar_of(bench, part)
    yield _stressed(bench, bar, loads)
    yield _lost(bench, bar, loads)
    word = "lower" if bar.low <= bar.high else "upper"
    fixing = bench.fixing("strongback") or bench.fixing(f"strongback {word}")
    locks = bench.fixing(f"strongback {word} locking")
    if fixing is None or (fixing.fastener.kind == "U-bolt" and locks is None):
        yield not_judged(bench, f"{part.id} fasteners", f"the fasteners of {part.id}")
        return
    if locks is not None:
        held, locked = (end_demand(part, bar, each, loads) for each in (fixing, locks))
        yield _bearing(bench, f"{OF} bolt on the bar", part, part.fixing_hole, locks, locked, loads)
        yield from bar_on_round(bench, OF, fixing, locks, held, loads, part.width)
        return
    yield from _ends(bench, part, bar, fixing, loads)


def bracket_on_bar(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """The leaf bracket's own bolts through the bar: what they bear on is steel."""
    yield bolt_itself(bench, of, fixing, demand, loads, source="AISC 360-16 J3.6, J3.7")
    part = next(p.item for p in bench.leaf.placed if isinstance(p.item, Strongback))
    yield _bearing(bench, f"{of} bolt on the bar", part, part.bracket_hole, fixing, demand, loads)


def _stressed(bench: Bench, bar: Bar, loads: PinLoads) -> Check:
    (mw, ms, t), (cw, cs, ct) = bar.actions(loads.force), bar.allowed
    share = mw / cw + ms / cs + (t / ct) ** 2
    # What grows with the square would not double with the load: its root stands for it.
    used = (mw / cw + ms / cs) / 2 + np.sqrt(((mw / cw + ms / cs) / 2) ** 2 + (t / ct) ** 2)
    row = int(np.argmax(used))
    return bench.used(
        f"{OF} bending and torsion",
        f"bar between the rails, {bar.span:.0f} mm apart, bent both ways and twisted: "
        f"{loads.words(row)}",
        share=float(used[row]),
        source="AISC 360-16 F11, H3.1, the form of Eq. H3-6 (house)",
        working=f"m = {mw[row]:.0f}/{cw:.0f} + {ms[row]:.0f}/{cs:.0f}, t = {t[row]:.0f}/{ct:.0f}; "
        f"m + t^2 = {share[row]:.3f} is 1 at the same load as m/2 + sqrt((m/2)^2 + t^2); bar "
        f"{bar.width:.1f} x {bar.thickness:.2f}, lever {bar.lever:.0f}",
    )


def _lost(bench: Bench, bar: Bar, loads: PinLoads) -> Check:
    mount, width = bench.leaf.mount, float(bench.hung.leaf.width)
    lever = np.interp(
        loads.angle,
        [abs(point.angle) for point in mount.curve],
        [point.leverage for point in mount.curve],
    )
    give = bar.give(loads.force)
    lost = give / lever * width
    row = int(np.argmax(lost))
    return bench.fits(
        "strength",
        f"{OF} lost travel",
        f"latch edge stays behind as the bar between the rails gives way: {loads.words(row)}",
        value=float(lost[row]),
        most=width * LOST,
        source="statics; 1/200 of the leaf's width, house",
        working=f"{give[row]:.2f} mm at the pin over leverage {lever[row]:.0f}, times {width:.0f}",
        warning=True,
    )


def end_demand(part: Strongback, bar: Bar, fixing: Fixing, loads: PinLoads) -> Demand:
    """The bolts of the end with the greater share of everything."""
    fu, fv, fw = (bar.share * loads.force).T
    near = min(part.members, key=abs)
    holes = tuple(h for _, h in fixing.holes if (h.v < 0) == (near < 0))
    places = sorted({hole.u for hole in holes})
    rows = sorted({hole.v for hole in holes})
    edge = part.width / 2 - part.bar_thickness
    # What bends the bar out of the leaf by its weight pulls its ends by a couple.
    pull = fw + np.abs(loads.force[:, 1]) * bar.lever / bar.span
    tension, contact = lifted(places, pull, -fu * bar.lever, (-edge, edge))
    each = tension[:, [places.index(h.u) for h in holes]] / len(rows)
    ones = np.ones((1, len(holes)))
    return Demand(
        holes=holes,
        tension=each,
        along_u=fu[:, None] * ones / len(holes),
        along_v=fv[:, None] * ones / len(holes),
        columns=tension,
        contact=contact,
        contact_length=2 * min(part.span[1] - part.members[1], part.members[0] - part.span[0]),
        contact_width=2 * part.bar_thickness,
        group=Group(points=tuple((hole.u, hole.v) for hole in holes), slides=(False,) * len(holes)),
    )


def _ends(
    bench: Bench, part: Strongback, bar: Bar, fixing: Fixing, loads: PinLoads
) -> Iterator[Check]:
    demand, leaf = end_demand(part, bar, fixing, loads), bench.hung.leaf
    yield _bearing(bench, f"{OF} bolt on the bar", part, part.fixing_hole, fixing, demand, loads)
    yield bench.fits(
        MAKE,
        f"{OF} fastener edge distance",
        "fastener to the edge of the bar between the rails",
        value=part.width / 2 - max(abs(u) for u, _ in part.fixings),
        least=bolts.least_edge(fixing.fastener.diameter),
        source="AISC 360-16 Table J3.4",
        working=f"d = {fixing.fastener.diameter:.2f}, bar {part.width:.1f} wide",
    )
    if leaf.frame == "square_tube":
        yield from rail_group(bench, OF, fixing, demand, loads)
    elif leaf.frame == "timber" and (words := unlisted(leaf.species)):
        yield not_judged(bench, f"{part.id} fasteners", words)
    elif leaf.frame == "timber":
        rail = min(part.members, key=abs)
        wood = rail_wood(bench.site, bench.hung, bench.leaf.mount, bench.steel[1], rail)
        shared = loads.scaled(bar.share)
        yield from timber_rail_group(bench, OF, fixing, demand, shared, wood)
    else:
        words = f"fasteners of a strongback on a leaf of {leaf.frame.replace('_', ' ')}"
        yield not_judged(bench, f"{part.id} fasteners", words)


def _bearing(
    bench: Bench, name: str, part: Strongback, hole: float, fixing: Fixing, demand: Demand,
    loads: PinLoads,
) -> Check:  # fmt: skip
    d, t, fu = fixing.fastener.diameter, part.bar_thickness, bench.steel[1]
    row, k = divmod(int(np.argmax(demand.lateral)), demand.lateral.shape[1])
    clear = part.width / 2 - max(abs(h.u) for h in demand.holes) - hole / 2
    nominal = min(bolts.bearing(fu, d, t), bolts.tear_out(fu, clear, t))
    return bench.held(
        name,
        f"fastener {fixing.fastener.size} on the edge of its hole in the bar between the rails: "
        f"{loads.words(row)}",
        demand=float(demand.lateral[row, k]),
        allowed=allowable(nominal, "bearing"),
        unit="N",
        source="AISC 360-16 Eq. J3-6a, c",
        working=f"min(2.4 d, 1.2 lc) t Fu / 2.00, d = {d:.2f}, lc = {clear:.1f}, t = {t:.2f}",
    )
