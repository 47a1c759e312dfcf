"""Where the fasteners of a seat stand in their wood: edges, ends, rows, columns, how deep.

Units: mm. Frame: the seat frame, the grain along v. Sources: NDS 2018 12.1.4, Tables 12.5.1A to D;
EN 1995-1-1:2004 Table 8.4, of both the worse.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import STRENGTH, Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.wood import Wood, lag_size
from hangpost.generators.strength import timber, timber_spacing


def distances(bench: Bench, of: str, fixing: Fixing, wood: Wood, demand: Demand) -> Iterator[Check]:
    """Every distance of a group of fasteners in timber."""
    d = fixing.fastener.diameter
    across = sorted({hole.u for hole in demand.holes})
    along = sorted({hole.v for hole in demand.holes})
    slender = (wood.depth if fixing.is_through else fixing.fastener.length - fixing.over) / d
    edge = min(across[0] - wood.edges[0], wood.edges[1] - across[-1])
    yield _place(
        bench,
        of,
        "edge",
        "fastener to the loaded edge of the wood, across the grain",
        edge,
        timber_spacing.edge_across(d, loaded=True),
        "NDS 2018 Table 12.5.1C, EN 1995-1-1 Table 8.4: 4 D",
        d,
    )
    if len(across) > 1:
        yield _place(
            bench,
            of,
            "column spacing",
            "between the columns of fasteners, along the load",
            float(min(np.diff(across))),
            timber_spacing.spacing_in_row(d, across=True),
            "EN 1995-1-1 Table 8.4: 4 D (NDS 2018 Table 12.5.1B: 3 D)",
            d,
        )
    if len(along) > 1:
        yield _place(
            bench,
            of,
            "row spacing",
            "between the rows of fasteners, up the grain",
            float(min(np.diff(along))),
            timber_spacing.row_spacing_across(d, slender),
            f"NDS 2018 Table 12.5.1D, l/D = {slender:.1f}; EN 1995-1-1 Table 8.4: 4 D",
            d,
        )
    end = wood.end - max(map(abs, along))
    yield _place(
        bench,
        of,
        "end",
        "outermost fastener to the end of the wood",
        end,
        timber_spacing.end_distance(d, "across"),
        "EN 1995-1-1 Table 8.4: 7 D and 80 mm (NDS 2018 Table 12.5.1A: 4 D)",
        d,
    )
    if not fixing.is_through:
        nominal, _, tip, _ = lag_size(fixing.fastener.size)
        yield _place(
            bench,
            of,
            "penetration",
            "lag screw in the wood, its tip left out",
            fixing.fastener.length - fixing.over - tip,
            timber.least_penetration(nominal),
            "NDS 2018 12.1.4.6: 4 D",
            d,
        )


def _place(
    bench: Bench, of: str, name: str, what: str, value: float, least: float, source: str, d: float
) -> Check:
    return bench.fits(
        STRENGTH, f"{of} timber {name}", f"{of}: {what}", value=value, least=least, source=source,
        working=f"{least / d:.3g} D, D = {d:.2f}",
    )  # fmt: skip
