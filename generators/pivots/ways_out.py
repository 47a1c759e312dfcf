"""No usable pair of pivots: what stops it, by how much, and the smallest change that would do.

Nothing here is a canned sentence. The blocking constraints are those that the fewest other
failures go with, counted over a grid that looks past the shop's limits; each way out is a problem
with one number changed, found by halving and then solved again on the full grid with its
clearances at every half degree. mm, N, degrees.
"""

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from hangpost.generators.pivots.constraints import CONSTRAINTS, SLACK, margins
from hangpost.generators.pivots.excluding import exclude
from hangpost.generators.pivots.kinematics import Array, swing
from hangpost.generators.pivots.levers import LEVERS, Lever
from hangpost.generators.pivots.mount import Point, Row
from hangpost.generators.pivots.pairs import ends, tie
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.rows import leaf_to_post, rows
from hangpost.generators.pivots.search import (
    BOTTOMLESS,
    axis,
    climb,
    closest,
    ranges,
    settle,
    worst_margin,
)
from hangpost.generators.pivots.sift import sift_grid
from hangpost.generators.survey.display import shop_first
from hangpost.generators.survey.units import Units

BEYOND = 400.0  # mm past the shop's limits at which the explanation still looks
LOOK = 160  # lines of its grid
COARSE = 200  # lines of the grid that a change is first tried on
TRIES = 8  # changes tried outwards before halving


def lower_first(sentence: str) -> str:
    """A sentence to stand after a colon."""
    return sentence[:1].lower() + sentence[1:]


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """One number changed by the least that makes the gate possible, solved and verified."""

    change: str
    old: float
    new: float
    unit: str
    effort: float  # for ranking only; 1 is about as much bother as five degrees less opening
    post_pivot: Point
    leverage_least: float
    sentence: str


class NoPivots(Exception):
    """No usable pair: the blocking constraints, how far the best candidate misses, the ways out."""

    def __init__(
        self,
        *,
        problem: Problem,
        blocking: tuple[str, ...],
        excluding: tuple[str, ...],
        misses: tuple[Row, ...],
        best: tuple[float, float, float, float],
        ways_out: tuple[WayOut, ...],
        leaf_to_post: Row,
        units: Units = "mm",
    ) -> None:
        """Keep everything as data; the message is the sentences."""
        self.problem = problem
        self.blocking = blocking
        self.excluding = excluding  # the fewest that are kept together nowhere
        self.misses = misses
        self.best = best  # px, py, gx, gy
        self.ways_out = ways_out
        self.leaf_to_post = leaf_to_post
        super().__init__("\n".join(shop_first(said, units) for said in self.sentences()))

    def sentences(self) -> list[str]:
        """What to tell people, most important first."""
        names, short = " and ".join(self.blocking), "falls" if len(self.blocking) == 1 else "fall"
        said = [f"No usable pair of pivots: where it comes nearest, {names} {short} short."]
        said += [f"- {row.sentence}" for row in self.misses]
        if len(self.excluding) > 1:
            said.append(f"No place at all keeps {' and '.join(self.excluding)} together.")
        if self.ways_out:
            several = "Any one of these makes it work, the least bother first:"
            said.append(several if len(self.ways_out) > 1 else "One change makes it work:")
            said += [f"- {way.sentence}" for way in self.ways_out]
        else:
            said.append("No single change within reason makes it work; change two things at once.")
        if not self.leaf_to_post.satisfied:
            said.append(f"Whatever the pivots: {lower_first(self.leaf_to_post.sentence)}")
        return said

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        return {
            "blocking": list(self.blocking),
            "excluding": list(self.excluding),
            "misses": [row.data() for row in self.misses],
            "best": {"post_pivot": list(self.best[:2]), "leaf_pivot": list(self.best[2:])},
            "ways_out": [asdict(way) for way in self.ways_out],
            "leaf_to_post": self.leaf_to_post.data(),
        }


def no_pivots(problem: Problem, *, briefly: bool = False, units: Units = "mm") -> NoPivots:
    """The explanation of a gate for which the search found nothing; `briefly` without ways out.

    Its message says what is in `units` first.
    """
    failures = _failures(problem)
    names = blocking(failures)
    best = _least_miss(problem, names)
    pair = tie(problem, np.array([best[0]]), np.array([best[1]]))
    missed = [row for row in rows(problem, pair) if row.name in names or not row.satisfied]
    # A lever that eases some constraints only is of use where nothing but those fails.
    levers = [lever for lever in LEVERS if not lever.touches or _alone(failures, lever.touches)]
    if briefly:
        levers = []
    found = [way for way in (_way_out(problem, lever) for lever in levers) if way is not None]
    return NoPivots(
        units=units,
        problem=problem,
        blocking=names,
        excluding=failures.excluding,
        misses=tuple(sorted(missed, key=lambda row: row.name not in names)),
        best=(best[0], best[1], float(pair.gx[0]), float(pair.gy[0])),
        ways_out=tuple(sorted(found, key=lambda way: way.effort)),
        leaf_to_post=leaf_to_post(problem),
    )


