"""A channel bolted through a square or rectangular tube rail: bolts, friction, wall, the rail.

Along its slots the bracket is held by friction alone, so the bolts are tightened to a stated
torque and the rail must stand that squeeze. Units: N, mm, MPa. Frame: the seat frame, u along the
rail. Sources: AISC 360-16 J3.6 to J3.10, F7; AISC 360-10 K1 for the wall; preload T / (K d) with
K = 0.2 (common practice); the preload itself 0.4 Fu As (house: two thirds of a soft bolt's yield).
"""

from collections.abc import Iterator

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

PRELOAD = 0.4  # of Fu times the stress area; house
TUBE_STEEL = "A500-B-square"  # house: the usual square tube when nobody knows better
UNKNOWN_WALL = 2.0  # mm, house: a rail's wall when the survey does not say it


def rail_steel() -> tuple[float, float]:
    """Yield and ultimate strength taken for a tube rail."""
    return plates.steel(TUBE_STEEL)


def rail_wall(leaf: Leaf) -> float:
    """Wall of the rail to compute with."""
    return tubes.design_wall(float(leaf.rail_wall or UNKNOWN_WALL))


def preload(bench: Bench, size: str) -> float:
    """Tension that a bolt of the shop's is tightened to."""
    thread = entry("bolts", size)
    fnt = bench.bolt_grade[0]
    area = bolts.stress_area(float(thread["diameter"]), float(thread["pitch"]))
    return PRELOAD * fnt / 0.75 * area  # AISC 360-16 Table J3.2: Fnt = 0.75 Fu


def squeeze(bench: Bench, fixing: Fixing) -> tuple[float, float]:
    """Preload of each bolt that the rail stands, and what its walls would stand."""
    leaf = bench.hung.leaf
    crush = tubes.square_crush(
        rail_steel()[0],
        float(leaf.rail_height),
        rail_wall(leaf),
        fixing.fastener.head.washer_diameter,
    )
    stood = allowable(crush, "tube_wall")
    return min(preload(bench, fixing.fastener.size), stood), stood


def tube_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of bolts through a tube rail."""
    yield from _slip(bench, of, fixing, demand, loads)
    yield _bolt(bench, of, fixing, demand, loads)
    yield from _wall(bench, of, fixing, demand, loads)
    yield from _rail(bench, of, loads)


def _slip(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    tension, stood = squeeze(bench, fixing)
    wanted, size = preload(bench, fixing.fastener.size), fixing.fastener.size
    torque = bolts.torque(tension, fixing.fastener.diameter) / 1000
    wall = rail_wall(bench.hung.leaf)
    yield bench.held(
        f"{of} rail crushed by its bolts",
        f"bolts {size} of the {of} tightened to {torque:.0f} N m squeeze the rail",
        demand=min(wanted, stood / bench.reserve),
        allowed=stood,
        unit="N",
        source="AISC 360-10 Eq. K1-12 as a yield-line of the face",
        working=f"Fy t^2 / (1 - b) (2h + 4 sqrt(1 - b)) / 1.67, t = {wall:.2f} "
        f"(0.93 of nominal); full preload would be {wanted:.0f} N"
        + ("" if wanted <= stood / bench.reserve else ", so it is tightened less"),
    )
    if not any(demand.group.slides):
        return
    tension = min(tension, stood / bench.reserve)
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
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    leaf, (fy, _), d = bench.hung.leaf, rail_steel(), fixing.fastener.diameter
    wall = rail_wall(leaf)
    shear = demand.lateral
    row, k = np.unravel_index(int(np.argmax(shear)), shear.shape)
    yield bench.held(
        f"{of} bolt on the rail's wall",
        f"bolt of the {of} bearing on the walls of the rail: {loads.words(int(row))}",
        demand=float(shear[row, k]),
        allowed=allowable(2 * tubes.bolt_bearing(fy, d, wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"2 x 1.8 Fy d t / 2.00 = 2 x 1.8 x {fy:.0f} x {d:.2f} x {wall:.2f} / 2.00",
    )
    most = demand.tension.max(axis=1)
    at = int(np.argmax(most))
    washer = fixing.fastener.head.washer_diameter
    face = tubes.face_yield_line(fy, float(leaf.rail_height), wall, washer, washer)
    yield bench.held(
        f"{of} bolt pulled through the rail's far wall",
        f"washer of a bolt of the {of} pulled into the far wall of the rail: {loads.words(at)}",
        demand=float(most[at]),
        allowed=allowable(face, "tube_wall"),
        unit="N",
        source="AISC 360-10 Eq. K1-12 as a yield-line of the face",
        working=f"Fy t^2 / (1 - b) (2h + 4 sqrt(1 - b)) / 1.67, washer {washer:.1f} on "
        f"{leaf.rail_height:.1f}, t = {wall:.2f}",
    )


def _rail(bench: Bench, of: str, loads: PinLoads) -> Iterator[Check]:
    """The rail itself as a beam between the two stiles beside the pivot."""
    leaf, mount = bench.hung.leaf, bench.leaf.mount
    at = mount.leaf_pivot[0]
    posts_at = sorted(leaf.stile_positions)
    left = max((x for x in posts_at if x <= at), default=posts_at[0])
    right = min((x for x in posts_at if x > at), default=posts_at[-1])
    if not left < at < right:
        return
    a, b, span = at - left, right - at, right - left
    fy, wall = rail_steel()[0], rail_wall(leaf)
    section = posts.square_tube(float(leaf.rail_height), wall, depth=float(leaf.rail_depth))
    lever = float(mount.leaf_reach + leaf.thickness / 2)
    across, along = np.abs(loads.force[:, 2]), np.abs(loads.force[:, 0])
    # A force square to the rail and the couple of a force along it, simply supported.
    moment = across * a * b / span + along * lever * max(a, b) / span
    row = int(np.argmax(moment))
    slender = (float(leaf.rail_height) - 3 * wall) / wall
    capacity = posts.steel_moment(fy, section, slenderness=slender, limit=posts.compact_square(fy))
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
