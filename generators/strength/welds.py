"""Fillet welds: a group as lines (elastic method), strength per length, least and largest leg.

Frame: the weld lies in the plane x, y; z stands out of it. Units: N, mm, MPa; forces per length
in N/mm. Strengths are nominal ("weld").
Sources: AISC 360-16 J2.2b and J2.4; elastic method with the weld treated as a line (textbooks).
"""

from dataclasses import dataclass
from math import ceil, floor, hypot, radians, sin, sqrt

from hangpost.generators.strength.tables import table

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """One straight weld between two points, counted with unit throat."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length of the run."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def middle(self) -> Point:
        """Middle of the run."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


@dataclass(frozen=True, slots=True)
class WeldGroup:
    """Straight runs that act together; inertias are per unit throat (mm3)."""

    runs: tuple[Run, ...]

    @property
    def length(self) -> float:
        """Total length."""
        return sum(run.length for run in self.runs)

    @property
    def centroid(self) -> Point:
        """Centre of the lines."""
        x = sum(run.length * run.middle[0] for run in self.runs) / self.length
        y = sum(run.length * run.middle[1] for run in self.runs) / self.length
        return x, y

    @property
    def inertias(self) -> tuple[float, float, float]:
        """Ix, Iy and Ixy about the centroid."""
        cx, cy = self.centroid
        ix = iy = ixy = 0.0
        for run in self.runs:
            dx, dy = run.end[0] - run.start[0], run.end[1] - run.start[1]
            mx, my = run.middle[0] - cx, run.middle[1] - cy
            ix += run.length * (my**2 + dy**2 / 12)
            iy += run.length * (mx**2 + dx**2 / 12)
            ixy += run.length * (mx * my + dx * dy / 12)
        return ix, iy, ixy

    @property
    def polar(self) -> float:
        """Polar inertia about the centroid."""
        ix, iy, _ = self.inertias
        return ix + iy


def rectangle_group(width: float, height: float) -> WeldGroup:
    """Weld all round a rectangle that is centred on the origin."""
    x, y = width / 2, height / 2
    corners = ((-x, -y), (x, -y), (x, y), (-x, y))
    return WeldGroup(
        tuple(Run(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))
    )


def two_sides_group(length: float, apart: float) -> WeldGroup:
    """Two runs of `length` along x on both sides of a plate, `apart` in y."""
    x, y = length / 2, apart / 2
    return WeldGroup((Run((-x, -y), (x, -y)), Run((-x, y), (x, y))))


def line_force(
    group: WeldGroup,
    *,
    force: tuple[float, float, float],
    moment: tuple[float, float, float],
) -> float:
    """Largest force per length of weld at any run end, elastic method, N/mm.

    `force` acts at the group's centroid, `moment` about it, right-handed; the group must be
    symmetrical about an axis parallel to x or y.
    """
    ix, iy, ixy = group.inertias
    if abs(ixy) > 1e-6 * max(ix, iy):
        raise ValueError("weld group is not symmetrical: turn it to its principal axes")
    cx, cy = group.centroid
    (fx, fy, fz), (mx, my, mz) = force, moment
    worst = 0.0
    for point in {p for run in group.runs for p in (run.start, run.end)}:
        dx, dy = point[0] - cx, point[1] - cy
        along_x = fx / group.length - mz * dy / group.polar
        along_y = fy / group.length + mz * dx / group.polar
        out = fz / group.length
        out += mx * dy / ix if ix else 0.0
        out -= my * dx / iy if iy else 0.0
        worst = max(worst, sqrt(along_x**2 + along_y**2 + out**2))
    return worst


def fillet_strength(electrode: float, leg: float, *, angle: float = 0.0) -> float:
    """Nominal strength per length of a fillet, AISC 360-16 Eq. J2-4, J2-5 ("weld"), N/mm.

    `electrode` is its tensile strength FEXX, `angle` that of the load to the weld's axis;
    0 is the least and right for a group looked at by the elastic method.
    """
    return 0.6 * electrode * direction_factor(angle) * throat(leg)


def direction_factor(angle: float) -> float:
    """Gain of a fillet loaded at an angle to its axis, AISC 360-16 Eq. J2-5."""
    return 1 + 0.5 * float(sin(radians(angle)) ** 1.5)


def base_metal_strength(fu: float, thickness: float) -> float:
    """Nominal shear rupture of the plate beside a weld, AISC 360-16 J4.2(b), N/mm ("rupture")."""
    return 0.6 * fu * thickness


def least_leg(thinner: float) -> float:
    """Least fillet leg by the thickness of the thinner part, AISC 360 Table J2.4."""
    for entry in table("weld_legs").values():
        if thinner <= float(entry["up_to"]) + 1e-9:
            return float(entry["leg"])
    raise ValueError(f"thickness = {thinner:g} mm")


def largest_leg(thickness: float) -> float:
    """Largest fillet leg along a plate's edge, AISC 360-16 J2.2b: t, or t - 2 mm from 6 mm on."""
    return thickness if thickness < 6 else thickness - 2


def usual_leg(plate: float, wall: float, *, step: float) -> float:
    """Leg to weld a plate onto a wall with, both sides: 3/4 of the plate, in whole steps.

    Two such fillets are as strong as a mild plate (memory: Blodgett, Design of Welded Structures,
    rule of thumb). Not less than Table J2.4 asks; not more than the wall, which a larger one burns
    through (house), unless the table asks for it. `step` is what legs are counted in, mm.
    """
    wanted = max(step, ceil(0.75 * plate / step - 1e-6) * step)
    most = floor(wall / step + 1e-6) * step
    return max(min(wanted, most), least_leg(min(plate, wall)))


def throat(leg: float) -> float:
    """Effective throat of an equal-leg fillet, AISC 360-16 J2.2a: leg / sqrt 2."""
    return leg * sqrt(0.5)
