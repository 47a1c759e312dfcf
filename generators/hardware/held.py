"""What the ears of a post bracket hold: the actuator's pin, or the two bolts of an extension.

Every bracket on a post is made for a `Held`; whether that is the pin itself is no matter of the
bracket. Plan frame of the right hand. Units: mm.
"""

from collections.abc import Callable
from dataclasses import dataclass

from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.pins import ear_tip, gap_for
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.ear import EarHole
from hangpost.parts.loop import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A hole through both ears, and a second one where an extension is bolted to them."""

    at: Point
    hole: float
    gap: float  # clear between the ears
    tip: float  # radius of the ears about the hole
    second: Point | None = None  # with the same hole and metal about it
    stack: float = 0.0  # how far bolt heads stand up from an ear, before the seat

    @property
    def is_pin(self) -> bool:
        """Whether it is the actuator's pin itself."""
        return self.second is None

    def joins(self, datum: float, face: float) -> tuple[EarHole, ...]:
        """The second hole in the frame of a seat whose u = 0 is x = `datum`, on y = `face`."""
        if self.second is None:
            return ()
        x, y = self.second
        return (EarHole(u=datum - x, reach=y - face, diameter=self.hole, edge=self.tip),)


PostMaker = Callable[[HungLeaf, Shop, Problem, Mount, Picks, Held], Kit]


def pin_itself(hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, plate: float) -> Held:
    """The actuator's pin straight in the bracket's ears, which are so thick."""
    eye = hung.actuator.post_eye
    return Held(
        at=mount.post_pivot,
        hole=shop.pin_hole(eye.pin),
        gap=float(gap_for(eye, shop)),
        tip=ear_tip(problem, shop, eye.pin, plate),
    )
