"""How sure the gate is: a hundred thousand gates built with errors, and what comes of them.

A seeded Monte Carlo (JCGM 101:2008) over tape, template, drill, brake and fitter, with the order
of work of `built`: the same site gives the same chances. Straight lines (`linear`) tell which
source makes which share of the scatter. Every chance is of this model with these plus-minuses,
not a promise. mm, degrees.
"""

from dataclasses import asdict, dataclass
from math import erf, sqrt
from typing import Any, Final

import numpy as np

from hangpost.generators.pivots.built import Errors, built, limits, scales
from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.linear import propagate
from hangpost.generators.pivots.outcomes import (
    WORKS,
    Outcome,
    Retake,
    outcome_data,
    outcome_of,
    percent,
    quantiles,
    ranked,
    retake_of,
    size,
)
from hangpost.generators.pivots.pairs import Pairs
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.display import plain

GATES: Final = 100_000
SEED: Final = 20_01  # any number will do, so long as it stays
BLOCK: Final = 8192  # gates at a time: the arrays stay in the cache
ABSORBED: Final = 0.99  # what slots should take
SURE: Final = 0.99  # chance to keep every limit from which nothing need be measured again; house
SLOTS: Final = {"leaf": "slot", "post": "post pivot along the leaf"}  # what each end absorbs


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """What may be expected of one pair of pivots."""

    gates: int
    seed: int
    sources: tuple[Source, ...]
    outcomes: tuple[Outcome, ...]
    works: float  # chance that every judged figure lets the gate work
    kept: float  # chance that every limit is kept, reserves included
    worst_spare: float  # 1 % worst case of the least spare over all limits, weighed as mm
    slot_travel: float  # length of the leaf's slots that absorbs 99 %, drilled from paper
    post_slot_travel: float  # likewise of the post's slots, to put the post pivot right
    retake: Retake | None
    far_end: str  # "closed" when pulled, "open" when pushed

    def outcome(self, name: str) -> Outcome:
        """The figure of that name."""
        return next(each for each in self.outcomes if each.name == name)

    def travel(self, end: str) -> float:
        """Length of the slots at the post or the leaf that absorbs 99 of 100 gates."""
        return self.post_slot_travel if end == "post" else self.slot_travel

    def absorbed(self, travel: float, end: str = "leaf") -> float:
        """Share of gates drilled from paper that slots of this travel can put right."""
        sd = self.outcome(SLOTS[end]).sd
        share = 1.0 if sd == 0.0 else erf(travel / 2.0 / sd / sqrt(2.0))
        # The travel for 99 % was counted out and not reckoned: the two must not disagree.
        return max(share, ABSORBED) if travel >= self.travel(end) else min(share, ABSORBED)

    def sentences(self) -> list[str]:
        """What to tell people, most important first."""
        stroke, far = self.outcome("stroke"), self.outcome("far angle")
        errors = "gates built with the errors of tape, template, drill and brake"
        count = f"{self.gates:,}".replace(",", " ")
        said = [
            f"Of {count} {errors}, all keep every limit with its reserve."
            if self.kept == 1.0
            else f"Of {count} {errors},"
            f" {percent(stroke.works)} have stroke enough with the leaf {self.far_end}, and"
            f" {percent(self.works)} work in every respect; {percent(self.kept)} keep every"
            " limit with its reserve.",
            f"The stroke left with the leaf {self.far_end} is {size(stroke.nominal)}, and in 99"
            f" of 100 gates between {size(stroke.low)} and {size(stroke.high)}.",
        ]
        tight = [each for each in self.outcomes if each.kept is not None and each.kept < SURE]
        said += [
            f"The {each.words} is {size(each.nominal, each.unit)}; only {percent(each.kept)}"
            f" of the gates keep {size(each.limit or 0.0, each.unit)}."
            for each in tight
        ]
        said.append(
            f"With the rod run out by the stroke on the sheet the leaf stands {self.far_end} to"
            f" plus or minus {plain((far.high - far.low) / 2.0, places=1)} degrees; set the stop"
            " by the leaf, not by the number."
        )
        if self.slot_travel > 0.0:
            said.append(
                "Tie the leaf pivot on site. Drilled from its paper alone, the leaf bracket needs"
                f" slots with {size(self.slot_travel)} of travel to fit in 99 of 100 gates."
            )
        if self.retake is not None:
            said.append(self.retake.sentence(needed=self.kept < SURE))
        return said

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        return {
            "gates": self.gates,
            "seed": self.seed,
            "works": self.works,
            "kept": self.kept,
            "worst_spare": self.worst_spare,
            "slot_travel": self.slot_travel,
            "post_slot_travel": self.post_slot_travel,
            "far_end": self.far_end,
            "retake": None
            if self.retake is None
            else {
                "measure": self.retake.source.name,
                "outcome": self.retake.outcome,
                "share": self.retake.share,
                "sd": self.retake.sd,
                "sd_without": self.retake.sd_without,
            },
            "outcomes": [outcome_data(each) for each in self.outcomes],
            "sources": [{**asdict(source), "words": source.words} for source in self.sources],
            "sentences": self.sentences(),
        }


