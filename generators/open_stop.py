"""How far a leaf may open before things come too near: what an open stop set sooner would do.

The pins and the hardware stay as they are, so nothing else changes but that the swing ends
sooner: the pair that came too near is swept again over less of it. Units: mm, degrees.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hangpost.generators.changes import LEAST_ANGLE
from hangpost.generators.checks import ROUNDING, Check
from hangpost.generators.clearance import Bodies, Clearance, Pair
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.survey.display import degrees_words
from hangpost.generators.swing import STEP, pair_id


def with_open_stop(
    leaf: LeafDesign, bodies: Bodies, swept: Sequence[Clearance], checks: Sequence[Check]
) -> Iterator[Check]:
    """The checks of a leaf's swing, those that fail with the stop that would do, if one does."""
    rows = {pair_id(row, leaf.name): row for row in swept}
    angles = [float(a) for a in swing(leaf.problem.direction, leaf.problem.opening, STEP)]
    for check in checks:
        row = rows.get(check.id)
        last = None
        if row is not None and check.status == "fail":
            last = kept_until(bodies, row.pair, angles, check.limit)
        if last is None or abs(last) < LEAST_ANGLE:
            yield check
            continue
        words = f"an open stop at {degrees_words(abs(last))} or less, with both pins where they are"
        yield replace(check, would_do=words)


def kept_until(bodies: Bodies, pair: Pair, angles: Sequence[float], limit: float) -> float | None:
    """The last of the angles up to which a pair keeps its limit; None if it does at none.

    The pair does not keep it over all of them; the more of them are swept, the less it keeps.
    """

    def good(last: int) -> bool:
        (row,) = bodies.sweep(angles[: last + 1], [pair])
        return row.distance >= limit - ROUNDING

    if not good(0):
        return None
    low, high = 0, len(angles) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if good(middle) else (low, middle)
    return angles[low]
