"""Two bodies over the swing: how near they come, and what they have in common.

Everything is reckoned in the coordinates of the first body. Units: mm, mm3, degrees.
"""

from heapq import heapify, heappop, heappush
from math import isinf
from typing import Final

import numpy as np

from hangpost.generators.clearance.records import OVERLAP, Array, Clearance
from hangpost.generators.clearance.solid import (
    Solid,
    at_places,
    box_gap,
    facet_gap,
    reversed_places,
    slab,
    ways_of,
)

SLACK: Final = 0.5  # mm by which a nearer place than the one found may be missed, and besides
SHARE: Final = 0.05  # this share of the distance (both house)
FINE: Final = 0.02  # mm by which the least of a near pair may be missed (house)
NEAR: Final = 50.0  # mm; what is farther away than this need not be known so well
FAR: Final = 250.0  # mm; what stays farther away than this is measured hull to hull
FEW: Final = 3  # distances measured before every facet is looked at by itself
ENOUGH: Final = 1000  # distances measured for one pair, at most
VOLUMES: Final = 13  # common volumes taken for one pair, at most
SAME: Final = 1e-3  # mm by which two distances must differ to be told apart
FLAT: Final = 1e-3  # mm by which two distances are as good as alike
GOLDEN: Final = 0.381966  # where golden section cuts


