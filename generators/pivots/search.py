"""Looking through a million post pivots, then closing in on the chosen one to 0.01 mm.

The grid covers every place to which the shop's bracket can carry a pin; fixed coordinates leave
one line or one point of it. The choice is a rule that scores usable pairs, so another rule is
another score and nothing else. Plan frame, mm. The same problem gives the same answer: no chance,
no clock, ties go to the first candidate.
"""

from collections.abc import Callable

import numpy as np

from hangpost.generators.pivots.constraints import (
    CONSTRAINTS,
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
CLIMBS = 5  # ever finer looks for the least bad pivot
WINDOW = 13  # places of such a look
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


def ranges(problem: Problem, beyond: float = 0.0) -> Ranges:
    """Where the post pivot may be at all, along x and y, or `beyond` the shop's limits."""
    box, brackets, fixed = problem.post.outline, problem.brackets, problem.fixed
    side = brackets.max_overhang + beyond
    x = (box.left - side, box.right + side)
    y = (box.top + brackets.least_reach, box.top + brackets.max_reach + beyond)
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
    angles where it does join the ends, and the search is made again.
    """
    angles: tuple[float, ...] = ends(problem)
    for _ in range(MOST_WALKS):
        found = find(problem, angles, score, grid)
        if found is None:
            return None
        missed = missed_angles(problem, found[0].pairs)
        if not missed:
            return found
        angles = (*angles, *missed)
    return None


def missed_angles(problem: Problem, pair: Pairs) -> tuple[float, ...]:
    """Where a single pair misses a constraint: of every stretch of the swing both ends and worst.

    None at all when it keeps them all. With the ends of a stretch among the angles the next choice
    misses inside it only, where by its worst alone the stretch would move along by half degrees.
    """
    dense = (position(pair, swing(problem.direction, problem.opening, DENSE)),)
    angles = np.atleast_1d(dense[0].angle)
    found: set[int] = set()
    for constraint in CONSTRAINTS:
        left = np.atleast_1d(constraint.margin(problem, pair, dense))
        if left.size != angles.size:
            continue
        missed = np.flatnonzero(~(left >= -SLACK))
        for stretch in np.split(missed, np.flatnonzero(np.diff(missed) > 1) + 1):
            if stretch.size:
                worst = stretch[int(np.argmin(left[stretch]))]
                found |= {int(stretch[0]), int(worst), int(stretch[-1])}
    return tuple(float(angles[index]) for index in sorted(found))


def closest(
    problem: Problem, angles: tuple[float, ...], grid: int = 100
) -> tuple[tuple[float, float], float]:
    """The post pivot that comes nearest to keeping everything, and its worst margin."""

    def rate(px: Array, py: Array) -> Array:
        return worst_margin(problem, tie(problem, px, py), angles, CONSTRAINTS)

    return climb(problem, rate, grid)


def worst_margin(
    problem: Problem, pairs: Pairs, angles: tuple[float, ...], which: tuple[Constraint, ...]
) -> Array:
    """The least margin of some constraints, each by its scale, so that 1 is about a millimetre."""
    positions = positions_at(pairs, angles)
    left = [c.margin(problem, pairs, positions) / c.scale for c in which]
    return np.nan_to_num(least_over(left), nan=-BOTTOMLESS, neginf=-BOTTOMLESS)


def climb(
    problem: Problem, rate: Callable[[Array, Array], Array], grid: int, beyond: float = 0.0
) -> tuple[tuple[float, float], float]:
    """The post pivot with the greatest rating, found row by row.

    The rating has sharp ridges that run nearly square to the post's face, along which a window
    over the plane gets stuck; so the best place along each row comes first, then the best row.
    """
    across, along = ranges(problem, beyond)
    best, value = (across[0], along[0]), -np.inf
    ys = axis(along, grid)
    step = (along[1] - along[0]) / grid
    for _ in range(CLIMBS):
        xs, ratings = _best_of_rows(rate, axis(across, grid), ys)
        row = int(np.argmax(ratings))
        if ratings[row] > value:
            best, value = (float(xs[row]), float(ys[row])), float(ratings[row])
        if value >= -SLACK:
            break
        ys = axis((best[1] - 1.5 * step, best[1] + 1.5 * step), WINDOW)
        step = 3.0 * step / WINDOW
    return best, value


def _best_of_rows(
    rate: Callable[[Array, Array], Array], xs: Array, ys: Array
) -> tuple[Array, Array]:
    """The best place along each row and its rating, by ever finer looks at every row at once."""
    tries = np.tile(xs, (ys.size, 1))
    step = (xs[-1] - xs[0]) / xs.size
    for _ in range(CLIMBS):
        ratings = rate(tries.ravel(), np.repeat(ys, tries.shape[1])).reshape(tries.shape)
        first = np.argmax(ratings, axis=1)[:, None]
        places = np.take_along_axis(tries, first, axis=1)
        values = np.take_along_axis(ratings, first, axis=1)
        if step == 0.0:
            break
        tries = np.hstack((places, places + np.linspace(-1.5, 1.5, WINDOW) * step))
        step = 3.0 * step / WINDOW
    return places[:, 0], values[:, 0]
