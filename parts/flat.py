"""What a cutter, a driller and a checker need to know of a flat piece: outline, holes, bends.

Frame: u to the right, v up, as one looks at the face that is marked. Units: mm, degrees.
A hole is declared once, in its part, and everything else (solid, cut file, template,
drawing, checks) reads that declaration.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count
from math import isfinite, pi
from typing import Literal

from hangpost.parts.loop import Loop, Point, slot

Use = Literal["post", "leaf", "latch", "pin", "join", "tie", "cable", "sleeve"]


class ParameterError(ValueError):
    """Parameters that cannot make a sound part: one line for each broken rule."""


Rule = tuple[str, float, float, str]  # name, value, least value, reason


def broken(part: str, *rules: Rule, unit: str = "mm") -> list[str]:
    """One line for every rule (name, value, least value, reason) that fails."""
    return [
        f"{part}: {name} = {value:g} {unit}, needs at least {least:g} {unit} ({why})"
        for name, value, least, why in rules
        if not (isfinite(value) and value >= least - 1e-9)  # written so that nan fails too
    ]


def refuse(lines: list[str]) -> None:
    """Raise ParameterError with every line, if there is any."""
    if lines:
        raise ParameterError("\n".join(lines))


def require(part: str, *rules: Rule) -> None:
    """Raise ParameterError naming every rule, all in mm, that fails."""
    refuse(broken(part, *rules))


def marks() -> Iterator[str]:
    """Marks for fastener holes, A B C ..., without the letters of pins and those like figures."""
    for turn in count(1):
        for letter in "ABCDEFGHJKLMNRSTUVWXYZ":
            yield letter if turn == 1 else f"{letter}{turn}"


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole, or a slot when `slot_length` is not 0; `use` says what goes through.

    `slot_length` is the distance between the two arc centres, `slot_angle` counts from +u.
    """

    name: str
    u: float
    v: float
    diameter: float
    use: Use
    slot_length: float = 0.0
    slot_angle: float = 0.0

    @property
    def area(self) -> float:
        """Area of the opening."""
        return pi * self.diameter**2 / 4 + self.diameter * self.slot_length

    def drilled(self, least: float) -> bool:
        """Whether it is left to the drill where no round hole smaller than `least` is cut."""
        return not self.slot_length and self.diameter < least - 1e-9

    @property
    def cross(self) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
        """Two lines through its centre that its own drill takes away again."""
        u, v, arm = self.u, self.v, 0.4 * self.diameter
        return (((u - arm, v), (u + arm, v)), ((u, v - arm), (u, v + arm)))

    @property
    def loop(self) -> Loop:
        """Its edge as a loop."""
        return slot(self.u, self.v, self.diameter, self.slot_length, self.slot_angle)

    def moved(self, du: float, dv: float) -> "Hole":
        """The same hole shifted."""
        return replace(self, u=self.u + du, v=self.v + dv)

    def mirrored(self, *, across_u: bool) -> "Hole":
        """Mirror image: u changes sign, or v when `across_u` is false."""
        su, sv = (-1.0, 1.0) if across_u else (1.0, -1.0)
        angle = -self.slot_angle if self.slot_angle else 0.0
        return replace(self, u=su * self.u, v=sv * self.v, slot_angle=angle)


@dataclass(frozen=True, slots=True)
class Bend:
    """One bend on the flat: the line under the punch, what it turns and how much it takes."""

    start: Point
    end: Point
    angle: float  # how far the flange turns out of the plane, degrees
    radius: float  # inside
    allowance: float  # length of the neutral fibre through the bend
    up: bool  # towards the viewer of the marked face


@dataclass(frozen=True, slots=True)
class FlatPattern:
    """The only description of a piece to be cut; solid, cut file and drawing agree with it."""

    thickness: float
    outline: Loop
    windows: tuple[Loop, ...] = ()  # openings that are not holes, counter-clockwise too
    holes: tuple[Hole, ...] = ()
    bends: tuple[Bend, ...] = ()
    marked: tuple[Hole, ...] = ()  # marked for the drill and not cut

    def as_cut(self, least: float) -> "FlatPattern":
        """The pattern with its round holes smaller than `least` marked instead of cut."""
        small = [hole for hole in self.holes if hole.drilled(least)]
        kept = tuple(hole for hole in self.holes if hole not in small)
        return replace(self, holes=kept, marked=(*self.marked, *small))

    @property
    def length(self) -> float:
        """Overall size along u."""
        left, _, right, _ = self.outline.bounds
        return right - left

    @property
    def width(self) -> float:
        """Overall size along v."""
        _, bottom, _, top = self.outline.bounds
        return top - bottom

    @property
    def area(self) -> float:
        """Net area of the blank, windows and the holes that are cut taken out."""
        openings = sum(w.area for w in self.windows) + sum(h.area for h in self.holes)
        return self.outline.area - openings

    def at_corner(self) -> "FlatPattern":
        """The pattern shifted so that its lower left corner of the bounds is the origin."""
        left, bottom, _, _ = self.outline.bounds
        du, dv = -left, -bottom
        return FlatPattern(
            thickness=self.thickness,
            outline=self.outline.moved(du, dv),
            windows=tuple(w.moved(du, dv) for w in self.windows),
            holes=tuple(h.moved(du, dv) for h in self.holes),
            marked=tuple(h.moved(du, dv) for h in self.marked),
            bends=tuple(
                replace(
                    b,
                    start=(b.start[0] + du, b.start[1] + dv),
                    end=(b.end[0] + du, b.end[1] + dv),
                )
                for b in self.bends
            ),
        )
