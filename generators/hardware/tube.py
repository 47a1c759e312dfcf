"""A steel tube with a seat on it, rail or post: its size, its steel, what squeeze it stands.

Units: N, mm, MPa. Sources: AISC 360-10 K1 and ring theory for the wall; a saddle presses a round
tube like a transverse plate of its width (our simplification).
"""

from dataclasses import dataclass, replace

from hangpost.generators.strength import plates, tubes
from hangpost.generators.strength.factors import allowable
from hangpost.generators.survey.leaf import Leaf
from hangpost.generators.survey.post import AnyPost

SQUARE, ROUND = "A500-B-square", "A53-B"  # house: the usual tube and pipe when nobody knows better
UNKNOWN_WALL = 2.0  # mm, house: a wall that the survey does not say


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A tube with a seat on it: outside across the seat and through it, wall to compute with."""

    words: str  # "rail", "post"
    side: float  # width of the face, or the diameter of a round one
    depth: float
    wall: float
    steel: str
    is_round: bool

    @property
    def fy(self) -> float:
        """Yield strength."""
        return plates.steel(self.steel)[0]

    def crush(self, wide: float) -> float:
        """Allowed squeeze of a bolt on so much of the tube's width."""
        if self.saddled(wide):
            nominal = tubes.transverse_plate(self.fy, self.side, self.wall, wide)
            return allowable(nominal, "tube_wall")
        if self.is_round:
            return allowable(tubes.round_crush(self.fy, self.side, self.wall, wide), "yield")
        return allowable(tubes.square_crush(self.fy, self.side, self.wall, wide), "tube_wall")

    def saddled(self, wide: float) -> bool:
        """Whether a round tube is pressed on half of its width or more: by a saddle."""
        return self.is_round and wide >= self.side / 2

    def source(self, wide: float) -> str:
        """The clause behind the squeeze."""
        if self.saddled(wide):
            return "AISC 360-10 Eq. K1-1, the saddle taken as a transverse plate"
        return "ring theory (Roark)" if self.is_round else "AISC 360-10 Eq. K1-12 as a yield-line"


def rail_tube(leaf: Leaf) -> Tube:
    """The rail that carries the leaf bracket."""
    is_round = leaf.frame == "round_tube"
    return Tube(
        words="rail",
        side=float(leaf.rail_height),
        depth=float(leaf.rail_depth),
        wall=tubes.design_wall(float(leaf.rail_wall or UNKNOWN_WALL)),
        steel=ROUND if is_round else SQUARE,
        is_round=is_round,
    )


def stile_tube(leaf: Leaf) -> Tube:
    """A stile, which is as the rails are and stands with its broad side along the leaf."""
    rail = rail_tube(leaf)
    return replace(rail, words="stile", side=rail.depth, depth=rail.side)


def post_tube(post: AnyPost) -> Tube:
    """A steel post."""
    return Tube(
        words="post",
        side=float(post.width),
        depth=float(post.depth),
        wall=tubes.design_wall(float(post.wall_thickness or UNKNOWN_WALL)),
        steel=ROUND if post.is_round else SQUARE,
        is_round=post.is_round,
    )
