"""Beams that cross: the rails and stiles of a leaf as a grid, bent out of its plane.

All have one section, so the stiffness falls out but for the share of it in torsion. Frame: x along
the rails, z up the stiles, w out of the plane; three ways to move at a crossing: w, dw/dx, dw/dz.
Units: N, mm. Source: the stiffness matrix of a beam, any textbook of structural mechanics.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Crossing = tuple[int, float]  # which rail, and x

SAME = 1.0  # mm: nearer than this a load stands on the stile itself; house
MOVE, ALONG, UP = range(3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Rails at heights, stiles at places along them; `torsion` is G J over E I of either."""

    rails: tuple[float, ...]
    stiles: tuple[float, ...]
    torsion: float

    def moments(
        self, at: float, shares: Sequence[float], held: Iterable[Crossing]
    ) -> tuple[Floats, Floats]:
        """Moments at the ends of all members by a force of 1 and by a couple of 1 at x = `at`.

        `shares` says what each rail gets of both; the crossings `held` do not move. The couple
        turns x towards w.
        """
        at = next((x for x in self.stiles if abs(x - at) < SAME), at)
        beams = tuple(self._beams(at))
        points = {point: i for i, point in enumerate(sorted({p for b in beams for p in b[:2]}))}
        torsion = self.torsion if len(self.rails) > 1 else 0.0  # one rail is free to turn on itself
        whole, ends = np.zeros((3 * len(points), 3 * len(points))), []
        for one, other, long, slope in beams:
            turns = (slope, UP if slope == ALONG else ALONG)
            own = [3 * points[p] + way for p in (one, other) for way in (MOVE, *turns)]
            bar = _bar(long, torsion)
            whole[np.ix_(own, own)] += bar
            ends.append((own, bar[[1, 4]]))
        acting = np.zeros((len(whole), 2))
        for rail, share in enumerate(shares):
            acting[3 * points[rail, at] + MOVE, 0] = share
            acting[3 * points[rail, at] + ALONG, 1] = share
        fixed = {3 * points[point] + MOVE for point in held}
        # Without torsion a crossing may have a turn that nothing takes, and nothing turns.
        free = [i for i in range(len(whole)) if i not in fixed and whole[i, i] > 0.0]
        moved = np.zeros_like(acting)
        moved[free] = np.linalg.solve(whole[np.ix_(free, free)], acting[free])
        found = np.concatenate([own_ends @ moved[own] for own, own_ends in ends])
        return found[:, 0], found[:, 1]

    def _beams(self, at: float) -> Iterator[tuple[Crossing, Crossing, float, int]]:
        """The pieces between crossings: both ends, how long, which slope bends them."""
        places = sorted({*self.stiles, at})
        for rail in range(len(self.rails)):
            for low, high in pairwise(places):
                yield (rail, low), (rail, high), high - low, ALONG
        for x in self.stiles:
            for rail, (low, high) in enumerate(pairwise(self.rails)):
                yield (rail, x), (rail + 1, x), high - low, UP


def _bar(long: float, torsion: float) -> Floats:
    """Stiffness of a bar of EI = 1: move, slope and twist of one end, then of the other."""
    bends = np.array(
        [
            [12, 6 * long, -12, 6 * long],
            [6 * long, 4 * long**2, -6 * long, 2 * long**2],
            [-12, -6 * long, 12, -6 * long],
            [6 * long, 2 * long**2, -6 * long, 4 * long**2],
        ]
    )
    bar = np.zeros((6, 6))
    bar[np.ix_((0, 1, 3, 4), (0, 1, 3, 4))] = bends / long**3
    bar[np.ix_((2, 5), (2, 5))] = np.array([[1, -1], [-1, 1]]) * torsion / long
    return bar
