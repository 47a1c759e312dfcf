"""Errors carried through to every figure of a gate by straight lines: JCGM 100:2008, 5.1.2.

Each source is moved by one standard deviation to either side; half the difference is what it adds
to a figure's standard deviation. Good as long as nothing bends much over that distance, which
the Monte Carlo of `uncertainty` tells. It costs two gates for each source, so it also serves where
many candidates are weighed against each other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from hangpost.generators.pivots.built import Errors, built, limits, scales
from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.pairs import Pairs
from hangpost.generators.pivots.problem import Problem

# 99 of 100 of a normal distribution lie above its mean less so many standard deviations.
ONE_PERCENT: Final = 2.3263


@dataclass(frozen=True, slots=True, kw_only=True)
class Linear:
    """Figures by name, and what one standard deviation of each source makes of them."""

    sources: tuple[Source, ...]
    nominal: Mapping[str, Array]  # one entry for each candidate
    slopes: Mapping[str, Array]  # sources x candidates, in the figure's own unit

    def sd(self, name: str) -> Array:
        """Standard deviation of a figure."""
        return np.asarray(np.sqrt(np.square(self.slopes[name]).sum(axis=0)))

    def shares(self, name: str) -> Array:
        """Each source's share of a figure's variance; zeros where nothing moves it."""
        squares = np.square(self.slopes[name])
        whole = squares.sum(axis=0)
        return np.asarray(squares / np.where(whole > 0.0, whole, 1.0))


def propagate(
    problem: Problem, drawn: Pairs, sources: tuple[Source, ...], between: tuple[float, ...] = ()
) -> Linear:
    """What the sources do to candidates, each by itself."""
    rows = 1 + 2 * len(sources)
    values = {}
    for index, source in enumerate(sources):
        column = np.zeros((rows, 1))
        column[1 + 2 * index], column[2 + 2 * index] = source.sd, -source.sd
        values[source.name] = column
    values["gates"] = np.zeros((rows, 1))  # gives the arrays their length where nothing is off
    gates = built(problem, drawn, Errors(sources=sources, values=values), between)
    shape = (rows, *np.shape(drawn.px))
    figures = {k: np.broadcast_to(v, shape) for k, v in gates.figures.items()}
    return Linear(
        sources=sources,
        nominal={name: figure[0] for name, figure in figures.items()},
        slopes={name: (figure[1::2] - figure[2::2]) / 2.0 for name, figure in figures.items()},
    )


def worst_spare(problem: Problem, linear: Linear) -> Array:
    """The 1 % worst case of the least spare of each candidate, in mm or what weighs as much.

    Each figure's own 1 % worst case is taken and the least of them counts; the true one of all
    together is a little lower, by the same for neighbours.
    """
    weights = scales()
    cases = [
        (linear.nominal[name] - limit - ONE_PERCENT * linear.sd(name)) / weights[name]
        for name, limit in limits(problem).items()
    ]
    return np.asarray(np.min(np.stack(cases), axis=0))
