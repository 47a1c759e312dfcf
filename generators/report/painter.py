"""A small painter of solids: triangles in, a shaded picture with outlines out.

It needs no display, no graphics driver and no library but numpy, so that a pack looks the same
on every machine. Parallel projection; each pixel keeps the triangle nearest to the eye; lines are
drawn where the thing, or the direction of its surface, changes from one pixel to the next. The
picture is painted several times too large and then averaged, so that edges are smooth.
Frame: mm, z up.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

Colour = tuple[float, float, float]
Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Drawn = NDArray[np.float32]

FINER: Final = 2  # pixels painted for each pixel shown, each way
ROOM: Final = 0.04  # share of the picture left free around the things
CREASE: Final = cos(radians(24.0))  # a line where the surface turns by more than this
STEP: Final = 4.0  # pixels: a line where one surface stands so far before another
LINE: Final = (0.10, 0.12, 0.15)
PAPER: Final = (1.0, 1.0, 1.0)
LIGHT: Final = (-0.35, 0.80, 0.49)  # direction to the lamp, as the eye sees: right, up, towards it
DEPTHS: Final = 2**30  # steps of depth
NUMBERS: Final = 24  # bits kept for the number of a triangle


@dataclass(frozen=True, slots=True, eq=False)
class Thing:
    """A closed mesh where it stands, and its colour (0 to 1)."""

    vertices: Array
    faces: Whole
    colour: Colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """From where one looks: `turn` degrees about z from straight on (-y), `rise` above level."""

    turn: float = 30.0
    rise: float = 25.0

    @property
    def axes(self) -> Array:
        """Rows: to the right, upwards, towards the eye."""
        a, b = radians(self.turn), radians(self.rise)
        ca, sa, cb, sb = cos(a), sin(a), cos(b), sin(b)
        return np.array([[ca, sa, 0.0], [-sa * sb, ca * sb, cb], [sa * cb, -ca * cb, sb]])


@dataclass(frozen=True, slots=True, eq=False)
class _Scene:
    """All triangles as the eye sees them: corners in pixels and depth, direction, owner."""

    corners: Array  # (n, 3, 3)
    normals: Array  # (n, 3)
    owner: Whole  # (n,)
    deep: float  # pixels from the farthest point (depth 0) to the nearest (depth 1)


def paint(
    things: Sequence[Thing],
    camera: Camera,
    width: int,
    height: int,
    *,
    focus: Sequence[Thing] = (),
) -> NDArray[np.uint8]:
    """The picture as (rows, columns, RGB): as large as what is in `focus`, or all, fits in."""
    columns, rows = width * FINER, height * FINER
    scene = _seen(things, focus or things, camera, columns, rows)
    nearest, depth = _nearest(scene, columns, rows)
    colours = np.array([thing.colour for thing in things])
    painted = _shaded(scene, colours, nearest)
    painted[_outlined(scene, nearest, depth)] = _word(np.array([LINE]))
    return _averaged(painted.view(np.uint8).reshape(rows, columns, 4)[:, :, :3])


def _averaged(large: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Each pixel shown as the mean of those painted for it."""
    total = np.zeros((large.shape[0] // FINER, large.shape[1] // FINER, 3), dtype=np.uint16)
    for i in range(FINER):
        for j in range(FINER):
            total += large[i::FINER, j::FINER]
    return ((total + FINER * FINER // 2) // (FINER * FINER)).astype(np.uint8)


def _seen(
    things: Sequence[Thing], focus: Sequence[Thing], camera: Camera, columns: int, rows: int
) -> _Scene:
    """The things turned before the eye and scaled so that the focus fills the picture."""
    turned = [_before(camera, t.vertices) for t in things]
    wanted = np.concatenate([_before(camera, t.vertices) for t in focus])
    low, high = wanted.min(axis=0), wanted.max(axis=0)
    span = np.maximum(high - low, 1e-6)
    scale = min(columns / span[0], rows / span[1]) * (1.0 - 2.0 * ROOM)
    middle = (low + high) / 2
    farthest = min(float(points[:, 2].min()) for points in turned)
    deep = max(max(float(points[:, 2].max()) for points in turned) - farthest, 1e-6)
    corners = np.concatenate([points[t.faces] for points, t in zip(turned, things, strict=True)])
    sides = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(sides, axis=1)
    owner = np.repeat(np.arange(len(things)), [len(t.faces) for t in things])
    # Only what faces the eye; closed bodies hide their own backs.
    front = sides[:, 2] > 1e-9 * np.maximum(lengths, 1e-12)
    shown = (corners[front] - middle) * np.array([scale, -scale, 1.0])
    shown += np.array([columns / 2, rows / 2, middle[2]])
    shown[:, :, 2] = (shown[:, :, 2] - farthest) / deep  # 0 farthest, 1 nearest
    return _Scene(shown, sides[front] / lengths[front, None], owner[front], deep * scale)


def _before(camera: Camera, points: Array) -> Array:
    """Points as the eye sees them: right, up, nearer."""
    # By hand and not by a matrix product: its rounding differs from machine to machine.
    return np.stack([_along(points, way) for way in camera.axes], axis=1)


def _along(points: Array, way: Array) -> Array:
    return np.asarray(points[:, 0] * way[0] + points[:, 1] * way[1] + points[:, 2] * way[2])


def _nearest(scene: _Scene, columns: int, rows: int) -> tuple[NDArray[np.int32], Drawn]:
    """For each pixel the number of the nearest triangle, -1 for none, and its depth."""
    x, y, z = (scene.corners[:, :, k] for k in range(3))
    top = np.clip(np.ceil(y.min(axis=1) - 0.5), 0, rows).astype(np.int64)
    bottom = np.clip(np.floor(y.max(axis=1) - 0.5) + 1, 0, rows).astype(np.int64)
    tri, row = _counted(top, bottom)
    start, end = _crossed(x[tri], y[tri], row.astype(np.float64) + 0.5)
    first = np.clip(np.ceil(start - 0.5), 0, columns).astype(np.int64)
    last = np.clip(np.floor(end - 0.5) + 1, 0, columns).astype(np.int64)
    line, column = _counted(first, last)
    tri, row = tri[line], row[line]

    # The triangle's plane: depth = z0 + a (x - x0) + b (y - y0).
    dx1, dx2 = x[:, 1] - x[:, 0], x[:, 2] - x[:, 0]
    dy1, dy2 = y[:, 1] - y[:, 0], y[:, 2] - y[:, 0]
    dz1, dz2 = z[:, 1] - z[:, 0], z[:, 2] - z[:, 0]
    area = dx1 * dy2 - dx2 * dy1
    area = np.where(area == 0, 1.0, area)
    a, b = (dz1 * dy2 - dz2 * dy1) / area, (dx1 * dz2 - dx2 * dz1) / area
    at = z[:, 0] + a * (0.5 - x[:, 0]) + b * (0.5 - y[:, 0])
    depth = (at[tri] + a[tri] * column + b[tri] * row).clip(0.0, 1.0)

    # Depth above, number of the triangle below: the greatest such number wins the pixel.
    key = ((depth * DEPTHS).astype(np.int64) << NUMBERS) + tri
    best = np.full(rows * columns, -1, dtype=np.int64)
    np.maximum.at(best, row * columns + column, key)
    number = np.where(best < 0, -1, best & (2**NUMBERS - 1)).astype(np.int32)
    deep = (best >> NUMBERS).astype(np.float32) / np.float32(DEPTHS)
    return number.reshape(rows, columns), deep.reshape(rows, columns)


def _counted(first: Whole, last: Whole) -> tuple[Whole, Whole]:
    """For each range its own number, repeated, and every whole number in it."""
    counts = np.maximum(last - first, 0)
    owner = np.repeat(np.arange(len(first)), counts)
    begins = np.cumsum(counts) - counts
    return owner, np.arange(len(owner)) - begins[owner] + first[owner]


def _crossed(x: Array, y: Array, level: Array) -> tuple[Array, Array]:
    """Where a level line enters and leaves each triangle."""
    start, end = np.full(len(level), np.inf), np.full(len(level), -np.inf)
    for i, j in ((0, 1), (1, 2), (2, 0)):
        rise = y[:, j] - y[:, i]
        share = (level - y[:, i]) / np.where(rise == 0, 1.0, rise)
        at = x[:, i] + share * (x[:, j] - x[:, i])
        meets = (rise != 0) & (share >= 0) & (share <= 1)
        start = np.where(meets, np.minimum(start, at), start)
        end = np.where(meets, np.maximum(end, at), end)
    none = end < start
    return np.where(none, 0.0, start), np.where(none, -1.0, end)


def _shaded(scene: _Scene, colours: Array, nearest: NDArray[np.int32]) -> NDArray[np.uint32]:
    """Every pixel in the colour of its thing, lighter where the surface looks to the lamp."""
    lamp = np.array(LIGHT) / np.sqrt(sum(part * part for part in LIGHT))
    facing = np.maximum(_along(scene.normals, lamp), 0.0)
    grey = 0.72 + 0.22 * scene.normals[:, 2] + 0.34 * facing
    of_triangle = (colours[scene.owner] * grey[:, None]).clip(0.0, 1.0)
    return _word(np.concatenate([of_triangle, [PAPER]]))[nearest]


def _word(colours: Array) -> NDArray[np.uint32]:
    """Colours (n, RGB from 0 to 1) as four bytes in one number, for quick copying."""
    parts = np.zeros((len(colours), 4), dtype=np.uint8)
    parts[:, :3] = np.rint(colours * 255.0)
    return parts.view(np.uint32)[:, 0]


def _outlined(scene: _Scene, nearest: NDArray[np.int32], depth: Drawn) -> NDArray[np.bool_]:
    """Pixels in which a line stands."""
    owner = np.concatenate([scene.owner, [-1]]).astype(np.int16)[nearest]
    normals = np.concatenate([scene.normals, [[0.0, 0.0, 0.0]]])
    line = np.zeros(nearest.shape, dtype=bool)
    for here, there in (
        (np.s_[:, :-1], np.s_[:, 1:]),
        (np.s_[:-1, :], np.s_[1:, :]),
    ):
        one, two = nearest[here], nearest[there]
        differ = owner[here] != owner[there]
        # Most neighbours show the same triangle: only the others are looked at closely.
        other = (one != two) & ~differ
        a, b = normals[one[other]], normals[two[other]]
        turned = np.einsum("ij,ij->i", a, b) < CREASE
        # On one surface the depth changes by less than a pixel over the cosine of its slope.
        level = np.maximum(np.minimum(a[:, 2], b[:, 2]), 0.05)
        jump = np.abs(depth[here][other] - depth[there][other]) * scene.deep
        stepped = jump * level > STEP
        differ[other] = turned | stepped
        line[here] |= differ
        line[there] |= differ
    return line