def look_angles(problem: Problem) -> tuple[float, ...]:
    """Where the explanation looks: the ends, and between them when things stand about."""
    return sampled(problem) if problem.near_obstacles else ends(problem)


def sampled(problem: Problem) -> tuple[float, ...]:
    """The two ends and some angles between, where a change may be stopped too."""
    return tuple(float(a) for a in swing(problem.direction, problem.opening, problem.opening / 6))


@dataclass(frozen=True, slots=True, kw_only=True)
class Failures:
    """Which constraints fail at each candidate of a grid that looks past the shop's limits."""

    failed: np.typing.NDArray[np.bool_]  # a row for each constraint
    codes: np.typing.NDArray[np.int64]  # the set that fails, as bits
    excluding: tuple[str, ...]  # the fewest that are kept together nowhere


def _failures(problem: Problem) -> Failures:
    across, along = ranges(problem, BEYOND)
    xs, ys = axis(across, LOOK), axis(along, LOOK)
    px, py = np.tile(xs, ys.size), np.repeat(ys, xs.size)
    left = margins(problem, tie(problem, px, py), look_angles(problem))
    failed = np.stack([~(left[c.name] >= -SLACK) for c in CONSTRAINTS])
    bits = np.array([_bit(c.name) for c in CONSTRAINTS])
    excluding = exclude({c.name: left[c.name] / c.scale for c in CONSTRAINTS})
    return Failures(failed=failed, codes=bits @ failed, excluding=excluding)


def _bit(name: str) -> int:
    return 1 << [c.name for c in CONSTRAINTS].index(name)


def _alone(failures: Failures, names: tuple[str, ...]) -> bool:
    """Whether some candidate fails by these constraints and no others."""
    others = ~sum(_bit(name) for name in names)
    return bool(((failures.codes & others) == 0).any())


def blocking(failures: Failures) -> tuple[str, ...]:
    """The constraints to blame: the smallest set that fails anywhere.

    Of sets of one size the one that the most candidates fail by, which is the one whose removal
    would leave the most.
    """
    size = failures.failed.sum(axis=0)
    least = int(size[size > 0].min(initial=len(CONSTRAINTS)))
    codes, counts = np.unique(failures.codes[size == least], return_counts=True)
    code = int(codes[np.argmax(counts)]) if codes.size else 0
    return tuple(c.name for c in CONSTRAINTS if code & _bit(c.name))


def _least_miss(problem: Problem, names: tuple[str, ...]) -> Point:
    """Where the blocking constraints miss by least while all others are kept."""
    others = tuple(c for c in CONSTRAINTS if c.name not in names)
    wanted = tuple(c for c in CONSTRAINTS if c.name in names) or CONSTRAINTS
    angles = look_angles(problem)

    def rate(px: Array, py: Array) -> Array:
        pairs = tie(problem, px, py)
        kept = worst_margin(problem, pairs, angles, others) >= -SLACK
        return np.where(kept, worst_margin(problem, pairs, angles, wanted), -BOTTOMLESS)

    return climb(problem, rate, LOOK, BEYOND)[0]


def _some_pair(problem: Problem, angles: tuple[float, ...]) -> bool:
    """Whether a look at a coarse grid, or from there uphill, finds a pair for these angles."""
    across, along = ranges(problem)
    if sift_grid(problem, axis(across, COARSE), axis(along, COARSE), angles).count:
        return True
    return closest(problem, angles, grid=48)[1] >= -SLACK


def _way_out(problem: Problem, lever: Lever) -> WayOut | None:
    old, most = lever.read(problem), lever.most(problem)

    def changed(by: float) -> Problem:
        return lever.put(problem, old + lever.towards * by)

    def possible(by: float) -> bool:
        candidate = changed(by)
        # What is impossible at the two ends alone need not be looked at in between.
        return all(_some_pair(candidate, look(candidate)) for look in (ends, sampled))

    if not most > 0.0:
        return None
    fails, works = 0.0, None
    for share in np.linspace(0.0, 1.0, TRIES + 1)[1:]:
        if possible(float(share) * most):
            works = float(share) * most
            break
        fails = float(share) * most
    if works is None:
        return None
    while works - fails > lever.grain / 4.0:
        middle = (works + fails) / 2.0
        if possible(middle):
            works = middle
        else:
            fails = middle
    for extra in range(8):
        by = (np.ceil(works / lever.grain - 1e-9) + extra) * lever.grain
        if by > most + lever.grain:
            return None
        found = settle(changed(float(by)))
        if found is not None:
            new = old + lever.towards * float(by)
            return WayOut(
                change=lever.change,
                old=old,
                new=new,
                unit=lever.unit,
                effort=float(by) / lever.bother,
                post_pivot=(float(found[0].pairs.px[0]), float(found[0].pairs.py[0])),
                leverage_least=float(found[0].least[0]),
                sentence=lever.say(problem, old, new),
            )
    return None
