"""What a judge has in front of it: one leaf's design, its survey, its shop and its loads.

Judges give Check rows: value = what the load asks, limit = what the rule allows over the shop's
reserve, `working` = the formula with the numbers put in. Units: N, mm, MPa.
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from hangpost.generators.checks import SHARE, Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.tightening import bolt_grade
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.part import Part
from hangpost.parts.strongback import Strongback

STRENGTH, MAKE, BUY = "strength", "make", "fasteners"  # families of checks, first word of an id


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """One leaf on the bench; `loads` has one set for each pin, by "post" and "leaf"."""

    site: Site
    shop: Shop
    hung: HungLeaf
    leaf: LeafDesign
    loads: dict[str, PinLoads]
    reserve: float

    @property
    def steel(self) -> tuple[float, float]:
        """Yield and ultimate strength of the shop's plate."""
        return float(self.shop.steel.yield_strength), float(self.shop.steel.ultimate)

    @property
    def bolt_grade(self) -> tuple[float, float, float]:
        """Fnt, Fnv with and without thread in the plane of the shop's bolts; unknown: the least."""
        return bolt_grade(self.shop)

    @property
    def under_leaf_bracket(self) -> str:
        """What the leaf bracket stands on: its rail's kind, or "strongback", a bar."""
        bar = any(isinstance(placed.item, Strongback) for placed in self.leaf.placed)
        return "strongback" if bar else self.hung.leaf.frame

    def fixing(self, name: str) -> Fixing | None:
        """The fasteners of one seat, by the name of the seat."""
        return next((each for each in self.leaf.fixings if each.name == name), None)

    def part(self, id: str) -> Part | None:
        """A part of the leaf's hardware by its id."""
        parts = (placed.item for placed in self.leaf.placed if isinstance(placed.item, Part))
        return next((each for each in parts if each.id == id), None)

    def behind(self, name: str) -> BackingPlate | None:
        """A backing plate behind a seat, by the name of the seat."""
        parts = (placed.item for placed in self.leaf.placed)
        plates = (part for part in parts if isinstance(part, BackingPlate))
        return next((each for each in plates if each.id.startswith(f"{name}-backing")), None)

    def id(self, family: str, name: str) -> str:
        """A stable id; the leaf is named where there are two."""
        where = f"{self.leaf.name} leaf " if self.leaf.name else ""
        return f"{family}: {where}{name}"

    def held(
        self,
        name: str,
        what: str,
        *,
        demand: float,
        allowed: float,
        unit: str,
        source: str,
        working: str,
        warning: bool = False,
    ) -> Check:
        """A strength check: the demand against what is allowed over the reserve."""
        kept = f"{working}; allowed {_figure(allowed)} over the shop's reserve {self.reserve:g}"
        return Check(
            id=self.id(STRENGTH, name),
            what=what,
            value=float(demand),
            limit=float(allowed) / self.reserve,
            unit=unit,
            source=source,
            working=kept,
            warning=warning,
        )

    def used(
        self,
        name: str,
        what: str,
        *,
        share: float,
        source: str,
        working: str,
        warning: bool = False,
    ) -> Check:
        """A strength check of several shares of several limits, added by a rule: 1 is the limit."""
        return self.held(
            name,
            what,
            demand=share,
            allowed=1.0,
            unit=SHARE,
            source=source,
            working=working,
            warning=warning,
        )

    def fits(
        self,
        family: str,
        name: str,
        what: str,
        *,
        value: float,
        least: float | None = None,
        most: float | None = None,
        unit: str = "mm",
        source: str,
        working: str = "",
        warning: bool = False,
    ) -> Check:
        """A check of a size, without reserve: at least, or at most."""
        limit = least if least is not None else most
        return Check(
            id=self.id(family, name),
            what=what,
            value=float(value),
            limit=float(limit if limit is not None else inf),
            unit=unit,
            source=source,
            working=working,
            at_least=least is not None,
            warning=warning,
        )


def peak(values: Floats) -> tuple[int, int]:
    """Row and column of the greatest value."""
    row, k = np.unravel_index(int(np.argmax(values)), values.shape)
    return int(row), int(k)


def _figure(value: float) -> str:
    """Four figures and no exponent, as the rest of the working has it."""
    return f"{value:.0f}" if abs(value) >= 1000.0 else f"{value:.4g}"
