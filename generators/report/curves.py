"""What happens over the swing, as four small drawings of one line each: colour says nothing.

From the pivots alone, in closed form (see pivots/kinematics), in the unit of whoever reads: the
script divides what it reckons in mm and N by `Curve.per`. Drawing frame: pixels of a 420 x 240
drawing. The page's script puts a mark on each line at the angle of the slider; `Curve.frame` tells
it where.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10
from typing import Any, Final

from markupsafe import Markup

from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.pivots import kinematics
from hangpost.generators.report.figures import shown
from hangpost.generators.survey.units import BARE, FACTORS, Units

WIDE: Final = 420.0
HIGH: Final = 240.0
LEFT: Final = 58.0
RIGHT: Final = 12.0
TOP: Final = 26.0
FOOT: Final = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A quantity over the opening angle, and a limit that it is read against."""

    key: str  # as the script knows it
    title: str
    unit: str
    says: str  # what it means, for somebody who cannot see the drawing either
    angles: Sequence[float]  # opened by, degrees
    values: Sequence[float]
    per: float = 1.0  # mm or N in one of `unit`
    limit: float | None = None
    limit_name: str = ""

    @property
    def top(self) -> float:
        """Where the scale ends: a round number above everything drawn."""
        most = max(*self.values, self.limit or 0.0)
        step = _round_step(most)
        return ceil(most / step - 1e-9) * step

    @property
    def frame(self) -> dict[str, Any]:
        """Where the drawing's field lies and what it spans."""
        return {
            "key": self.key,
            "x": [LEFT, WIDE - RIGHT],
            "y": [HIGH - FOOT, TOP],
            "opening": self.angles[-1],
            "top": self.top,
            "per": self.per,
        }

    @property
    def svg(self) -> Markup:
        """The drawing."""
        line = "".join(
            f"{'L' if k else 'M'}{self._x(a):.1f} {self._y(v):.1f}"
            for k, (a, v) in enumerate(zip(self.angles, self.values, strict=True))
        )
        limit = Markup("")
        if self.limit is not None:
            y = self._y(self.limit)
            beneath = y < TOP + 14
            limit = Markup(
                '<path class="limit" d="M{:.1f} {:.1f}H{:.1f}"/>'
                '<text class="limit-name" x="{:.1f}" y="{:.1f}">{}</text>'
            ).format(
                LEFT,
                y,
                WIDE - RIGHT,
                WIDE - RIGHT - 4,
                y + (14 if beneath else -5),
                self.limit_name,
            )
        return Markup(
            '<svg class="curve" viewBox="0 0 {:.0f} {:.0f}" role="img" aria-label="{}">'
            '{}{}{}<path class="line" d="{}"/>'
            '<g class="cursor"><path d="M0 {:.1f}V{:.1f}"/><circle r="5"/></g></svg>'
        ).format(
            WIDE,
            HIGH,
            f"{self.title}. {self.says}",
            self._scale_up(),
            self._scale_along(),
            limit,
            line,
            TOP,
            HIGH - FOOT,
        )

    @property
    def summary(self) -> str:
        """Start, end, least and greatest in words."""
        start, end = self.values[0], self.values[-1]
        least, most = min(self.values), max(self.values)
        return (
            f"Closed {shown(start)}, open {shown(end)}, "
            f"least {shown(least)}, greatest {shown(most)} {self.unit}"
        )

    def _x(self, angle: float) -> float:
        return LEFT + (WIDE - LEFT - RIGHT) * angle / self.angles[-1]

    def _y(self, value: float) -> float:
        return HIGH - FOOT - (HIGH - FOOT - TOP) * value / self.top

    def _scale_up(self) -> Markup:
        step = _round_step(self.top)
        ticks = [k * step for k in range(floor(self.top / step + 1e-9) + 1)]
        lines = [
            Markup(
                '<path class="grid" d="M{:.1f} {:.1f}H{:.1f}"/>'
                '<text class="up" x="{:.1f}" y="{:.1f}">{}</text>'
            ).format(LEFT, self._y(v), WIDE - RIGHT, LEFT - 6, self._y(v) + 4.5, shown(v))
            for v in ticks
        ]
        head = Markup('<text class="unit" x="{:.1f}" y="14">{}</text>').format(LEFT - 6, self.unit)
        return Markup("").join([*lines, head])

    def _scale_along(self) -> Markup:
        opening = self.angles[-1]
        step = 15.0 if opening <= 120 else 30.0
        ticks = [k * step for k in range(floor(opening / step + 1e-9) + 1)]
        if opening - ticks[-1] < 0.55 * step and ticks[-1] < opening:
            ticks.pop()
        if ticks[-1] < opening:
            ticks.append(opening)
        marks = [
            Markup('<text class="along" x="{:.1f}" y="{:.1f}">{}&deg;</text>').format(
                self._x(a), HIGH - FOOT + 17, shown(a)
            )
            for a in ticks
        ]
        foot = Markup('<text class="along" x="{:.1f}" y="{:.1f}">opened by</text>').format(
            (LEFT + WIDE - RIGHT) / 2, HIGH - 6
        )
        return Markup("").join([*marks, foot])


def curves(leaf: LeafDesign, units: Units) -> list[Curve]:
    """The four drawings of a leaf."""
    length, force = BARE[units]["length"], BARE[units]["force"]
    long, strong = FACTORS["length"][length], FACTORS["force"][force]
    mount, actuator = leaf.mount, leaf.problem.actuator
    angles = [abs(point.angle) for point in mount.curve]
    leverages = [point.leverage for point in mount.curve]
    need = mount.required_leverage * actuator.thrust  # torque that moving the leaf ever needs
    width = leaf.problem.leaf.width
    return [
        Curve(
            key="leverage",
            title="Leverage",
            unit=length,
            per=long,
            says="How far from the hinge axis the actuator pulls: more moves the leaf more surely.",
            angles=angles,
            values=[r / long for r in leverages],
            limit=mount.required_leverage / long,
            limit_name="needed to move the leaf",
        ),
        Curve(
            key="pin_force",
            title="Force in the pins",
            unit=force,
            per=strong,
            says="What each pin carries while the leaf is moved against the operating wind.",
            angles=angles,
            values=[float(kinematics.pin_force(need, r)) / strong for r in leverages],
            limit=actuator.thrust / strong,
            limit_name="full thrust",
        ),
        Curve(
            key="leaf_speed",
            title="Speed of the leaf",
            unit="\u00b0/s",
            says="Steady actuator, uneven leaf: how fast the leaf turns.",
            angles=angles,
            values=[float(kinematics.leaf_speed(actuator.speed, r)) for r in leverages],
        ),
        Curve(
            key="edge_force",
            title="Force at the latch edge",
            unit=force,
            per=strong,
            says="What the latch edge presses with at full thrust: it can trap and crush.",
            angles=angles,
            values=[
                float(kinematics.torque(actuator.thrust, r)) / width / strong for r in leverages
            ],
        ),
    ]


def _round_step(most: float) -> float:
    """A step of 1, 2 or 5 times a power of ten that gives four to nine steps."""
    if most <= 0:
        return 1.0
    rough = most / 6
    power = 10.0 ** floor(log10(rough))
    return power * next(k for k in (1.0, 2.0, 5.0, 10.0) if k * power >= rough * 0.999)
