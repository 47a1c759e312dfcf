"""Distances between things seen in plan: bars, boxes and ears, as array expressions.

A bar is a rectangle along a line (the actuator's body): it starts `start` from the pin, ends
`end` from it and reaches `half` to either side. A box has its sides along x and y (a square post,
a wall). An ear is a plate around a pin that
grows from a straight root. All distances are signed: below
zero the two things are in one another, by about that much. Millimetres; any frame, so long as both
are in the same one. Separating axes decide on contact; clear of contact the least distance of two
convex outlines is at a corner of one of them.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

import numpy as np

from hangpost.generators.pivots.kinematics import Array, Real


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle along the axes, grown by a radius `rounding`; a round post is all rounding."""

    xmin: float
    xmax: float
    ymin: float
    ymax: float
    rounding: float = 0.0

    def from_axis(self) -> float:
        """Distance of its nearest point from the origin, the hinge axis; 0 around it."""
        x = max(self.xmin, -self.xmax, 0.0)
        y = max(self.ymin, -self.ymax, 0.0)
        return max(hypot(x, y) - self.rounding, 0.0)

    @property
    def right(self) -> float:
        """Outermost x, rounding included."""
        return self.xmax + self.rounding

    @property
    def left(self) -> float:
        """Innermost x, rounding included."""
        return self.xmin - self.rounding

    @property
    def top(self) -> float:
        """Greatest y, rounding included."""
        return self.ymax + self.rounding

    @property
    def bottom(self) -> float:
        """Least y, rounding included."""
        return self.ymin - self.rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A rectangle along the unit direction (ux, uy) from the point (x, y)."""

    x: Real
    y: Real
    ux: Real
    uy: Real
    start: Real
    end: Real
    half: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ear:
    """A plate from a straight root to a pin, as the band around both: (to_x, to_y) pin to root.

    The root runs along x, `half_root` to either side; `tip` is the plate's radius about the pin.
    """

    to_x: Real
    to_y: Real
    half_root: float
    tip: float


def point_to_box(x: Real, y: Real, box: Box) -> Array:
    """Distance of points to a box, below zero inside it."""
    dx = np.maximum(np.subtract(box.xmin, x), np.subtract(x, box.xmax))
    dy = np.maximum(np.subtract(box.ymin, y), np.subtract(y, box.ymax))
    ox, oy = np.maximum(dx, 0.0), np.maximum(dy, 0.0)
    outside = np.sqrt(ox * ox + oy * oy)
    return np.asarray(outside + np.minimum(np.maximum(dx, dy), 0.0) - box.rounding)


def bar_to_box(bar: Bar, box: Box) -> Array:
    """Distance of bars to a box."""
    ax, ay = np.multiply(bar.half, bar.uy), np.multiply(bar.half, bar.ux)
    sx, sy = bar.x + np.multiply(bar.start, bar.ux), bar.y + np.multiply(bar.start, bar.uy)
    ex, ey = bar.x + np.multiply(bar.end, bar.ux), bar.y + np.multiply(bar.end, bar.uy)
    corners = ((sx - ax, sy + ay), (sx + ax, sy - ay), (ex - ax, ey + ay), (ex + ax, ey - ay))
    square = _least([_square_to_rectangle(x, y, box) for x, y in corners])

    # The box's corners in the bar's own frame, and its gaps along the bar's two directions.
    along, across = [], []
    for x, y in (
        (box.xmin, box.ymin),
        (box.xmin, box.ymax),
        (box.xmax, box.ymin),
        (box.xmax, box.ymax),
    ):
        dx, dy = np.subtract(x, bar.x), np.subtract(y, bar.y)
        s, w = dx * bar.ux + dy * bar.uy, dy * bar.ux - dx * bar.uy
        along.append(s)
        across.append(w)
        ds = np.maximum(np.maximum(bar.start - s, s - bar.end), 0.0)
        dw = np.maximum(np.abs(w) - bar.half, 0.0)
        square = np.minimum(square, ds * ds + dw * dw)
    gap = np.maximum(
        np.maximum(_least(along) - bar.end, bar.start - _most(along)),
        np.maximum(_least(across) - bar.half, -bar.half - _most(across)),
    )
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    gap = np.maximum(gap, np.maximum(_least(xs) - box.xmax, box.xmin - _most(xs)))
    gap = np.maximum(gap, np.maximum(_least(ys) - box.ymax, box.ymin - _most(ys)))
    return np.asarray(np.where(gap > 0.0, np.sqrt(square), gap) - box.rounding)


def bar_to_line(bar: Bar, y: float) -> Array:
    """How far bars stay above the line at height y."""
    lower = np.minimum(np.multiply(bar.start, bar.uy), np.multiply(bar.end, bar.uy))
    return np.asarray(bar.y + lower - bar.half * np.abs(bar.ux) - y)


def bars_to_ear(bars: Iterable[Bar], ear: Ear) -> list[Array]:
    """Distance of bars to the ear of their own pin; never more than it is.

    Only the near end of a bar counts: an ear is far shorter than an actuator. A corner is as
    far off as it is outside the ear's farther edge, or outside its tip when it is beyond both.
    """
    edges = [_edge(ear, side) for side in (1.0, -1.0)]
    return [_bar_to_ear(bar, ear, edges) for bar in bars]


def _edge(ear: Ear, side: float) -> tuple[Array, Array, float]:
    """Which way one edge of the ear looks, and on which side of the pin it is."""
    bx, by = np.add(ear.to_x, side * ear.half_root), np.asarray(ear.to_y)
    root = np.maximum(_size(bx, by), ear.tip)
    cosine = ear.tip / root
    sine = side * np.sqrt(1.0 - cosine * cosine)
    return (cosine * bx - sine * by) / root, (sine * bx + cosine * by) / root, side


def _bar_to_ear(bar: Bar, ear: Ear, edges: list[tuple[Array, Array, float]]) -> Array:
    gap = np.subtract(bar.start, ear.tip)
    for half in (bar.half, -bar.half):
        cx, cy = (
            np.multiply(bar.start, bar.ux) - half * np.asarray(bar.uy),
            np.multiply(bar.start, bar.uy) + half * np.asarray(bar.ux),
        )
        outside = _most([nx * cx + ny * cy for nx, ny, _ in edges])
        # Along an edge from its touching point to the root; below zero is beyond the tip.
        along = _most([side * (ny * cx - nx * cy) for nx, ny, side in edges])
        corner = np.where(along < 0.0, _size(cx, cy), outside)
        gap = np.minimum(gap, corner - ear.tip)
    qx = np.multiply(ear.to_x, bar.ux) + np.multiply(ear.to_y, bar.uy)
    qy = np.abs(np.multiply(ear.to_y, bar.ux) - np.multiply(ear.to_x, bar.uy))
    crosses = (qx > bar.start) & (np.multiply(bar.start, qy) < bar.half * qx)
    return np.asarray(np.where(crosses, np.minimum(gap, -ear.tip), gap))


def _size(x: Array, y: Array) -> Array:
    """Length of vectors; numpy's hypot takes five times as long and this runs a million times."""
    return np.asarray(np.sqrt(x * x + y * y))


def _square_to_rectangle(x: Array, y: Array, box: Box) -> Array:
    dx = np.maximum(np.maximum(box.xmin - x, x - box.xmax), 0.0)
    dy = np.maximum(np.maximum(box.ymin - y, y - box.ymax), 0.0)
    return np.asarray(dx * dx + dy * dy)


def _least(arrays: list[Array]) -> Array:
    least = arrays[0]
    for array in arrays[1:]:
        least = np.minimum(least, array)
    return least


def _most(arrays: list[Array]) -> Array:
    most = arrays[0]
    for array in arrays[1:]:
        most = np.maximum(most, array)
    return most
