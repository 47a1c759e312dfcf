"""What the slots that a bracket really got take up of the errors of a survey.

The travel that 99 of 100 gates ask for is worked out with the pivots; a seat may have had room
for less, or plate and bolts may have stood no more. Then the share that is left is said, and
warned of. Holes that are drilled last, on site, need no slot. Units: mm.
"""

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.uncertainty import ABSORBED
from hangpost.generators.survey.display import both

SAYS = {
    "leaf": "the holes in the leaf, drilled from the paper alone, fit",
    "post": "the post pivot can be put right along the leaf",
}
DEFAULT = {
    "leaf": "Hang the actuator first and drill the leaf where the bracket then stands.",
    "post": "Set the template with care; the leaf pivot takes up the rest when it is tied.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Slack:
    """The slots of one bracket: the travel asked for, the travel they have, what that takes up."""

    end: str  # "post", "leaf"
    needed: float  # for 99 of 100 gates
    given: float
    absorbed: float  # share of the gates

    @property
    def enough(self) -> bool:
        """Whether 99 of 100 gates are taken up."""
        return self.absorbed >= ABSORBED

    def sentence(self) -> str:
        """What to tell people."""
        start = f"The {self.end} bracket's slots give {both(self.given, 'mm')} of travel"
        share = f"{SAYS[self.end]} in {100.0 * self.absorbed:.0f} of 100 gates"
        if self.enough:
            return f"{start}: with them {share}."
        return (
            f"{start}, and {both(self.needed, 'mm')} would be wanted: with them {share}."
            f" {DEFAULT[self.end]}"
        )

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        return asdict(self)


def slack(fixings: Sequence[Fixing], mount: Mount) -> tuple[Slack, ...]:
    """What the slots of each bracket take up; nothing where there are none or none are asked."""
    return tuple(_slack(fixings, mount))


def _slack(fixings: Sequence[Fixing], mount: Mount) -> Iterator[Slack]:
    if mount.sure is None:
        return
    for fixing in fixings:
        travels = [hole.slot_length for _, hole in fixing.holes if hole.slot_length > 0.0]
        needed = mount.sure.travel(fixing.name) if fixing.name in SAYS else 0.0
        if travels and needed > 0.0:
            given = min(travels)
            yield Slack(
                end=fixing.name,
                needed=needed,
                given=given,
                absorbed=mount.sure.absorbed(given, fixing.name),
            )


def slack_check(row: Slack, leaf: str) -> Check:
    """Warns where the slots take up less than 99 of 100 gates."""
    return Check(
        id=f"fit: {row.end} slots take up the errors{f' ({leaf} leaf)' if leaf else ''}",
        what=(f"{leaf} leaf: " if leaf else "") + row.sentence(),
        value=row.absorbed,
        limit=ABSORBED,
        unit="",
        source="house: 99 of 100 gates (JCGM 101:2008 Monte Carlo)",
        at_least=True,
        warning=True,
        working=f"travel {row.given:.1f} mm, asked for {row.needed:.1f} mm",
    )
