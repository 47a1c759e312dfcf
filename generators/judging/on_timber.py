"""A seat on timber, held by lag screws or through-bolts: the group, its wood, its distances.

Reference values of the NDS times CD, CM, Cg and C delta; no Omega. The wood's grain runs up a
post. Units: N, mm, MPa. Frame: the seat frame.
Sources: NDS 2018 chapters 11 and 12 and 3.4.3, 3.10; AISC 360-16 J3 for the bolt itself.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.wood import Wood, lag_size
from hangpost.generators.strength import bolts, plates, timber, timber_spacing, yield_modes
from hangpost.generators.strength.factors import allowable
from hangpost.parts.backing_plate import BackingPlate

BESIDE, SHORT = 9.525, 152.4  # mm, NDS 2018 3.10.4: 3/8 in and 6 in
NODES = np.linspace(0.0, 90.0, 19)  # angles to the grain at which the yield modes are worked out


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What one fastener holds in the wood before the load's duration: lateral and withdrawal."""

    wood: Wood
    fixing: Fixing
    lateral_factors: float  # CM, Cg, C delta together
    withdrawal: float  # adjusted, without CD; 0 for a through-bolt

    def modes(self, angle: float) -> yield_modes.Modes:
        """All yield modes at an angle to the grain."""
        fastener, wood = self.fixing.fastener, self.wood
        d = fastener.diameter
        main, dowel, fyb = wood.depth, d, yield_modes.BOLT_YIELD
        if not self.fixing.is_through:
            d, dowel, tip, fyb = lag_size(fastener.size)
            main = yield_modes.lag_main_length(fastener.length - self.fixing.over, tip)
        return yield_modes.single_shear(
            diameter=dowel,
            main=main,
            side=self.fixing.plate,
            bearing_main=timber.bearing_at_angle(wood.gravity, d, angle),
            bearing_side=timber.bearing_steel(wood.plate_fu, self.fixing.plate),
            yield_strength=fyb,
            angle=angle,
        )

    def lateral(self, angle: float) -> float:
        """Adjusted lateral value, without CD."""
        return yield_modes.reference(self.modes(angle))[1] * self.lateral_factors

    def laterals(self, angles: Floats) -> Floats:
        """The same for many angles, between nodes of 5 degrees."""
        values = np.array([self.lateral(float(node)) for node in NODES])
        return np.asarray(np.interp(angles, NODES, values))


