"""The leaf bracket on a round rail: a channel on its printed saddles, U-bolts, locking bolts.

What holds a bracket on a round post holds here with the tube lying along u: the thrust along the
leaf slides it along the rail, its weight turns it about the rail. Units: N, mm, N mm.
Frame: the seat frame, datum at the leaf pivot, the rail's axis along u behind v = `off`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import acos, tan

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.tube import Tube, rail_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.clamped import clamp_checks
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.printed import pressed_print
from hangpost.generators.judging.unjudged import not_judged
from hangpost.parts.frame import Frame
from hangpost.parts.saddle import SaddleBlock

SADDLE = "rail-saddle"


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRail:
    """A channel and the saddle under it that has least print for its U-bolts.

    `reach` is from the seat to the pin, `off` the rail's v; `each` counts legs on that saddle.
    """

    of: str
    legs: Fixing
    locks: Fixing
    saddle: SaddleBlock
    tube: Tube
    reach: float
    off: float
    each: int
    columns: Floats  # pull on each U-bolt, one row for each force

    @property
    def share(self) -> float:
        """All of the torque, or that of one piece of a saddle in pieces."""
        return self.each / len(self.legs.holes)

    def torque(self, force: Floats) -> Floats:
        """Moment about the rail's axis."""
        lever = self.reach + self.legs.under + self.tube.side / 2
        found: Floats = -self.off * force[:, 2] - lever * force[:, 1]
        return found

    def slide(self, force: Floats) -> Floats:
        """The thrust along the leaf."""
        return force[:, 0]

    def on_lock(self, force: Floats) -> Floats:
        """All locking bolts share it."""
        found: Floats = np.abs(force[:, 0]) / len(self.locks.holes)
        return found

    def sideways(self, force: Floats) -> Floats:
        """What presses the saddle's arms, when its own share of the locking bolts holds it."""
        found: Floats = np.abs(self.torque(force)) / (self.tube.side / 2) * self.share
        return found

    def pulls(self, force: Floats) -> Floats:
        """The U-bolt that the channel pulls most, and the arms that ride up on the rail."""
        half = self.tube.side / 2
        rise = self.sideways(force) / tan(acos((half - self.saddle.depth) / half))
        found: Floats = self.columns.max(axis=1) / 2 + rise / self.each
        return found


def rail_saddles(bench: Bench) -> list[tuple[SaddleBlock, Frame]]:
    """Every saddle under the leaf bracket with where it stands, v along the leaf."""
    found = ((placed.item, placed.frame) for placed in bench.leaf.placed)
    return [
        (item, frame)
        for item, frame in found
        if isinstance(item, SaddleBlock) and item.id.startswith(SADDLE)
    ]


def seat_ends(bench: Bench) -> tuple[float, float] | None:
    """U of the ends of what the leaf bracket lies on, where these are saddles."""
    pin = bench.leaf.mount.leaf_pivot[0]
    ends = [
        pin - (frame.origin[0] + way * block.length / 2)
        for block, frame in rail_saddles(bench)
        for way in (-1.0, 1.0)
    ]
    return (min(ends), max(ends)) if ends else None


def _legs(saddle: SaddleBlock) -> int:
    return sum(bore.use == "leaf" for bore in saddle.sleeves)


def round_rail_group(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of U-bolts, saddle and locking bolts on a round rail."""
    locks, saddles = bench.fixing("leaf locking"), [block for block, _ in rail_saddles(bench)]
    if locks is None or not saddles:
        yield not_judged(bench, f"{of} fasteners", f"the U-bolts of the {of}, which nothing locks")
        return
    saddle = min(saddles, key=lambda block: block.bearing / _legs(block))
    held = OnRail(
        of=of,
        legs=fixing,
        locks=locks,
        saddle=saddle,
        tube=rail_tube(bench.hung.leaf),
        reach=bench.leaf.mount.leaf_pivot[1] - fixing.seat.origin[1],
        off=locks.holes[0][1].v,
        each=_legs(saddle),
        columns=demand.columns,
    )
    yield from pressed_print(bench, of, fixing, demand, loads)
    yield from clamp_checks(bench, held, loads)
