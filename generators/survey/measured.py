"""The file of what was measured after drilling: where pins and holes really are.

Everything in it is optional; what is not said is as drawn. Coordinates are those of the site
file's [fixed]: from the hinge axis, along the closed leaf and off it towards the actuator.
Offsets of holes are told as one looks at the template: right and up from the mark. mm inside.
"""

from collections.abc import Iterator
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from hangpost.generators.survey.fields import Broken, Quantity, Record, WhichLeaf, refuse

Place = Annotated[float, Quantity("length", -5000.0, 5000.0)]
Off = Annotated[float, Quantity("length", -300.0, 300.0)]
Offset = tuple[Off, Off]


class Measured(Record):
    """What was measured after drilling."""

    units: Literal["in", "mm"] | None = Field(
        default=None, description="What a bare number means; default: as in the site file."
    )
    leaf: WhichLeaf = Field(default=1, description="Which leaf of a double gate.")
    post_pivot: tuple[Place, Place] | None = Field(
        default=None, description="The post pin from the hinge axis: [along the leaf, off it]."
    )
    post_pivot_moved: Offset | None = Field(
        default=None, description="The post pin from its drawn place: [along the leaf, off it]."
    )
    leaf_pivot: tuple[Place, Place] | None = Field(
        default=None, description="The leaf pin from the hinge axis, leaf closed."
    )
    leaf_pivot_moved: Offset | None = Field(
        default=None, description="The leaf pin from its drawn place."
    )
    post_holes: dict[str, Offset] = Field(
        default={}, description="Holes in the post by name: [right, up] of the mark."
    )
    leaf_holes: dict[str, Offset] = Field(
        default={}, description="Holes in the leaf by name: [right, up] of the mark."
    )

    @model_validator(mode="after")
    def _told_once(self) -> Self:
        refuse(self._broken())
        return self

    def _broken(self) -> Iterator[Broken]:
        for end in ("post", "leaf"):
            keys = [f"{end}_pivot", f"{end}_pivot_moved", f"{end}_holes"]
            said = [key for key in keys if getattr(self, key)]
            if len(said) > 1:
                yield Broken(
                    said[1], f"says again what {said[0]} says", f"one of {', '.join(keys)}"
                )
