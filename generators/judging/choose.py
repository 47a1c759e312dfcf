"""What to make it from: the lightest combination of the stock whose every check passes.

The two ends of the actuator are chosen apart. The same site gives the same answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import Picks, usual
from hangpost.generators.judging.because import what_would_help, why
from hangpost.generators.judging.candidates import Job
from hangpost.generators.judging.stock import Stock
from hangpost.generators.judging.trials import search
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What was picked for one leaf, and why, in sentences."""

    picks: Picks
    passed: bool
    reasons: tuple[str, ...]
    short: tuple[str, ...] = ()  # of the reasons, those of an end that does not pass


def choose(
    site: Site, shop: Shop, solved: Sequence[tuple[Problem, Mount]], limits: Sequence[str] = ()
) -> tuple[Chosen, ...]:
    """The picks of every leaf; StockError when a limit names nothing."""
    stock, whole = Stock.of(shop, limits), Stock.of(shop)
    found = []
    for hung, (problem, mount) in zip(site.leaves, solved, strict=True):
        job = Job(site=site, shop=shop, hung=hung, problem=problem, mount=mount)
        found.append(_chosen(job, stock, whole, limits))
    return tuple(found)


def _chosen(job: Job, stock: Stock, whole: Stock, limits: Sequence[str]) -> Chosen:
    picks = usual(job.shop)
    reasons: list[str] = []
    short: list[str] = []
    for end in ("post", "leaf"):
        best, tried = search(job, end, stock)
        picks = _merged(picks, best.picks, end)
        said = list(why(job, end, best, tried, limits))
        if not best.passed:
            said += what_would_help(job, end, best, stock, whole)
            short += said
        reasons += said
    return Chosen(picks=picks, passed=not short, reasons=tuple(reasons), short=tuple(short))


def with_reasons(design: Design, chosen: Sequence[Chosen]) -> Design:
    """The design with the reasons of the choice among its own."""
    leaves = tuple(
        replace(leaf, reasons=(*leaf.reasons, *each.reasons))
        for leaf, each in zip(design.leaves, chosen, strict=True)
    )
    return replace(design, leaves=leaves)


def _merged(picks: Picks, found: Picks, end: str) -> Picks:
    if end == "post":
        return replace(
            picks,
            post_plate=found.post_plate,
            post_kind=found.post_kind,
            post_size=found.post_size,
            post_rows=found.post_rows,
            post_slots=found.post_slots,
        )
    return replace(
        picks,
        leaf_plate=found.leaf_plate,
        leaf_size=found.leaf_size,
        leaf_bolts=found.leaf_bolts,
        leaf_neck=found.leaf_neck,
        leaf_slots=found.leaf_slots,
    )