class Meeting:
    """Two bodies over the swing, the second seen from the first."""

    def __init__(self, a: Solid, b: Solid, angles: tuple[float, ...]) -> None:
        """One look is enough where the two move as one."""
        self.a, self.b = a, b
        self.angles, self.places = angles, self._seen(angles)
        if np.abs(self.places - self.places[0]).max() < 1e-9:
            self.angles, self.places = angles[:1], self.places[:1]
        self.bounds = box_gap(a, b, self.places)
        self.apart = float(self.bounds.min()) - a.body.chord - b.body.chord  # never nearer
        far = self.apart > FAR
        self.trees = (a.wrapped_tree, b.wrapped_tree) if far else (a.tree, b.tree)
        self.gaps: dict[float, float] = {}
        self.way: Array = np.zeros(3)  # from a to b where they were nearest last time

    def _seen(self, angles: tuple[float, ...]) -> Array:
        """Where b stands in the coordinates of a, for each angle."""
        a, b = self.a.along(angles), self.b.along(angles)
        return reversed_places(a) @ b

    def seen(self, angle: float) -> Array:
        """The same for one angle."""
        return np.asarray(self._seen((angle,))[0])

    def judged(self, *, touching: bool) -> Clearance:
        """The result for the pair."""
        pair = (self.a.body.name, self.b.body.name)
        least, at_angle = (0.0, self.angles[0]) if touching else self._least()
        overlap, worst = self._greatest_overlap(at_angle) if least <= 0 else (0.0, at_angle)
        if least > 0:
            # Surfaces that never meet: a body is inside the other all the time or never.
            overlap, worst = self._overlap(self.angles[0]), at_angle
        least = max(least - self.a.body.chord - self.b.body.chord, 0.0)
        return Clearance(
            pair=pair,
            least=0.0 if overlap > OVERLAP else least,
            at_angle=worst,
            overlap=overlap,
            touching=touching,
        )

    def gap(self, angle: float) -> float:
        """Distance between the two surfaces, 0 where they meet."""
        if angle not in self.gaps:
            import fcl

            self._put(self.seen(angle))
            request, result = fcl.DistanceRequest(True), fcl.DistanceResult()
            found = fcl.distance(*self.trees, request, result)
            self.gaps[angle] = max(float(found), 0.0)
            if found > 0:
                self.way = (result.nearest_points[1] - result.nearest_points[0]) / found
        return self.gaps[angle]

    def _hits(self, angle: float) -> bool:
        """Whether the two surfaces meet."""
        import fcl

        place = self.seen(angle)
        self._put(place)
        return bool(fcl.collide(*self.trees, fcl.CollisionRequest(), fcl.CollisionResult()))

    def _put(self, place: Array) -> None:
        import fcl

        ours, theirs = self.trees
        ours.setTransform(fcl.Transform())
        theirs.setTransform(fcl.Transform(place[:3, :3], place[:3, 3]))

    def _greatest_overlap(self, known: float) -> tuple[float, float]:
        """The greatest common volume and its angle, among the angles where the surfaces meet."""
        meeting = [angle for angle in self.angles if self._hits(angle)]
        pick = np.linspace(0, len(meeting) - 1, min(len(meeting), VOLUMES)).round().astype(int)
        looked = {self.angles[0], known, *(meeting[k] for k in pick)}
        return max((self._overlap(angle), -abs(angle), angle) for angle in looked)[::2]

    def _overlap(self, angle: float) -> float:
        """Common volume; 0 without asking where the boxes are apart."""
        place = self.seen(angle)
        if self.apart > 0 or box_gap(self.a, self.b, place[None])[0] > 0:
            return 0.0
        moved = self.b.inside.transform(place[:3, :4])
        return max(float((self.a.inside ^ moved).volume()), 0.0)

    def _least(self) -> tuple[float, float]:
        """The least distance over the swing and its angle."""
        bounds, ways = self.bounds.copy(), self._ways(self.places)
        best = self._at_angles(bounds, np.concatenate([[0.0], np.cumsum(ways)]))
        least, at_angle = self._precise(self._between(best, bounds, ways))
        for k in (-1, 0):  # as near at an end of the swing: that angle means something to people
            if bounds[k] <= least + SAME and self.gap(self.angles[k]) <= least + SAME:
                least, at_angle = min(least, self.gap(self.angles[k])), self.angles[k]
        return least, at_angle

    def _ways(self, places: Array) -> Array:
        """By how much the distance can change from place to place, whichever of the two moves."""
        return np.minimum(ways_of(self.b, places), ways_of(self.a, reversed_places(places)))

    def _at_angles(self, bounds: Array, gone: Array) -> tuple[float, float]:
        """The least at the given angles; raises what is known of the others in `bounds`.

        Within FINE, or SHARE where the two are far apart: of an eye that turns between its ears,
        as near at every angle, one angle tells all. `gone` adds up by how much the
        distance can change on the way.
        """
        best = (float("inf"), self.angles[0])
        waiting = np.ones(len(self.angles), dtype=bool)
        while best[0] > 0 and np.any(waiting & (bounds < _nearer(best[0]))):
            k = int(np.where(waiting, bounds, np.inf).argmin())
            waiting[k] = False
            found = self.gap(self.angles[k])
            best = min(best, (found, self.angles[k]))
            np.maximum(bounds, found - np.abs(gone - gone[k]), out=bounds)
            np.maximum(bounds, slab(self.a, self.b, self.places, self.way) - 1e-9, out=bounds)
            left = np.flatnonzero(waiting & (bounds < _nearer(best[0])))
            if left.size and np.count_nonzero(~waiting) == FEW:
                places = self.places[left]
                sure = facet_gap(self.a, self.b, places, best[0])
                back = reversed_places(places)
                np.maximum(sure, facet_gap(self.b, self.a, back, best[0]), out=sure)
                bounds[left] = np.maximum(bounds[left], sure - 1e-9)
        return best

    def _between(
        self, best: tuple[float, float], bounds: Array, ways: Array
    ) -> tuple[float, float]:
        """Anything nearer between the angles, the most promising stretch first."""
        stretches = [
            (float(bounds[k] + bounds[k + 1] - way) / 2, *self.angles[k : k + 2], float(way))
            for k, way in enumerate(ways)
        ]
        heapify(stretches)
        while stretches and best[0] > 0 and len(self.gaps) < ENOUGH:
            bound, start, end, way = heappop(stretches)
            enough = best[0] * (1 - SHARE) - SLACK
            if bound >= enough:
                break
            if self._parted(start, end) >= enough:
                continue
            pieces = [(start, end, way)]
            if start in self.gaps and end in self.gaps:
                middle = (start + end) / 2
                halves = self._ways(self._seen((start, middle, end)))
                pieces = [(start, middle, float(halves[0])), (middle, end, float(halves[1]))]
            for low, high, length in pieces:
                best = min(best, (self.gap(low), low), (self.gap(high), high))
                sure = (self.gap(low) + self.gap(high) - length) / 2
                heappush(stretches, (sure, low, high, length))
        return best

    def _parted(self, start: float, end: float) -> float:
        """Width of the slab that stays free from one angle to the other, square to the last way.

        A body that turns in the plane of the slab, as an eye between ears, does not come nearer
        to it however far its corners go.
        """
        places = self._seen((start, end))
        corners = at_places(self.b, places)
        aside = np.abs((corners[1] - corners[0]) @ self.way).max()
        bulge = 0.01 * ways_of(self.b, places)[0]  # an arc's way out of its chord, and to spare
        return float((slab(self.a, self.b, places, self.way).sum() - aside) / 2 - bulge)

    def _precise(self, best: tuple[float, float]) -> tuple[float, float]:
        """The least near the best angle found, by golden section between its neighbours."""
        known = sorted({*self.gaps, *self.angles})
        at = known.index(best[1])
        low, high = known[max(at - 1, 0)], known[min(at + 1, len(known) - 1)]
        while 0 < best[0] < NEAR and high - low > 0.01:
            left, right = low + GOLDEN * (high - low), high - GOLDEN * (high - low)
            best = min(best, (self.gap(left), left), (self.gap(right), right))
            if self.gap(left) < self.gap(right) + FLAT:  # of two alike, the least lies between
                high = right
            if self.gap(right) < self.gap(left) + FLAT:
                low = left
            if max(self.gap(left), self.gap(right)) < best[0] + FINE / 2:
                break  # flat here: what lies between is as near, or by a hair nearer
        return best


def _nearer(least: float) -> float:
    """What would be worth another look when so little has been found."""
    return least if isinf(least) else least - FINE - SHARE * max(least - NEAR, 0.0)
