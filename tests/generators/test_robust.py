"""Choice under uncertainty: no usable pair stands the errors better."""

import numpy as np
import pytest

from hangpost.generators.pivots import robust
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.linear import propagate, worst_spare
from hangpost.generators.pivots.pairs import ends
from hangpost.generators.pivots.robust import EQUAL
from hangpost.generators.pivots.search import axis, lightest_bracket, ranges, settle
from hangpost.generators.pivots.sift import sift

from .unsure_gates import TOWARD, pair_of, solved


@pytest.mark.parametrize("post", ["timber", "round_steel"])
@pytest.mark.parametrize("toward", TOWARD)
def test_robust_pair_stands_errors_best_and_leverage_keeps_the_old_rule(
    toward: str, post: str
) -> None:
    """GEO-05: the robust point."""
    _, problem, chosen = solved(toward, post)
    _, _, strong = solved(toward, post, "leverage")
    assert chosen.sure is not None and chosen.other is not None
    assert strong.sure is not None and strong.other is not None

    assert chosen.sure.worst_spare >= strong.sure.worst_spare - EQUAL - 0.2
    assert chosen.leverage_least >= 0.9 * chosen.best_leverage - 1e-6
    assert all(row.satisfied for row in chosen.rows)
    assert (chosen.rule, chosen.other.rule) == ("robust", "leverage")
    assert (strong.rule, strong.other.rule) == ("leverage", "robust")
    assert chosen.other.post_pivot == strong.post_pivot
    assert strong.other.post_pivot == chosen.post_pivot
    found = settle(problem, lightest_bracket, 600)
    assert found is not None
    assert strong.post_pivot == (float(found[0].pairs.px[0]), float(found[0].pairs.py[0]))


@pytest.mark.parametrize("post", ["timber", "round_steel"])
@pytest.mark.parametrize("toward", TOWARD)
def test_no_usable_pair_of_good_leverage_has_a_better_worst_case(toward: str, post: str) -> None:
    _, problem, chosen = solved(toward, post)
    assert chosen.sure is not None
    across, along = ranges(problem)
    xs, ys = axis(across, 300), axis(along, 300)
    # Looked at through the whole swing, for some come near to something in the middle of it.
    between = tuple(float(a) for a in swing(problem.direction, problem.opening, 10.0)[1:-1])
    angles = (*ends(problem), *between)
    usable = sift(problem, np.tile(xs, ys.size), np.repeat(ys, xs.size), angles)
    strong = usable.pairs.take(usable.least >= 0.9 * chosen.best_leverage)
    off = chosen.sure.sources
    others = worst_spare(problem, propagate(problem, strong, off, between))
    ours = worst_spare(problem, propagate(problem, pair_of(chosen), off, between))

    assert strong.px.size > 10
    assert float(others.max()) <= float(ours[0]) + EQUAL + 0.02


@pytest.mark.parametrize("post", ["timber", "round_steel"])
@pytest.mark.parametrize("toward", TOWARD)
def test_no_usable_pair_that_errors_leave_something_bends_its_bracket_less(
    toward: str, post: str
) -> None:
    _, problem, chosen = solved(toward, post, "light")
    assert chosen.sure is not None and chosen.other is not None
    across, along = ranges(problem)
    xs, ys = axis(across, 300), axis(along, 300)
    between = tuple(float(a) for a in swing(problem.direction, problem.opening, 10.0)[1:-1])
    angles = (*ends(problem), *between)
    usable = sift(problem, np.tile(xs, ys.size), np.repeat(ys, xs.size), angles)
    off = chosen.sure.sources
    worst = worst_spare(problem, propagate(problem, usable.pairs, off, between))
    ours = worst_spare(problem, propagate(problem, pair_of(chosen), off, between))
    sure = worst >= min(0.0, float(worst.max()))

    assert all(row.satisfied for row in chosen.rows)
    assert (chosen.rule, chosen.other.rule) == ("light", "robust")
    assert float(ours[0]) >= min(0.0, float(worst.max())) - EQUAL
    assert chosen.bracket_moment <= 1.01 * float(usable.moment[sure].min())
    assert chosen.bracket_moment <= chosen.other.bracket_moment


def test_closing_in_finds_the_safest_from_few_candidates(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(robust, "COARSE", 20)
    _, problem, mount = solved("away")
    assert mount.sure is not None
    found = settle(problem, lightest_bracket, 300)
    assert found is not None
    _, usable, best = found
    off = mount.sure.sources
    strong = usable.pairs.take(usable.least >= 0.9 * best)
    others = worst_spare(problem, propagate(problem, strong, off))
    poor = others < float(others.max()) - 0.5  # so that the answer is not among them
    few = sift(problem, strong.px[poor][::40], strong.py[poor][::40], ends(problem))
    weighed = robust._weigh(problem, few, off, ends(problem))
    closed_in = robust._closed_in(problem, weighed, off, ends(problem), 0.9 * best, top=None)

    assert float(weighed.worst.max()) < float(others.max()) - 0.1
    assert float(closed_in.worst.max()) >= float(others.max()) - 0.1
