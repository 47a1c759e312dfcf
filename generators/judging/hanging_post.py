"""Hanging post and latch post bent: at the ground, and the hanging post between its hinges.

The actuator pulls post pin and hinges against each other, so what reaches the ground is the wind
(or what blocks the leaf), the leaf's weight and the torque about the hinge axis; that torque is
judging/post_torsion.py. Hinges are taken at the lowest and the highest rail (house); the post as
built in at ground level. Footing and soil are outside this tool, and real ground moves more.
Units: N, mm, N mm, MPa. Frame: heights above ground.
Sources: statics; NDS 2018 3.3, 3.9.2 and AISC 360-16 F7, F8, H1.1 by strength/posts.py.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import GRAVITY, held_by_lock, storm
from hangpost.generators.judging.post_bar import PostBar, post_bar
from hangpost.generators.strength.factors import factor


def post_checks(bench: Bench) -> Iterator[Check]:
    """Bending of the hanging post, and of the latch post by the wind."""
    bar = post_bar(bench.hung.post)
    yield _ground(bench, bar)
    yield _local(bench, bar)
    if held_by_lock(bench.site):
        yield _latch_post(bench)


def hinge_heights(bench: Bench) -> tuple[float, float]:
    """Where the hinges are taken: lowest and highest rail, or the leaf's own ends."""
    rails = [float(rail) for rail in bench.hung.leaf.rails]
    if len(rails) > 1:
        return rails[0], rails[-1]
    return float(bench.hung.leaf.bottom), float(bench.hung.leaf.top)


def _ground(bench: Bench, bar: PostBar) -> Check:
    leaf, hanging, blown = bench.hung.leaf, hanging_moment(bench), blown_moment(bench)
    middle = float(leaf.bottom) + float(leaf.height) / 2
    blocked = stalled_torque(bench) / float(leaf.width) * middle
    asked = {
        "the leaf's weight alone": (hanging, "weight"),
        "weight and survival wind": (bar.both_ways(hanging, blown), "survival_wind"),
        "weight and what blocks the leaf's edge": (bar.both_ways(hanging, blocked), "stall"),
    }
    used = {
        words: moment / (bar.moment * bar.duration(name)) for words, (moment, name) in asked.items()
    }
    worst = max(used, key=lambda words: used[words])
    return bench.used(
        "hanging post bending at the ground",
        f"hanging post bent at ground level by {worst}; the footing is outside this tool",
        share=used[worst],
        source="NDS 2018 3.3 and AISC 360-16 F7, F8; both moments added, as in NDS 3.9.2 and "
        "AISC H1.1; of a pipe their resultant",
        working=f"weight {leaf.mass:.0f} kg x {_arm(bench):.0f} mm = {hanging:.0f} N mm; wind "
        f"{blown:.0f} N mm; blocked F r / {leaf.width:.0f} x {middle:.0f} = {blocked:.0f} N mm; "
        f"allowed {bar.moment:.0f} N mm x CD, {bar.words}",
    )


def stalled_torque(bench: Bench) -> float:
    """The greatest torque about the hinge axis that the actuator gives before it stalls."""
    thrust = float(bench.hung.actuator.thrust) * factor("load.stall")
    return thrust * max(point.leverage for point in bench.leaf.mount.curve)


def _local(bench: Bench, bar: PostBar) -> Check:
    """Between the hinges: the pin pushes one way, the hinges the other."""
    loads, height = bench.loads["post"], float(bench.hung.pin_height)
    low, high = hinge_heights(bench)
    cd = loads.duration if bar.timber else np.ones(len(loads.duration))
    row = int(np.argmax(loads.level / cd))
    force = float(loads.level[row])
    pushed, hangs = between_hinges(bench, force), hanging_moment(bench) * _below_pin(bench)
    moment = bar.both_ways(pushed, hangs)
    return bench.held(
        "hanging post bending at the pin",
        "hanging post bent between post pivot and hinges, which are taken at "
        f"{low:.0f} and {high:.0f} mm, and by what the leaf weighs: {loads.words(row)}",
        demand=moment,
        allowed=bar.moment * float(cd[row]),
        unit="N mm",
        source="statics; NDS 2018 3.3, 3.9.2 or AISC 360-16 F7, F8, H1.1",
        working=f"F = {force:.0f} N at {height:.0f} mm against the hinges: {pushed:.0f} N mm; of "
        f"the leaf's weight {hangs:.0f} N mm; CD {cd[row]:g}, {bar.words}",
    )


def between_hinges(bench: Bench, force: float) -> float:
    """Greatest moment in the post when a force at the pin pushes against both hinges."""
    height = float(bench.hung.pin_height)
    low, high = hinge_heights(bench)
    top = force * (height - low) / (high - low)  # what the upper hinge takes
    at = {low: force - top, high: top, height: -force}
    return max(
        abs(sum(f * (z - level) for z, f in at.items() if z > level)) for level in (0.0, *at)
    )


def _below_pin(bench: Bench) -> float:
    """Share of the leaf's hanging moment at the pin's level: whole from the lower hinge down."""
    low, high = hinge_heights(bench)
    return min(1.0, max(0.0, (high - float(bench.hung.pin_height)) / (high - low)))


def hanging_moment(bench: Bench) -> float:
    """Moment that the leaf's weight brings into the post, whole below its lower hinge."""
    return float(bench.hung.leaf.mass) * GRAVITY * _arm(bench) * factor("load.weight")


def blown_moment(bench: Bench) -> float:
    """Moment at the ground of what the survival wind on the closed leaf leaves to the hinges."""
    leaf, wind = bench.hung.leaf, storm(bench.site, bench.hung)
    share = wind.end_share if held_by_lock(bench.site) else 1.0
    return wind.force * share * (float(leaf.bottom) + float(leaf.height) / 2)


def _arm(bench: Bench) -> float:
    """From the post's middle to the middle of the leaf."""
    hung = bench.hung
    return float(hung.leaf.width / 2 + hung.hinge.to_leaf_face + hung.post.width / 2)


def stressed(bench: Bench, fy: float) -> float:
    """U of AISC 360-10 K1: what a steel post is used to by bending where its bracket sits.

    The leaf's weight is counted whole, the axial force is left out as small (house).
    """
    force = float(bench.loads["post"].level.max())
    moment = between_hinges(bench, force) + hanging_moment(bench)
    return moment / (0.6 * fy * post_bar(bench.hung.post).section.elastic)


def _latch_post(bench: Bench) -> Check:
    """The post that the lock's bolt leans on in a storm."""
    lock, hung = bench.site.lock, bench.hung
    assert lock is not None
    assert lock.post is not None
    bar, wind = post_bar(lock.post), storm(bench.site, hung)
    share, cd = wind.end_share, bar.duration("survival_wind")
    height = float(lock.bolt_height)
    return bench.held(
        "latch post bending at the ground",
        "latch post bent at ground level by the survival wind at the lock's bolt; the footing is "
        "outside this tool",
        demand=wind.force * share * height,
        allowed=bar.moment * cd,
        unit="N mm",
        source="NDS 2018 3.3 or AISC 360-16 F7, F8",
        working=f"{wind.force:.0f} N x {share:g} at {height:.0f} mm; CD {cd:g}, {bar.words}",
    )
