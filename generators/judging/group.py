"""Fasteners of one seat as a group: who takes how much of a force at the pin.

In the seat's plane a fastener in a round hole holds both ways, one in a slot only across it:
along the slot it may slide. Out of the plane a seat lifts by turning about a line of contact near
its edge, if it presses there at all, or simply pulls away.
Frame: u, v in the seat's plane, w out of the host. Units: N, mm. Arrays run over load cases.
Sources: elastic superposition as in the AISC Manual part 7; textbook tilting about an edge.
Prying beyond that lever cannot govern: the seat between fasteners and root is held as a cantilever
and the fasteners by their pull, which together are less than any T-stub of EN 1993-1-8 6.2.4 holds.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hangpost.generators.judging.loads import Floats

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Fasteners by place; `slides` says which of them may slide along u."""

    points: tuple[Point, ...]
    slides: tuple[bool, ...]

    @property
    def free_along(self) -> bool:
        """Whether nothing but friction holds along u."""
        return all(self.slides)

    def in_plane(self, fu: Floats, fv: Floats, at: Point) -> tuple[Floats, Floats]:
        """Force along u and along v on every fastener (columns) from (fu, fv) acting at `at`.

        Where all may slide they are taken as held, so that friction can be asked for as much.
        """
        x, y = (np.array(c, dtype=float) for c in zip(*self.points, strict=True))
        along = np.ones(len(x)) if self.free_along else np.where(self.slides, 0.0, 1.0)
        across = np.ones(len(x))
        stiffness = np.array(
            [
                [along.sum(), 0.0, -(along * y).sum()],
                [0.0, across.sum(), (across * x).sum()],
                [-(along * y).sum(), (across * x).sum(), (along * y**2 + across * x**2).sum()],
            ]
        )
        turn = at[0] * fv - at[1] * fu
        moved = np.linalg.pinv(stiffness, rcond=1e-12) @ np.vstack((fu, fv, turn))
        a, b, theta = moved
        return along * (a[:, None] - np.outer(theta, y)), b[:, None] + np.outer(theta, x)


def lifted(
    places: Sequence[float], pull: Floats, first: Floats, edges: Point
) -> tuple[Floats, Floats]:
    """Tension in each line of fasteners and the contact force beside them, one row a case.

    `places` are where the lines stand along one axis; `pull` and its `first` moment about the
    axis' zero are what they hold; `edges` are the two lines of contact, least and greatest. Of
    the states that can be (no contact, contact at either edge, pressed all over) the one that
    balances without a negative force is taken. What presses does so no nearer to the middle than
    the outermost line: a fastener that stands beyond an edge is where the seat turns.
    """
    u = np.array(places, dtype=float)
    low, high = min(edges[0], u.min()), max(edges[1], u.max())
    apart = float(((u - u.mean()) ** 2).sum())
    off = first - pull * u.mean()
    lever = np.outer(off, (u - u.mean()) / apart) if apart > 0 else np.zeros((len(pull), len(u)))
    free = pull[:, None] / len(u) + lever
    is_free = free.min(axis=1) >= -1e-9
    if apart == 0:
        is_free &= np.abs(off) <= 1e-9
    found = np.where(is_free[:, None], free, 0.0)
    contact = np.zeros(len(pull))
    open_still = ~is_free
    for edge in (high, low):
        arms = u - edge
        tension = np.outer((first - pull * edge) / float((arms**2).sum()), arms)
        press = tension.sum(axis=1) - pull
        good = open_still & (tension.min(axis=1) >= -1e-9) & (press >= -1e-9)
        found = np.where(good[:, None], tension, found)
        contact = np.where(good, press, contact)
        open_still &= ~good
    return found, np.where(open_still, np.maximum(-pull, 0.0), contact)
