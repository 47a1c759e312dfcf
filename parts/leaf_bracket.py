"""Leaf bracket as a lobed channel: carries the leaf pivot on a rail.

Frame: the seat frame of the leaf's actuator-side face, datum on the rail's centre line at the
leaf pivot: u to the right, v up, w out of the leaf. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts.channel import Channel
from hangpost.parts.flat import Use


@dataclass(frozen=True, slots=True, kw_only=True)
class LobedChannel(Channel):
    """The channel that carries the leaf pivot."""

    kind: ClassVar[str] = "leaf bracket, lobed channel"
    fixed_to: ClassVar[Use] = "leaf"

    @property
    def half_width(self) -> float:
        """From the ears' middle to either end of the bracket."""
        return self.columns[-1] + self.slot.half