def uncertainty(
    problem: Problem,
    drawn: Pairs,
    sources: tuple[Source, ...],
    *,
    between: tuple[float, ...] = (),
    gates: int = GATES,
    seed: int = SEED,
) -> Uncertainty:
    """What may be expected of a single pair; `between` are the angles where things come near."""
    figures = sample(problem, drawn, sources, between=between, gates=gates, seed=seed)
    straight = propagate(problem, drawn, sources, between)
    least = limits(problem)
    kept, works = np.ones(gates, dtype=np.bool_), np.ones(gates, dtype=np.bool_)
    spare = np.full(gates, np.inf)
    weights = scales()
    for name, limit in least.items():
        kept &= figures[name] >= limit
        works &= figures[name] >= WORKS.get(name, -np.inf)
        spare = np.minimum(spare, (figures[name] - limit) / weights[name])
    works &= figures["leverage"] >= least["leverage"]
    outcomes = tuple(
        outcome_of(
            name,
            figure,
            float(straight.nominal[name][0]),
            float(straight.sd(name)[0]),
            least.get(name),
            ranked(sources, straight.shares(name)[:, 0]),
        )
        for name, figure in figures.items()
    )
    is_tied = problem.fixed.gx is None
    return Uncertainty(
        gates=gates,
        seed=seed,
        sources=sources,
        outcomes=outcomes,
        works=float(works.mean()),
        kept=float(kept.mean()),
        worst_spare=quantiles(spare, 0.01)[0],
        slot_travel=_travel(figures["slot"]) if is_tied else 0.0,
        post_slot_travel=_travel(figures["post pivot along the leaf"]),
        retake=retake_of(outcomes, sources, weights),
        far_end="closed" if problem.direction == "pull" else "open",
    )


def sample(
    problem: Problem,
    drawn: Pairs,
    sources: tuple[Source, ...],
    *,
    between: tuple[float, ...] = (),
    gates: int = GATES,
    seed: int = SEED,
) -> dict[str, Array]:
    """Every figure of that many gates, built with errors drawn at random."""
    chance = np.random.default_rng(seed)
    blocks: list[dict[str, Array]] = []
    for first in range(0, gates, BLOCK):
        count = min(BLOCK, gates - first)
        drawn_errors = chance.standard_normal((len(sources), count))
        values = {s.name: s.sd * row for s, row in zip(sources, drawn_errors, strict=True)}
        values["gates"] = np.zeros(count)  # gives the arrays their length where nothing is off
        found = built(problem, drawn, Errors(sources=sources, values=values), between)
        blocks.append({k: np.broadcast_to(v, (count,)) for k, v in found.figures.items()})
    return {name: np.concatenate([block[name] for block in blocks]) for name in blocks[0]}


def _travel(off: Array) -> float:
    """Length of a slot, centred on its place, that reaches 99 of 100."""
    return 2.0 * quantiles(np.abs(off), ABSORBED)[0]
