"""A group of equal fasteners under an eccentric load: elastic and instantaneous centre methods.

Frame: x, y in the plane of the plate, z out of it. Units: N, mm. Points are hole centres.
Sources: AISC Manual part 7 (both methods; R = Rult (1 - exp(-10 D))^0.55 with D in inches, 0.34 in
at the farthest bolt); tension by the plate turning about an edge
or about the centroid as in textbooks. Prying is the plate's business: judging/group.py.
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
    points: Sequence[Point], *, force: Point, at: Point, tolerance: float = 1e-10
) -> float:
    """Coefficient C: the group holds C times one bolt, AISC Manual part 7.

    The centre is found by the elastic method with each bolt's secant stiffness, again and again;
    that settles for every layout because a bolt's stiffness only falls as it slips further.
    A load through the centroid is shared equally and C is the number of bolts.
    """
    cx, cy = centroid(points)
    arm = ((at[0] - cx) * force[1] - (at[1] - cy) * force[0]) / hypot(*force)
    if abs(arm) <= 1e-6 * (polar(points) / len(points)) ** 0.5:
        return float(len(points))
    centre, stiffness = (cx, cy), [1.0] * len(points)
    for _ in range(500):
        moved = _centre_of_turning(points, stiffness, force, at)
        arms = [max(hypot(x - moved[0], y - moved[1]), 1e-9) for x, y in points]
        far = max(arms)
        pulls = [(1 - exp(-10 * LARGEST_SLIP * d / far)) ** 0.55 for d in arms]
        stiffness = [r / d for r, d in zip(pulls, arms, strict=True)]
        if hypot(moved[0] - centre[0], moved[1] - centre[1]) <= tolerance * far:
            about = (at[0] - moved[0]) * force[1] - (at[1] - moved[1]) * force[0]
            held = sum(r * d for r, d in zip(pulls, arms, strict=True))
            return float(held * hypot(*force) / abs(about))
        centre = moved
    raise ArithmeticError("instantaneous centre was not found")


def _centre_of_turning(
    points: Sequence[Point], stiffness: Sequence[float], force: Point, at: Point
) -> Point:
    """Point that an elastic group of unequal stiffness turns about."""
    total = sum(stiffness)
    wx = sum(k * x for k, (x, _) in zip(stiffness, points, strict=True)) / total
    wy = sum(k * y for k, (_, y) in zip(stiffness, points, strict=True)) / total
    spread = sum(
        k * ((x - wx) ** 2 + (y - wy) ** 2) for k, (x, y) in zip(stiffness, points, strict=True)
    )
    moment = (at[0] - wx) * force[1] - (at[1] - wy) * force[0]
    reach = spread / (total * moment)
    return wx - force[1] * reach, wy + force[0] * reach


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
