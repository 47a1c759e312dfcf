"""Post bracket as a lobed channel: carries the post pivot on a steel post or on saddle blocks.

Frame: the seat frame of the post's actuator-side face, datum at the post's leaf-side edge (on a
round post: at its centre line) at pin height: u to the right, v up, w out. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts.channel import Channel
from hangpost.parts.flat import Use


@dataclass(frozen=True, slots=True, kw_only=True)
class PostChannel(Channel):
    """The channel that carries the post pivot; the pin may stand beside its root."""

    kind: ClassVar[str] = "post bracket, lobed channel"
    fixed_to: ClassVar[Use] = "post"
