"""One line of judgement: what was found, what is allowed, and where the limit comes from."""

from dataclasses import dataclass
from math import inf
from typing import Final, Literal

Status = Literal["pass", "warn", "fail"]
SHARE: Final = "share"  # the unit of a share of all that something holds
ROUNDING = 1e-6  # of a unit: what a value exactly at its limit may miss it by


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A demand against a limit; `at_least` says that the value must not be under the limit.

    A `warning` check never fails: over its limit it warns.
    """

    id: str
    what: str  # a sentence for people
    value: float
    limit: float
    unit: str
    source: str
    at_least: bool = False
    warning: bool = False
    working: str = ""  # the formula with the numbers put in, for the calculation sheet
    would_do: str = ""  # of one that does not pass: what makes it; empty: not looked for

    @property
    def utilisation(self) -> float:
        """Share of the limit that is used; 1 is exactly at the limit."""
        if self.at_least and self.limit <= 0:
            return 0.0 if self.value >= self.limit else inf
        if self.at_least:
            return _share(self.limit, self.value)
        return _share(self.value, self.limit)

    @property
    def status(self) -> Status:
        """Pass, warn or fail; a value that is not a number fails."""
        over = self.limit - self.value if self.at_least else self.value - self.limit
        good = over <= ROUNDING
        if good:
            return "pass"
        return "warn" if self.warning else "fail"


def _share(part: float, whole: float) -> float:
    if whole > 0:
        return max(part, 0.0) / whole
    return 0.0 if part <= 0 else inf
