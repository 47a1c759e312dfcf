"""Looking through a million post pivots, then closing in on the chosen one to 0.01 mm.

The grid covers every place to which the shop's bracket can carry a pin; fixed coordinates leave
one line or one point of it. The choice is a rule that scores usable pairs, so another rule is
another score and nothing else. Plan frame, mm. The same problem gives the same answer: no chance,
no clock, ties go to the first candidate.
"""

from collections.abc import Callable

import numpy as np

from hangpost.generators.pivots.constraints import (
    AT_ENDS,
    AT_POST,
    CLEARANCES,
    CONSTRAINTS,
    FOLDED,
    SLACK,
    Constraint,
    least_over,
    positions_at,
)
from hangpost.generators.pivots.kinematics import Array, swing
from hangpost.generators.pivots.pairs import Pairs, ends, position, tie
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.sift import Usable, gathered, sift, sift_grid

STEPS = (0.1, 0.01)  # mm; lattice of the closing in, the last is the answer's own
HALF = 20  # lattice lines to either side
MOST_WALKS = 60  # an end to sliding and to asking again; a dozen is already rare
CLIMBS = 7
BATCH = 256  # candidates whose clearances are looked at together
BOTTOMLESS = 1e9  # the margin of a pair that cannot be tied at all
DENSE = 0.5  # degrees between the angles at which the choice is looked at

# Lower is better, inf is out of the question; given the usable and the best least leverage of all.
Score = Callable[[Usable, float], Array]
Ranges = tuple[tuple[float, float], tuple[float, float]]


def lightest_bracket(usable: Usable, best_leverage: float, share: float = 0.9) -> Array:
    """Among pairs with at least `share` of the best least leverage, the smallest bracket moment."""
    return np.where(usable.least >= share * best_leverage, usable.moment, np.inf)


def most_leverage(usable: Usable, best_leverage: float) -> Array:
    """The best least leverage, whatever the bracket."""
    return -usable.least


def ranges(problem: Problem, widen: float = 1.0) -> Ranges:
    """Where the post pivot may be at all, along x and y; `widen` looks past the shop's limits."""
    box, brackets, fixed = problem.post.outline, problem.brackets, problem.fixed
    side = brackets.max_overhang * widen
    x = (box.left - side, box.right + side)
    y = (box.top + brackets.least_reach, box.top + brackets.max_reach * widen)
    if fixed.px is not None:
        x = (fixed.px, fixed.px)
    if fixed.py is not None:
        y = (fixed.py, fixed.py)
    return x, (y[0], max(y))


def axis(span: tuple[float, float], count: int) -> Array:
    """Evenly spaced coordinates, one only where both ends are the same."""
    return np.linspace(span[0], span[1], count if span[1] > span[0] else 1)


def hundredths(coordinates: Array) -> Array:
    """Coordinates as a person would set them out: whole hundredths, none twice."""
    return coordinates if coordinates.size == 1 else np.unique(np.round(coordinates, 2))


def close_in(
    problem: Problem,
    start: tuple[float, float],
    angles: tuple[float, ...],
    rate: Callable[[Usable], Array],
    reach: float,
) -> tuple[float, float] | None:
    """The best rated usable post pivot near `start`, on a lattice of whole hundredths.

    Each lattice walks until its best lies inside it, so the answer may slide along a limit; `reach`
    is the spacing of the grid that found `start`. None when no lattice point is usable.
    """
    x, y = start
    best: tuple[float, float] | None = None
    for step in _steps(reach):
        for _ in range(MOST_WALKS):
            xs, ys = _lattice(problem.fixed.px, x, step), _lattice(problem.fixed.py, y, step)
            usable = sift(problem, np.tile(xs, ys.size), np.repeat(ys, xs.size), angles)
            rating = rate(usable)
            if not rating.size or not np.isfinite(rating.min()):
                break
            first = int(np.argmin(rating))
            nx, ny = float(usable.pairs.px[first]), float(usable.pairs.py[first])
            moved = max(abs(nx - x), abs(ny - y))
            best, x, y = (nx, ny), nx, ny
            if moved < 0.75 * HALF * step:
                break
    return best


def _steps(reach: float) -> tuple[float, ...]:
    coarse = 2.0 * reach / HALF
    return STEPS if coarse <= STEPS[0] else (round(coarse, 2), *STEPS)


def _lattice(fixed: float | None, middle: float, step: float) -> Array:
    if fixed is not None:
        return np.array([fixed])
    lines = round(middle / step) + np.arange(-HALF, HALF + 1, dtype=np.float64)
    # Dividing keeps hundredths exact to the last digit where multiplying by 0.01 would not.
    return lines / round(1.0 / step) if step in STEPS else lines * step


