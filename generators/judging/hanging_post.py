"""The hanging post: bent at the ground and between its hinges, twisted, and what the latch loses.

The actuator pulls post pin and hinges against each other, so what reaches the ground is the wind
(or what blocks the leaf), the leaf's weight and the torque about the hinge axis. Hinges are taken
at the lowest and the highest rail (house); the post as built in at ground level. The footing and
the soil are outside this tool, and real ground moves more.
Units: N, mm, N mm, MPa. Frame: heights above ground.
Sources: statics; NDS 2018 3.3 and AISC 360-16 F7, F8 by strength/posts.py.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, hypot

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import GRAVITY, held_by_lock, storm
from hangpost.generators.pivots.of_site import moving_torque
from hangpost.generators.strength import plates, posts, tubes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.survey.post import Post

STEELS = {"round_steel": "A53-B", "square_steel": "A500-B-square"}  # house: the usual pipe, tube
UNKNOWN_WALL = {"round_steel": 3.0, "square_steel": 3.0}  # mm, house
LOST = 1 / 50  # of the leaf's width: what the latch edge may stay behind; house
TORSION = 2 / 3  # of Fv: common practice for sawn timber, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class PostBar:
    """A post as a bar: section both ways, stiffness, what it may carry."""

    section: posts.Section
    modulus: float
    shear_modulus: float
    moment: float  # allowed, before the duration of the load
    torsion: float  # allowed torque, before the duration
    timber: bool
    words: str

    def duration(self, name: str) -> float:
        """CD for timber, 1 for steel."""
        return factor(f"duration.{name}") if self.timber else 1.0


def post_bar(post: Post) -> PostBar:
    """The bar that a post is."""
    if post.kind == "timber":
        fb, e, fv = posts.timber_values(post.species)
        wide, deep = float(post.width), float(post.depth)
        weak = min((posts.rectangle(wide, deep), posts.rectangle(deep, wide)), key=_elastic)
        short, long = sorted((wide, deep))
        # Greatest torsional stress of a rectangle, Saint-Venant (Roark).
        shaft = short**2 * long / (3 + 1.8 * short / long)
        return PostBar(
            section=weak,
            modulus=e,
            shear_modulus=e / 16,
            moment=posts.timber_moment(fb, weak, duration=1.0) * posts.size_factor(deep),
            torsion=TORSION * fv * shaft,
            timber=True,
            words=f"{post.species} Fb {fb:.2f}",
        )
    fy = plates.steel(STEELS[post.kind])[0]
    wall = tubes.design_wall(float(post.wall_thickness or UNKNOWN_WALL[post.kind]))
    side = float(post.width)
    if post.is_round:
        section = posts.round_tube(side, wall)
        moment = posts.steel_moment(
            fy, section, slenderness=side / wall, limit=posts.compact_round(fy)
        )
        shaft = section.torsion / (side / 2)
    else:
        deep = float(post.depth)
        both = (
            posts.square_tube(side, wall, depth=deep),
            posts.square_tube(deep, wall, depth=side),
        )
        section = min(both, key=_elastic)
        moment = posts.steel_moment(
            fy, section, slenderness=max(side, deep) / wall - 3, limit=posts.compact_square(fy)
        )
        shaft = 2 * (side - wall) * (deep - wall) * wall  # Bredt
    return PostBar(
        section=section,
        modulus=posts.STEEL_MODULUS,
        shear_modulus=posts.STEEL_MODULUS / 2.6,
        moment=allowable(moment, "yield"),
        torsion=allowable(0.6 * fy * shaft, "yield"),
        timber=False,
        words=f"{STEELS[post.kind]} Fy {fy:.0f}, wall {wall:.2f}",
    )


def post_checks(bench: Bench) -> Iterator[Check]:
    """Bending, torsion and movement of the hanging post."""
    bar = post_bar(bench.hung.post)
    yield _ground(bench, bar)
    yield _local(bench, bar)
    yield from _turned(bench, bar)


def hinge_heights(bench: Bench) -> tuple[float, float]:
    """Where the hinges are taken: lowest and highest rail, or the leaf's own ends."""
    rails = [float(rail) for rail in bench.hung.leaf.rails]
    if len(rails) > 1:
        return rails[0], rails[-1]
    return float(bench.hung.leaf.bottom), float(bench.hung.leaf.top)


