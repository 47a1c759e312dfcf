"""Convex outlines by their corners: how far apart, turned, drawn around points.

Plan frame, mm, degrees. Corners in order, either way round.
"""

from math import cos, pi, sin
from typing import Final

import numpy as np

from hangpost.generators.pivots.kinematics import Array, turned
from hangpost.generators.pivots.plan_shapes import Box

Corners = list[tuple[float, float]]
ROUND: Final = 24  # corners that stand for a round thing


def distance(a: Array, b: Array) -> float:
    """Least distance of two convex outlines given by their corners in order; 0 where they meet."""
    if _apart(a, b) or _apart(b, a):
        return min(_corners_to_sides(a, b), _corners_to_sides(b, a))
    return 0.0


def _apart(a: Array, b: Array) -> bool:
    """Whether one of the first outline's sides has all of the second on its outer side."""
    run = np.roll(a, -1, axis=0) - a
    area = float(np.sum(a[:, 0] * np.roll(a[:, 1], -1) - np.roll(a[:, 0], -1) * a[:, 1]))
    outward = np.sign(area) * np.stack((run[:, 1], -run[:, 0]), axis=1)
    beyond = outward @ b.T - np.sum(outward * a, axis=1)[:, None]
    return bool((beyond.min(axis=1) > 0.0).any())


def _corners_to_sides(a: Array, b: Array) -> float:
    run = np.roll(b, -1, axis=0) - b
    off = a[:, None, :] - b[None, :, :]
    share = np.clip((off * run).sum(axis=2) / np.maximum((run * run).sum(axis=1), 1e-12), 0.0, 1.0)
    return float(np.sqrt(np.square(off - share[:, :, None] * run).sum(axis=2)).min())


def turn(corners: Corners, angle: float) -> Array:
    """Corners turned about the origin by an angle in degrees."""
    xy = np.array(corners)
    return np.stack(turned(xy[:, 0], xy[:, 1], angle), axis=1)


def box_corners(box: Box) -> Corners:
    """The corners of a box; a rounded one is told by circumscribed corners."""
    if box.rounding <= 0.0:
        return [
            (box.xmin, box.ymin),
            (box.xmax, box.ymin),
            (box.xmax, box.ymax),
            (box.xmin, box.ymax),
        ]
    discs = [disc(x, y, box.rounding) for x in (box.xmin, box.xmax) for y in (box.ymin, box.ymax)]
    return outline([point for disc in discs for point in disc])


def disc(x: float, y: float, r: float) -> Corners:
    """Corners around a disc, so that a gap is never told wider than it is."""
    outer = r / cos(pi / ROUND)
    turns = [2.0 * pi * k / ROUND for k in range(ROUND)]
    return [(x + outer * cos(t), y + outer * sin(t)) for t in turns]


def outline(points: Corners) -> Corners:
    """The convex outline of points, anticlockwise (Andrew's monotone chain)."""

    def half(run: Corners) -> Corners:
        kept: Corners = []
        for x, y in run:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2], kept[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0:
                    break
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    ordered = sorted(set(points))
    return half(ordered) + half(ordered[::-1])
