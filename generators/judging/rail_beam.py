"""The rail that carries the leaf pivot, as a beam between the two stiles beside it.

A force square to the leaf bends it sideways, one along the leaf does so by its lever, and what
acts off its centre line twists it. Nothing of the bracket changes that, so it is judged beside
the hanging post. Simply supported at the stiles, what fills the frame counts for nothing: on the
safe side (house). Values of timbers of grade No. 2 stand for a timber rail (NDS Supplement Table
4D, wet use within): those of dimension lumber are higher.
Units: N, mm, MPa. Frame: the seat frame of the leaf.
Sources: statics; AISC 360-16 F7, F8; NDS 2018 3.3, 3.2.3 (holes); Saint-Venant (Roark).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.wood import Wood, rail_wood
from hangpost.generators.strength import posts, timber
from hangpost.generators.strength.factors import allowable
from hangpost.generators.survey.leaf import Leaf
from hangpost.parts import tables
from hangpost.parts.strongback import Strongback

OF = "leaf bracket"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """A rail between its stiles: how far the pivot is from either, and the moment in each row."""

    left: float
    right: float
    lever: float  # from the rail's middle to the pin
    across: Floats  # the part of the force that acts here
    along: Floats

    @property
    def span(self) -> float:
        """Between the stiles."""
        return self.left + self.right

    @property
    def moment(self) -> Floats:
        """The greatest beside the pivot, one a row."""
        a, b, couple = self.left, self.right, self.along * self.lever
        beside = np.maximum(
            np.abs(couple - self.across * b) * a, np.abs(couple + self.across * a) * b
        )
        return np.asarray(beside / self.span)

    def words(self, row: int) -> str:
        """The moment of one row with its numbers."""
        f, c = float(self.across[row]), float(self.along[row]) * self.lever
        a, b, span = self.left, self.right, self.span
        return (
            f"max(|C - F b| a, |C + F a| b) / L, F = {f:.0f}, C = H e = {self.along[row]:.0f} x "
            f"{self.lever:.0f} = {c:.0f}, a = {a:.0f}, b = {b:.0f}, L = {span:.0f}"
        )


def bent(leaf: Leaf, at: float, lever: float, across: Floats, along: Floats) -> Bent | None:
    """The rail under a force `across` it (w) and one `along` it (u) at `lever`, at x = `at`.

    None when the pivot is not between two stiles.
    """
    stiles = sorted(leaf.stile_positions)
    low = max((x for x in stiles if x <= at), default=stiles[0])
    high = min((x for x in stiles if x > at), default=stiles[-1])
    if not low < at < high:
        return None
    return Bent(left=at - low, right=high - at, lever=lever, across=across, along=along)


def rail_checks(bench: Bench) -> Iterator[Check]:
    """The rail nearest to the pins, with the whole of their force on it, or a bar's share."""
    leaf, mount, loads = bench.hung.leaf, bench.leaf.mount, bench.loads["leaf"]
    items = (placed.item for placed in bench.leaf.placed)
    bar = next((item for item in items if isinstance(item, Strongback)), None)
    if bar is not None:
        low, high = sorted(map(abs, bar.members))
        loads = loads.scaled(high / (low + high))
    lever = float(mount.leaf_reach + leaf.thickness / 2)
    found = bent(leaf, mount.leaf_pivot[0], lever, loads.force[:, 2], loads.force[:, 0])
    if found is None:
        return
    if leaf.frame != "timber":
        yield tube_rail(bench, found, loads)
    elif timber.is_listed(leaf.species):
        wood = rail_wood(bench.site, bench.hung, mount, bench.steel[1])
        fixing = bench.fixing("strongback" if bar else "leaf")
        hole = bench.shop.bolt_hole(fixing.fastener.size) if fixing is not None else 0.0
        yield timber_rail(bench, found, wood, hole, loads)
        if bar is None:  # two rails hold a bar's ends level
            yield _twisted(bench, found, wood, loads)


