"""The leaf bracket on a timber rail: its through-bolts, the wood they hold in, the plate behind.

The rail's grain lies level, along u of the seat, and so does nearly all of the force in the
seat's plane. Reference values of the NDS times CD, CM, Cg, C delta; no Omega. Where a printed
block fills a recess the bolts bend across it: no help of the block is counted. Friction of a bolt
that squeezes wet wood is not relied on for more than `IN_WOOD`.
Units: N, mm, MPa. Frame: the seat frame, datum at the leaf pivot.
Sources: NDS 2018 chapters 11 and 12, 3.4.3, 3.10, Appendix E; AWC TR-12.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import STRENGTH, Bench, peak
from hangpost.generators.judging.bolt_itself import bolt_itself
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.timber_pressed import crushed
from hangpost.generators.judging.wood import Wood, rail_wood
from hangpost.generators.strength import bolts, plates, timber, timber_spacing, yield_modes
from hangpost.generators.strength.factors import allowable
from hangpost.generators.survey.display import degrees_words

IN_WOOD = 1500.0  # N that a bolt keeps pressing on wet wood for years; house
SMALL = 0.1  # share of a fastener's value across the grain that counts as none; house
NODES = np.linspace(0.0, 90.0, 19)  # angles to the grain at which the yield modes are worked out


@dataclass(frozen=True, slots=True, kw_only=True)
class RailHold:
    """What one bolt holds in the rail, without the load's duration."""

    wood: Wood
    fixing: Fixing
    factors: float  # CM, Cg, C delta together

    def modes(self, angle: float) -> yield_modes.Modes:
        """All yield modes at an angle to the grain."""
        d, plate = self.fixing.fastener.diameter, self.fixing.plate
        return yield_modes.single_shear(
            diameter=d,
            main=self.wood.depth,
            side=plate,
            bearing_main=timber.bearing_at_angle(self.wood.gravity, d, angle),
            bearing_side=timber.bearing_steel(self.wood.plate_fu, plate),
            yield_strength=yield_modes.BOLT_YIELD,
            angle=angle,
            gap=self.fixing.under,
        )

    def lateral(self, angle: float) -> float:
        """Adjusted lateral value, without CD."""
        return yield_modes.reference(self.modes(angle))[1] * self.factors

    def laterals(self, angles: Floats) -> Floats:
        """The same for many angles, between nodes of 5 degrees."""
        return np.asarray(np.interp(angles, NODES, [self.lateral(float(n)) for n in NODES]))


def timber_rail_group(
    bench: Bench,
    of: str,
    fixing: Fixing,
    demand: Demand,
    loads: PinLoads,
    wood: Wood | None = None,
) -> Iterator[Check]:
    """Every check of bolts through a timber rail: the nearest one, or the `wood` given."""
    if wood is None:
        wood = rail_wood(bench.site, bench.hung, bench.leaf.mount, bench.steel[1])
    held = rail_hold(fixing, wood, demand)
    if demand.group.free_along:
        yield _slip(bench, of, demand, loads)
    yield _lateral(bench, of, held, demand, loads)
    yield from _distances(bench, of, held, demand)
    yield _torn_out(bench, of, fixing, wood, demand, loads)
    yield crushed(bench, of, wood, demand, loads, rail=True)
    yield _split(bench, of, wood, demand, loads)
    yield _behind(bench, of, fixing, wood, demand, loads)
    yield bolt_itself(bench, of, fixing, demand, loads, source="AISC 360-16 J3.6, J3.7")


def rail_hold(fixing: Fixing, wood: Wood, demand: Demand) -> RailHold:
    """The adjusted values of one bolt: its row lies along the grain and along the load."""
    d, (apart, end) = fixing.fastener.diameter, _places(wood, demand)
    holding = _holding(demand)
    cdelta = min(
        timber_spacing.geometry_factor(
            apart, timber_spacing.spacing_in_row(d, across=False), 3 * d
        ),
        timber_spacing.geometry_factor(end, timber_spacing.end_distance(d, "tension"), 0.5 * 7 * d),
    )
    high = wood.edges[1] - wood.edges[0]
    cg = timber_spacing.group_factor(
        count=len(holding),
        spacing=apart if len(holding) > 1 else 0.0,
        diameter=d,
        main_stiffness=wood.modulus * wood.depth * high,
        side_stiffness=200_000 * fixing.plate * min(demand.contact_length, high),
    )
    return RailHold(wood=wood, fixing=fixing, factors=wood.wet_lateral * cg * cdelta)


