"""The answer: where the two pins sit, and every figure that follows from it.

Plan frame of the right hand; mm, N, N mm, degrees, seconds. Nothing here is stepped or fitted: the
figures come from the closed forms of `kinematics`.
"""

from dataclasses import asdict, dataclass
from math import atan2, cos, degrees, isfinite, radians, sin
from typing import TYPE_CHECKING, Any, Literal

from hangpost.generators.pivots.kinematics import Direction

if TYPE_CHECKING:
    from hangpost.generators.pivots.uncertainty import Uncertainty

Point = tuple[float, float]
Rule = Literal["robust", "leverage", "light"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One constraint for people: what came out, what is wanted, in a sentence."""

    name: str
    value: float
    limit: float  # inf where nothing limits it
    unit: str
    sense: Literal["least", "most"]
    at_angle: float  # opening angle at which it is tightest
    sentence: str

    @property
    def margin(self) -> float:
        """What is left beyond the limit; zero or more where it is kept."""
        return self.value - self.limit if self.sense == "least" else self.limit - self.value

    @property
    def satisfied(self) -> bool:
        """Whether it is kept, to a millionth of its unit."""
        return self.margin >= -1e-6

    def data(self) -> dict[str, Any]:
        """The row as plain data; an endless limit becomes null."""
        row = asdict(self)
        row["limit"] = self.limit if isfinite(self.limit) else None
        row["margin"] = self.margin if isfinite(self.margin) else None
        return row


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """The gate at one angle of its swing."""

    angle: float
    length: float
    leverage: float
    torque: float  # N mm, at full thrust
    edge_speed: float  # mm/s


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerUp:
    """Another usable pair on the trade-off of leverage against reach."""

    post_pivot: Point
    leaf_pivot: Point
    leverage_least: float
    reach: float
    overhang: float
    bracket_moment: float
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """What the other rule of choice would have taken."""

    rule: Rule
    post_pivot: Point
    leaf_pivot: Point
    leverage_least: float
    reach: float
    overhang: float
    bracket_moment: float
    worst_spare: float  # 1 % worst case of the least spare, mm or what weighs as much
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """The two pivots of a gate and what they make of its actuator."""

    direction: Direction
    opening: float
    post_pivot: Point
    leaf_pivot: Point  # on the closed leaf
    height: float
    closed_length: float
    open_length: float
    stroke_used: float
    margin_retracted: float
    margin_extended: float
    leverage_closed: float
    leverage_open: float
    required_leverage: float
    best_leverage: float  # the best least leverage of any usable pair
    folded_clearance: float
    post_face: float  # y of the plane the post bracket sits on
    root: Point  # least and greatest x of the ear's narrowest root on that plane
    overhang: float  # pin past the post's nearer edge; below zero over the face
    leaf_reach: float  # leaf pivot to the leaf's face
    bracket_moment: float
    swing_time: float
    edge_speed: float  # greatest
    curve: tuple[CurvePoint, ...]
    rows: tuple[Row, ...]
    leaf_to_post: Row  # the leaf itself, whatever the pivots; may be unsatisfied
    runners_up: tuple[RunnerUp, ...]
    why: str
    rule: Rule = "leverage"  # that chose this pair
    other: Alternative | None = None  # what the other rule would have taken
    sure: "Uncertainty | None" = None  # what errors of tape, drill and brake make of it

    @property
    def setback(self) -> float:
        """How far the post pivot lies behind the hinge axis."""
        return -self.post_pivot[0]

    @property
    def standoff(self) -> float:
        """How far the post pivot lies off the line of the closed leaf."""
        return self.post_pivot[1]

    @property
    def reach(self) -> float:
        """How far the post bracket carries its pin off the post's face."""
        return self.post_pivot[1] - self.post_face

    @property
    def turn(self) -> float:
        """How far the actuator turns about its post pin over the swing, degrees."""
        (px, py), (gx, gy) = self.post_pivot, self.leaf_pivot
        found = []
        for point in self.curve:
            c, s = cos(radians(point.angle)), sin(radians(point.angle))
            found.append(degrees(atan2(gx * s + gy * c - py, gx * c - gy * s - px)))
        return max(found) - min(found)

    @property
    def leverage_least(self) -> float:
        """The least leverage of the swing."""
        return min(self.leverage_closed, self.leverage_open)

    def data(self) -> dict[str, Any]:
        """The `mount` of pack.json, with more keys after those it must have."""
        return {
            "post_pivot": [*self.post_pivot, self.height],
            "leaf_pivot": [*self.leaf_pivot, self.height],
            "closed_length": self.closed_length,
            "open_length": self.open_length,
            "stroke_used": self.stroke_used,
            "margin": {"retracted": self.margin_retracted, "extended": self.margin_extended},
            "leverage": {
                "closed": self.leverage_closed,
                "open": self.leverage_open,
                "least": self.leverage_least,
                "required": self.required_leverage,
                "best": self.best_leverage,
            },
            "folded_clearance": self.folded_clearance,
            "curve": [asdict(point) for point in self.curve],
            "setback": self.setback,
            "standoff": self.standoff,
            "reach": self.reach,
            "overhang": self.overhang,
            "root": list(self.root),
            "leaf_reach": self.leaf_reach,
            "bracket_moment": self.bracket_moment,
            "swing_time": self.swing_time,
            "edge_speed": self.edge_speed,
            "constraints": [row.data() for row in self.rows],
            "leaf_to_post": self.leaf_to_post.data(),
            "runners_up": [asdict(other) for other in self.runners_up],
            "why": self.why,
            "rule": self.rule,
            "other_rule": None if self.other is None else asdict(self.other),
            "uncertainty": None if self.sure is None else self.sure.data(),
        }
