"""How a leaf is to open: which way and how far, on what pivots that exist, and what to prefer."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from hangpost.generators.survey.fields import Gap, Quantity, Record

Free = Annotated[
    Annotated[float, Quantity("length", -5000.0, 5000.0)] | None,
    BeforeValidator(lambda value: None if value == "free" else value),
]


class Opening(Record):
    """Which way the leaf opens, how far, and what it may do on the way."""

    toward: Literal["actuator", "away"] = Field(
        description="actuator = pull-to-open, the leaf swings to the side the actuator is on; "
        "away = push-to-open."
    )
    angle: Annotated[float, Quantity("angle", 10.0, 170.0)] = Field(
        default=90.0, description="How far it opens, in degrees."
    )
    clear_beyond: Gap | None = Field(
        default=None, description="Free distance behind the fully open leaf, to wall or fence."
    )
    edge_speed_limit: Annotated[float, Quantity("speed", 10.0, 5000.0)] | None = Field(
        default=None, description="Greatest speed the latch edge may have."
    )
    time_limit: Annotated[float, Quantity("time", 1.0, 600.0)] | None = Field(
        default=None, description="Longest time the opening may take, in seconds."
    )


class Fixed(Record):
    """What is there already; each coordinate may be "free"."""

    post_pivot: tuple[Free, Free] = Field(
        default=(None, None),
        description="Post pivot that exists: [px, py] from the hinge axis; px is negative behind "
        'the axis. Either may be "free".',
    )
    leaf_pivot: tuple[Free, Free] = Field(
        default=(None, None),
        description="Leaf pivot that exists, leaf closed: [along the leaf, towards the actuator]. "
        'Either may be "free".',
    )


class Choice(Record):
    """What the person wants when there is a choice."""

    prefer: Literal["robust", "leverage", "light"] = Field(
        default="robust",
        description="robust = of the pivots with good leverage the one that stands errors of tape "
        "and drill best; leverage = good leverage with the least moment on the post; light = the "
        "least moment on the post, with no more leverage than the gate needs.",
    )
    extension: Literal["auto", "separate", "one-piece"] = Field(
        default="auto",
        description="Push-to-open: a pivot extension of its own, one long bracket, or let the "
        "program choose.",
    )