def find(
    problem: Problem, angles: tuple[float, ...], score: Score, grid: int
) -> tuple[Usable, Usable, float] | None:
    """The chosen pair (alone), all usable pairs of the grid and the best least leverage."""
    across, along = ranges(problem)
    xs, ys = hundredths(axis(across, grid)), hundredths(axis(along, grid))
    usable = sift_grid(problem, xs, ys, angles)
    spacing = max((across[1] - across[0]), (along[1] - along[0])) / grid
    if usable.count:
        start = _at(usable, int(np.argmin(most_leverage(usable, 0.0))))
    else:
        # A sliver between the lines of the grid can still hold a pair.
        start, _ = closest(problem, angles)
    strongest = close_in(problem, start, angles, lambda u: most_leverage(u, 0.0), spacing)
    if strongest is None and not usable.count:
        return None
    usable = gathered([usable, _single(problem, strongest or start, angles)])
    best = float(usable.least.max())
    first = int(np.argmin(score(usable, best)))
    chosen = close_in(problem, _at(usable, first), angles, lambda u: score(u, best), spacing)
    return _single(problem, chosen or _at(usable, first), angles), usable, best


def _at(usable: Usable, index: int) -> tuple[float, float]:
    return float(usable.pairs.px[index]), float(usable.pairs.py[index])


def _single(problem: Problem, at: tuple[float, float], angles: tuple[float, ...]) -> Usable:
    return sift(problem, np.array([at[0]]), np.array([at[1]]), angles)


def settle(
    problem: Problem, score: Score = lightest_bracket, grid: int = 1000
) -> tuple[Usable, Usable, float] | None:
    """As `find`, and the chosen pair keeps its clearances at every half degree of the swing.

    The search looks at the two ends. Should the choice come too near to something in between, the
    angle where it does joins the ends, and the search is made again.
    """
    angles: tuple[float, ...] = ends(problem)
    for _ in range(MOST_WALKS):
        found = find(problem, angles, score, grid)
        if found is None:
            return None
        missed = missed_angle(problem, found[0].pairs)
        if missed is None:
            return found
        angles = (*angles, missed)
    return None


def missed_angle(problem: Problem, pair: Pairs) -> float | None:
    """The angle at which a single pair misses a constraint by most; None when it keeps them all."""
    dense = (position(pair, swing(problem.direction, problem.opening, DENSE)),)
    worst, at = -SLACK, None
    for constraint in CONSTRAINTS:
        left = np.atleast_1d(constraint.margin(problem, pair, dense))
        index = int(np.argmin(left))
        if left.size == dense[0].length.size and not left[index] >= worst:
            worst, at = float(left[index]), float(np.atleast_1d(dense[0].angle)[index])
    return at


def closest(
    problem: Problem, angles: tuple[float, ...], grid: int = 100
) -> tuple[tuple[float, float], float]:
    """The post pivot that comes nearest to keeping everything, and its worst margin."""

    def rate(px: Array, py: Array) -> Array:
        pairs = tie(problem, px, py)
        cheap = worst_margin(problem, pairs, ends(problem), (*AT_POST, FOLDED, *AT_ENDS))
        rating = np.full_like(cheap, -BOTTOMLESS)
        order, best = np.argsort(-cheap, kind="stable"), -np.inf
        for first in range(0, order.size, BATCH):
            lot = order[first : first + BATCH]
            if cheap[lot[0]] <= best:
                break  # nothing that follows can be better, whatever its clearances
            clear = worst_margin(problem, pairs.take(lot), angles, CLEARANCES)
            rating[lot] = np.minimum(cheap[lot], clear)
            best = max(best, float(rating[lot].max()))
        return rating

    return climb(problem, rate, grid, widen=1.0)


def worst_margin(
    problem: Problem, pairs: Pairs, angles: tuple[float, ...], which: tuple[Constraint, ...]
) -> Array:
    """The least margin of some constraints, each by its scale, so that 1 is about a millimetre."""
    positions = positions_at(pairs, angles)
    left = [c.margin(problem, pairs, positions) / c.scale for c in which]
    return np.nan_to_num(least_over(left), nan=-BOTTOMLESS, neginf=-BOTTOMLESS)


def climb(
    problem: Problem, rate: Callable[[Array, Array], Array], grid: int, widen: float
) -> tuple[tuple[float, float], float]:
    """The post pivot with the greatest rating: the best of a coarse grid, then ever finer ones."""
    across, along = ranges(problem, widen)
    best, value = (across[0], along[0]), -np.inf
    count = grid
    for _ in range(CLIMBS):
        xs, ys = axis(across, count), axis(along, count)
        px, py = np.tile(xs, ys.size), np.repeat(ys, xs.size)
        rating = rate(px, py)
        first = int(np.argmax(rating))
        if rating[first] > value:
            best, value = (float(px[first]), float(py[first])), float(rating[first])
        step_x, step_y = (across[1] - across[0]) / count, (along[1] - along[0]) / count
        across = (best[0] - 2.0 * step_x, best[0] + 2.0 * step_x)
        along = (best[1] - 2.0 * step_y, best[1] + 2.0 * step_y)
        count = 17
    return best, value
