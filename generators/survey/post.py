"""The post: hanging post or latch post, by nominal size, by tape, or by circumference.

A pipe's name is not its diameter and a 6x6 is not six inches, so a measured figure always wins
and a figure taken from a table is said to be one. All sizes in mm; the first side is the width
of the face on the actuator side (along x), the second that of the face looking at the leaf (y).
Sources: PS 20, ASME B36.10M. A round hanging post under 3 in is refused: common practice, no
source.
"""

from collections.abc import Iterator
from math import pi
from typing import Annotated, Any, Final, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from hangpost.generators.survey.display import both, plain
from hangpost.generators.survey.fields import (
    Broken,
    Quantity,
    Record,
    Tilt,
    as_text,
    refuse,
    unfit,
    units_of,
)
from hangpost.generators.survey.sections import (
    Section,
    SectionError,
    is_nominal,
    spelt_out,
    timber,
    tube,
)
from hangpost.generators.survey.units import Units
from hangpost.generators.survey.woods import Species
from hangpost.parts import tables

PostKind = Literal["timber", "round_steel", "square_steel"]
SMALLEST_ROUND: Final = 3 * tables.INCH
AGREE: Final = tables.INCH / 16  # two measurements of one diameter; house

Side = Annotated[float, Quantity("length", 20.0, 600.0)]
Wall = Annotated[float, Quantity("length", 0.5, 30.0)]
Girth = Annotated[float, Quantity("length", 100.0, 2000.0)]


class Lean(Record):
    """How far the post is out of plumb, in two directions."""

    toward_leaf: Tilt = Field(
        default=0.0, description="Degrees the post leans towards the leaf; negative = away."
    )
    toward_actuator: Tilt = Field(
        default=0.0,
        description="Degrees the post leans towards the actuator side; negative = away.",
    )

    @property
    def words(self) -> str:
        """Return how it leans, "0.5° towards the leaf"; empty for a post that is plumb."""
        ways = ((self.toward_leaf, "the leaf"), (self.toward_actuator, "the actuator side"))
        return " and ".join(
            f"{plain(abs(value))}° {'towards' if value > 0 else 'away from'} {what}"
            for value, what in ways
            if value
        )


