"""Where a thing stands: a rigid placement given by its origin and three unit axes.

Units: mm. A frame maps local coordinates (u, v, w) into the surrounding ones.
"""

from dataclasses import dataclass
from math import cos, radians, sin, sqrt, tan

Vector = tuple[float, float, float]


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product a x b."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


@dataclass(frozen=True, slots=True)
class Frame:
    """A right-handed placement: origin, the direction of u, the direction of v."""

    origin: Vector = (0.0, 0.0, 0.0)
    u: Vector = (1.0, 0.0, 0.0)
    v: Vector = (0.0, 1.0, 0.0)

    @property
    def w(self) -> Vector:
        """Direction of the third axis, u x v."""
        return cross(self.u, self.v)

    def direction(self, local: Vector) -> Vector:
        """A local direction in the surrounding frame."""
        (a, b, c), u, v, w = local, self.u, self.v, self.w
        return (
            a * u[0] + b * v[0] + c * w[0],
            a * u[1] + b * v[1] + c * w[1],
            a * u[2] + b * v[2] + c * w[2],
        )

    def point(self, local: Vector) -> Vector:
        """A local point in the surrounding frame."""
        x, y, z = self.direction(local)
        return (x + self.origin[0], y + self.origin[1], z + self.origin[2])

    def after(self, inner: "Frame") -> "Frame":
        """The placement of something that `inner` places inside this frame."""
        return Frame(self.point(inner.origin), self.direction(inner.u), self.direction(inner.v))

    def mirrored(self) -> "Frame":
        """The placement, mirrored in x, of a part that is itself mirrored in its u."""
        (x, y, z), u, v = self.origin, self.u, self.v
        return Frame((-x, y, z), (u[0], -u[1], -u[2]), (-v[0], v[1], v[2]))

    @property
    def matrix(self) -> list[list[float]]:
        """The 4 x 4 matrix of the placement, row by row."""
        columns = (self.u, self.v, self.w, self.origin)
        rows = [[column[i] for column in columns] for i in range(3)]
        return [*rows, [0.0, 0.0, 0.0, 1.0]]


def turned(angle: float, origin: Vector = (0.0, 0.0, 0.0)) -> Frame:
    """A frame at `origin`, turned `angle` degrees about z."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return Frame(origin, (c, s, 0.0), (-s, c, 0.0))


def leaned(toward_x: float, toward_y: float, fixed: Vector) -> Frame:
    """Where an upright thing comes to stand when its axis leans so many degrees to x and to y.

    It is turned about a level axis through `fixed`, without twist.
    """
    a, b = tan(radians(toward_x)), tan(radians(toward_y))
    n = sqrt(1 + a * a + b * b)
    x, y, z = a / n, b / n, 1 / n
    k = 1 / (1 + z)
    about = Frame(fixed, (1 - k * x * x, -k * x * y, -x), (-k * x * y, 1 - k * y * y, -y))
    return about.after(Frame((-fixed[0], -fixed[1], -fixed[2])))


def flipped(height: float) -> Frame:
    """The placement that lays a thing on its face w = `height`: turned over about u."""
    return Frame((0.0, 0.0, height), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
