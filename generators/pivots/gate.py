"""The pivots of a whole gate: one problem and one answer for each leaf."""

from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import problem_of
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.solve import solve
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site

Solved = tuple[Problem, Mount]


def solve_gate(site: Site, shop: Shop) -> tuple[Solved, ...]:
    """The pivots of every leaf with the problem they answer; raises NoPivots."""
    problems = [problem_of(site, shop, index) for index in range(len(site.leaves))]
    return tuple((problem, solve(problem)) for problem in problems)