def tube_rail(bench: Bench, found: Bent, loads: PinLoads, of: str = OF) -> Check:
    """A tube rail bent sideways."""
    tube = rail_tube(bench.hung.leaf)
    if tube.is_round:
        section, limit = posts.round_tube(tube.side, tube.wall), posts.compact_round(tube.fy)
    else:
        section = posts.square_tube(tube.side, tube.wall, depth=tube.depth)
        limit = posts.compact_square(tube.fy)
    row = int(np.argmax(found.moment))
    slender = tube.side / tube.wall - (0 if tube.is_round else 3)
    capacity = posts.steel_moment(tube.fy, section, slenderness=slender, limit=limit)
    modulus = "Z" if slender <= limit else "S"
    return bench.held(
        f"{of} rail bending",
        f"rail bent sideways between its stiles, {found.span:.0f} mm apart, by the leaf pivot: "
        f"{loads.words(row)}",
        demand=float(found.moment[row]),
        allowed=allowable(capacity, "yield"),
        unit="N mm",
        source=f"AISC 360-16 {'F8' if tube.is_round else 'F7'}; simply supported at the stiles "
        "(house: on the safe side)",
        working=f"{found.words(row)}; Fy {modulus} / 1.67 = {tube.fy:.0f} x "
        f"{capacity / tube.fy:.0f} / 1.67, {tube.steel}, wall {tube.wall:.2f}",
    )


def timber_rail(
    bench: Bench, found: Bent, wood: Wood, hole: float, loads: PinLoads, of: str = OF
) -> Check:
    """A timber rail bent sideways, its bolt holes taken out."""
    row = int(np.argmax(found.moment / loads.duration))
    cd, fb = float(loads.duration[row]), posts.timber_values(wood.species)[0]
    high = wood.edges[1] - wood.edges[0]
    net = posts.rectangle(high - hole, wood.depth)
    allowed = posts.timber_moment(fb, net, duration=cd)
    over = float(found.moment[row]) * bench.reserve > allowed
    helps = f"; {_what_would_do(bench, found, wood, hole, loads)}" if over else ""
    return bench.held(
        f"{of} rail bending",
        f"rail of {wood.species} bent sideways between its stiles, {found.span:.0f} mm apart, by "
        f"the leaf pivot: {loads.words(row)}{helps}",
        demand=float(found.moment[row]),
        allowed=allowed,
        unit="N mm",
        source="NDS 2018 3.3, 3.2.3; simply supported at the stiles (house: on the safe side)",
        working=f"{found.words(row)}; Fb CD S = {fb:.2f} x {cd:g} x ({high:.1f} - {hole:.1f}) x "
        f"{wood.depth:.1f}^2 / 6",
    )


def _what_would_do(bench: Bench, found: Bent, wood: Wood, hole: float, loads: PinLoads) -> str:
    """The least dressed timber that carries it; the lever grows with its thickness."""
    fb, high = posts.timber_values(wood.species)[0], wood.edges[1] - wood.edges[0]
    sizes = [int(row["nominal"]) for row in tables.rows("timber_sizes")]
    pairs = ((thick, tall, tables.dressed(thick), tables.dressed(tall))
             for thick in sizes for tall in sizes if thick <= tall)  # fmt: skip
    for thick, tall, deep, upright in sorted(pairs, key=lambda pair: (pair[2] * pair[3], pair[2])):
        if deep < wood.depth or upright < high:
            continue
        moment = replace(found, lever=found.lever + (deep - wood.depth) / 2).moment / loads.duration
        net = posts.rectangle(upright - hole, deep)
        if float(moment.max()) * bench.reserve <= posts.timber_moment(fb, net, duration=1.0):
            return f"what would do: a rail of {thick}x{tall} dressed"
    return "no listed timber would do: what helps is an actuator with less thrust"


def _twisted(bench: Bench, found: Bent, wood: Wood, loads: PinLoads) -> Check:
    force, far = np.abs(loads.force), max(found.left, found.right) / found.span
    off, high = abs(wood.edges[0] + wood.edges[1]) / 2, wood.edges[1] - wood.edges[0]
    twist = (force[:, 2] * off + force[:, 1] * found.lever) * far
    row = int(np.argmax(twist / loads.duration))
    cd = float(loads.duration[row])
    shaft = posts.shaft_of_rectangle(high, wood.depth)
    return bench.held(
        f"{OF} rail torsion",
        f"rail of {wood.species} twisted by the leaf pivot, {off:.0f} mm off its centre line: "
        f"{loads.words(row)}",
        demand=float(twist[row]),
        allowed=posts.timber_torque(wood.fv, high, wood.depth) * cd,
        unit="N mm",
        source="Saint-Venant (Roark); EN 1995-1-1:2004 6.1.8 with Fv of the NDS, its shape factor "
        "left out",
        working=f"(F off + W e) max(a, b) / L = ({force[row, 2]:.0f} x {off:.1f} + "
        f"{force[row, 1]:.0f} x {found.lever:.0f}) x {far:.3f}; Fv CD x {shaft:.0f}, Fv = "
        f"{wood.fv:.2f}, CD = {cd:g}",
    )
