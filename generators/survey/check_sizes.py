"""The file of sizes that are measured only to check the survey: the last group of its form.

Every key is optional; they are those of the form without `check.` before them. mm inside.
"""

from typing import Annotated, Literal

from pydantic import Field

from hangpost.generators.survey.consistency import CHECKS
from hangpost.generators.survey.fields import Quantity, Record, WhichLeaf
from hangpost.generators.survey.site import HungLeaf, Site

Size = Annotated[float, Quantity("length", 1.0, 30_000.0)]
Side = Annotated[float, Quantity("length", -5000.0, 30_000.0)]  # a face may lie either way
_WORDS = {c.name.removeprefix("check."): c.words for c in CHECKS}


class CheckSizes(Record):
    """Redundant sizes of one leaf's surroundings."""

    units: Literal["in", "mm"] | None = Field(
        default=None, description="What a bare number means; default: as in the site file."
    )
    leaf: WhichLeaf = Field(default=1, description="Which leaf of a double gate.")
    hinge_to_far_post_face: Side | None = Field(
        default=None, description=_WORDS["hinge_to_far_post_face"]
    )
    hinge_to_back_face: Side | None = Field(default=None, description=_WORDS["hinge_to_back_face"])
    hinge_to_near_corner: Size | None = Field(
        default=None, description=_WORDS["hinge_to_near_corner"]
    )
    hinge_to_far_corner: Size | None = Field(
        default=None, description=_WORDS["hinge_to_far_corner"]
    )
    post_diagonal: Size | None = Field(default=None, description=_WORDS["post_diagonal"])
    post_circumference: Size | None = Field(default=None, description=_WORDS["post_circumference"])
    hinge_to_latch_post: Size | None = Field(
        default=None, description=_WORDS["hinge_to_latch_post"]
    )
    ground_to_leaf_top: Size | None = Field(default=None, description=_WORDS["ground_to_leaf_top"])
    leaf_diagonal: Size | None = Field(default=None, description=_WORDS["leaf_diagonal"])
    actuator_extended: Size | None = Field(default=None, description=_WORDS["actuator_extended"])

    @property
    def readings(self) -> dict[str, float]:
        """What was measured, by its name on the form."""
        given = {c.name: getattr(self, c.name.removeprefix("check.")) for c in CHECKS}
        return {name: float(value) for name, value in given.items() if value is not None}


def site_readings(site: Site, hung: HungLeaf) -> dict[str, float]:
    """The readings of the site file that a check can speak about."""
    found = {
        "hinge.to_leaf_face": hung.hinge.to_leaf_face,
        "hinge.to_actuator_face": hung.hinge.to_actuator_face,
        "leaf.width": hung.leaf.width,
        "leaf.height": hung.leaf.height,
        "leaf.bottom": hung.leaf.bottom,
        "actuator.retracted": hung.actuator.retracted,
        "actuator.stroke": hung.actuator.stroke,
    }
    if hung.post.diameter is not None:
        found["post.diameter"] = hung.post.diameter
    elif hung.post.is_measured:  # a size by name is no reading
        found |= {"post.width": hung.post.width, "post.depth": hung.post.depth}
    if site.lock is not None and site.lock.gap is not None:
        found["lock.gap"] = site.lock.gap
    return {name: float(value) for name, value in found.items()}
