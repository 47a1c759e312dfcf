"""The cases of load of one leaf in rows: for the calculation sheet and the report. Units: N."""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.judging.judge import bench_for
from hangpost.generators.judging.loads import GUST, Wind, held_by_lock, pins_hold_wind, storm
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.strength.factors import factor
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site

# pin, case, force in the level plane, along the seat, out of the seat, angle, CD
Row = tuple[str, str, float, float, float, float, float]


def load_rows(site: Site, shop: Shop, hung: HungLeaf, leaf: LeafDesign) -> Iterator[Row]:
    """The greatest force of each case on each pin, with the factors in it."""
    for pin, loads in bench_for(site, shop, hung, leaf).loads.items():
        for number, name in enumerate(loads.names):
            rows = np.flatnonzero(loads.case == number)
            row = int(rows[np.argmax(loads.level[rows])])
            fu, _, fw = (float(part) for part in loads.force[row])
            yield (
                pin,
                name,
                float(loads.level[row]),
                fu,
                fw,
                float(loads.angle[row]),
                float(loads.duration[row]),
            )


def wind_words(site: Site, hung: HungLeaf, mount: Mount) -> str:
    """The survival wind on the closed leaf, who takes it, and the factors on the loads."""
    wind, speed = storm(site, hung), float(site.wind.survival_m_s)
    if held_by_lock(site):
        taken = "the lock and the hinges take it, the pins nothing"
    elif pins_hold_wind(site, hung):
        taken = "no lock, and the actuator locks itself: the pins take torque over leverage"
    else:
        taken = "no lock, and the actuator gives way: nothing holds the leaf"
    names = ("stall", "start_up", "operating_wind", "survival_wind")
    factors = ", ".join(f"{name.replace('_', ' ')} {factor(f'load.{name}'):g}" for name in names)
    return (
        f"Survival wind {speed:.1f} m/s, exposure {site.wind.exposure}: q = 0.613 Kz V^2 = "
        f"{wind.pressure * 1e6:.0f} Pa; force q G Cf As = {wind.force:.0f} N with G = {GUST:g}, Cf "
        f"= {wind.coefficient:g} (ASCE 7-10 29.5); torque about the hinge {wind.torque / 1000:.0f} "
        f"N m; {taken}. The open leaf is not reckoned in it: {_left_open(hung, mount, wind)}. "
        f"Factors on loads (house): {factors}."
    )


def _left_open(hung: HungLeaf, mount: Mount, wind: Wind) -> str:
    """What the survival wind would do to a leaf left open, and what to do about it."""
    if not hung.actuator.self_locking:
        return "nothing would hold it there, so shut it before a storm"
    force = wind.torque / mount.leverage_open
    stalled = float(hung.actuator.thrust) * factor("load.stall")
    return (
        f"there it would put {force:.0f} N on each pin, {force / stalled:.1f} times the stalled "
        "actuator, so shut it before a storm"
    )
