"""A bracket bolted through a steel tube, rail or post: bolts, friction, walls, the rail itself.

Where all holes are slots the bracket is held along them by friction alone, so the bolts are
tightened to a stated torque and the tube must stand that squeeze. A bolt bears on the near wall;
the far one is not counted. Units: N, mm, MPa. Frame: the seat frame.
Sources: AISC 360-16 J3.6 to J3.10, F7, F8; AISC 360-10 K1 and ring theory for the wall; preload
T / (K d) with K = 0.2 (common practice), up to 0.4 Fu As (house: two thirds of a
soft bolt's yield).
A saddle presses a round tube like a transverse plate of its width (our simplification).
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, plates, posts, tubes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.strength.tables import row as entry
from hangpost.generators.survey.leaf import Leaf
from hangpost.generators.survey.post import Post
from hangpost.parts.saddle import SaddleBlock

PRELOAD = 0.4  # of Fu times the stress area; house
SQUARE, ROUND = "A500-B-square", "A53-B"  # house: the usual tube and pipe when nobody knows better
UNKNOWN_WALL = 2.0  # mm, house: a wall that the survey does not say


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A tube with a seat on it: outside across the seat and through it, wall to compute with."""

    words: str  # "rail", "post"
    side: float  # width of the face, or the diameter of a round one
    depth: float
    wall: float
    steel: str
    is_round: bool

    @property
    def fy(self) -> float:
        """Yield strength."""
        return plates.steel(self.steel)[0]

    def crush(self, wide: float) -> float:
        """Allowed squeeze of a bolt on so much of the tube's width."""
        if self.saddled(wide):
            nominal = tubes.transverse_plate(self.fy, self.side, self.wall, wide)
            return allowable(nominal, "tube_wall")
        if self.is_round:
            return allowable(tubes.round_crush(self.fy, self.side, self.wall, wide), "yield")
        return allowable(tubes.square_crush(self.fy, self.side, self.wall, wide), "tube_wall")

    def saddled(self, wide: float) -> bool:
        """Whether a round tube is pressed on half of its width or more: by a saddle."""
        return self.is_round and wide >= self.side / 2

    def source(self, wide: float) -> str:
        """The clause behind the squeeze."""
        if self.saddled(wide):
            return "AISC 360-10 Eq. K1-1, the saddle taken as a transverse plate"
        return "ring theory (Roark)" if self.is_round else "AISC 360-10 Eq. K1-12 as a yield-line"


def rail_tube(leaf: Leaf) -> Tube:
    """The rail that carries the leaf bracket."""
    is_round = leaf.frame == "round_tube"
    return Tube(
        words="rail",
        side=float(leaf.rail_height),
        depth=float(leaf.rail_depth),
        wall=tubes.design_wall(float(leaf.rail_wall or UNKNOWN_WALL)),
        steel=ROUND if is_round else SQUARE,
        is_round=is_round,
    )


def post_tube(post: Post) -> Tube:
    """The hanging post."""
    return Tube(
        words="post",
        side=float(post.width),
        depth=float(post.depth),
        wall=tubes.design_wall(float(post.wall_thickness or UNKNOWN_WALL)),
        steel=ROUND if post.is_round else SQUARE,
        is_round=post.is_round,
    )


def preload(bench: Bench, size: str) -> float:
    """Tension that a bolt of the shop's is tightened to."""
    thread = entry("bolts", size)
    fnt = bench.bolt_grade[0]
    area = bolts.stress_area(float(thread["diameter"]), float(thread["pitch"]))
    return PRELOAD * fnt / 0.75 * area  # AISC 360-16 Table J3.2: Fnt = 0.75 Fu


def rail_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of bolts through a tube rail, and of the rail between its stiles."""
    tube = rail_tube(bench.hung.leaf)
    yield from tube_group(bench, of, fixing, demand, loads, tube)
    yield from _rail(bench, of, tube, loads)


def post_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of bolts through a steel post."""
    yield from tube_group(bench, of, fixing, demand, loads, post_tube(bench.hung.post))


def tube_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    """Every check of bolts through a tube."""
    yield from _slip(bench, of, fixing, demand, loads, tube)
    yield _bolt(bench, of, fixing, demand, loads)
    yield from _wall(bench, of, fixing, demand, loads, tube)


def _spread(bench: Bench, fixing: Fixing, tube: Tube) -> float:
    """How much of the tube a bolt squeezes: its washer, or a backing plate, or a saddle."""
    washer = fixing.fastener.head.washer_diameter
    behind = bench.behind(fixing.name)
    if behind is not None:
        return min(behind.width, tube.side)
    saddles = [p.item for p in bench.leaf.placed if isinstance(p.item, SaddleBlock)]
    if tube.is_round and saddles:
        reach = min(saddle.depth for saddle in saddles)
        return float(2 * (reach * (tube.side - reach)) ** 0.5)
    return washer


