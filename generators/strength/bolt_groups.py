"""A group of equal fasteners under an eccentric load: elastic and instantaneous centre methods.

Frame: x, y in the plane of the plate, z out of it. Units: N, mm. Points are hole centres.
Sources: AISC Manual part 7 (both methods; R = Rult (1 - exp(-10 D))^0.55 with D in inches, 0.34 in
at the farthest bolt); Brandt's iteration for the centre; tension by the plate turning about an edge
or about the centroid as in textbooks. Prying is left out, and said so wherever it is reported.
"""

from collections.abc import Sequence
from math import exp, hypot

Point = tuple[float, float]

LARGEST_SLIP = 0.34  # inch, the deformation at which a bolt fails in the method's tests


def centroid(points: Sequence[Point]) -> Point:
    """Centre of the fasteners."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def polar(points: Sequence[Point]) -> float:
    """Sum of squared distances from the centroid."""
    cx, cy = centroid(points)
    return sum((x - cx) ** 2 + (y - cy) ** 2 for x, y in points)


def elastic_shear(
    points: Sequence[Point], *, force: Point, at: Point, twist: float = 0.0
) -> tuple[Point, ...]:
    """Force that each fastener receives from `force` acting at `at`, elastic superposition.

    `twist` is a further moment about z. A single fastener can't take a moment: it is ignored
    there only if it is 0.
    """
    cx, cy = centroid(points)
    moment = twist + (at[0] - cx) * force[1] - (at[1] - cy) * force[0]
    spread, n = polar(points), len(points)
    if spread == 0:
        if abs(moment) > 1e-9 * (1 + hypot(*force)):
            raise ValueError("one fastener cannot hold a moment")
        return tuple((force[0] / n, force[1] / n) for _ in points)
    return tuple(
        (
            force[0] / n - moment * (y - cy) / spread,
            force[1] / n + moment * (x - cx) / spread,
        )
        for x, y in points
    )


def largest(forces: Sequence[Point]) -> float:
    """Largest resultant of the fasteners' forces."""
    return max(hypot(*f) for f in forces)


def instantaneous_centre(
    points: Sequence[Point], *, force: Point, at: Point, tolerance: float = 1e-9
) -> float:
    """Coefficient C: the group holds C times one bolt, AISC Manual part 7, by Brandt's iteration.

    The load's line must miss the centroid; on it every bolt carries the same and C is their number.
    """
    cx, cy = centroid(points)
    size = hypot(*force)
    moment = (at[0] - cx) * force[1] - (at[1] - cy) * force[0]
    if abs(moment) <= 1e-6 * size * (polar(points) / len(points)) ** 0.5:
        return float(len(points))
    spread, n = polar(points), len(points)
    x0, y0 = cx - force[1] * spread / (n * moment), cy + force[0] * spread / (n * moment)
    for _ in range(2000):
        arms = [(x - x0, y - y0, hypot(x - x0, y - y0)) for x, y in points]
        far = max(d for _, _, d in arms)
        pull = [(1 - exp(-10 * LARGEST_SLIP * d / far)) ** 0.55 for *_, d in arms]
        about = (at[0] - x0) * force[1] - (at[1] - y0) * force[0]
        scale = about / sum(r * d for r, (*_, d) in zip(pull, arms, strict=True))
        # each bolt takes its part of the load square to its arm from the centre
        taken = [
            (-scale * r * dy / d, scale * r * dx / d) if d else (0.0, 0.0)
            for r, (dx, dy, d) in zip(pull, arms, strict=True)
        ]
        miss_x = force[0] - sum(t[0] for t in taken)
        miss_y = force[1] - sum(t[1] for t in taken)
        if hypot(miss_x, miss_y) <= tolerance * size:
            return float(size / abs(scale))
        x0 -= miss_y * spread / (n * moment)
        y0 += miss_x * spread / (n * moment)
    raise ArithmeticError("instantaneous centre was not found")


def tilting_tension(heights: Sequence[float], moment: float, *, pull: float = 0.0) -> float:
    """Largest bolt tension when a plate tilts about its edge at height 0: textbook method.

    `heights` are the bolts' distances from that edge; `pull` is shared equally.
    """
    return abs(moment) * max(heights) / sum(h**2 for h in heights) + pull / len(heights)


def overturning_tension(
    points: Sequence[Point], *, pull: float, moment_x: float, moment_y: float
) -> tuple[float, ...]:
    """Tension in each fastener by the plane that balances a pull and moments about the centroid.

    Positive is tension; a negative figure is pressure that the seat takes. The plane through the
    centroid needs no contact and gives more tension than tilting about an edge does.
    """
    cx, cy = centroid(points)
    ix = sum((y - cy) ** 2 for _, y in points)
    iy = sum((x - cx) ** 2 for x, _ in points)
    if (moment_x and not ix) or (moment_y and not iy):
        raise ValueError("fasteners in one line cannot hold a moment about that line")
    return tuple(
        pull / len(points)
        + (moment_x * (y - cy) / ix if ix else 0.0)
        - (moment_y * (x - cx) / iy if iy else 0.0)
        for x, y in points
    )
