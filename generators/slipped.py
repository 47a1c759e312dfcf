"""What comes of pins and holes that slipped: the record, in words and as data.

Right-hand plan frame, mm, degrees.
"""

from dataclasses import dataclass
from math import isfinite
from typing import Any

from hangpost.generators.checks import Check
from hangpost.generators.drilled import Vector
from hangpost.generators.pivots.mount import Mount, Row
from hangpost.generators.pivots.rows import mm
from hangpost.generators.remedies import AS_DRAWN
from hangpost.generators.survey.units import Units
from hangpost.generators.told import told


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """One part in hand: whether it still serves, and why or why not."""

    part: str
    serves: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """The gate as drilled: what moved, what it means, what to do."""

    post_moved: Vector  # along the leaf, off it
    leaf_moved: Vector
    post_raised: float
    drawn: Mount
    units: Units  # of the site, in which it is told
    now: Mount  # with the parts in hand; its rows say whether it works
    works: bool
    remedies: tuple[str, ...]
    verdicts: tuple[Verdict, ...]
    again: tuple[Check, ...] = ()  # swing and strength, as the parts in hand stand
    failing: tuple[Check, ...] = ()  # of these, what did not fail as drawn

    @property
    def is_as_drawn(self) -> bool:
        """Whether nothing is off."""
        return all(
            abs(v) < AS_DRAWN for v in (*self.post_moved, *self.leaf_moved, self.post_raised)
        )

    @property
    def checks(self) -> tuple[Row, ...]:
        """The constraints again."""
        return (*self.now.rows, self.now.leaf_to_post)

    def sentences(self) -> list[str]:
        """What to tell people, most important first."""
        if self.is_as_drawn:
            return ["Everything is where it was drawn: nothing changes."]
        said = [_moved("post pivot", self.post_moved), _moved("leaf pivot", self.leaf_moved)]
        said = [line for line in said if line]
        if self.works:
            said.append("The parts in hand still serve; set the stops to the lengths below.")
        else:
            said.append("With the parts in hand as they stand it does not work.")
            said += [row.sentence for row in self.checks if not row.satisfied]
            said += [f"{told(check, self.units)}." for check in self.failing]
        return [*said, *self.remedies]

    def lengths(self, retracted: float) -> list[tuple[str, float, float]]:
        """Name, drawn and new, of every length that an installer sets."""
        was, now = self.drawn, self.now
        return [
            ("pin to pin, closed", was.closed_length, now.closed_length),
            ("pin to pin, open", was.open_length, now.open_length),
            ("rod out, closed", was.closed_length - retracted, now.closed_length - retracted),
            ("rod out, open", was.open_length - retracted, now.open_length - retracted),
            ("stroke used", was.stroke_used, now.stroke_used),
            ("leaf pivot along the leaf", was.leaf_pivot[0], now.leaf_pivot[0]),
            ("least leverage", was.leverage_least, now.leverage_least),
        ]

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        return {
            "as_drawn": self.is_as_drawn,
            "works": self.works,
            "post_moved": list(self.post_moved),
            "leaf_moved": list(self.leaf_moved),
            "post_raised": self.post_raised,
            "mount": self.now.data(),
            "remedies": list(self.remedies),
            "checks": [
                {
                    "id": check.id,
                    "what": check.what,
                    "value": check.value if isfinite(check.value) else None,
                    "limit": check.limit,
                    "unit": check.unit,
                    "status": check.status,
                }
                for check in self.again
            ],
            "newly_failing": [check.id for check in self.failing],
            "parts": [{"part": v.part, "serves": v.serves, "why": v.why} for v in self.verdicts],
            "sentences": self.sentences(),
        }


def _moved(name: str, off: Vector) -> str:
    along, out = off
    steps = []
    if abs(along) >= AS_DRAWN:
        steps.append(f"{mm(abs(along))} {'towards the latch' if along > 0.0 else 'back'}")
    if abs(out) >= AS_DRAWN:
        way = "further off the leaf" if out > 0.0 else "nearer to the leaf"
        steps.append(f"{mm(abs(out))} {way}")
    return f"The {name} is off its drawn place: {' and '.join(steps)}." if steps else ""
