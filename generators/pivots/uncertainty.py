"""How sure the gate is: a hundred thousand gates built with errors, and what comes of them.

A seeded Monte Carlo (JCGM 101:2008) over tape, template, drill, brake and fitter, with the order
of work of `built`: the same site gives the same chances. Straight lines (`linear`) tell which
source makes which share of the scatter. Every chance is of this model with these plus-minuses,
not a promise. mm, degrees.
"""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from math import erf, isfinite, sqrt
from typing import Any, Final

import numpy as np

from hangpost.generators.pivots.built import Errors, built, limits, scales
from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.linear import propagate
from hangpost.generators.pivots.pairs import Pairs
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.display import both, plain

GATES: Final = 100_000
SEED: Final = 20_01  # any number will do, so long as it stays
BLOCK: Final = 8192  # gates at a time: the arrays stay in the cache
ABSORBED: Final = 0.99  # what slots should take
SURE: Final = 0.99  # chance to keep every limit from which nothing need be measured again; house
AGAIN: Final = 0.2  # a measurement with less than this share is not worth taking again; house

# Below these the gate does not work at all; the limits proper keep a reserve above them.
WORKS: Final = {"stroke": 0.0, "body clearance": 0.0, "ear clearance": 0.0, "dead centre": 0.0}
WORDS: Final = {
    "stroke": "stroke left at the far end",
    "leverage": "least leverage",
    "dead centre": "angle left to dead centre",
    "folded clearance": "post pivot to the leaf",
    "body clearance": "actuator's body to what is near it",
    "ear clearance": "brackets' ears to body and leaf",
    "tied length": "pin to pin when the leaf is tied",
    "far length": "pin to pin at the far end",
    "along the leaf": "where the leaf pivot lands along the leaf",
    "far angle": "angle at the far end, rod run out by the stroke on the sheet",
    "paper angle": "angle at the tied end, leaf drilled from paper and not tied",
    "slot": "leaf pivot off its place on the paper",
    "post pivot along the leaf": "post pivot off its place, along the leaf",
    "post pivot off the leaf": "post pivot off its place, square to the leaf",
}
SLOTS: Final = {"leaf": "slot", "post": "post pivot along the leaf"}  # what each end absorbs
DEGREES: Final = {"dead centre", "far angle", "paper angle"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One figure of the gate over all gates that might be built."""

    name: str
    words: str
    unit: str
    nominal: float
    mean: float
    sd: float
    linear_sd: float
    low: float  # 99 of 100 gates lie between low and high
    high: float
    worst: float  # 99 of 100 gates have more
    limit: float | None  # what must be kept, reserve included
    kept: float | None  # chance that it is
    works: float | None  # chance that the gate does at least work
    shares: tuple[tuple[str, float], ...]  # of the variance, by source, largest first


@dataclass(frozen=True, slots=True, kw_only=True)
class Retake:
    """The one measurement that would tell most if it were taken again."""

    source: Source
    outcome: str
    share: float
    sd: float
    sd_without: float  # of the outcome, were the measurement perfect

    def sentence(self, needed: bool) -> str:
        """What to measure again, and what for."""
        value = "" if self.source.value is None else f" ({both(self.source.value, 'mm')})"
        start = "Take one measurement again" if needed else "No measurement need be taken again"
        return (
            f"{start}; the one that would tell most is {self.source.name}{value}: its"
            f" plus-minus of {_size(self.source.plus_minus, self.source.unit)}"
            f" ({self.source.basis}) makes {100.0 * self.share:.0f} % of the scatter of the"
            f" {WORDS[self.outcome]}."
        )


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
        said = [
            f"Of {self.gates} gates built with the errors of tape, template, drill and brake,"
            f" {_percent(stroke.works)} have stroke enough with the leaf {self.far_end}, and"
            f" {_percent(self.works)} work in every respect; {_percent(self.kept)} keep every"
            " limit with its reserve.",
            f"The stroke left with the leaf {self.far_end} is {_size(stroke.nominal)}, and in 99"
            f" of 100 gates between {_size(stroke.low)} and {_size(stroke.high)}.",
        ]
        tight = [each for each in self.outcomes if each.kept is not None and each.kept < SURE]
        said += [
            f"The {each.words} is {_size(each.nominal, each.unit)}; only {_percent(each.kept)}"
            f" of the gates keep {_size(each.limit or 0.0, each.unit)}."
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
                f" slots with {_size(self.slot_travel)} of travel to absorb 99 of 100 gates."
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
            "outcomes": [_outcome_data(each) for each in self.outcomes],
            "sources": [asdict(source) for source in self.sources],
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
        _outcome(
            name,
            figure,
            float(straight.nominal[name][0]),
            float(straight.sd(name)[0]),
            least.get(name),
            _ranked(sources, straight.shares(name)[:, 0]),
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
        worst_spare=_quantiles(spare, 0.01)[0],
        slot_travel=_travel(figures["slot"]) if is_tied else 0.0,
        post_slot_travel=_travel(figures["post pivot along the leaf"]),
        retake=_retake(outcomes, sources, weights),
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


def _outcome(
    name: str,
    figure: Array,
    nominal: float,
    linear_sd: float,
    limit: float | None,
    shares: tuple[tuple[str, float], ...],
) -> Outcome:
    low, worst, high = _quantiles(figure, 0.005, 0.01, 0.995)
    known = figure if np.isfinite(low) else figure[np.isfinite(figure)]
    floor = WORKS.get(name, limit)
    return Outcome(
        name=name,
        words=WORDS[name],
        unit="degrees" if name in DEGREES else "mm",
        nominal=nominal,
        mean=float(known.mean()),
        sd=float(known.std()),
        linear_sd=linear_sd,
        low=low,
        high=high,
        worst=worst,
        limit=limit,
        kept=None if limit is None else float((figure >= limit).mean()),
        works=None if floor is None else float((figure >= floor).mean()),
        shares=shares,
    )


def _quantiles(figure: Array, *shares: float) -> tuple[float, ...]:
    """Quantiles; a figure that is no number, as of pins that cannot be tied, is the worst."""
    known = np.where(np.isnan(figure), -np.inf, figure)
    return tuple(float(value) for value in np.quantile(known, shares, method="lower"))


def _travel(off: Array) -> float:
    """Length of a slot, centred on its place, that reaches 99 of 100."""
    return 2.0 * _quantiles(np.abs(off), ABSORBED)[0]


def _ranked(sources: tuple[Source, ...], shares: Array) -> tuple[tuple[str, float], ...]:
    pairs = [(s.name, float(share)) for s, share in zip(sources, shares, strict=True)]
    return tuple(sorted((p for p in pairs if p[1] > 1e-6), key=lambda p: -p[1]))


def _retake(
    outcomes: Iterable[Outcome], sources: tuple[Source, ...], weights: dict[str, float]
) -> Retake | None:
    """The survey's largest share in the figure that lies nearest to its limit."""
    known = {s.name: s for s in sources if s.kind == "survey"}
    judged = [o for o in outcomes if o.limit is not None and o.linear_sd > 0.0]
    if not judged:
        return None
    tight = min(judged, key=lambda o: (o.nominal - (o.limit or 0.0)) / o.linear_sd)
    for name, share in tight.shares:
        if name in known and share >= AGAIN:
            return Retake(
                source=known[name],
                outcome=tight.name,
                share=share,
                sd=tight.linear_sd,
                sd_without=tight.linear_sd * sqrt(1.0 - share),
            )
    return None


def _outcome_data(outcome: Outcome) -> dict[str, Any]:
    data = asdict(outcome)
    data["shares"] = [{"source": name, "share": share} for name, share in outcome.shares]
    return {k: None if isinstance(v, float) and not isfinite(v) else v for k, v in data.items()}


def _percent(share: float | None) -> str:
    if share is None:
        return "none"
    if share >= 0.9995:
        return "all but a few in ten thousand" if share < 1.0 else "all"
    return f"{100.0 * share:.1f} %"


def _size(value: float, unit: str = "mm") -> str:
    return both(value, "mm") if unit == "mm" else f"{plain(value, places=1)} degrees"
