"""The leaf and its hinges, as measured at the closed gate.

Heights are above finished ground, widths from the hinge axis; all in mm. A member's name gives
its section: "2x2x1/8" square tube, "1.66" round tube (outside diameter), "2x4" dressed timber.
"""

from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from hangpost.generators.survey.display import both
from hangpost.generators.survey.fields import (
    Broken,
    Force,
    Gap,
    Offset,
    Quantity,
    Record,
    Share,
    Span,
    as_text,
    refuse,
    unfit,
    units_of,
)
from hangpost.generators.survey.sections import (
    Section,
    SectionError,
    round_tube,
    spelt_out,
    timber,
    tube,
)
from hangpost.generators.survey.units import Units
from hangpost.generators.survey.woods import Species

Hand = Literal["right", "left"]
Frame = Literal["square_tube", "round_tube", "timber"]
EDGE_SLACK = 3.0  # mm a rail or stile may lie off the leaf's edge by rounding on the tape; house

Height = Annotated[float, Quantity("length", 0.0, 6000.0)]


class Hinge(Record):
    """Where the hinge axis is and what the hinges do."""

    hand: Hand = Field(
        description="Side the hinges are on as seen from the actuator side: right or left."
    )
    to_leaf_face: Offset = Field(
        description="Hinge axis to the post face that looks at the leaf (round post: to its "
        "nearest line), square to that face."
    )
    to_actuator_face: Offset = Field(
        description="Hinge axis to the post face on the actuator side (round post: to its "
        "nearest line); negative when the axis stands proud of that face."
    )
    count: int = Field(
        default=2, ge=1, le=12, description="How many hinges carry the leaf.", strict=True
    )
    tether: bool = Field(
        default=False,
        description="A strap or chain holds the leaf up when one hinge fails.",
        strict=True,
    )
    rise: Gap = Field(
        default=0.0, description="Rising hinges: how much the leaf lifts from closed to fully open."
    )


