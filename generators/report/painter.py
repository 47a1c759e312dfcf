"""A small painter of solids: triangles in, a shaded picture with outlines out.

It needs no display, no graphics driver and no library but numpy, so that a pack looks the same
on every machine. Parallel projection; each pixel keeps the triangle nearest to the eye; lines are
drawn where the thing, or the direction of its surface, changes from one pixel to the next. The
picture is painted several times too large and then averaged, so that edges are smooth.
Frame: mm, z up.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

Colour = tuple[float, float, float]
Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Words = NDArray[np.uint32]  # a colour each: red, green, blue and a byte to spare

FINER: Final = 2  # pixels painted for each pixel shown, each way
ROOM: Final = 0.04  # share of the picture left free around the things
CREASE: Final = cos(radians(24.0))  # a line where the surface turns by more than this
STEP: Final = 4.0  # pixels: a line where one surface stands so far before another
LINE: Final = (0.10, 0.12, 0.15)
PAPER: Final = (1.0, 1.0, 1.0)
LIGHT: Final = (-0.35, 0.80, 0.49)  # direction to the lamp, as the eye sees: right, up, towards it
DEPTHS: Final = 2**30  # steps of depth
NUMBERS: Final = 24  # bits kept for the number of a triangle
BATCH: Final = 2**16  # pixels
BYTES: Final = np.uint32(0x00FF00FF)  # every other byte of a word
SHIFTS: Final = (np.uint32(0), np.uint32(8))
HALVES: Final = np.uint32(0x00020002)  # half of FINER * FINER in each of them: means are rounded


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
    keys = _nearest(scene, columns, rows)
    colours = np.array([thing.colour for thing in things])
    number = keys & (2**NUMBERS - 1)
    painted = _shaded(scene, colours, number)
    painted.ravel()[_outlined(scene, keys, number)] = _word(np.array([LINE]))
    return _averaged(painted)


def _averaged(large: Words) -> NDArray[np.uint8]:
    """Each pixel shown as the mean of those painted for it, as (rows, columns, RGB)."""
    # Two of the four bytes of a word at a time, each with room for the sum of four.
    even, odd = (_squares((large >> by) & BYTES) + HALVES for by in SHIFTS)
    mean = ((even >> 2) & BYTES) | ((odd << 6) & ~BYTES)
    rows, columns = mean.shape
    return mean.view(np.uint8).reshape(rows, columns, 4)[:, :, :3]


def _squares(large: Words) -> Words:
    """The sum of each square of pixels."""
    down = sum(large[k::FINER] for k in range(1, FINER)) + large[::FINER]
    return np.asarray(sum(down[:, k::FINER] for k in range(1, FINER)) + down[:, ::FINER])


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


def _nearest(scene: _Scene, columns: int, rows: int) -> Whole:
    """For each pixel the depth and number of the nearest triangle in one key.

    Where there is none the depth is negative, and the number that after the last.
    """
    x, y, z = (scene.corners[:, :, k] for k in range(3))
    top = np.clip(np.ceil(y.min(axis=1) - 0.5), 0, rows).astype(np.int64)
    bottom = np.clip(np.floor(y.max(axis=1) - 0.5) + 1, 0, rows).astype(np.int64)
    tri, row = _counted(top, bottom)
    start, end = _crossed(x[tri], y[tri], row.astype(np.float64) + 0.5)
    first = np.clip(np.ceil(start - 0.5), 0, columns).astype(np.int64)
    last = np.clip(np.floor(end - 0.5) + 1, 0, columns).astype(np.int64)

    # The triangle's plane: depth = z0 + a (x - x0) + b (y - y0).
    dx1, dx2 = x[:, 1] - x[:, 0], x[:, 2] - x[:, 0]
    dy1, dy2 = y[:, 1] - y[:, 0], y[:, 2] - y[:, 0]
    dz1, dz2 = z[:, 1] - z[:, 0], z[:, 2] - z[:, 0]
    area = dx1 * dy2 - dx2 * dy1
    area = np.where(area == 0, 1.0, area)
    a, b = (dz1 * dy2 - dz2 * dy1) / area, (dx1 * dz2 - dx2 * dz1) / area
    at = z[:, 0] + a * (0.5 - x[:, 0]) + b * (0.5 - y[:, 0])
    begin, slope = at[tri] + b[tri] * row, a[tri]

    nothing = (-1 << NUMBERS) + len(x)
    keys = np.full(rows * columns, nothing, dtype=np.int64)
    reached = np.cumsum(np.maximum(last - first, 0))
    for some in _batches(reached):  # few pixels at a time stay close to the processor
        line, column = _counted(first[some], last[some])
        depth = (begin[some][line] + slope[some][line] * column).clip(0.0, 1.0)
        # Depth above, number of the triangle below: the greatest such number wins the pixel.
        key = ((depth * DEPTHS).astype(np.int64) << NUMBERS) + tri[some][line]
        np.maximum.at(keys, (row[some] * columns)[line] + column, key)
    return keys.reshape(rows, columns)


def _batches(reached: Whole) -> Iterator[slice]:
    """Runs of lines of some BATCH pixels each; `reached` counts the pixels up to each line."""
    total = int(reached[-1]) if len(reached) else 0
    ends = np.searchsorted(reached, np.arange(0, total + BATCH, BATCH), side="right")
    yield from (slice(one, two) for one, two in pairwise([0, *ends.tolist()]))


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


def _shaded(scene: _Scene, colours: Array, number: Whole) -> Words:
    """Every pixel in the colour of its thing, lighter where the surface looks to the lamp."""
    lamp = np.array(LIGHT) / np.sqrt(sum(part * part for part in LIGHT))
    facing = np.maximum(_along(scene.normals, lamp), 0.0)
    grey = 0.72 + 0.22 * scene.normals[:, 2] + 0.34 * facing
    of_triangle = (colours[scene.owner] * grey[:, None]).clip(0.0, 1.0)
    return _word(np.concatenate([of_triangle, [PAPER]]))[number]


def _word(colours: Array) -> Words:
    """Colours (n, RGB from 0 to 1) as four bytes in one number, for quick copying."""
    parts = np.zeros((len(colours), 4), dtype=np.uint8)
    parts[:, :3] = np.rint(colours * 255.0)
    return parts.view(np.uint32)[:, 0]


def _outlined(scene: _Scene, keys: Whole, number: Whole) -> Whole:
    """The places of the pixels in which a line stands."""
    owner = np.concatenate([scene.owner, [-1]])
    normals = np.concatenate([scene.normals, [[0.0, 0.0, 0.0]]])
    flat, numbers, width = keys.ravel(), number.ravel(), keys.shape[1]
    found = []
    for here, there, step in (
        (np.s_[:, :-1], np.s_[:, 1:], 1),
        (np.s_[:-1, :], np.s_[1:, :], width),
    ):
        # Most neighbours show the same triangle: only the others are looked at closely.
        row, column = np.nonzero(number[here] != number[there])
        one = row * width + column
        two = one + step
        of_one, of_two = numbers[one], numbers[two]
        a, b = normals[of_one], normals[of_two]
        turned = np.einsum("ij,ij->i", a, b) < CREASE
        # On one surface the depth changes by less than a pixel over the cosine of its slope.
        level = np.maximum(np.minimum(a[:, 2], b[:, 2]), 0.05)
        jump = np.abs((flat[one] >> NUMBERS) - (flat[two] >> NUMBERS)) * (scene.deep / DEPTHS)
        line = (owner[of_one] != owner[of_two]) | turned | (jump * level > STEP)
        found += [one[line], two[line]]
    return np.concatenate(found)
