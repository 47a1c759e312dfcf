"""Gates for the tests of judging: the shipped example and starters, designed without CAD."""

from dataclasses import replace
from functools import cache
from importlib.resources import files

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import Picks, usual
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.judge import bench_for
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.survey.site import Site

SHOP = read_shop(None)


@cache
def demo() -> Site:
    text = files("hangpost.cli").joinpath("demo.toml").read_bytes()
    return survey_from_bytes(text, file="demo.toml").site


@cache
def solved(site_text: str = ""):
    site = survey_from_bytes(site_text.encode(), file="x.toml").site if site_text else demo()
    return site, solve_gate(site, SHOP)


def designed(picks: Picks | None = None) -> Design:
    site, found = solved()
    return design_gate(site, SHOP, found, [picks or usual(SHOP)])


def with_picks(**changes: object) -> Picks:
    return replace(usual(SHOP), **changes)


def bench(picks: Picks | None = None) -> Bench:
    site = demo()
    return bench_for(site, SHOP, site.leaves[0], designed(picks).leaves[0])
