"""The linear actuator in its box: two eyes, a retracted length, a stroke, a thrust, a speed.

Lengths in mm, thrust in N, speed in mm/s; pin to pin means centre to centre.
"""

from collections.abc import Iterator
from typing import Annotated, Self

from pydantic import Field, ValidationInfo, model_validator

from hangpost.generators.survey.display import both
from hangpost.generators.survey.fields import Broken, Quantity, Record, refuse, units_of
from hangpost.generators.survey.units import Units

Long = Annotated[float, Quantity("length", 50.0, 5000.0)]
Small = Annotated[float, Quantity("length", 2.0, 200.0)]


class Eye(Record):
    """One end of the actuator: what sits between the ears."""

    pin: Small = Field(description="Diameter of the pin that passes through the eye.")
    thickness: Small = Field(description="Width of the eye along the pin.")
    radius: Small = Field(description="Pin centre to the outermost edge of the eye.")
    to_body: Annotated[float, Quantity("length", 1.0, 500.0)] = Field(
        description="Pin centre to where the body of full diameter begins."
    )

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if not self.radius > self.pin / 2:
            refuse([Broken("radius", "is inside the pin hole", "more than half of pin")])
        return self


class Actuator(Record):
    """The actuator, from its label and with a caliper."""

    retracted: Long = Field(description="Pin to pin, fully drawn in. Measure it.")
    stroke: Long = Field(description="Travel from fully drawn in to fully out.")
    thrust: Annotated[float, Quantity("force", 50.0, 100_000.0)] = Field(
        description="Greatest push; lb on a label means pounds-force."
    )
    speed: Annotated[float, Quantity("speed", 0.5, 500.0)] = Field(
        description="Speed of the rod under load."
    )
    body_diameter: Annotated[float, Quantity("length", 10.0, 400.0)] = Field(
        description="Largest outside diameter of the body."
    )
    rod_diameter: Annotated[float, Quantity("length", 5.0, 200.0)] | None = Field(
        default=None, description="Diameter of the rod; default: 0.4 of the body (house)."
    )
    post_eye: Eye = Field(description="The eye at the post.")
    leaf_eye: Eye | None = Field(
        default=None, description="The eye at the leaf; default: like the one at the post."
    )
    height: Annotated[float, Quantity("length", 50.0, 6000.0)] | None = Field(
        default=None,
        description="Height of the pins above ground; default: the rail nearest the middle of "
        "the leaf.",
    )
    joint_tilt: Annotated[float, Quantity("angle", 0.0, 45.0)] = Field(
        default=3.0,
        description="How far an eye may tilt on its pin, up or down, in degrees (house default "
        "for plain eyes; a ball joint takes more).",
    )
    self_locking: bool = Field(
        default=True,
        description="The actuator holds the leaf when switched off (a screw drive does).",
        strict=True,
    )
    start_up_factor: Annotated[float, Quantity("share", 1.0, 5.0)] = Field(
        default=1.5, description="Breaking away over keeping moving, on hinge friction (house)."
    )
    mass: Annotated[float, Quantity("mass", 0.1, 200.0)] | None = Field(
        default=None, description="Weight of the actuator, for the lists."
    )

    @model_validator(mode="after")
    def _whole(self, info: ValidationInfo) -> Self:
        refuse(self._broken(units_of(info)))
        return self

    def _broken(self, units: Units) -> Iterator[Broken]:
        if not self.stroke < self.retracted:
            yield Broken(
                "stroke",
                "is not less than the retracted length, and the rod must fit in the body",
                f"less than {both(self.retracted, units)}; is retracted pin to pin?",
            )
        if self.post_eye.to_body + self.at_leaf.to_body >= self.retracted:
            yield Broken(
                "retracted", "leaves no room for a body between the eyes", "more than both to_body"
            )
        if self.rod_diameter is not None and not self.rod_diameter < self.body_diameter:
            yield Broken("rod_diameter", "is not less than the body's", "less than body_diameter")

    @property
    def at_leaf(self) -> Eye:
        """The eye at the leaf, given or like the post's."""
        return self.leaf_eye or self.post_eye

    @property
    def rod(self) -> float:
        """Diameter of the rod, given or taken from the body's."""
        return self.rod_diameter if self.rod_diameter is not None else 0.4 * self.body_diameter

    @property
    def extended(self) -> float:
        """Pin to pin, fully out."""
        return self.retracted + self.stroke
