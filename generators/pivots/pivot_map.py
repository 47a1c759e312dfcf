"""Where the post pivot may go: the usable region of the plan, its edges by name, the leverage.

Every point of the map is a post pivot; the leaf pivot that belongs to it is tied as always. The
region is where every constraint is kept, each piece of its outline belongs to the constraint that
is tightest there. Inside it lies the part where 99 of 100 gates keep every limit whatever tape,
drill and brake do. For a gate with no usable pivot the map shows the constraints that exclude
each other, each with the places where it is kept. A fixed post pivot is shown among the places it
might have had. Plan frame, mm.
"""

from dataclasses import asdict, dataclass, replace
from itertools import pairwise
from typing import Any, Final

import numpy as np

from hangpost.generators.pivots.constraints import CONSTRAINTS, least_over
from hangpost.generators.pivots.contours import Line, Point, lines, rings
from hangpost.generators.pivots.errors import Source
from hangpost.generators.pivots.excluding import exclude
from hangpost.generators.pivots.kinematics import Array
from hangpost.generators.pivots.linear import propagate, worst_spare
from hangpost.generators.pivots.map_fields import fields_of, scale_of, tame, tied_pairs, window
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem

SURE_EVERY: Final = 3  # every third of them for the region that is sure
STEPS: Final = (2.0, 5.0, 10.0, 20.0, 50.0)  # mm of leverage between two lines
MOST_LINES: Final = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A stretch of the region's outline and the constraint that makes it."""

    name: str
    line: Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Where one constraint, taken alone, is kept; for gates that have no usable region."""

    name: str
    outlines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Lines of one least leverage."""

    leverage: float
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A post pivot worth seeing."""

    kind: str  # chosen, safest, strongest rule, runner-up, nearest miss
    at: Point
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PivotMap:
    """The plane of post pivots, ready to be drawn."""

    across: tuple[float, float]  # x from, to
    along: tuple[float, float]  # y from, to
    outlines: tuple[Line, ...]  # of the usable region
    sure: tuple[Line, ...]  # where 99 of 100 gates keep every limit
    edges: tuple[Edge, ...]
    levels: tuple[Level, ...]
    excluding: tuple[str, ...]  # constraints that cannot be kept together anywhere
    kept: tuple[Kept, ...]
    marks: tuple[Mark, ...]
    idle: tuple[str, ...]  # constraints that limit nothing here

    @property
    def area(self) -> float:
        """Area of the usable region."""
        return abs(sum(_area(line) for line in self.outlines))

    def sentences(self) -> list[str]:
        """The map in words."""
        if not self.outlines:
            names = " and ".join(self.excluding)
            if len(self.excluding) > 1:
                return [f"Nowhere on the map are {names} kept together."]
            return [f"Nowhere on the map is {names} kept."] if names else []
        bounds = ", ".join(dict.fromkeys(edge.name for edge in self.edges))
        said = [f"What bounds the usable region: {bounds}."]
        if not self.sure:
            said.append("Nowhere do 99 of 100 gates keep every limit: measure more surely.")
        return said

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        return {**asdict(self), "area": self.area, "sentences": self.sentences()}


def pivot_map(
    problem: Problem,
    off: tuple[Source, ...] = (),
    mount: Mount | None = None,
    nearest: Point | None = None,
    excluding: tuple[str, ...] = (),
) -> PivotMap:
    """The map of a gate; `mount` and `nearest` (the closest miss) put marks on it.

    `excluding` names the constraints that exclude each other where that is known already.
    """
    free = replace(problem, fixed=replace(problem.fixed, px=None, py=None))
    marks = _marks(mount, nearest)
    xs, ys = window(
        free,
        [mark.at for mark in marks],
        whole=all(mark.kind == "nearest miss" for mark in marks),
    )
    pairs = tied_pairs(free, xs, ys)
    left = fields_of(free, pairs, xs, ys)
    least = least_over(list(left.values()))
    outlines = rings(xs, ys, least, 0.0)
    edges = _edges(outlines, left, xs, ys)
    names = {edge.name for edge in edges}
    if outlines:
        excluding = ()
    elif not excluding:
        excluding = exclude(left)
    leverage = left["leverage"] * scale_of("leverage") + free.needed_leverage
    return PivotMap(
        across=(float(xs[0]), float(xs[-1])),
        along=(float(ys[0]), float(ys[-1])),
        outlines=outlines,
        sure=_sure(free, off, xs, ys, least),
        edges=edges,
        levels=_levels(leverage, least, xs, ys) if outlines else (),
        excluding=excluding,
        kept=tuple(Kept(name=n, outlines=rings(xs, ys, left[n], 0.0)) for n in excluding),
        marks=marks,
        idle=tuple(c.name for c in CONSTRAINTS if c.name not in names),
    )


def _edges(
    outlines: tuple[Line, ...], left: dict[str, Array], xs: Array, ys: Array
) -> tuple[Edge, ...]:
    """The outlines cut where another constraint becomes the tightest."""
    names = list(left)
    fields = np.stack([left[name] for name in names])
    found: list[Edge] = []
    for outline in outlines:
        middles = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in pairwise(outline)]
        tightest = [names[_tightest(fields, xs, ys, at)] for at in middles]
        start = next((i for i, name in enumerate(tightest) if name != tightest[i - 1]), 0)
        turned = tightest[start:] + tightest[:start]
        points = [*outline[start:-1], *outline[: start + 1]]
        first = 0
        for index in range(1, len(turned) + 1):
            if index == len(turned) or turned[index] != turned[first]:
                line = tuple(points[first : index + 1])
                found.append(Edge(name=turned[first], line=line))
                first = index
    return tuple(found)


def _tightest(fields: Array, xs: Array, ys: Array, at: Point) -> int:
    """Which field is least at a point, between the four grid points around it."""
    column = int(np.clip(np.searchsorted(xs, at[0]) - 1, 0, xs.size - 2))
    row = int(np.clip(np.searchsorted(ys, at[1]) - 1, 0, ys.size - 2))
    u = np.clip((at[0] - xs[column]) / (xs[column + 1] - xs[column]), 0.0, 1.0)
    v = np.clip((at[1] - ys[row]) / (ys[row + 1] - ys[row]), 0.0, 1.0)
    corners = fields[:, row : row + 2, column : column + 2]
    low = corners[:, 0, 0] * (1.0 - u) + corners[:, 0, 1] * u
    high = corners[:, 1, 0] * (1.0 - u) + corners[:, 1, 1] * u
    return int(np.argmin(low * (1.0 - v) + high * v))


def _levels(leverage: Array, least: Array, xs: Array, ys: Array) -> tuple[Level, ...]:
    shown = leverage[least >= 0.0]
    if not shown.size:
        return ()
    low, high = float(shown.min()), float(shown.max())
    step = next((s for s in STEPS if (high - low) / s <= MOST_LINES), STEPS[-1])
    values = np.arange(np.ceil(low / step), np.floor(high / step) + 1.0) * step
    return tuple(
        Level(leverage=float(v), lines=tuple(lines(xs, ys, leverage, float(v)))) for v in values
    )


def _sure(
    problem: Problem, off: tuple[Source, ...], xs: Array, ys: Array, least: Array
) -> tuple[Line, ...]:
    """Outlines of where the 1 % worst case of the least spare is not below zero."""
    if not off or not (least >= 0.0).any():
        return ()
    fewer_x, fewer_y = xs[::SURE_EVERY], ys[::SURE_EVERY]
    straight = propagate(problem, tied_pairs(problem, fewer_x, fewer_y), off)
    worst = tame(worst_spare(problem, straight), fewer_x, fewer_y)
    # What errors do not move still has to be kept.
    return rings(fewer_x, fewer_y, np.minimum(worst, least[::SURE_EVERY, ::SURE_EVERY]), 0.0)


def _marks(mount: Mount | None, nearest: Point | None) -> tuple[Mark, ...]:
    found: list[Mark] = []
    if mount is not None:
        worst = "" if mount.sure is None else f", {_hand(mount.sure.worst_spare)}"
        arm = f"leverage {mount.leverage_least:.0f} mm"
        safest = ", the safest" if mount.rule == "robust" else ""
        found.append(
            Mark(kind="chosen", at=mount.post_pivot, words=f"chosen{safest}: {arm}{worst}")
        )
        if mount.other is not None:
            kind = "safest" if mount.other.rule == "robust" else "lightest"
            name = "safest against errors" if kind == "safest" else "lightest bracket"
            words = (
                f"{name}: leverage {mount.other.leverage_least:.0f} mm,"
                f" {_hand(mount.other.worst_spare)}"
            )
            found.append(Mark(kind=kind, at=mount.other.post_pivot, words=words))
        found += [
            Mark(
                kind="runner-up",
                at=other.post_pivot,
                words=f"runner-up {number}: leverage {other.leverage_least:.0f} mm,"
                f" bracket {other.bracket_moment / 1000.0:.0f} N m",
            )
            for number, other in enumerate(mount.runners_up, start=1)
        ]
    if nearest is not None:
        found.append(Mark(kind="nearest miss", at=nearest, words="the nearest miss"))
    return tuple(found)


def _hand(spare: float) -> str:
    return f"{spare:.1f} mm in hand" if spare >= 0.0 else f"{-spare:.1f} mm short"


def _area(line: Line) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(line)) / 2.0
