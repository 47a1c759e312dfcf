"""Convex outlines by their corners: how far apart, turned, drawn around points.

Plan frame, mm, degrees. Corners in order, either way round.
"""

from math import cos, pi, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.pivots.kinematics import Array, turned
from hangpost.generators.pivots.plan_shapes import Box

Corners = list[tuple[float, float]]
ROUND: Final = 24  # corners that stand for a round thing


def distance(a: Array, b: Array) -> Array:
    """Least distance of convex outlines given by their corners in order; 0 where they meet.

    Outlines are (n, 2) and (m, 2), or as many of both as there are places: (k, n, 2), (k, m, 2).
    """
    near = np.minimum(_corners_to_sides(a, b), _corners_to_sides(b, a))
    return np.where(_apart(a, b) | _apart(b, a), near, 0.0)


def _apart(a: Array, b: Array) -> NDArray[np.bool_]:
    """Whether one of the first outline's sides has all of the second on its outer side."""
    run = np.roll(a, -1, axis=-2) - a
    after = np.roll(a, -1, axis=-2)
    area = (a[..., 0] * after[..., 1] - after[..., 0] * a[..., 1]).sum(axis=-1)
    outward = np.sign(area)[..., None, None] * np.stack((run[..., 1], -run[..., 0]), axis=-1)
    beyond = outward @ np.swapaxes(b, -1, -2) - (outward * a).sum(axis=-1)[..., None]
    return np.asarray((beyond.min(axis=-1) > 0.0).any(axis=-1))


def _corners_to_sides(a: Array, b: Array) -> Array:
    run = (np.roll(b, -1, axis=-2) - b)[..., None, :, :]
    off = a[..., :, None, :] - b[..., None, :, :]
    share = np.clip((off * run).sum(axis=-1) / np.maximum((run * run).sum(axis=-1), 1e-12), 0, 1)
    square = np.square(off - share[..., None] * run).sum(axis=-1)
    return np.asarray(np.sqrt(square.min(axis=(-1, -2))))


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