def timber_group(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of a group of fasteners in timber."""
    yield from _holding(bench, of, fixing, wood, demand, loads)
    yield from _distances(bench, of, fixing, wood, demand)
    yield _crushed(bench, of, wood, demand, loads)
    yield _split(bench, of, wood, demand, loads)
    if fixing.is_through:
        yield from _bolt(bench, of, fixing, wood, demand, loads)


def hold(fixing: Fixing, wood: Wood, demand: Demand) -> Hold:
    """The adjusted values of one fastener of this group."""
    d, fastener = fixing.fastener.diameter, fixing.fastener
    across = sorted({hole.u for hole in demand.holes})
    apart = min(np.diff(across), default=float("inf"))
    # Across the grain a row needs the spacing of the plate that it is in, NDS Table 12.5.1B.
    cdelta = timber_spacing.geometry_factor(float(apart), 3 * d, 3 * d)
    cg = timber_spacing.group_factor(
        count=len(across),
        spacing=float(apart) if len(across) > 1 else 0.0,
        diameter=d,
        main_stiffness=wood.modulus / 20 * wood.depth * 5 * d,
        side_stiffness=200_000 * fixing.plate * 5 * d,
    )
    pull = 0.0
    if not fixing.is_through:
        nominal, _, tip, _ = lag_size(fastener.size)
        thread = timber.thread_in_wood(fastener.length, tip, fixing.over)
        pull = timber.lag_withdrawal(wood.gravity, nominal, thread) * wood.wet_withdrawal
    return Hold(
        wood=wood, fixing=fixing, lateral_factors=wood.wet_lateral * cg * cdelta, withdrawal=pull
    )


def _holding(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    held = hold(fixing, wood, demand)
    lateral = demand.lateral
    grain = np.degrees(np.arctan2(np.abs(demand.along_u), np.abs(demand.along_v)))
    z = held.laterals(grain) * loads.duration[:, None]
    if fixing.is_through:
        row, k = _peak(lateral / z)
    else:
        w = held.withdrawal * loads.duration[:, None]
        both = np.hypot(lateral, demand.tension)
        # Eq. 12.4-1 turned into a share: R / Z'alpha = (L^2 / Z' + T^2 / W') / R
        share = (lateral**2 / z + demand.tension**2 / w) / np.maximum(both, 1e-9)
        row, k = _peak(share)
    force, pull = float(lateral[row, k]), float(demand.tension[row, k])
    angle, cd = float(grain[row, k]), float(loads.duration[row])
    modes, zz = held.modes(angle), held.lateral(angle) * cd
    mode, reference = yield_modes.reference(modes)
    listed = ", ".join(f"{name} {value:.0f}" for name, value in modes.items())
    group = held.lateral_factors / wood.wet_lateral
    factors = f"CD {cd:g}, CM {wood.wet_lateral:g}, Cg C delta {group:.3f}"
    named = f"{fixing.fastener.kind} {fixing.fastener.size} of the {of}"
    where = f"{angle:.0f} degrees to the grain: {loads.words(row)}"
    yield bench.held(
        f"{of} {fixing.fastener.kind} lateral",
        f"{named}, lateral load in {wood.species}, {where}",
        demand=force,
        allowed=zz,
        unit="N",
        source="NDS 2018 Eq. 12.3-1 to 12.3-6, Table 11.3.1",
        working=f"Z by mode: {listed}; mode {mode} governs, Z = {reference:.0f}; {factors}",
    )
    if fixing.is_through:
        return
    ww = held.withdrawal * cd
    far_row, far = _peak(demand.tension / loads.duration[:, None])
    most = float(demand.tension[far_row, far])
    thread = timber.thread_in_wood(
        fixing.fastener.length, lag_size(fixing.fastener.size)[2], fixing.over
    )
    yield bench.held(
        f"{of} {fixing.fastener.kind} withdrawal",
        f"{named} pulled out of {wood.species}: {loads.words(far_row)}",
        demand=most,
        allowed=held.withdrawal * float(loads.duration[far_row]),
        unit="N",
        source="NDS 2018 Eq. 12.2-1, Table 11.3.1",
        working=f"1800 G^1.5 D^0.75 lbf/in x thread {thread:.1f} mm x CD "
        f"{loads.duration[far_row]:g} x CM {wood.wet_withdrawal:g}, G = {wood.gravity:g}",
    )
    alpha = degrees(atan2(pull, force))
    yield bench.held(
        f"{of} {fixing.fastener.kind} lateral and withdrawal",
        f"{named}, both loads together, {alpha:.0f} degrees to the wood's face, {where}",
        demand=hypot(force, pull),
        allowed=timber.combined(zz, ww, alpha) if ww > 0 else 0.0,
        unit="N",
        source="NDS 2018 Eq. 12.4-1",
        working=f"W'p Z' / (W'p cos^2 a + Z' sin^2 a), W'p = {ww:.0f}, Z' = {zz:.0f}, a = "
        f"{alpha:.1f}; L = {force:.0f}, T = {pull:.0f}",
    )


def _distances(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand
) -> Iterator[Check]:
    d = fixing.fastener.diameter
    across = sorted({hole.u for hole in demand.holes})
    along = sorted({hole.v for hole in demand.holes})
    slender = (wood.depth if fixing.is_through else fixing.fastener.length - fixing.over) / d
    edge = min(across[0] - wood.edges[0], wood.edges[1] - across[-1])
    yield _place(
        bench,
        of,
        "edge",
        "fastener to the loaded edge of the wood, across the grain",
        edge,
        timber_spacing.edge_across(d, loaded=True),
        "NDS 2018 Table 12.5.1C: 4 D",
    )
    if len(across) > 1:
        yield _place(
            bench,
            of,
            "column spacing",
            "between the columns of fasteners, along the load",
            float(min(np.diff(across))),
            3 * d,
            "NDS 2018 Table 12.5.1B: 3 D",
        )
    if len(along) > 1:
        yield _place(
            bench,
            of,
            "row spacing",
            "between the rows of fasteners, up the grain",
            float(min(np.diff(along))),
            timber_spacing.row_spacing_across(d, slender),
            f"NDS 2018 Table 12.5.1D, l/D = {slender:.1f}",
        )
    end = wood.end - max(map(abs, along))
    yield _place(
        bench,
        of,
        "end",
        "outermost fastener to the end of the wood",
        end,
        timber_spacing.end_distance(d, "across"),
        "NDS 2018 Table 12.5.1A: 4 D",
    )
    if not fixing.is_through:
        nominal, _, tip, _ = lag_size(fixing.fastener.size)
        yield _place(
            bench,
            of,
            "penetration",
            "lag screw in the wood, its tip left out",
            fixing.fastener.length - fixing.over - tip,
            timber.least_penetration(nominal),
            "NDS 2018 12.1.4.6: 4 D",
        )


def _place(
    bench: Bench, of: str, name: str, what: str, value: float, least: float, source: str
) -> Check:
    return bench.fits(
        "strength", f"{of} timber {name}", f"{of}: {what}", value=value, least=least, source=source
    )


def _crushed(bench: Bench, of: str, wood: Wood, demand: Demand, loads: PinLoads) -> Check:
    row = int(np.argmax(demand.contact))
    area = demand.contact_width * demand.contact_length
    pressure, long = float(demand.contact[row]) / area, demand.contact_length
    # NDS 3.10.4: a short bearing, measured along the grain, is helped by the wood beside it.
    cb = (long + BESIDE) / long if long < SHORT else 1.0
    return bench.held(
        f"{of} pressure on the wood",
        f"edge of the seat of the {of} pressed into {wood.species}: {loads.words(row)}",
        demand=pressure,
        allowed=wood.fc_perp * wood.wet_bearing * cb,
        unit="MPa",
        source="NDS 2018 3.10.2, 3.10.4; width of contact 4 t, house",
        working=f"C = {demand.contact[row]:.0f} on {demand.contact_width:.1f} x "
        f"{long:.1f}; Fc_perp {wood.fc_perp:.2f} x CM {wood.wet_bearing:g} x Cb {cb:.2f}",
    )


def _split(bench: Bench, of: str, wood: Wood, demand: Demand, loads: PinLoads) -> Check:
    """Shear in the post where the fasteners pull across its grain."""
    force = np.abs(loads.force[:, 0]) / loads.duration
    row = int(np.argmax(force))
    across = sorted({hole.u for hole in demand.holes})
    width = wood.edges[1] - wood.edges[0]
    deep = max(across[-1] - wood.edges[0], wood.edges[1] - across[0])
    capacity = timber_spacing.connection_shear(wood.fv, wood.depth, width, deep)
    near_end = wood.end - max(abs(hole.v) for hole in demand.holes) < 5 * width
    if not near_end:  # NDS 3.4.3.3(b): without the square of de/d
        capacity /= (deep / width) ** 2
    cd = float(loads.duration[row])
    return bench.held(
        f"{of} post shear at the fasteners",
        f"post pulled across its grain by the fasteners of the {of}: {loads.words(row)}",
        demand=abs(float(loads.force[row, 0])),
        allowed=capacity * cd,
        unit="N",
        source=f"NDS 2018 3.4.3.3({'a' if near_end else 'b'})",
        working=f"2/3 Fv b de{' (de/d)^2' if near_end else ''} CD, Fv = {wood.fv:.2f}, b = "
        f"{wood.depth:.1f}, de = {deep:.1f}, d = {width:.1f}, CD = {cd:g}",
    )


def _bolt(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    fastener, plate = fixing.fastener, bench.behind(fixing.name)
    row, k = _peak(demand.tension)
    pull, hole = float(demand.tension[row, k]), timber.bolt_hole_limits(fastener.diameter)[1]
    bearing = wood.fc_perp * wood.wet_bearing
    if plate is None:
        washer = fastener.head.washer_diameter
        yield bench.held(
            f"{of} washer on the wood",
            f"washer of a bolt of the {of} pressed into the far face of {wood.species}: "
            f"{loads.words(row)}",
            demand=pull,
            allowed=timber.washer_bearing(bearing, washer, hole),
            unit="N",
            source="NDS 2018 3.10.2",
            working=f"Fc_perp CM x area of {washer:.1f} less {hole:.1f} mm, {wood.fc_perp:.2f} x "
            f"{wood.wet_bearing:g}",
        )
    else:
        yield from _backing(bench, of, plate, fastener.head.washer_diameter, bearing, demand, loads)
    fnt, fnv, _ = bench.bolt_grade
    shear = demand.lateral
    use = np.maximum(shear / fnv, demand.tension / fnt)
    row, k = _peak(np.maximum(use, (shear / fnv + demand.tension / fnt) / 1.3))
    yield bench.used(
        f"{of} bolt shear and tension",
        f"bolt of the {of} in shear and tension: {loads.words(row)}",
        share=bolts.shear_and_tension(
            fnt,
            fnv,
            fastener.diameter,
            shear_force=float(shear[row, k]),
            tension_force=float(demand.tension[row, k]),
        ),
        source="AISC 360-16 J3.6, J3.7",
        working=f"V = {shear[row, k]:.0f}, T = {demand.tension[row, k]:.0f}, Fnv {fnv:.0f}, Fnt "
        f"{fnt:.0f}, Omega 2.00, Ab = {bolts.shank_area(fastener.diameter):.1f}",
    )


def _backing(
    bench: Bench,
    of: str,
    plate: BackingPlate,
    washer: float,
    bearing: float,
    demand: Demand,
    loads: PinLoads,
) -> Iterator[Check]:
    """The plate behind: the bolts of one row press a strip of it, as far as the plate is stiff."""
    t, (fy, _) = plate.plate_thickness, bench.steel
    rows = sorted({hole.v for hole in demand.holes})
    pulls = np.column_stack(
        [demand.tension[:, [hole.v == v for hole in demand.holes]].sum(axis=1) for v in rows]
    )
    row, k = _peak(pulls)
    pull, us = float(pulls[row, k]), [hole.u for hole in demand.holes]
    # As a footing: the strip spreads until its own bending is used up, M = p a^2 / 2 on 1 mm.
    strength = allowable(plates.weak_axis_moment(fy, 1.0, t), "yield")
    spread = float((2 * strength / bearing) ** 0.5)
    wide = min(max(us) - min(us) + washer + 2 * spread, plate.width)
    pitch = min(np.diff(rows), default=float("inf"))
    high = min(washer + 2 * spread, float(pitch), plate.length)
    yield bench.held(
        f"{of} backing plate on the wood",
        f"backing plate pressed into the far face of the wood by one row of bolts of the {of}: "
        f"{loads.words(row)}",
        demand=pull,
        allowed=bearing * wide * high,
        unit="N",
        source="NDS 2018 3.10.2; spread by the plate's bending as a footing, AISC 360-16 F11.1",
        working=f"Fc_perp CM x {wide:.1f} x {high:.1f}, {bearing:.2f} MPa; spread from the washer "
        f"sqrt(2 Fy t^2 / 4 / 1.67 / p) = {spread:.1f}, t = {t:.2f}, plate {plate.width:.0f} x "
        f"{plate.length:.0f}",
    )


def _peak(values: Floats) -> tuple[int, int]:
    """Row and column of the greatest value."""
    row, k = np.unravel_index(int(np.argmax(values)), values.shape)
    return int(row), int(k)
