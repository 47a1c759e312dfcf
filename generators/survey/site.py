"""The site: everything measured at one gate, in mm, N, kg, degrees, mm/s.

The record of the site file, table by table. `Site.leaves` gives each leaf with the post, hinges
and actuator that go with it, its hand worked out; everything after the survey starts there.
Frame: plan frame of the closed leaf, origin on the hinge axis, z = 0 at finished ground.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import atan2, degrees
from typing import Any, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from hangpost.generators.survey import rules
from hangpost.generators.survey.actuator import Actuator
from hangpost.generators.survey.around import (
    Ground,
    Lock,
    Meeting,
    Obstacle,
    People,
    WindSpeeds,
    Wood,
)
from hangpost.generators.survey.fields import (
    Name,
    Record,
    refuse,
    slug,
    unfit,
)
from hangpost.generators.survey.leaf import Hand, Hinge, Leaf
from hangpost.generators.survey.opening import Choice, Fixed, Opening
from hangpost.generators.survey.post import Post
from hangpost.generators.survey.tables_of_leaf import shared_out

HELD_BACK = 3.0  # s; common practice, no source: 2 to 5 s between two leaves that lap


class OwnLeaf(Leaf):
    """A leaf with, in a double gate, the tables in which it differs from the other."""

    post: Post | None = Field(default=None, description="This leaf's own hanging post.")
    hinge: Hinge | None = Field(default=None, description="This leaf's own hinges.")
    opening: Opening | None = Field(default=None, description="This leaf's own opening.")
    actuator: Actuator | None = Field(default=None, description="This leaf's own actuator.")
    fixed: Fixed | None = Field(default=None, description="This leaf's own existing pivots.")


@dataclass(frozen=True, slots=True, kw_only=True)
class HungLeaf:
    """One leaf with all that belongs to it; figures are for the right hand, see `hand`."""

    number: int  # 1 or 2, as listed
    hand: Hand
    leaf: OwnLeaf
    post: Post
    hinge: Hinge
    opening: Opening
    actuator: Actuator
    fixed: Fixed
    obstacles: tuple[Obstacle, ...]

    @property
    def mirrored(self) -> bool:
        """Tell whether the finished design is to be mirrored in x."""
        return self.hand == "left"

    @property
    def pulls(self) -> bool:
        """Tell whether the leaf is pulled open, towards the actuator."""
        return self.opening.toward == "actuator"

    @property
    def pin_height(self) -> float:
        """Height of both pins above ground: as asked, or the rail nearest the leaf's middle."""
        asked = self.actuator.height
        return asked if asked is not None else self.leaf.middle_rail

    @property
    def post_box(self) -> tuple[float, float, float, float]:
        """Plan rectangle around the post: xmin, ymin, xmax, ymax."""
        right, front = -self.hinge.to_leaf_face, self.hinge.to_actuator_face
        return (right - self.post.width, front - self.post.depth, right, front)

    @property
    def post_centre(self) -> tuple[float, float]:
        """Middle of the post in plan."""
        x0, y0, x1, y1 = self.post_box
        return ((x0 + x1) / 2, (y0 + y1) / 2)

    @property
    def tilt_from_rise(self) -> float:
        """Tilt of the actuator in degrees that rising hinges bring about over the stroke."""
        return degrees(atan2(self.hinge.rise, self.actuator.retracted))


