"""What one fastener of a seat holds in timber: lateral, withdrawal and both together.

Reference values of the NDS times CD, CM, Cg and C delta; no Omega. The wood's grain runs up a
post. Units: N, mm, MPa. Frame: the seat frame.
Sources: NDS 2018 chapters 11 and 12.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench, peak
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.wood import Wood, lag_size
from hangpost.generators.strength import timber, timber_spacing, yield_modes
from hangpost.generators.survey.display import degrees_words

NOTHING = 1e-9  # N, in place of none where one divides
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
            gap=self.fixing.under,
        )

    def lateral(self, angle: float) -> float:
        """Adjusted lateral value, without CD."""
        return yield_modes.reference(self.modes(angle))[1] * self.lateral_factors

    def laterals(self, angles: Floats) -> Floats:
        """The same for many angles, between nodes of 5 degrees."""
        values = np.array([self.lateral(float(node)) for node in NODES])
        return np.asarray(np.interp(angles, NODES, values))


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


def holding(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """The fastener with the greatest share of what it holds, each way and both together."""
    held = hold(fixing, wood, demand)
    lateral = demand.lateral
    grain = np.degrees(np.arctan2(np.abs(demand.along_u), np.abs(demand.along_v)))
    # What may not stand there holds nothing, and the share of it is beyond all measure.
    z = np.maximum(held.laterals(grain) * loads.duration[:, None], NOTHING)
    if fixing.is_through:
        row, k = peak(lateral / z)
    else:
        w = np.maximum(held.withdrawal * loads.duration[:, None], NOTHING)
        both = np.hypot(lateral, demand.tension)
        # Eq. 12.4-1 turned into a share: R / Z'alpha = (L^2 / Z' + T^2 / W') / R
        share = (lateral**2 / z + demand.tension**2 / w) / np.maximum(both, NOTHING)
        row, k = peak(share)
    force, pull = float(lateral[row, k]), float(demand.tension[row, k])
    angle, cd = float(grain[row, k]), float(loads.duration[row])
    modes, zz = held.modes(angle), held.lateral(angle) * cd
    mode, reference = yield_modes.reference(modes)
    listed = ", ".join(f"{name} {value:.0f}" for name, value in modes.items())
    group = held.lateral_factors / wood.wet_lateral
    factors = f"CD {cd:g}, CM {wood.wet_lateral:g}, Cg C delta {group:.3f}"
    named = f"{fixing.fastener.kind} {fixing.fastener.size} of the {of}"
    wedge = f" across a wedge of {fixing.under:.1f} mm" if fixing.under else ""
    where = f"{degrees_words(angle)} to the grain: {loads.words(row)}"
    yield bench.held(
        f"{of} {fixing.fastener.kind} lateral",
        f"{named}, lateral load in {wood.species}{wedge}, {where}",
        demand=force,
        allowed=zz,
        unit="N",
        source="NDS 2018 Eq. 12.3-1 to 12.3-6, Table 11.3.1"
        + ("; AWC TR-12 Table 1-1 for the gap" if fixing.under else ""),
        working=f"Z by mode: {listed}; mode {mode} governs, Z = {reference:.0f}; {factors}",
    )
    if fixing.is_through:
        return
    ww = held.withdrawal * cd
    far_row, far = peak(demand.tension / loads.duration[:, None])
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
        allowed=timber.combined(zz, ww, alpha) if min(zz, ww) > 0 else 0.0,
        unit="N",
        source="NDS 2018 Eq. 12.4-1",
        working=f"W'p Z' / (W'p cos^2 a + Z' sin^2 a), W'p = {ww:.0f}, Z' = {zz:.0f}, a = "
        f"{alpha:.1f}; L = {force:.0f}, T = {pull:.0f}",
    )
