"""The hanging post twisted: by the actuator against the hinges, and by the wind on the leaf.

The actuator pushes its pin one way and, by the leaf, the hinges the other. Below the lower hinge
what is left of that about the post's own axis is the torque about the hinge axis; between pin and
hinges it can be more. Hinges share the actuator's force as end supports. What blocks the leaf
while the actuator stalls is taken to be off the post. The ground holds the post against turning.
Units: N, mm, N mm, degrees. Frame: the plan frame, heights above ground.
Sources: statics; Saint-Venant; EN 1995-1-1:2004 6.1.8 (timber); AISC 360-16 H3 (steel).
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from math import degrees, floor

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.hanging_post import blown_moment, hanging_moment, hinge_heights
from hangpost.generators.judging.loads import STORM, Floats, storm
from hangpost.generators.judging.post_bar import PostBar, post_bar
from hangpost.generators.pivots.of_site import moving_torque
from hangpost.generators.strength import actions, posts
from hangpost.generators.survey.display import both
from hangpost.generators.survey.sections import sold
from hangpost.generators.survey.units import FACTORS

LOST = 1 / 50  # of the leaf's width: what the latch edge may stay behind; house
NOTABLE = 0.2  # of the allowed torque: below, bending need not hear of it, AISC 360-16 H3.2


def torsion_checks(bench: Bench) -> Iterator[Check]:
    """The post twisted, bent and twisted together, and what the latch loses by both."""
    bar, loads = post_bar(bench.hung.post), bench.loads["post"]
    cd = loads.duration if bar.timber else np.ones(len(loads.duration))
    torque = torques(bench)
    row = int(np.argmax(torque / cd))
    yield _twisted(bench, bar, float(torque[row]), float(cd[row]), loads.words(row))
    if not bar.timber:
        yield _together(bench, bar, float(torque[row]))
    yield _lost(bench, bar)


def torques(bench: Bench) -> Floats:
    """The greatest torque in the post, one a row of loads on the post pin."""
    hung, mount, loads = bench.hung, bench.leaf.mount, bench.loads["post"]
    signed = loads.angle if mount.direction == "pull" else -loads.angle
    unit = actions.thrust_directions(mount.post_pivot, mount.leaf_pivot, signed)
    x, y = post_axis(bench)
    px, py = mount.post_pivot
    of_pin = loads.level * ((px - x) * unit[:, 1] - (py - y) * unit[:, 0])
    of_hinges = loads.level * (-x * unit[:, 1] + y * unit[:, 0])
    low, high = hinge_heights(bench)
    height = float(hung.pin_height)
    top = (height - low) / (high - low)
    # What wind on the leaf brings to the hinges, off the post's axis, with the pins holding it.
    storming = np.char.startswith(np.array(loads.names)[loads.case], STORM)
    blown = np.where(storming, storm(bench.site, hung).force * abs(x), 0.0)
    at = ((height, of_pin), (low, -(1 - top) * of_hinges), (high, -top * of_hinges))
    levels = [
        np.sum([t for z, t in at if z > level], axis=0) for level in (0.0, *(z for z, _ in at))
    ]
    return np.asarray(np.max([np.abs(t) + 0 * of_pin for t in levels], axis=0) + blown)


def post_axis(bench: Bench) -> tuple[float, float]:
    """Middle of the post in plan."""
    hung = bench.hung
    x = -(float(hung.hinge.to_leaf_face) + float(hung.post.width) / 2)
    return x, float(hung.hinge.to_actuator_face) - float(hung.post.depth) / 2


def _twisted(bench: Bench, bar: PostBar, torque: float, cd: float, words: str) -> Check:
    allowed = bar.torsion * cd
    over = torque * bench.reserve > allowed
    check = bench.held(
        "hanging post torsion",
        f"hanging post twisted by pin and hinges about its own axis: {words}",
        demand=torque,
        allowed=allowed,
        unit="N mm",
        source="statics; EN 1995-1-1:2004 6.1.8 with Fv of the NDS, its shape factor left out; the "
        "NDS has no clause, so it only warns"
        if bar.timber
        else "statics; AISC 360-16 H3.1",
        working=f"the greatest of pin and hinges along the post; CD {cd:g}, {bar.words}",
        warning=bar.timber,
    )
    if not (over and bar.timber):
        return check
    return replace(check, would_do=_what_would_do(bench, bar, torque / cd, words))


def _what_would_do(bench: Bench, bar: PostBar, torque: float, words: str) -> str:
    """A timber that carries the torque, and what would bring it down to what this one does."""
    units, need = bench.shop.drawings.units, torque * bench.reserve
    fv = bar.torsion / posts.shaft_of_rectangle(bench.hung.post.width, bench.hung.post.depth)
    enough = (
        timber
        for timber in sold(units, 0.0, 0.0)
        if posts.timber_torque(fv, timber.thick, timber.thick) >= need
    )
    dressed = "dressed " if units == "in" else ""
    found = [
        f"a {dressed}post of {timber.size}, {both(timber.thick, units)} square"
        for timber in islice(enough, 1)
    ]
    if words.startswith(STORM):
        found.append("a lock that takes the wind")
    else:
        unit = "lbf" if units == "in" else "N"
        least = bench.hung.actuator.thrust * bar.torsion / need / FACTORS["force"][unit]
        found.append(
            f"an actuator, or a force setting of this one, of at most {floor(least)} {unit}"
        )
    return " or ".join(found)


def _together(bench: Bench, bar: PostBar, torque: float) -> Check:
    """A steel post at its foot, where bending and torsion meet."""
    bent = bar.both_ways(hanging_moment(bench), blown_moment(bench))
    m, t = bent / bar.moment, torque / bar.torsion
    return bench.used(
        "hanging post bending and torsion",
        "hanging post bent by the leaf's weight and the survival wind and twisted, all at its foot",
        share=m + t**2 if t > NOTABLE else m,
        source="AISC 360-16 Eq. H3-6, axial force and shear left out as small; below 0.2 torsion "
        "may be left out, H3.2; all at once: house, on the safe side",
        working=f"M/Mc + (T/Tc)^2 = {bent:.0f}/{bar.moment:.0f} + "
        f"({torque:.0f}/{bar.torsion:.0f})^2; {bar.words}",
    )


def _lost(bench: Bench, bar: PostBar) -> Check:
    hung, mount = bench.hung, bench.leaf.mount
    height = float(hung.pin_height)
    moving = moving_torque(bench.site, hung).total
    pin = moving / mount.leverage_least
    low, high = hinge_heights(bench)
    stretch = max(high - low, 1.0)
    # The pin bows the post between its hinges, and the torque twists it below them.
    bow = pin * max(height - low, 0.0) ** 2 * max(high - height, 0.0) ** 2
    bow /= 3 * bar.modulus * bar.section.inertia * stretch
    twist = posts.twist(moving, height, bar.shear_modulus, bar.section.torsion)
    width = float(hung.leaf.width)
    lost = posts.lost_travel(bow, mount.leverage_least, width) + twist * width
    return bench.fits(
        "strength",
        "hanging post lost travel",
        f"travel lost at the latch edge while the gate moves in the operating wind: the post bows "
        f"{bow:.2f} mm at the pin and twists {degrees(twist):.2f} degrees; the ground, which gives "
        "more, is left out",
        value=lost,
        most=LOST * width,
        source="strength of materials; limit 1/50 of the leaf's width, house",
        working=f"T = {moving:.0f} N mm, F = {pin:.0f} N; E {bar.modulus:.0f}, G "
        f"{bar.shear_modulus:.0f}; lost = (bow / r + twist) x width",
        warning=True,
    )
