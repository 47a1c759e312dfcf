"""Everything the search for the two pins needs to know, as plain numbers.

Plan frame of the right hand: origin on the hinge axis, x along the closed leaf, y positive towards
the actuator. Millimetres, newtons, degrees, mm/s, torque in N mm. Defaults are the house's, or
common practice where the field says so; none of them comes from a standard.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import hypot, isfinite

import numpy as np

from hangpost.generators.pivots.kinematics import (
    Direction,
    Real,
    extended_angle,
    retracted_angle,
)
from hangpost.generators.pivots.plan_shapes import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class PostPlan:
    """The hanging post in plan."""

    outline: Box

    @classmethod
    def square(
        cls, *, to_leaf_face: float, to_actuator_face: float, width: float, depth: float
    ) -> "PostPlan":
        """A square or rectangular post: width along x, depth along y."""
        return cls(
            outline=Box(
                xmin=-to_leaf_face - width,
                xmax=-to_leaf_face,
                ymin=to_actuator_face - depth,
                ymax=to_actuator_face,
            )
        )

    @classmethod
    def round(cls, *, to_leaf_face: float, to_actuator_face: float, diameter: float) -> "PostPlan":
        """A round post; the two distances go to its nearest lines."""
        x, y = -to_leaf_face - diameter / 2.0, to_actuator_face - diameter / 2.0
        return cls(outline=Box(xmin=x, xmax=x, ymin=y, ymax=y, rounding=diameter / 2.0))

    @property
    def face(self) -> float:
        """Height y of the face, or of the nearest line, that the bracket sits on."""
        return self.outline.top

    @property
    def width(self) -> float:
        """Size along x."""
        return self.outline.right - self.outline.left

    @property
    def middle(self) -> float:
        """Middle of the post along x."""
        return (self.outline.left + self.outline.right) / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafPlan:
    """The closed leaf in plan, and the stretch along it on which the leaf bracket can land."""

    width: float  # hinge axis to latch edge
    thickness: float
    axis_offset: float = 0.0  # middle plane to hinge axis, positive towards the actuator
    hinge_edge: float = 0.0  # x at which the leaf begins
    rail_from: float = 0.0
    rail_to: float

    @property
    def face(self) -> float:
        """Height y of the face on the actuator side."""
        return self.axis_offset + self.thickness / 2.0

    @property
    def back(self) -> float:
        """Height y of the face away from the actuator."""
        return self.axis_offset - self.thickness / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """One end of the actuator: a disc about the pin, and how far off the body begins."""

    radius: float
    thickness: float
    to_body: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ActuatorPlan:
    """The actuator: a body of fixed length that starts at the post pin's eye, and a rod."""

    retracted: float  # pin to pin
    stroke: float
    thrust: float
    speed: float
    body_radius: float
    rod_radius: float
    post_eye: Eye
    leaf_eye: Eye

    @property
    def body_end(self) -> float:
        """From the post pin to the far end of the body: all of the retracted length but the eye."""
        return self.retracted - self.leaf_eye.to_body


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What must be kept, whatever the bracket."""

    margin: float = 10.0  # spare stroke at each end; house
    dead_centre: float = 15.0  # house
    folded_clearance: float = 107.95  # 4 1/4 in; common practice, no source: 4 to 4 1/2 in
    body_clearance: float = 10.0  # house
    edge_speed: float | None = None  # mm/s, only where the site says so
    swing_time: float | None = None  # seconds, likewise


@dataclass(frozen=True, slots=True, kw_only=True)
class Brackets:
    """What the shop can make, in plan: where a pin may be carried, and how thick the carrier is."""

    max_reach: float = 250.0  # post face to pin
    max_overhang: float = 250.0  # pin beside the post's edge
    least_reach: float = 30.0  # a shorter ear cannot be bent
    cut_to_post: bool = False  # ears welded to the post itself, not bent from a seat on its face
    max_leaf_reach: float = 200.0
    least_leaf_reach: float = 25.0
    ear_tip: float = 20.0  # ear's radius about its pin
    # Where the ear's root begins, off the post's face, by the plates it may be bent from.
    root_rises: tuple[float, ...] = (0.0,)
    seat_half_width: float = 20.0  # middle of the ear's root to the post's edges
    leaf_half_length: float = 60.0  # leaf bracket along the rail, to either side of its pin
    swing_room: float = 6.0  # between an eye and whatever it turns beside


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """Coordinates that are there already ("these holes exist"); None is free."""

    px: float | None = None
    py: float | None = None
    gx: float | None = None
    gy: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A wall, kerb or parked car as a rectangle in plan."""

    name: str
    outline: Box

    @classmethod
    def between(cls, name: str, a: tuple[float, float], b: tuple[float, float]) -> "Obstacle":
        """From two opposite corners, in whichever order."""
        return cls(
            name=name,
            outline=Box(
                xmin=min(a[0], b[0]),
                xmax=max(a[0], b[0]),
                ymin=min(a[1], b[1]),
                ymax=max(a[1], b[1]),
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One leaf, its post and its actuator; `torque` is the most that moving the leaf ever needs."""

    direction: Direction
    opening: float
    post: PostPlan
    leaf: LeafPlan
    actuator: ActuatorPlan
    torque: float
    torque_factor: float = 1.0  # on top of the start-up already in the torque
    limits: Limits = field(default_factory=Limits)
    brackets: Brackets = field(default_factory=Brackets)
    obstacles: tuple[Obstacle, ...] = ()
    fixed: Fixed = field(default_factory=Fixed)
    height: float = 0.0  # of the pins above ground; carried along, not used here

    def __post_init__(self) -> None:
        """Refuse numbers that describe no gate; the survey has named the site's mistakes before."""
        positive = {
            "leaf width": self.leaf.width,
            "leaf thickness": self.leaf.thickness,
            "retracted length": self.actuator.retracted,
            "stroke": self.actuator.stroke,
            "thrust": self.actuator.thrust,
            "speed": self.actuator.speed,
            "torque factor": self.torque_factor,
        }
        wrong = [f"{name} = {v}, needs > 0" for name, v in positive.items() if not _above(v, 0.0)]
        if not (isfinite(self.opening) and 0.0 < self.opening < 180.0):
            wrong.append(f"opening = {self.opening} degrees, needs 0 to 180")
        if not (isfinite(self.torque) and self.torque >= 0.0):
            wrong.append(f"torque = {self.torque} N mm, needs >= 0")
        if wrong:
            raise ValueError("; ".join(wrong))

    @property
    def retracted_at(self) -> float:
        """Signed angle at which the actuator is shortest."""
        return retracted_angle(self.direction, self.opening)

    @property
    def extended_at(self) -> float:
        """Signed angle at which the actuator is longest."""
        return extended_angle(self.direction, self.opening)

    @property
    def tied_length(self) -> float:
        """Pin to pin when the installer ties the leaf pivot, with the actuator shortest."""
        return self.actuator.retracted + self.limits.margin

    @property
    def longest(self) -> float:
        """The longest the actuator may get with its spare kept."""
        return self.actuator.retracted + self.actuator.stroke - self.limits.margin

    @property
    def needed_leverage(self) -> float:
        """The leverage below which the actuator cannot move the leaf for certain."""
        return self.torque * self.torque_factor / self.actuator.thrust

    def walls(self) -> Iterator[tuple[str, Box]]:
        """Everything that stands still and that the actuator must not meet."""
        yield "post", self.post.outline
        for obstacle in self.near_obstacles:
            yield obstacle.name, obstacle.outline

    @property
    def near_obstacles(self) -> tuple[Obstacle, ...]:
        """The obstacles that an actuator on any bracket of this shop could come near.

        The actuator lies between its pins, and neither is further from the hinge axis than the
        furthest post pivot and the tied length together.
        """
        box, brackets, fixed = self.post.outline, self.brackets, self.fixed
        xs = [box.left - brackets.max_overhang, box.right + brackets.max_overhang, fixed.px or 0.0]
        ys = [box.top, box.top + brackets.max_reach, fixed.py or 0.0]
        post_pivot = hypot(max(map(_furthest, xs)), max(map(_furthest, ys)))
        leaf_pivot = post_pivot + _furthest(self.tied_length)
        if fixed.gx is not None:
            leaf_pivot = post_pivot + _furthest(self.longest)
        around = leaf_pivot + self.actuator.body_radius + self.limits.body_clearance
        return tuple(o for o in self.obstacles if o.outline.from_axis() < around)


# A figure may also be an array, one entry for each of many gates (see `built`).
def _above(value: Real, least: float) -> bool:
    return bool(np.all(np.isfinite(value) & (value > least)))


def _furthest(value: Real) -> float:
    return float(np.max(np.abs(value)))
