"""What U-bolts draw onto a round tube, and what each force at the pin asks of them: statics.

Frame: the seat frame, a post's axis along v behind u = 0. Units: N, mm.
"""

from dataclasses import dataclass
from math import acos, tan
from typing import Protocol

import numpy as np

from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.tube import Tube
from hangpost.generators.judging.group import lifted
from hangpost.generators.judging.loads import Floats
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.saddle import SaddleBlock


class Drawn(Protocol):
    """What U-bolts draw onto a tube: a pair of angles on a post, a channel on a rail."""

    @property
    def of(self) -> str:
        """The bracket in words."""

    @property
    def legs(self) -> Fixing:
        """The legs of all U-bolts."""

    @property
    def locks(self) -> Fixing:
        """The locking bolts."""

    @property
    def saddle(self) -> SaddleBlock:
        """The print between bracket and tube."""

    @property
    def tube(self) -> Tube:
        """What it is drawn onto."""

    @property
    def each(self) -> int:
        """Legs on one saddle."""

    @property
    def share(self) -> float:
        """Share of the torque that one saddle and its locking bolts hold."""

    def torque(self, force: Floats) -> Floats:
        """Moment about the tube's axis, one for each force at the pin."""

    def slide(self, force: Floats) -> Floats:
        """Force along the tube."""

    def on_lock(self, force: Floats) -> Floats:
        """What the most loaded locking bolt takes of the force along the tube."""

    def sideways(self, force: Floats) -> Floats:
        """What presses the arms of one saddle sideways."""

    def pulls(self, force: Floats) -> Floats:
        """What pulls on the most loaded leg, preload left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamped:
    """A pair of angles on their saddles, and where the actuator's pin is: u and reach."""

    of: str
    angle: PostAngle
    legs: Fixing
    locks: Fixing
    saddle: SaddleBlock
    tube: Tube
    pin: tuple[float, float]

    @property
    def each(self) -> int:
        """Legs on one of the two saddles."""
        return len(self.legs.holes) // 2

    @property
    def share(self) -> float:
        """Half of the torque, as there are two saddles."""
        return self.each / len(self.legs.holes)

    @property
    def lever(self) -> float:
        """From the post's axis to the pin, square to the seat."""
        return self.tube.side / 2 + self.legs.under + self.pin[1]

    def torque(self, force: Floats) -> Floats:
        """Moment about the post's axis, one for each force at the pin."""
        found: Floats = self.lever * force[:, 0] - self.pin[0] * force[:, 2]
        return found

    def slide(self, force: Floats) -> Floats:
        """The weight, along the post."""
        return force[:, 1]

    def on_lock(self, force: Floats) -> Floats:
        """The weight rests on one angle and its half of the locking bolts."""
        found: Floats = np.abs(force[:, 1]) / (len(self.locks.holes) / 2)
        return found

    def sideways(self, force: Floats) -> Floats:
        """What presses the arms of one saddle sideways, when its locking bolts hold the torque."""
        found: Floats = np.abs(self.torque(force)) / (self.tube.side / 2) * self.share
        return found

    def pulls(self, force: Floats) -> Floats:
        """What pulls on the most loaded leg, preload left out, one for each force."""
        angle, columns = self.angle, 2
        t, reach = angle.plate_thickness, self.pin[1]
        # The arms are pressed sideways where they end and ride up on the post there.
        half = self.tube.side / 2
        rise = self.sideways(force) / tan(acos((half - self.saddle.depth) / half))
        pull = (force[:, 2] / 2 + rise) / columns
        tipping = np.abs(force[:, 1]) * reach / columns
        level = angle.gap / 2 + t / 2
        edges = (angle.bend_line, angle.top - t)
        taken, _ = lifted(angle.rows, pull, pull * level + tipping, edges)
        found: Floats = taken.max(axis=1)
        return found