def _slip(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    size = fixing.fastener.size
    wide = _spread(bench, fixing, tube)
    stood = tube.crush(wide)
    wanted = preload(bench, size)
    tension = min(wanted, stood / bench.reserve)
    torque = bolts.torque(tension, fixing.fastener.diameter) / 1000
    yield bench.held(
        f"{of} {tube.words} crushed by its bolts",
        f"bolts {size} of the {of} tightened to {torque:.0f} N m squeeze the {tube.words}",
        demand=tension,
        allowed=stood,
        unit="N",
        source=tube.source(wide),
        working=f"squeezed on {wide:.1f}, wall {tube.wall:.2f} (0.93 of nominal), {tube.steel}; "
        f"full preload {wanted:.0f} N"
        + ("" if wanted <= stood / bench.reserve else ", so it is tightened less"),
    )
    if not demand.group.free_along:
        return
    travel = max(hole.slot_length for hole in demand.holes)
    overall = travel + demand.holes[0].diameter
    long = overall > bolts.long_slot_length(fixing.fastener.diameter) * 0.75
    state = "slip_long_slot" if long else "slip_short_slot"
    omega = factor(f"resistance.{state}")
    count = len(demand.holes)
    # What pulls on the bolts presses the plate as much less on the rail.
    pressing = np.maximum(tension * count - demand.tension.sum(axis=1) + demand.contact, 1e-9)
    along = np.abs(demand.along_u.sum(axis=1))
    row = int(np.argmax(along / pressing))
    allowed = allowable(bolts.slip(float(pressing[row])), state)
    yield bench.held(
        f"{of} slip along its slots",
        f"the {of} held along its slots by friction alone: {loads.words(row)}",
        demand=float(along[row]),
        allowed=allowed,
        unit="N",
        source=f"AISC 360-16 Eq. J3-4 without Du, mu = 0.30, Omega {omega:g}",
        working=f"mu N / Omega = 0.30 x {pressing[row]:.0f} / {omega:g}; "
        f"{count} bolts at {tension:.0f} N, torque 0.2 d T = {torque:.0f} N m dry",
    )


def _bolt(bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads) -> Check:
    fnt, fnv, _ = bench.bolt_grade
    d, shear = fixing.fastener.diameter, demand.lateral
    # A bolt in a slot may still come to bear at its end: all of the force counts as shear.
    both = np.maximum.reduce(
        (shear / fnv, demand.tension / fnt, (shear / fnv + demand.tension / fnt) / 1.3)
    )
    row, k = np.unravel_index(int(np.argmax(both)), both.shape)
    return bench.used(
        f"{of} bolt shear and tension",
        f"bolt of the {of} in shear and tension: {loads.words(int(row))}",
        share=bolts.shear_and_tension(
            fnt,
            fnv,
            d,
            shear_force=float(shear[row, k]),
            tension_force=float(demand.tension[row, k]),
        ),
        source="AISC 360-16 J3.6, J3.7; prying left out",
        working=f"V = {shear[row, k]:.0f}, T = {demand.tension[row, k]:.0f}, Fnv {fnv:.0f}, Fnt "
        f"{fnt:.0f}, Omega 2.00, Ab = {bolts.shank_area(d):.1f}",
    )


def _wall(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads, tube: Tube
) -> Iterator[Check]:
    d, shear = fixing.fastener.diameter, demand.lateral
    row, k = np.unravel_index(int(np.argmax(shear)), shear.shape)
    yield bench.held(
        f"{of} bolt on the {tube.words}'s wall",
        f"bolt of the {of} bearing on the near wall of the {tube.words}: {loads.words(int(row))}",
        demand=float(shear[row, k]),
        allowed=allowable(tubes.bolt_bearing(tube.fy, d, tube.wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"1.8 Fy d t / 2.00 = 1.8 x {tube.fy:.0f} x {d:.2f} x {tube.wall:.2f} / 2.00",
    )
    most = demand.tension.max(axis=1)
    at, wide = int(np.argmax(most)), _spread(bench, fixing, tube)
    yield bench.held(
        f"{of} bolt pulled into the {tube.words}'s far wall",
        f"a bolt of the {of} pulled against the far wall of the {tube.words}: {loads.words(at)}",
        demand=float(most[at]),
        allowed=tube.crush(wide),
        unit="N",
        source=tube.source(wide),
        working=f"spread over {wide:.1f} of {tube.side:.1f}, wall {tube.wall:.2f}, {tube.steel}",
    )


def _rail(bench: Bench, of: str, tube: Tube, loads: PinLoads) -> Iterator[Check]:
    """The rail itself as a beam between the two stiles beside the pivot."""
    leaf, mount = bench.hung.leaf, bench.leaf.mount
    at = mount.leaf_pivot[0]
    posts_at = sorted(leaf.stile_positions)
    left = max((x for x in posts_at if x <= at), default=posts_at[0])
    right = min((x for x in posts_at if x > at), default=posts_at[-1])
    if not left < at < right:
        return
    a, b, span = at - left, right - at, right - left
    fy, wall = tube.fy, tube.wall
    if tube.is_round:
        section, limit = posts.round_tube(tube.side, wall), posts.compact_round(fy)
    else:
        section = posts.square_tube(tube.side, wall, depth=tube.depth)
        limit = posts.compact_square(fy)
    lever = float(mount.leaf_reach + leaf.thickness / 2)
    across, along = np.abs(loads.force[:, 2]), np.abs(loads.force[:, 0])
    # A force square to the rail and the couple of a force along it, simply supported.
    moment = across * a * b / span + along * lever * max(a, b) / span
    row = int(np.argmax(moment))
    slender = tube.side / wall - (0 if tube.is_round else 3)
    capacity = posts.steel_moment(fy, section, slenderness=slender, limit=limit)
    yield bench.held(
        f"{of} rail bending",
        f"rail bent sideways between its stiles, {span:.0f} mm apart, by the leaf pivot: "
        f"{loads.words(row)}",
        demand=float(moment[row]),
        allowed=allowable(capacity, "yield"),
        unit="N mm",
        source="AISC 360-16 F7; simply supported at the stiles (house: on the safe side)",
        working=f"F a b / L + H e max(a, b) / L = {across[row]:.0f} x {a:.0f} x {b:.0f} / "
        f"{span:.0f} + {along[row]:.0f} x {lever:.0f} x {max(a, b):.0f} / {span:.0f}",
    )