class AnyPost(Record):
    """A post's kind and section."""

    kind: PostKind = Field(description="What the post is: timber, round_steel or square_steel.")
    size: str | None = Field(
        default=None,
        description='Name of the size. Timber: nominal, "6x6", first the face on the actuator '
        'side. Round steel: nominal pipe size, "3" or "DN 80". Square steel: outside and wall, '
        '"4x4x1/4".',
        max_length=60,
    )
    surface: Literal["dressed", "rough"] = Field(
        default="dressed",
        description="Timber: dressed (planed; a 6x6 is 5 1/2 in) or rough (full size).",
    )
    schedule: Literal["40", "80"] = Field(
        default="40", description="Round steel by pipe size: schedule of the wall, 40 or 80."
    )
    measured: tuple[Side, ...] = Field(
        default=(),
        description="Side or outside diameter by tape or caliper; wins over size. Two sides as a "
        "list: first the face on the actuator side, then the face that looks at the leaf.",
        max_length=2,
    )
    circumference: Girth | None = Field(
        default=None,
        description="Round posts: once around with a tape; wins over size, the surest figure.",
    )
    wall: Wall | None = Field(default=None, description="Steel: wall thickness.")
    species: Species = Field(
        default="southern pine",
        description="Timber: species by its common name; decides the specific gravity.",
    )

    @field_validator("schedule", mode="before")
    @classmethod
    def _schedule_as_text(cls, value: object) -> object:
        return str(value) if isinstance(value, int) and not isinstance(value, bool) else value

    @field_validator("measured", mode="before")
    @classmethod
    def _one_or_two(cls, value: object) -> object:
        return value if isinstance(value, (list, tuple)) else (value,)

    @field_validator("size", mode="before")
    @classmethod
    def _size_as_text(cls, value: object, info: ValidationInfo) -> object:
        value, kind = as_text(value), info.data.get("kind")
        if not isinstance(value, str) or kind is None or len(value) > 60:
            return value
        text = spelt_out(value, kind, units_of(info))
        surface: Any = info.data.get("surface", "dressed")
        try:
            if kind == "round_steel":
                tables.pipe(text)
            else:
                tube(text) if kind == "square_steel" else timber(text, surface)
        except (SectionError, tables.SizeError) as error:
            raise unfit(str(error), "a listed size, or the measured one under `measured`") from None
        return text

    @model_validator(mode="after")
    def _whole(self, info: ValidationInfo) -> Self:
        refuse(self._broken(units_of(info)))
        return self

    def _broken(self, units: Units) -> Iterator[Broken]:
        belongs = {"surface": "timber", "schedule": "round_steel", "circumference": "round_steel"}
        for key, kind in belongs.items():
            if self.given(key) and getattr(self, key) is not None and self.kind != kind:
                yield Broken(key, f"is for {kind} posts, and kind is {self.kind}", "leave it out")
        if self.kind == "timber" and self.wall is not None:
            yield Broken("wall", "is for steel posts, and kind is timber", "leave it out")
        if self.size is None and not self.measured and self.circumference is None:
            keys = "circumference, measured or size" if self.is_round else "size or measured"
            yield Broken("size", "is missing", keys)
            return
        if self.is_round and len(self.measured) == 2:
            yield Broken("measured", "has two sides on a round post", "one outside diameter")
        if self.circumference is not None and self.measured:
            by_tape, by_caliper = self.circumference / pi, self.measured[0]
            if abs(by_tape - by_caliper) > AGREE:
                yield Broken(
                    "circumference",
                    f"gives {both(by_tape, units)} across, and measured says "
                    f"{both(by_caliper, units)}",
                    "measure both again; they must agree within 1/16 in",
                )
        if self.kind != "timber":
            yield from self._broken_wall()

    def _broken_wall(self) -> Iterator[Broken]:
        if self._wall_found() is None:
            yield Broken(
                "wall", "is missing and no listed size gives it", "the wall thickness by caliper"
            )
        elif not self.wall_thickness < min(self.width, self.depth) / 2:
            yield Broken("wall", "fills the whole post", "less than half the outside size")

    @property
    def is_round(self) -> bool:
        """Tell whether the seat on this post is curved."""
        return self.kind == "round_steel"

    @property
    def is_measured(self) -> bool:
        """Tell whether the outside size was measured, as against taken from a table."""
        return bool(self.measured) or self.circumference is not None

    @property
    def is_by_name(self) -> bool:
        """Tell whether the outside size comes from a table, by the name of the size alone."""
        named = self.kind == "round_steel" or (
            self.kind == "timber" and self.size is not None and is_nominal(self.size)
        )
        return named and not self.is_measured

    @property
    def width(self) -> float:
        """Width of the face on the actuator side (along x); of a round post the diameter."""
        return self._outside().first

    @property
    def depth(self) -> float:
        """Width of the face that looks at the leaf (along y); of a round post the diameter."""
        return self._outside().second

    @property
    def diameter(self) -> float | None:
        """Outside diameter of a round post, None for a flat-faced one."""
        return self.width if self.is_round else None

    @property
    def wall_thickness(self) -> float:
        """Wall of a steel post; 0 for timber."""
        return self._wall_found() or 0.0

    def _outside(self) -> Section:
        if self.circumference is not None:
            across = self.circumference / pi
            return Section(first=across, second=across)
        if self.measured:
            return Section(first=self.measured[0], second=self.measured[-1])
        size = self.size or ""
        if self.kind == "round_steel":
            outside = tables.pipe(size).outside
            return Section(first=outside, second=outside)
        return tube(size) if self.kind == "square_steel" else timber(size, self.surface)

    def _wall_found(self) -> float | None:
        if self.wall is not None or self.kind == "timber":
            return self.wall
        if self.kind == "square_steel":
            return tube(self.size).wall if self.size else None
        pipe = tables.pipe(self.size) if self.size else tables.pipe_by_outside(self.width)
        return pipe.wall(self.schedule) if pipe else None


class Post(AnyPost):
    """The hanging post: carries the hinges and the bracket."""

    lean: Lean = Field(default=Lean(), description="Out of plumb, in two directions.")
    height: Annotated[float, Quantity("length", 300.0, 6000.0)] | None = Field(
        default=None, description="Top of the post above ground; default: the leaf's top."
    )
    fixing: Literal["auto", "bolted", "saddle", "clamp", "weld"] = Field(
        default="auto",
        description="How the bracket holds: bolted (flat posts), saddle or clamp (round posts), "
        "weld (steel), or auto to let the program choose.",
    )
    accept_small: bool = Field(
        default=False,
        description="Round posts under 3 in across are refused unless this is true (common "
        "practice, no source); then every sheet warns.",
        strict=True,
    )

    @model_validator(mode="after")
    def _fit_for_hanging(self, info: ValidationInfo) -> Self:
        refuse(self._unfit_for_hanging(units_of(info)))
        return self

    def _unfit_for_hanging(self, units: Units) -> Iterator[Broken]:
        if self.is_small and not self.accept_small:
            key = next((k for k in ("circumference", "measured") if getattr(self, k)), "size")
            yield Broken(
                key,
                f"makes a round post of {both(self.width, units, parts=64)} across, "
                "too small to hang a driven gate on (common practice, no source)",
                "3 in and more, or accept_small = true, and be warned",
            )
        fits = {"bolted": not self.is_round, "saddle": self.is_round, "clamp": self.is_round}
        fits["weld"] = self.kind != "timber"
        if self.fixing != "auto" and not fits[self.fixing]:
            allowed = ", ".join(["auto", *(name for name, fit in fits.items() if fit)])
            yield Broken("fixing", f"does not go with a {self.kind} post", allowed)

    @property
    def is_small(self) -> bool:
        """Tell whether this is a round post under 3 in."""
        return self.is_round and self.width < SMALLEST_ROUND - 0.05
