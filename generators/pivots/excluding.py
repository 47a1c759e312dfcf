"""Which constraints exclude each other: the fewest that no place for the pins keeps together."""

from collections.abc import Mapping
from itertools import combinations

import numpy as np

from hangpost.generators.pivots.constraints import SLACK, least_over
from hangpost.generators.pivots.kinematics import Array

MOST = 4  # constraints that are tried together


def exclude(left: Mapping[str, Array]) -> tuple[str, ...]:
    """The smallest set of constraints kept together at none of many places; names in order.

    `left` is what each leaves at every place, by its scale. Of several sets of one size the one
    that comes nearest to being kept, since mending that one takes least. None when some place
    keeps everything.
    """
    fields = {name: np.nan_to_num(field, nan=-np.inf) for name, field in left.items()}
    kept = {name: field >= -SLACK for name, field in fields.items()}
    names = [name for name, field in kept.items() if not field.all()]
    for size in range(1, MOST + 1):
        found = [
            some
            for some in combinations(names, size)
            if not np.logical_and.reduce([kept[name] for name in some]).any()
        ]
        if found:
            return max(found, key=lambda some: _nearest([fields[name] for name in some]))
    every = np.logical_and.reduce(list(kept.values())) if kept else np.zeros(0)
    return () if every.any() else tuple(names)


def _nearest(fields: list[Array]) -> float:
    return float(least_over(fields).max())
