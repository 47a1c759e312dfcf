"""A tube rail bent sideways between its stiles by what is bolted to it.

Units: N, mm, MPa. Source: statics; AISC 360-16 F7, F8.
"""

from collections.abc import Iterator

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.tube import Tube
from hangpost.generators.strength import posts
from hangpost.generators.strength.factors import allowable


def rail_beam(bench: Bench, of: str, tube: Tube, loads: PinLoads) -> Iterator[Check]:
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
