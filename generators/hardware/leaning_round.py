"""A round post that leans: how its axis runs, and where a bolt meets its skin.

Seat frame of a round post: u = 0 over its middle at pin height, v up, w out of it. The skin of
the post is told as its wrap sheet is: arc from the datum line, height along it. Units: mm.
"""

from dataclasses import replace
from math import atan2, hypot, radians, sqrt, tan
from operator import mul

from hangpost.generators.hardware.design import Drilling
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.scene import post_stands
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.frame import Frame, Vector
from hangpost.parts.wedge import LEAST_TILT

MOST_LEAN = 5.0  # degrees; house: beyond it a post is to be set anew
BESIDE = 0.1  # of the post's diameter that a bolt may pass beside its middle; house


def leans(hung: HungLeaf) -> bool:
    """Whether it leans so much that the parts make up for it."""
    lean = hung.post.lean
    return hypot(float(lean.toward_leaf), float(lean.toward_actuator)) >= LEAST_TILT


def lean_of(hung: HungLeaf) -> tuple[float, float]:
    """Lean of its axis to +u and to +w of the seat, in degrees; none that is not worth it."""
    if not leans(hung):
        return 0.0, 0.0
    return -float(hung.post.lean.toward_leaf) + 0.0, float(hung.post.lean.toward_actuator) + 0.0


def slopes_of(hung: HungLeaf) -> tuple[float, float]:
    """The same as rises along v."""
    u, w = lean_of(hung)
    return tan(radians(u)), tan(radians(w))


def datum_words(hung: HungLeaf) -> str:
    """What the mark at (0, 0) of its wrap sheet is."""
    mark = "the post's line nearest to the actuator side, at pin height"
    if not leans(hung):
        return mark
    return f"{mark}; lay the sheet square to the leaning post, and drill level, square to the gate"


def bolted_near_middle(hung: HungLeaf, farthest: float) -> None:
    """Refuse a lean that takes the post from under bolts so far above and below the pin."""
    slope, (toward_leaf, toward_actuator) = slopes_of(hung), lean_of(hung)
    if hypot(toward_leaf, toward_actuator) > MOST_LEAN:
        raise NoHardware(
            f"the post leans {hypot(toward_leaf, toward_actuator):.1f} degrees and saddles make up "
            f"for {MOST_LEAN:g}: set the post plumb"
        )
    aside = abs(slope[0]) * farthest
    most = BESIDE * float(hung.post.width)
    if aside > most:
        raise NoHardware(
            f"the post leans {abs(toward_leaf):g} degrees along the gate, and the farthest bolts "
            f"would pass {aside:.0f} mm beside its middle, where {most:.0f} mm are allowed: set "
            'the post plumb, or post.fixing = "weld", whose ears stand near the pin'
        )


def on_skin(hung: HungLeaf, seat: Frame, drilled: tuple[Drilling, ...]) -> tuple[Drilling, ...]:
    """Where holes square to the seat go in and come out, on the skin of the leaning post."""
    post, radius = post_stands(hung), float(hung.post.width) / 2
    x, y = hung.post_centre
    datum = radius * slopes_of(hung)[1]  # its mark stands at pin height on the leaning line

    def local(way: Vector) -> Vector:
        a, b, c = (sum(map(mul, way, axis)) for axis in (post.u, post.v, post.w))
        return a, b, c

    found: list[Drilling] = []
    for hole in drilled:
        at = seat.point((hole.u, hole.v, 0.0))
        px, py, pz = local((at[0] - x, at[1] - y, at[2] - hung.pin_height))
        dx, dy, dz = local(seat.w)
        a, b, c = dx * dx + dy * dy, px * dx + py * dy, px * px + py * py - radius * radius
        root = sqrt(b * b - a * c)
        for name, t in ((hole.name, (root - b) / a), (f"{hole.name}x", (-root - b) / a)):
            u = radius * atan2(-(px + t * dx), py + t * dy)
            v = pz + t * dz - datum
            found.append(replace(hole, name=name, u=u, v=v, slot_length=0.0, slot_angle=0.0))
    return tuple(found)