def _holding(demand: Demand) -> list[float]:
    """U of the columns that hold along the rail: all, or the round ones beside slots."""
    group = demand.group
    pairs = zip(group.points, group.slides, strict=True)
    return sorted({u for (u, _), slides in pairs if group.free_along or not slides})


def _places(wood: Wood, demand: Demand) -> tuple[float, float]:
    """Least spacing of what holds along the rail, and from its end to the wood's own."""
    holding = _holding(demand)
    apart = float(min(np.diff(holding), default=np.inf))
    return apart, wood.end - max(map(abs, holding))


def _lateral(bench: Bench, of: str, held: RailHold, demand: Demand, loads: PinLoads) -> Check:
    wood, fixing, lateral = held.wood, held.fixing, demand.lateral
    grain = np.degrees(np.arctan2(np.abs(demand.along_v), np.abs(demand.along_u)))
    z = held.laterals(grain) * loads.duration[:, None]
    row, k = peak(lateral / np.maximum(z, 1e-9))
    angle, cd = float(grain[row, k]), float(loads.duration[row])
    modes = held.modes(angle)
    mode, reference = yield_modes.reference(modes)
    listed = ", ".join(f"{name} {value:.0f}" for name, value in modes.items())
    block = f" across a block of {fixing.under:.1f} mm" if fixing.under else ""
    return bench.held(
        f"{of} bolt lateral",
        f"bolt {fixing.fastener.size} of the {of}, lateral load in a rail of {wood.species}"
        f"{block}, {degrees_words(angle)} to the grain: {loads.words(row)}",
        demand=float(lateral[row, k]),
        allowed=held.lateral(angle) * cd,
        unit="N",
        source="NDS 2018 Eq. 12.3-1 to 12.3-6, Table 11.3.1"
        + ("; AWC TR-12 Table 1-1 for the gap" if fixing.under else ""),
        working=f"Z by mode: {listed}; mode {mode} governs, Z = {reference:.0f}; CD {cd:g}, CM "
        f"{wood.wet_lateral:g}, Cg C delta {held.factors / wood.wet_lateral:.3f}; t = "
        f"{fixing.plate:.2f}, lm = {wood.depth:.1f}, G = {wood.gravity:g}",
    )


def _slip(bench: Bench, of: str, demand: Demand, loads: PinLoads) -> Check:
    along = np.abs(demand.along_u.sum(axis=1))
    row, count = int(np.argmax(along)), len(demand.holes)
    return bench.held(
        f"{of} slip along its slots",
        f"the {of} held along its slots by friction on wood alone: {loads.words(row)}",
        demand=float(along[row]),
        allowed=allowable(bolts.slip(IN_WOOD * count), "slip_long_slot"),
        unit="N",
        source="AISC 360-16 Eq. J3-4 without Du, mu = 0.30; clamping of wood 1500 N, house",
        working=f"mu N / Omega = 0.30 x {count} x {IN_WOOD:.0f} / 2.14",
    )


def _distances(bench: Bench, of: str, held: RailHold, demand: Demand) -> Iterator[Check]:
    wood, d = held.wood, held.fixing.fastener.diameter
    slender = wood.depth / d
    rows = sorted({hole.v for hole in demand.holes})
    apart, end = _places(wood, demand)
    across = float(np.abs(demand.along_v).max()) > SMALL * held.lateral(90.0)
    needed = timber_spacing.edge_across(d, loaded=True)
    if not across:
        between = float(min(np.diff(rows), default=0.0))
        needed = timber_spacing.edge_parallel(d, slender, between)
    found = [
        (
            "edge",
            "bolt to the nearer edge of the rail",
            min(rows[0] - wood.edges[0], wood.edges[1] - rows[-1]),
            needed,
            "NDS 2018 Table 12.5.1C, EN 1995-1-1 Table 8.4: "
            + ("4 D, loaded edge" if across else f"3 D, load along the grain, l/D {slender:.1f}"),
        ),
        (
            "end",
            "outermost bolt that holds to the end of the rail",
            end,
            timber_spacing.end_distance(d, "tension"),
            "NDS 2018 Table 12.5.1A, EN 1995-1-1 Table 8.4: 7 D and 80 mm",
        ),
    ]
    if np.isfinite(apart):
        name = "between the bolts that hold along the rail"
        least = timber_spacing.spacing_in_row(d, across=False)
        found.append(("row", name, apart, least, "EN 1995-1-1 Table 8.4: 5 D (NDS: 4 D)"))
    for name, what, value, least, source in found:
        yield bench.fits(
            STRENGTH, f"{of} rail {name} distance", f"{of}: {what}", value=value, least=least,
            source=source, working=f"{least / d:.3g} D, D = {d:.2f}",
        )  # fmt: skip