def _ground(bench: Bench, bar: PostBar) -> Check:
    hung, leaf = bench.hung, bench.hung.leaf
    hanging = hanging_moment(bench)
    wind = storm(bench.site, hung)
    share = 0.5 if held_by_lock(bench.site) else 1.0  # the lock's post takes the other half
    blown = wind.force * share * (float(leaf.bottom) + float(leaf.height) / 2)
    still = hanging / (bar.moment * bar.duration("weight"))
    storming = hypot(hanging, blown) if not bar.timber else hanging + blown
    rough = storming / (bar.moment * bar.duration("survival_wind"))
    worst = "the leaf's weight alone" if still >= rough else "weight and survival wind"
    return bench.used(
        "hanging post bending at the ground",
        f"hanging post bent at ground level by {worst}; the footing is outside this tool",
        share=max(still, rough),
        source="NDS 2018 3.3 and AISC 360-16 F7, F8; both moments added for timber",
        working=f"weight {leaf.mass:.0f} kg x {_arm(bench):.0f} mm = {hanging:.3g} N mm; wind "
        f"{wind.force * share:.0f} N = {blown:.3g} N mm; allowed {bar.moment:.3g} N mm x CD, "
        f"{bar.words}",
    )


def _local(bench: Bench, bar: PostBar) -> Check:
    """Between the hinges: the pin pushes one way, the hinges the other."""
    loads, height = bench.loads["post"], float(bench.hung.pin_height)
    low, high = hinge_heights(bench)
    cd = loads.duration if bar.timber else np.ones(len(loads.duration))
    row = int(np.argmax(loads.level / cd))
    force = float(loads.level[row])
    moment = between_hinges(bench, force)
    return bench.held(
        "hanging post bending at the pin",
        "hanging post bent between post pivot and hinges, which are taken at "
        f"{low:.0f} and {high:.0f} mm: {loads.words(row)}",
        demand=moment,
        allowed=bar.moment * float(cd[row]),
        unit="N mm",
        source="statics; NDS 2018 3.3 or AISC 360-16 F7, F8",
        working=f"F = {force:.0f} N at {height:.0f} mm against the hinges; CD {cd[row]:g}, "
        f"{bar.words}",
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


def hanging_moment(bench: Bench) -> float:
    """Moment that the leaf's weight brings into the post, whole below its lower hinge."""
    return float(bench.hung.leaf.mass) * GRAVITY * _arm(bench) * factor("load.weight")


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


def _turned(bench: Bench, bar: PostBar) -> Iterator[Check]:
    hung, mount = bench.hung, bench.leaf.mount
    loads, height = bench.loads["post"], float(hung.pin_height)
    lever = np.interp(
        loads.angle,
        [abs(point.angle) for point in mount.curve],
        [point.leverage for point in mount.curve],
    )
    cd = loads.duration if bar.timber else np.ones(len(loads.duration))
    torque = loads.level * lever
    row = int(np.argmax(torque / cd))
    yield bench.held(
        "hanging post torsion",
        f"hanging post twisted by the torque about the hinge axis: {loads.words(row)}",
        demand=float(torque[row]),
        allowed=bar.torsion * float(cd[row]),
        unit="N mm",
        source="Saint-Venant; timber 2/3 Fv (common practice, no source): no clause of the NDS, "
        "so it only warns"
        if bar.timber
        else "Saint-Venant; AISC 360-16 H3, 0.6 Fy",
        working=f"T = F r = {loads.level[row]:.0f} x {lever[row]:.0f}; {bar.words}",
        warning=bar.timber,
    )
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
    yield bench.fits(
        "strength",
        "hanging post lost travel",
        f"travel lost at the latch edge while the gate moves in the operating wind: the post bows "
        f"{bow:.2f} mm at the pin and twists {degrees(twist):.2f} degrees; the ground, which gives "
        "more, is left out",
        value=lost,
        most=LOST * width,
        source="strength of materials; limit 1/50 of the leaf's width, house",
        working=f"T = {moving:.3g} N mm, F = {pin:.0f} N; E {bar.modulus:.0f}, G "
        f"{bar.shear_modulus:.0f}; lost = (bow / r + twist) x width",
        warning=True,
    )


def _elastic(section: posts.Section) -> float:
    return section.elastic
