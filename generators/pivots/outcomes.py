"""One figure of a gate over all gates that might be built, and the measurement worth retaking.

mm, degrees; chances as shares of one.
"""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from math import isfinite, sqrt
from typing import Any, Final

import numpy as np

from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.survey.display import both, plain

AGAIN: Final = 0.2  # a measurement with less than this share is not worth taking again; house
# Below these the gate does not work at all; the limits proper keep a reserve above them.
WORKS: Final = {"stroke": 0.0, "body clearance": 0.0, "ear clearance": 0.0, "dead centre": 0.0}
WORDS: Final = {
    "stroke": "stroke left at the far end",
    "leverage": "least leverage",
    "dead centre": "angle left to dead centre",
    "folded clearance": "distance from the post pivot to the leaf",
    "body clearance": "room between the actuator's body and what is near it",
    "ear clearance": "room between the brackets' ears, body and leaf",
    "tied length": "pin to pin when the leaf is tied",
    "far length": "pin to pin at the far end",
    "along the leaf": "where the leaf pivot lands along the leaf",
    "far angle": "angle at the far end, rod run out by the stroke on the sheet",
    "paper angle": "angle at the tied end, leaf drilled from paper and not tied",
    "slot": "leaf pivot off its place on the paper",
    "post pivot along the leaf": "post pivot off its place, along the leaf",
    "post pivot off the leaf": "post pivot off its place, square to the leaf",
}
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
        value = "" if self.source.value is None else f", {both(self.source.value, 'mm')}"
        start = "Take one measurement again" if needed else "No measurement need be taken again"
        return (
            f"{start}; the one that would tell most is {self.source.words}{value}: its"
            f" plus-minus of {size(self.source.plus_minus, self.source.unit)}"
            f" ({self.source.basis}) makes {100.0 * self.share:.0f} % of the scatter of the"
            f" {WORDS[self.outcome]}."
        )


def outcome_of(
    name: str,
    figure: Array,
    nominal: float,
    linear_sd: float,
    limit: float | None,
    shares: tuple[tuple[str, float], ...],
) -> Outcome:
    """The figure over all gates, with its limits and shares."""
    low, worst, high = quantiles(figure, 0.005, 0.01, 0.995)
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


def quantiles(figure: Array, *shares: float) -> tuple[float, ...]:
    """Quantiles; a figure that is no number, as of pins that cannot be tied, is the worst."""
    known = np.where(np.isnan(figure), -np.inf, figure)
    return tuple(float(value) for value in np.quantile(known, shares, method="lower"))


def ranked(sources: tuple[Source, ...], shares: Array) -> tuple[tuple[str, float], ...]:
    """Shares by source, largest first, without the ones that are nothing."""
    pairs = [(s.name, float(share)) for s, share in zip(sources, shares, strict=True)]
    return tuple(sorted((p for p in pairs if p[1] > 1e-6), key=lambda p: -p[1]))


def retake_of(
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


def outcome_data(outcome: Outcome) -> dict[str, Any]:
    """The outcome as plain data; what is not finite becomes null."""
    data = asdict(outcome)
    data["shares"] = [{"source": name, "share": share} for name, share in outcome.shares]
    return {k: None if isinstance(v, float) and not isfinite(v) else v for k, v in data.items()}


def percent(share: float | None) -> str:
    """A chance in words."""
    if share is None:
        return "none"
    if share >= 0.9995:
        return "all but a few in ten thousand" if share < 1.0 else "all"
    return f"{100.0 * share:.1f} %"


def size(value: float, unit: str = "mm") -> str:
    """A figure with its unit."""
    return both(value, "mm") if unit == "mm" else f"{plain(value, places=1)} degrees"