class Leaf(Record):
    """One leaf: its outline, its weight and its members."""

    width: Span = Field(description="Hinge axis to latch edge.")
    height: Span = Field(description="Underside to top.")
    bottom: Height = Field(description="Ground to underside, leaf closed.")
    thickness: Annotated[float, Quantity("length", 5.0, 400.0)] = Field(
        description="Thickness of the leaf at the rails."
    )
    axis_offset: Offset = Field(
        default=0.0,
        description="Middle plane of the leaf to the hinge axis, positive towards the actuator.",
    )
    hinge_edge: Offset = Field(
        default=0.0,
        description="Hinge axis to the hinge-side edge of the leaf, positive towards the latch.",
    )
    mass: Annotated[float, Quantity("mass", 1.0, 3000.0)] = Field(
        description="Weight of the whole leaf."
    )
    frame: Frame = Field(description="What the leaf is framed of: square_tube, round_tube, timber.")
    member: str = Field(
        description='Section of rails and stiles: "2x2x1/8" square tube, "1.66" round tube by '
        'outside diameter, "2x4" dressed timber.',
        max_length=60,
    )
    wall: Annotated[float, Quantity("length", 0.5, 20.0)] | None = Field(
        default=None, description="Wall of a tube member, when its name does not say it."
    )
    rails: tuple[Height, ...] = Field(
        description="Heights of the rails' centre lines above ground, lowest first.",
        min_length=1,
        max_length=20,
    )
    stiles: tuple[Annotated[float, Quantity("length", -500.0, 10_000.0)], ...] = Field(
        default=(),
        description="Distances of the stiles' centre lines from the hinge axis; default: one at "
        "each edge.",
        max_length=40,
    )
    fill: Share = Field(description="Solid share of the face that the wind sees, 0 to 1.")
    friction: Force = Field(
        default=25.0,
        description="Pull at the latch edge, square to the leaf, that keeps it moving in still "
        "air (house default 25 N, about 5 1/2 lbf).",
    )
    species: Species = Field(
        default="southern pine",
        description="Timber leaf: species by its common name.",
    )

    @field_validator("member", mode="before")
    @classmethod
    def _member_as_text(cls, value: object, info: ValidationInfo) -> object:
        value, frame = as_text(value), info.data.get("frame")
        if not isinstance(value, str) or frame is None or len(value) > 60:
            return value
        text = spelt_out(value, frame, units_of(info))
        try:
            _section(text, frame)
        except SectionError as error:
            raise unfit(str(error), 'a section like "2x2x1/8", "1.66" or "2x4"') from None
        return text

    @model_validator(mode="after")
    def _whole(self, info: ValidationInfo) -> Self:
        refuse(self._broken(units_of(info)))
        return self

    def _broken(self, units: Units) -> Iterator[Broken]:
        half = self.rail_height / 2
        low, high = self.bottom + half - EDGE_SLACK, self.top - half + EDGE_SLACK
        if high < low:
            yield Broken("member", "is taller than the leaf", "less than height")
            return
        if any(b <= a for a, b in pairwise(self.rails)):
            yield Broken("rails", "are not in order", "heights rising, none twice")
        for number, rail in enumerate(self.rails, start=1):
            if not low <= rail <= high:
                yield Broken(
                    f"rails[{number}]",
                    "is outside the leaf",
                    f"centre lines from {both(low, units)} to {both(high, units)} above ground",
                )
        for number, stile in enumerate(self.stiles, start=1):
            if not self.hinge_edge <= stile <= self.width:
                yield Broken(
                    f"stiles[{number}]",
                    "is outside the leaf",
                    f"{both(self.hinge_edge, units)} to {both(self.width, units)}",
                )
        if self.hinge_edge > self.width / 4:
            yield Broken("hinge_edge", "is far from the hinge", "at most a quarter of width")
        if self.thickness < self.rail_depth - EDGE_SLACK:
            yield Broken(
                "thickness",
                f"is less than the rail's own {both(self.rail_depth, units)}",
                "at least the rail's thickness",
            )

    @property
    def top(self) -> float:
        """Top of the leaf above ground."""
        return self.bottom + self.height

    @property
    def section(self) -> Section:
        """Section of rails and stiles as named."""
        return _section(self.member, self.frame)

    @property
    def rail_depth(self) -> float:
        """Size of a rail through the leaf (along y)."""
        both = sorted((self.section.first, self.section.second))
        # A member is laid the way that fits the thickness measured; else on its flat.
        return both[1] if abs(both[1] - self.thickness) < abs(both[0] - self.thickness) else both[0]

    @property
    def rail_height(self) -> float:
        """Size of a rail up the leaf (along z), and of a stile along it (along x)."""
        return self.section.first + self.section.second - self.rail_depth

    @property
    def rail_wall(self) -> float | None:
        """Wall of a tube member when the file says it."""
        return self.wall if self.wall is not None else self.section.wall

    @property
    def stile_positions(self) -> tuple[float, ...]:
        """Stile centre lines from the hinge axis, one at each edge when none were measured.

        A stile that the tape puts a little off an edge of the leaf makes that edge.
        """
        half = self.rail_height / 2
        edges = (self.hinge_edge + half, self.width - half)
        near = [
            [edge for edge in edges if abs(stile - edge) <= EDGE_SLACK] for stile in self.stiles
        ]
        made = (found[0] if found else at for at, found in zip(self.stiles, near, strict=True))
        return tuple(made) or edges

    @property
    def actuator_face(self) -> float:
        """The face on the actuator side, as y in the plan frame."""
        return self.axis_offset + self.thickness / 2

    @property
    def middle_rail(self) -> float:
        """Height of the rail nearest the middle of the leaf, the lower of two alike."""
        middle = self.bottom + self.height / 2
        return min(self.rails, key=lambda rail: (round(abs(rail - middle), 6), rail))


@cache
def _section(text: str, frame: Frame) -> Section:
    if frame == "timber":
        return timber(text, "dressed")
    return round_tube(text) if frame == "round_tube" else tube(text)
