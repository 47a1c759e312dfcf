"""The rail that carries the leaf pivot, as one beam of the leaf's frame.

A force square to the leaf bends it sideways, one along the leaf does so by its lever, and what
acts off its centre line twists it. Nothing of the bracket changes that, so it is judged beside
the hanging post. The frame is a grid of rails and stiles, hung at the hinges and blocked along its
latch edge: the rail bends between its stiles and the whole leaf with it. Tubes are welded to one
another, timbers only bear on one another; what fills the frame counts for nothing (house). Values
of timbers of grade No. 2 stand for a timber rail (NDS Supplement Table 4D, wet use within): those
of dimension lumber are higher.
Units: N, mm, MPa. Frame: the seat frame of the leaf.
Sources: statics; AISC 360-16 F7, F8; NDS 2018 3.3, 3.2.3 (holes); Saint-Venant (Roark).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.leaf_channel import nearest_rail
from hangpost.generators.hardware.tube import rail_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.wood import Wood, rail_wood
from hangpost.generators.strength import posts, timber
from hangpost.generators.strength.crossing import Grid
from hangpost.generators.strength.factors import allowable
from hangpost.generators.survey.leaf import Leaf
from hangpost.parts.strongback import Strongback

OF = "leaf bracket"
AS_GRID = "the frame as a grid of beams (house)"
SHEAR = 1 / 2.6  # G over E of steel, as in `post_bar`


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bent:
    """The frame bent by the leaf pivot: moments in its members by a force and by a couple of 1."""

    by_force: Floats  # mm
    by_couple: Floats
    lever: float  # from the rail's middle to the pin
    across: Floats  # the force square to the leaf, one a row
    along: Floats
    words: str  # the grid

    @property
    def moment(self) -> Floats:
        """The greatest in any member, one a row."""
        return np.asarray(np.abs(self._all()).max(axis=1))

    def working(self, row: int) -> str:
        """The moment of one row with its numbers."""
        f, h = float(self.across[row]), float(self.along[row])
        k = int(np.argmax(np.abs(self._all()[row])))
        return (
            f"M = F m + H e c, F = {f:.0f}, H e = {h:.0f} x {self.lever:.0f}; of the grid m = "
            f"{self.by_force[k]:.1f} mm, c = {self.by_couple[k]:.3f}"
        )

    def _all(self) -> Floats:
        couple = self.along * self.lever
        return np.outer(self.across, self.by_force) + np.outer(couple, self.by_couple)


def bent(
    leaf: Leaf, at: float, shares: Mapping[float, float], lever: float, across: Floats,
    along: Floats,
) -> Bent:  # fmt: skip
    """The frame of a leaf under a force `across` it (w) and one `along` it (u) at x = `at`.

    `shares` says which rails take how much of both.
    """
    rails, stiles = tuple(map(float, leaf.rails)), tuple(sorted(map(float, leaf.stile_positions)))
    grid = Grid(rails=rails, stiles=stiles, torsion=_torsion(leaf))
    held = {(rail, x) for rail in (0, len(rails) - 1) for x in (stiles[0], stiles[-1])}
    force, couple = grid.moments(at, [shares.get(rail, 0.0) for rail in rails], held)
    return Bent(
        by_force=force,
        by_couple=couple,
        lever=lever,
        across=across,
        along=along,
        words=f"the leaf a grid of {len(rails)} rails and {len(stiles)} stiles, hung at its hinges "
        "and blocked along its latch edge",
    )


def _torsion(leaf: Leaf) -> float:
    """GJ over EI of a member, as far as its joints hand it on."""
    if leaf.frame == "timber":
        return 0.0
    section = _tube(leaf)
    return SHEAR * section.torsion / section.inertia


def _tube(leaf: Leaf) -> posts.Section:
    tube = rail_tube(leaf)
    if tube.is_round:
        return posts.round_tube(tube.side, tube.wall)
    return posts.square_tube(tube.side, tube.wall, depth=tube.depth)


def rail_checks(bench: Bench) -> Iterator[Check]:
    """The frame with the whole of the pin's force on the nearest rail, or on the two of a bar."""
    leaf, mount, loads = bench.hung.leaf, bench.leaf.mount, bench.loads["leaf"]
    items = (placed.item for placed in bench.leaf.placed)
    bar = next((item for item in items if isinstance(item, Strongback)), None)
    shares = {nearest_rail(bench.hung, mount): 1.0}
    if bar is not None:
        low, high = sorted(bar.members)
        near = [min(map(float, leaf.rails), key=lambda z: abs(z - mount.height - v))
                for v in (low, high)]  # fmt: skip
        shares = {near[0]: high / (high - low), near[1]: -low / (high - low)}
    lever = float(mount.leaf_reach + leaf.thickness / 2)
    found = bent(leaf, mount.leaf_pivot[0], shares, lever, loads.force[:, 2], loads.force[:, 0])
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
    section = _tube(bench.hung.leaf)
    limit = posts.compact_round(tube.fy) if tube.is_round else posts.compact_square(tube.fy)
    row = int(np.argmax(found.moment))
    slender = tube.side / tube.wall - (0 if tube.is_round else 3)
    capacity = posts.steel_moment(tube.fy, section, slenderness=slender, limit=limit)
    modulus = "Z" if slender <= limit else "S"
    return bench.held(
        f"{of} rail bending",
        f"rail bent sideways by the leaf pivot, {found.words}: {loads.words(row)}",
        demand=float(found.moment[row]),
        allowed=allowable(capacity, "yield"),
        unit="N mm",
        source=f"AISC 360-16 {'F8' if tube.is_round else 'F7'}; {AS_GRID}",
        working=f"{found.working(row)}; Fy {modulus} / 1.67 = {tube.fy:.0f} x "
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
    return bench.held(
        f"{of} rail bending",
        f"rail of {wood.species} bent sideways by the leaf pivot, {found.words}: "
        f"{loads.words(row)}",
        demand=float(found.moment[row]),
        allowed=allowed,
        unit="N mm",
        source=f"NDS 2018 3.3, 3.2.3; {AS_GRID}",
        working=f"{found.working(row)}; Fb CD S = {fb:.2f} x {cd:g} x ({high:.1f} - {hole:.1f}) x "
        f"{wood.depth:.1f}^2 / 6",
    )


def _twisted(bench: Bench, found: Bent, wood: Wood, loads: PinLoads) -> Check:
    force, far = np.abs(loads.force), _to_nearer_stile(bench)
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


def _to_nearer_stile(bench: Bench) -> float:
    """Share of a torque at the leaf pivot that the nearer of the stiles beside it takes."""
    at, stiles = bench.leaf.mount.leaf_pivot[0], bench.hung.leaf.stile_positions
    low = max((x for x in stiles if x <= at), default=at)
    high = min((x for x in stiles if x > at), default=at)
    return float(max(at - low, high - at) / (high - low)) if high > low else 1.0
