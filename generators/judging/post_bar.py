"""A post as a bar: what it may carry in bending and torsion, how stiff it is.

Units: N, mm, N mm, MPa. Sources, by strength/posts.py: NDS 2018 3.3; EN 1995-1-1:2004 6.1.8 for a
timber that is twisted; AISC 360-16 F7, F8, H1, H3.
"""

from dataclasses import dataclass
from math import hypot

from hangpost.generators.strength import plates, posts, tubes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.survey.post import AnyPost

STEELS = {"round_steel": "A53-B", "square_steel": "A500-B-square"}  # house: the usual pipe, tube


@dataclass(frozen=True, slots=True, kw_only=True)
class PostBar:
    """A post as a bar: section both ways, stiffness, what it may carry."""

    section: posts.Section
    modulus: float
    shear_modulus: float
    moment: float  # allowed, before the duration of the load
    torsion: float  # allowed torque, before the duration
    kind: str
    words: str

    @property
    def timber(self) -> bool:
        """Whether the wood's limits and durations hold."""
        return self.kind == "timber"

    def both_ways(self, one: float, other: float) -> float:
        """Moments about both axes as one: added, but for a pipe, which has no corners."""
        return hypot(one, other) if self.kind == "round_steel" else abs(one) + abs(other)

    def duration(self, name: str) -> float:
        """CD for timber, 1 for steel."""
        return factor(f"duration.{name}") if self.timber else 1.0


def post_bar(post: AnyPost) -> PostBar:
    """The bar that a post is."""
    if post.kind == "timber":
        fb, e, fv = posts.timber_values(post.species)
        wide, deep = float(post.width), float(post.depth)
        weak = min((posts.rectangle(wide, deep), posts.rectangle(deep, wide)), key=_elastic)
        return PostBar(
            section=weak,
            modulus=e,
            shear_modulus=e / 16,
            moment=posts.timber_moment(fb, weak, duration=1.0) * posts.size_factor(deep),
            torsion=posts.timber_torque(fv, wide, deep),
            kind=post.kind,
            words=f"{post.species} Fb {fb:.2f}, Fv {fv:.2f}",
        )
    fy = plates.steel(STEELS[post.kind])[0]
    wall = tubes.design_wall(float(post.wall_thickness))
    side = float(post.width)
    if post.is_round:
        section = posts.round_tube(side, wall)
        moment = posts.steel_moment(
            fy, section, slenderness=side / wall, limit=posts.compact_round(fy)
        )
        torque = posts.twisted_round(fy, side / wall) * section.torsion / (side / 2)
    else:
        deep = float(post.depth)
        both = (
            posts.square_tube(side, wall, depth=deep),
            posts.square_tube(deep, wall, depth=side),
        )
        section = min(both, key=_elastic)
        moment = posts.steel_moment(
            fy, section, slenderness=max(side, deep) / wall - 3, limit=posts.compact_square(fy)
        )
        stress = posts.twisted_square(fy, max(side, deep) / wall - 3)
        torque = stress * posts.shaft_of_tube(side, deep, wall)
    return PostBar(
        section=section,
        modulus=posts.STEEL_MODULUS,
        shear_modulus=posts.STEEL_MODULUS / 2.6,
        moment=allowable(moment, "yield"),
        torsion=allowable(torque, "yield"),
        kind=post.kind,
        words=f"{STEELS[post.kind]} Fy {fy:.0f}, wall {wall:.2f}",
    )


def _elastic(section: posts.Section) -> float:
    return section.elastic
