"""Where what U-bolts hold on a round rail passes the uprights of the leaf.

An upright is as thick as its rail and welded to it above and below: no saddle lies on the rail
there, and no U-bolt goes round it. The channel itself passes in front. So its bolts stand astride
an upright that would be in their way, each on a piece of saddle of its own. Frame: the seat of the
bracket, u = 0 at the leaf pivot, u to the hinge. Units: mm.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.survey.display import both
from hangpost.generators.survey.leaf import Leaf
from hangpost.parts.channel import Channel

WELD = 4.0  # house: of the rail that a fillet about an upright takes on either side

FAR = 300  # mm about the leaf pivot that is looked at for a better place; house

Stretch = tuple[float, float]  # from, to


@dataclass(frozen=True, slots=True, kw_only=True)
class Uprights:
    """The uprights that cross the rail, from the leaf pivot, and the ends of the leaf."""

    at: tuple[float, ...]
    half: float  # of the rail that each takes
    ends: Stretch

    @classmethod
    def of(cls, leaf: Leaf, mount: Mount) -> "Uprights":
        """Those of this leaf."""
        pin = mount.leaf_pivot[0]
        return cls(
            at=tuple(sorted(pin - float(stile) for stile in leaf.stile_positions)),
            half=float(leaf.rail_height) / 2 + WELD,
            ends=(pin - float(leaf.width), pin - float(leaf.hinge_edge)),
        )

    def taken(self, beside: float) -> tuple[Stretch, ...]:
        """Where no bolt stands that needs so much room on either side of its middle."""
        off = self.half + beside
        return tuple((at - off, at + off) for at in self.at)

    def free(self, low: float, high: float, bolts: Iterable[float]) -> tuple[Stretch, ...]:
        """What is left of a stretch for saddles: the parts of it with bolts in them."""
        inside = [at for at in self.at if low < at + self.half and at - self.half < high]
        starts = (low, *(at + self.half for at in inside))
        stops = (*(at - self.half for at in inside), high)
        found = zip(starts, stops, strict=True)
        bolts = tuple(bolts)
        return tuple((a, b) for a, b in found if any(a < bolt < b for bolt in bolts))

    def told(self, nearest: Channel, made: Channel, beside: float) -> tuple[str, ...]:
        """That a channel goes round an upright, and what would help; NoHardware off the leaf.

        `nearest` is the channel with its bolts as near its ears as they go.
        """
        if made == nearest:
            return ()
        low, high = made.ends
        helps = self._helps((*(-c for c in nearest.left), *nearest.columns), beside)
        if low < self.ends[0] or high > self.ends[1]:
            raise NoHardware(
                "the U-bolts of the leaf bracket find no room on the rail: an upright stands where "
                f"they would go, and beyond it the leaf ends (leaf.stiles). {helps}"
            )
        longer = (high - low) - (nearest.ends[1] - nearest.ends[0])
        return (
            "An upright of the leaf stands where a U-bolt of the leaf bracket would go, so its "
            f"bolts stand astride it and the bracket is {both(longer, 'mm')} longer.",
            helps,
        )

    def refuse(self, what: str, bolts: Sequence[float], beside: float) -> None:
        """NoHardware where an upright stands in the way of bolts that have no other place."""
        if not self._is_free(bolts, beside, 0.0):
            raise NoHardware(
                f"an upright of the leaf stands where a bolt of the {what} would go round the rail "
                f"or into it (leaf.stiles). {self._helps(bolts, beside)}"
            )

    def _is_free(self, bolts: Sequence[float], beside: float, by: float) -> bool:
        """Whether every upright is out of the bolts' way, the pin so much nearer to the hinge."""
        off = self.half + beside
        return all(abs(at - by - bolt) >= off for at in self.at for bolt in bolts)

    def _helps(self, bolts: Sequence[float], beside: float) -> str:
        """How far off its place the pin would leave every upright out of the bolts' way."""
        free = [by for by in range(-FAR, FAR + 1) if self._is_free(bolts, beside, by)]
        ways = (
            (min((by for by in free if by > 0), default=None), "nearer to the hinge"),
            (min((-by for by in free if by < 0), default=None), "farther from it"),
        )
        said = [f"{both(by, 'mm')} {way}" for by, way in ways if by is not None]
        if not said:
            return "No place of the pin nearby would be better."
        return (
            f"With the leaf pivot {' or '.join(said)} (fixed.leaf_pivot), or the upright as much "
            "the other way, nothing would be in their way."
        )
