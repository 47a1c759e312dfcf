"""A seat on timber, held by lag screws or through-bolts: every check of the group.

Units: N, mm, MPa. Frame: the seat frame.
"""

from collections.abc import Iterator

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.bolt_itself import bolt_itself
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.timber_distances import distances
from hangpost.generators.judging.timber_hold import holding
from hangpost.generators.judging.timber_pressed import behind, crushed, split
from hangpost.generators.judging.wood import Wood


def timber_group(
    bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of a group of fasteners in timber."""
    yield from holding(bench, of, fixing, wood, demand, loads)
    yield from distances(bench, of, fixing, wood, demand)
    yield crushed(bench, of, wood, demand, loads)
    yield split(bench, of, wood, demand, loads)
    if fixing.is_through:
        yield from behind(bench, of, fixing, wood, demand, loads)
        yield bolt_itself(bench, of, fixing, demand, loads, source="AISC 360-16 J3.6, J3.7")