class Site(Record):
    """The site file: what was measured at the gate."""

    units: Literal["in", "mm"] = Field(
        description="What a bare number means: in (lengths in, weights lb, forces lbf, speeds "
        "in/s, wind mph) or mm (mm, kg, N, mm/s, wind m/s)."
    )
    job: Name = Field(description="Name of the job, printed on every sheet.")
    post: Post = Field(description="The hanging post: carries the hinges.")
    hinge: Hinge = Field(description="Where the hinge axis is.")
    leaf: tuple[OwnLeaf, ...] = Field(
        description="The leaf; twice ([[leaf]]) for a double gate.", min_length=1, max_length=2
    )
    opening: Opening = Field(description="Which way and how far it opens.")
    actuator: Actuator = Field(description="The actuator in its box.")
    lock: Lock | None = Field(default=None, description="A lock at the latch edge, if any.")
    meeting: Meeting = Field(default=Meeting(), description="Double gates: where the leaves meet.")
    wind: WindSpeeds = Field(default=WindSpeeds(), description="Wind at the gate.")
    ground: Ground = Field(default=Ground(), description="How the ground runs.")
    obstacle: tuple[Obstacle, ...] = Field(
        default=(), description="Things the leaf must not meet.", max_length=50
    )
    fixed: Fixed = Field(default=Fixed(), description="Pivots that exist already.")
    wood: Wood = Field(default=Wood(), description="How timber lives here.")
    people: People = Field(
        default=People(),
        description="Questions of safety; the answers stand on the installation sheet.",
    )
    choice: Choice = Field(default=Choice(), description="What to prefer.")

    @model_validator(mode="before")
    @classmethod
    def _share_tables(cls, data: object) -> object:
        return shared_out(data) if isinstance(data, Mapping) else data

    @field_validator("leaf", mode="before")
    @classmethod
    def _one_or_two(cls, value: object, info: ValidationInfo) -> object:
        if isinstance(value, (list, tuple)) and len(value) > 2:
            raise unfit(f"has {len(value)} leaves", "one, or two for a double gate")
        return (value,) if isinstance(value, (Mapping, Leaf)) else value

    @model_validator(mode="after")
    def _whole(self) -> Self:
        refuse(rules.broken(self))
        return self

    @property
    def is_double(self) -> bool:
        """Tell whether the gate has two leaves."""
        return len(self.leaf) == 2

    @property
    def leaves(self) -> tuple[HungLeaf, ...]:
        """Each leaf with its post, hinges, opening and actuator."""
        return tuple(self._hung(index) for index in range(len(self.leaf)))

    @property
    def notes(self) -> tuple[rules.Note, ...]:
        """What the person should know about figures that are sound but doubtful."""
        return rules.notes(self)

    @property
    def latch_gap(self) -> float | None:
        """Latch edge to whatever it closes on, when known."""
        if self.is_double:
            return self.meeting.gap
        return self.lock.gap if self.lock else None

    @property
    def opens_first(self) -> int | None:
        """Number of the leaf that has to open first and close last; None: no order is needed."""
        if not self.is_double:
            return None
        if self.lock is not None:  # the receiver's stop stands behind the leaf with the lock
            return 1
        return 3 - (self.meeting.first_to_close or 1) if self.meeting.overlap else None

    @property
    def delay(self) -> float:
        """How long the control holds one leaf of two back, in seconds."""
        if self.meeting.delay is not None:
            return float(self.meeting.delay)
        return HELD_BACK if self.opens_first else 0.0

    @property
    def slug(self) -> str:
        """The job's name as a file name may hold it."""
        return slug(self.job)

    def _hung(self, index: int) -> HungLeaf:
        leaf = self.leaf[index]
        hinge = leaf.hinge or self.hinge
        if index == 1 and leaf.hinge is None:
            hinge = hinge.model_copy(update={"hand": other_hand(hinge.hand)})
        fixed = leaf.fixed or (self.fixed if index == 0 else Fixed())
        return HungLeaf(
            number=index + 1,
            hand=hinge.hand,
            leaf=leaf,
            post=leaf.post or self.post,
            hinge=hinge,
            opening=leaf.opening or self.opening,
            actuator=leaf.actuator or self.actuator,
            fixed=fixed,
            obstacles=self.obstacle if index == 0 else tuple(self._from_second()),
        )

    def _from_second(self) -> Iterable[Obstacle]:
        # Obstacles are measured from the first hinge axis; the second leaf looks back at it.
        between = self.leaf[0].width + self.meeting.gap + self.leaf[1].width
        for each in self.obstacle:
            x0, y0, x1, y1 = each.box
            corners = {"corner": (between - x1, y0), "opposite": (between - x0, y1)}
            yield each.model_copy(update=corners)

    def changed(self, values: Mapping[str, Any]) -> Self:
        """Return this site with values in house units at dotted keys ("opening.angle").

        The leaf's key is "leaf.width", or "leaf.2.width" for the second of two.
        """
        data = self.model_dump(by_alias=True, exclude_unset=True)
        data["leaf"] = [dict(leaf) for leaf in data["leaf"]]
        for key, value in values.items():
            path = key.split(".")
            if path[0] == "leaf":
                number = int(path.pop(1)) if path[1].isdigit() else 1
                table = data["leaf"][number - 1]
            else:
                table = data
            for name in path[:-1] if table is data else path[1:-1]:
                table = table.setdefault(name, {})
            table[path[-1]] = value
        return type(self).model_validate(data)


def other_hand(hand: Hand) -> Hand:
    """Return the opposite hand."""
    return "left" if hand == "right" else "right"
