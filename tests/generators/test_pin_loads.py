"""Loads on the pins: along the actuator, in balance, and what a storm adds where there is no lock."""

import numpy as np
import pytest

from hangpost.generators.judging.loads import pin_loads, storm

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