def _torn_out(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Check:
    count = len(_holding(demand))
    critical = min(_places(wood, demand))
    along = np.abs(loads.force[:, 0])
    row = int(np.argmax(along / loads.duration))
    cd = float(loads.duration[row])
    return bench.held(
        f"{of} row torn out of the rail",
        f"row of bolts of the {of} torn out of the rail along its grain: {loads.words(row)}",
        demand=float(along[row]),
        allowed=timber_spacing.row_tear_out(wood.fv, wood.depth, count, critical) * cd,
        unit="N",
        source="NDS 2018 Eq. E.3-2",
        working=f"n Fv t s CD = {count} x {wood.fv:.2f} x {wood.depth:.1f} x {critical:.1f} x "
        f"{cd:g}",
    )


def _split(bench: Bench, of: str, wood: Wood, demand: Demand, loads: PinLoads) -> Check:
    """Shear in the rail where the weight on the bolts pulls across its grain."""
    rows = [hole.v for hole in demand.holes]
    deep = max(max(rows) - wood.edges[0], wood.edges[1] - min(rows))
    high = wood.edges[1] - wood.edges[0]
    capacity = timber_spacing.connection_shear(wood.fv, wood.depth, high, deep)
    across = np.abs(loads.force[:, 1])
    row = int(np.argmax(across / loads.duration))
    cd = float(loads.duration[row])
    return bench.held(
        f"{of} rail shear at the bolts",
        f"rail pulled across its grain by the bolts of the {of}: {loads.words(row)}",
        demand=float(across[row]),
        allowed=capacity * cd,
        unit="N",
        source="NDS 2018 3.4.3.3(a)",
        working=f"2/3 Fv b de (de/d)^2 CD, Fv = {wood.fv:.2f}, b = {wood.depth:.1f}, de = "
        f"{deep:.1f}, d = {high:.1f}, CD = {cd:g}",
    )


def _behind(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Check:
    """Each bolt draws its own patch of the plate behind, as far as the plate is stiff."""
    fastener, plate = fixing.fastener, bench.behind(fixing.name)
    row, k = peak(demand.tension)
    pull, washer = float(demand.tension[row, k]), fastener.head.washer_diameter
    bearing, high = wood.fc_perp * wood.wet_bearing, wood.edges[1] - wood.edges[0]
    hole = timber.bolt_hole_limits(fastener.diameter)[1]
    if plate is None:
        return bench.held(
            f"{of} washer on the rail",
            f"washer of a bolt of the {of} drawn into the far face of the rail: {loads.words(row)}",
            demand=pull,
            allowed=timber.washer_bearing(bearing, washer, hole),
            unit="N",
            source="NDS 2018 3.10.2",
            working=f"Fc_perp CM x area of {washer:.1f} less {hole:.1f} mm, {wood.fc_perp:.2f} x "
            f"{wood.wet_bearing:g}",
        )
    t, fy = plate.plate_thickness, bench.steel[0]
    spread = plates.spread_on(fy, t, bearing)
    columns = sorted({h.u for h in demand.holes})
    pitch = float(min(np.diff(columns), default=np.inf))
    edge = plate.width / 2 - max(abs(u - (columns[0] + columns[-1]) / 2) for u in columns)
    half = washer / 2 + spread
    wide = min(half, pitch / 2) + min(half, pitch / 2, edge)
    tall = min(2 * half, plate.length, high)
    return bench.held(
        f"{of} backing plate on the rail",
        f"backing plate drawn into the far face of the rail by a bolt of the {of}: "
        f"{loads.words(row)}",
        demand=pull,
        allowed=bearing * wide * tall,
        unit="N",
        source="NDS 2018 3.10.2; spread by the plate's bending as a footing, AISC 360-16 F11.1",
        working=f"Fc_perp CM x {wide:.1f} x {tall:.1f}, {bearing:.2f} MPa; spread from the washer "
        f"sqrt(2 Fy t^2 / 4 / 1.67 / p) = {spread:.1f}, t = {t:.2f}",
    )
