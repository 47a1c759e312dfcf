"""What is around the gate: lock, wind, ground, obstacles, timber service, people.

All optional in the site file. Lengths in mm, wind in mm/s like every speed; the plan frame is
that of the closed leaf (x from the hinge axis to the latch post, y towards the actuator).
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from hangpost.generators.survey.fields import (
    Broken,
    Gap,
    Name,
    Offset,
    Place,
    Quantity,
    Record,
    WhichLeaf,
    Wind,
    refuse,
)
from hangpost.generators.survey.leaf import Height
from hangpost.generators.survey.post import AnyPost


class Lock(Record):
    """A lock on the leaf, and the post or leaf that its bolt goes into."""

    post: AnyPost | None = Field(
        default=None, description="The latch post; left out when the second leaf takes the bolt."
    )
    bolt_diameter: Annotated[float, Quantity("length", 4.0, 60.0)] = Field(
        description="Diameter of the bolt, or the larger side of a flat one."
    )
    bolt_height: Height = Field(description="Centre of the bolt above ground, leaf closed.")
    bolt_to_leaf_face: Offset = Field(
        description="Centre of the bolt to the leaf's face on the actuator side, positive inwards."
    )
    throw: Annotated[float, Quantity("length", 3.0, 200.0)] = Field(
        description="How far the bolt comes out of the lock."
    )
    gap: Annotated[float, Quantity("length", 1.0, 500.0)] | None = Field(
        default=None, description="Latch edge to latch post; double gates say it under meeting."
    )
    post_proud: Offset | None = Field(
        default=None,
        description="Leaf's face on the actuator side to the latch post's on that side (round: its "
        "nearest line), leaf closed; positive where the post stands proud of the leaf. Default: "
        "the post's middle is level with the bolt, which is said on the sheets.",
    )
    sag: Annotated[float, Quantity("length", 0.0, 100.0)] = Field(
        default=10.0,
        description="What the latch edge may drop over the years (house default 10 mm).",
    )


class WindSpeeds(Record):
    """Two winds: one the actuator must work in, one the closed gate must stand."""

    operating: Wind = Field(
        default=11_176.0,
        description="The gate must still move in this wind; decides leverage and thrust. "
        "Default 25 mph (house).",
    )
    survival: Wind = Field(
        default=31_292.8,
        description="Closed and standing: loads brackets, pins, post and lock, not the motor. "
        "Default 70 mph (house).",
    )
    exposure: Literal["B", "C", "D"] = Field(
        default="C",
        description="Surroundings after ASCE 7: B town or wood, C open country, D open water.",
    )

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.survival < self.operating:
            refuse([Broken("survival", "is less than operating", "at least the operating wind")])
        return self

    @property
    def operating_m_s(self) -> float:
        """Operating wind in m/s, for pressure formulas."""
        return self.operating / 1000

    @property
    def survival_m_s(self) -> float:
        """Survival wind in m/s, for pressure formulas."""
        return self.survival / 1000


class Ground(Record):
    """How the ground runs under the swing."""

    rise_at_open: Annotated[float, Quantity("length", -2000.0, 2000.0)] = Field(
        default=0.0,
        description="Ground under the latch edge: how much higher with the leaf open than closed; "
        "negative = lower.",
    )
    rise_under_arc: Annotated[float, Quantity("length", -2000.0, 2000.0)] = Field(
        default=0.0,
        description="Highest ground anywhere under the swing over that at the closed latch edge.",
    )


class Obstacle(Record):
    """A plan rectangle the leaf must not meet: wall, kerb, parked car."""

    name: Name = Field(description="What it is.")
    corner: tuple[Place, Place] = Field(
        alias="from",
        description="One corner from the hinge axis: [along the leaf, towards the actuator].",
    )
    opposite: tuple[Place, Place] = Field(alias="to", description="The opposite corner.")
    bottom: Height = Field(default=0.0, description="Its underside above ground.")
    top: Height | None = Field(default=None, description="Its top above ground; default: no end.")

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.top is not None and not self.top > self.bottom:
            refuse([Broken("top", "is not above bottom", "more than bottom")])
        return self

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Plan rectangle as xmin, ymin, xmax, ymax."""
        (ax, ay), (bx, by) = self.corner, self.opposite
        return (min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


class Wood(Record):
    """How timber parts live."""

    service: Literal["wet", "dry"] = Field(
        default="wet", description="wet for anything out of doors, dry under a roof."
    )
    treated: bool = Field(
        default=True,
        description="Preservative-treated timber; decides the fasteners' finish.",
        strict=True,
    )


class Meeting(Record):
    """Where the two leaves of a double gate meet."""

    gap: Annotated[float, Quantity("length", 1.0, 500.0)] = Field(
        default=50.8, description="Between the two latch edges, both leaves closed (house: 2 in)."
    )
    overlap: Gap = Field(
        default=0.0, description="How far one leaf's stop laps over the other; 0 = none."
    )
    first_to_close: WhichLeaf | None = Field(
        default=None,
        description="When they overlap: the leaf, as listed, that closes first and opens last. "
        "Default: the first; with a lock the second, which takes the bolt.",
    )
    delay: Annotated[float, Quantity("time", 0.0, 60.0)] | None = Field(
        default=None,
        description="How long the control holds the second leaf to move back, in seconds. "
        "Default: 3 s where one leaf has to open first (common practice, no source), else 0.",
    )


class People(Record):
    """Questions of safety; the installer gets the answers, nothing is judged by them."""

    stop_open: bool | None = Field(
        default=None, description="A fixed stop holds the open leaf.", strict=True
    )
    stop_closed: bool | None = Field(
        default=None, description="A fixed stop holds the closed leaf.", strict=True
    )
    manual_release: bool | None = Field(
        default=None, description="The drive can be released by hand.", strict=True
    )
    separate_path: bool | None = Field(
        default=None, description="People on foot have a way of their own.", strict=True
    )
    signs: bool | None = Field(
        default=None, description="Warning signs on both sides.", strict=True
    )
