"""Loads on the pins: along the actuator, in balance, and what a storm adds where there is no lock."""

import numpy as np
import pytest

from hangpost.generators.judging.loads import pin_loads, storm
from hangpost.generators.pivots.of_site import moving_torque

from .judged_gates import bench, demo, designed


def test_thrust_is_along_the_actuator_and_balances() -> None:
    made = bench()
    mount, hung = made.leaf.mount, made.hung
    at_post = made.loads["post"]
    row = int(np.flatnonzero(at_post.case == 0)[0])  # pushing, closed

    px, py = mount.post_pivot
    gx, gy = mount.leaf_pivot
    long = np.hypot(gx - px, gy - py)
    size = float(hung.actuator.thrust) * 1.25  # load.stall, factors.csv
    # A pushing actuator presses the post pin away from the leaf pivot; seat: u = -x, w = +y.
    expected = (-size * (px - gx) / long, size * (py - gy) / long)
    assert at_post.force[row, [0, 2]] == pytest.approx(expected)
    assert at_post.level[row] == pytest.approx(size)


@pytest.mark.parametrize("pin", ["post", "leaf"])
def test_every_case_is_its_torque_over_the_leverage_pushed_and_pulled(pin: str) -> None:
    """Statics: 1.5 times hinges, slope and breaking loose, once all with the wind; at most a stall."""
    made = bench()
    loads, mount, site, hung = made.loads[pin], made.leaf.mount, made.site, made.hung
    needed, thrust = moving_torque(site, hung), float(hung.actuator.thrust)
    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    for name, asked in {
        "starting": 1.5 * (needed.total - needed.wind),
        "wind": 1.0 * needed.total,
        "stall": 1e12,
    }.items():
        for way in ("push", "pull"):
            (case,) = (
                k for k, said in enumerate(loads.names)
                if name in said.lower().replace("breaking away", "starting") and way in said
            )  # fmt: skip
            rows = np.flatnonzero(loads.case == case)
            turn = np.radians(loads.angle[rows] * (1.0 if mount.direction == "pull" else -1.0))
            x, y = np.cos(turn) * gx - np.sin(turn) * gy, np.sin(turn) * gx + np.cos(turn) * gy
            arm = np.abs(px * y - py * x) / np.hypot(x - px, y - py)
            assert loads.level[rows] == pytest.approx(np.minimum(asked / arm, 1.25 * thrust)), name


def test_storm_loads_the_pins_only_without_a_lock() -> None:
    """GEO-04: at the pins, or at the lock."""
    site = demo()
    bare = site.model_copy(update={"lock": None})
    hung, mount = site.leaves[0], designed().leaves[0].mount
    seat = bench().fixing("post").seat
    locked, free = (pin_loads(s, hung, mount, seat, at="post") for s in (site, bare))
    named = [n for n in free.names if "survival" in n]

    assert not any("survival" in n for n in locked.names)
    assert len(named) == 2
    row = int(np.flatnonzero(free.case == free.names.index(named[0]))[0])
    assert free.level[row] == pytest.approx(storm(bare, hung).torque / mount.leverage_closed)
    assert free.duration[row] == 1.6


def test_survival_wind_by_hand() -> None:
    """GEO-04: ASCE 7-10: q = 0.613 Kz V^2 with Kz = 0.849 below 15 ft in exposure C (Table 27.3-1)."""
    wind = storm(demo(), demo().leaves[0])
    speed, leaf = 70 * 0.44704, demo().leaves[0].leaf
    pressure = 0.613 * 0.849 * speed**2
    area = leaf.width / 1000 * leaf.height / 1000 * leaf.fill

    assert wind.pressure * 1e6 == pytest.approx(pressure, rel=2e-3)
    assert wind.force == pytest.approx(pressure * 0.85 * 1.6 * area, rel=2e-3)  # G Cf
    assert wind.torque == pytest.approx(wind.force * leaf.width / 2)
