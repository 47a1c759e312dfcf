"""Round posts on paper: where a hole lies on a strip wrapped round.

A wrap lies with its middle line half a paper thickness outside the post, so lengths on it are
counted on the outside diameter and one paper thickness. Positions count from the datum line, the
post's nearest line to the viewer, positive to the right as one looks at the post.
Units: mm, degrees.
"""

from dataclasses import dataclass
from math import asin, degrees, isfinite, pi, sqrt

from hangpost.parts.flat import ParameterError

PAPER = 0.1  # mm, common practice: office paper of 80 g/m2


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrap:
    """A strip of paper round a post of this outside diameter."""

    outside: float
    paper: float = PAPER

    def __post_init__(self) -> None:
        """Refuse what is no post."""
        if not (isfinite(self.outside) and self.outside > 0 and 0 <= self.paper < 1):
            raise ParameterError(
                f"outside diameter = {self.outside:g} mm and paper = {self.paper:g} mm: "
                "needs a post and paper thinner than 1 mm"
            )

    @classmethod
    def round(cls, circumference: float, paper: float = PAPER) -> "Wrap":
        """The wrap of a post measured by tape round it."""
        return cls(outside=circumference / pi, paper=paper)

    @property
    def length(self) -> float:
        """Once round, butt line to butt line."""
        return pi * (self.outside + self.paper)

    @property
    def quarters(self) -> tuple[float, float, float]:
        """Arc positions of the left, the right and the far quarter line."""
        return -self.length / 4, self.length / 4, self.length / 2

    def arc(self, angle: float) -> float:
        """Arc position of a line `angle` degrees round from the datum line."""
        return angle / 360 * self.length

    def angle(self, arc: float) -> float:
        """How many degrees round an arc position lies."""
        return arc / self.length * 360

    def entry(self, u: float) -> float:
        """Arc position where a level hole square to the seat, `u` beside the axis, goes in."""
        return self.arc(degrees(asin(self._share(u))))

    def exit(self, u: float) -> float:
        """Arc position where the same hole comes out, on the far side."""
        turn = 180.0 - degrees(asin(self._share(u)))
        return self.arc(turn if u >= 0 else turn - 360.0)

    def height(self, u: float) -> float:
        """W of the post's surface at u, its nearest line being w = 0."""
        return self.outside / 2 * (sqrt(1 - self._share(u) ** 2) - 1)

    def _share(self, u: float) -> float:
        share = 2 * u / self.outside
        if not abs(share) < 1:
            raise ParameterError(
                f"u = {u:g} mm misses a post of {self.outside:g} mm outside diameter"
            )
        return share
