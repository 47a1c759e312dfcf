"""What can be done about pins that are not where they were drawn, each tried before it is told.

Right-hand plan frame, mm, degrees.
"""

from collections.abc import Callable
from dataclasses import replace
from math import hypot, isfinite
from typing import Final

import numpy as np

from hangpost.generators.drilled import Stand, Vector
from hangpost.generators.pivots.constraints import leverage, positions_at
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import bracket_moment, ends, tie
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.rows import mm
from hangpost.generators.pivots.sift import Usable
from hangpost.generators.pivots.solve import mount

AS_DRAWN: Final = 0.05  # mm; less is no difference
LEVEL: Final = 2.0  # mm of height between the pins that nobody needs to hear of; house


def placed(
    problem: Problem, drawn: Mount, post_pivot: Vector, leaf_pivot: tuple[float | None, float]
) -> Mount:
    """Every figure with the pins at these places; a free gx is tied as the installer ties it."""
    (px, py), (gx, gy) = post_pivot, leaf_pivot
    held = replace(problem, fixed=replace(problem.fixed, px=px, py=py, gx=gx, gy=gy))
    pair = tie(held, np.array([px]), np.array([py]))
    positions = positions_at(pair, ends(held))
    chosen = Usable(
        pairs=pair,
        least=leverage(held, pair, positions),
        moment=bracket_moment(held, pair, positions),
    )
    return mount(held, chosen, drawn.best_leverage)


def keeps(found: Mount) -> bool:
    """Whether the pins can be tied and every constraint is kept."""
    return isfinite(found.leaf_pivot[0]) and all(row.satisfied for row in found.rows)


def tied_anew(needed: float, room: float, is_drilled: bool, stays: bool) -> list[str]:
    """Where the leaf pivot goes: drilled there, moved in its slots or drilled again."""
    if not isfinite(needed):
        return ["The actuator does not reach the leaf's line from there."]
    way = "towards the latch" if needed > 0.0 else "towards the hinge"
    if abs(needed) < AS_DRAWN:
        return []
    if not is_drilled:
        return [
            f"Tie the leaf pivot {mm(abs(needed))} {way} of its drawn place, the actuator drawn in"
            " to its spare; drill the leaf there."
        ]
    if stays:
        return [
            f"The leaf bracket must go {mm(abs(needed))} {way}, and its slots give"
            f" {mm(room / 2.0)}: drill new holes in the leaf."
        ]
    return [
        f"Move the leaf bracket {mm(abs(needed))} {way} in its slots (they give"
        f" {mm(room / 2.0)} to either side)."
    ]


def put_back(post: Stand | None, moved: Vector) -> list[str]:
    """What brings the post pivot back to its drawn place."""
    if post is not None and not post.fits:
        return [
            "The post bracket does not go on these holes: they are further out of place against"
            " each other than its slots and play allow. Open up the holes that are furthest off,"
            " under plate washers, or drill again."
        ]
    if post is not None and post.can_be_drawn and hypot(*moved) >= AS_DRAWN:
        return [
            f"Push the post bracket {mm(abs(post.right))}"
            f" {'left' if post.right > 0.0 else 'right'} in its slots and play before the bolts"
            " are tightened, and it stands where it was drawn."
        ]
    if moved[1] <= -AS_DRAWN:
        return [
            f"To have the pin at its drawn distance from the leaf, put a steel shim of"
            f" {mm(-moved[1])} behind the whole seat."
        ]
    return []


def shimmed(
    problem: Problem,
    drawn: Mount,
    moved: Vector,
    gy: float,
    good: Callable[[Mount, Vector], bool],
) -> list[str]:
    """Whether a shim alone makes it work."""
    if moved[1] > -AS_DRAWN:
        return []
    at = (drawn.post_pivot[0] + moved[0], drawn.post_pivot[1])
    if good(placed(problem, drawn, at, (problem.fixed.gx, gy)), (moved[0], 0.0)):
        return ["With that shim the parts in hand keep every limit."]
    return []


def other_leaf_bracket(problem: Problem, drawn: Mount, at: Vector) -> str | None:
    """Another leaf bracket that makes it work where the one in hand does not, in words."""
    held = replace(problem, fixed=replace(problem.fixed, px=at[0], py=at[1]))
    own = float(tie(held, np.array([at[0]]), np.array([at[1]])).gy[0])
    for more in (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 40.0):
        found = placed(problem, drawn, at, (problem.fixed.gx, own + more))
        if keeps(found) and abs(found.leaf_reach - drawn.leaf_reach) >= AS_DRAWN:
            return (
                f"A leaf bracket made again with {mm(found.leaf_reach)} from face to pin instead of"
                f" {mm(drawn.leaf_reach)} works with the post pivot where it is; tie it"
                f" {mm(found.leaf_pivot[0])} along the leaf."
            )
    return None


def too_high(up: float, drawn: Mount, joint_tilt: float) -> list[str]:
    """What a post pivot at the wrong height asks for."""
    if abs(up) <= LEVEL:
        return []
    shortest = min(drawn.closed_length, drawn.open_length)
    tilt = float(np.degrees(np.arctan2(abs(up), shortest)))
    fine = "which its eyes take" if tilt <= joint_tilt else f"and its eyes take {joint_tilt:.1f}"
    return [
        f"The post pivot stands {mm(abs(up))} too {'high' if up > 0.0 else 'low'}: tie the leaf"
        f" bracket at the same height, or the actuator tilts by {tilt:.1f} degrees, {fine}."
    ]
