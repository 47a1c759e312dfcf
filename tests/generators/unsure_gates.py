"""Gates solved for the tests of uncertainty: starters by where they open and hang."""

from functools import cache

import numpy as np

from hangpost.generators.pivots.errors import Source, sources
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import Pairs
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.starter import starter

TOWARD = ("actuator", "away")


@cache
def solved(
    toward: str, post: str = "timber", prefer: str = "robust"
) -> tuple[Site, Problem, Mount]:
    text = starter(units="mm", post=post, toward=toward) + f'\n[choice]\nprefer = "{prefer}"\n'
    site = site_from_bytes(text.encode())
    problem, mount = solve_gate(site, Shop())[0]
    return site, problem, mount


def pair_of(mount: Mount) -> Pairs:
    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    return Pairs(px=np.array([px]), py=np.array([py]), gx=np.array([gx]), gy=np.array([gy]))


def off(problem: Problem, site: Site, reach: float = 120.0) -> tuple[Source, ...]:
    return sources(site.leaves[0], problem, reach)
