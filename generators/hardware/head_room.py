"""How near the actuator's body comes, over the swing, to the heads of bolts in the leaf bracket.

The solver reckons with middling bolts; what is picked may stand out further. In plan on the leaf,
heads that the body passes above or below left out. Units: mm.
"""

from collections.abc import Iterable
from math import inf

import numpy as np

from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import Pairs, position
from hangpost.generators.pivots.plan_shapes import Box, bar_to_box
from hangpost.generators.pivots.problem import Problem
from hangpost.parts.bodies import Bar, Body

STEP = 2.0  # degrees of the swing


def room_over_heads(problem: Problem, mount: Mount, fixings: Iterable[Fixing]) -> float:
    """Least distance from the body to the heads, washers and shanks; inf where it meets none."""
    px, py = mount.post_pivot[:2]
    gx, gy = mount.leaf_pivot[:2]
    pair = Pairs(px=np.array([px]), py=np.array([py]), gx=np.array([gx]), gy=np.array([gy]))
    at = position(pair, swing(problem.direction, problem.opening, STEP))
    body = at.body_on_leaf(problem)
    boxes = [box for each in fixings if each.rides == "leaf" for box in _boxes(each, problem)]
    return min((float(bar_to_box(body, box).min()) for box in boxes), default=inf)


def _boxes(fixing: Fixing, problem: Problem) -> list[Box]:
    """Heads, washers and shanks as seen from above."""
    placed = fixing.body()
    assert isinstance(placed.item, Body)
    found = []
    for bar in (shape for shape in placed.item.shapes if isinstance(shape, Bar)):
        u, v, w = bar.start
        ends = [placed.frame.point((u, v, w + off)) for off in (0.0, bar.length)]
        x, low, high = ends[0][0], min(y for _, y, _ in ends), max(y for _, y, _ in ends)
        if abs(ends[0][2] - problem.height) - bar.radius < problem.actuator.body_radius:
            box = Box(xmin=x - bar.radius, xmax=x + bar.radius, ymin=low, ymax=high)
            found.append(box)
    return found
