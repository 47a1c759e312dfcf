"""People in the way: gaps that close while the gate moves, and what of a person fits into them.

Pure plan geometry, from the pivots alone: leaf to post at the hinge, actuator to leaf and to post,
brackets to leaf and actuator, latch edge to what it closes on, leaf and actuator to obstacles.
A gate moves both ways, so a gap that grows while it opens closes while it closes. Each gap is
held against the gaps that the table of body parts (body_gaps.csv) asks for between parts that
come together: a hazard to be guarded and judged by a competent person, never a statement that a
gap is safe. Plan frame, mm, degrees.
"""

import csv
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np

from hangpost.generators.outlines import Corners, box_corners, disc, distance, outline, turn
from hangpost.generators.pivots.kinematics import Array, swing, turned
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.plan_shapes import Box
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.display import both, plain

STEP: Final = 1.0  # degrees
STILL: Final = 1.0  # mm; a gap that changes by less stands still
WALL: Final = 100.0  # mm of latch post that the picture needs
CAUTION: Final = (
    "Gaps that close are hazards to be guarded. This list is no statement that any gap is safe:"
    " the local code and a competent person decide."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyPart:
    """A part of the body and the least gap that does not crush it."""

    name: str
    gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """One gap over the swing."""

    name: str
    closed: float
    open: float
    least: float
    least_at: float  # opening angle, degrees
    greatest: float
    greatest_at: float
    closes: str  # while the gate is "opening", "closing" or "both"
    parts: tuple[BodyPart, ...]  # what fits in where it is widest and not where it is narrowest

    @property
    def sentence(self) -> str:
        """The gap in words."""
        way = {"both": "opening and closing"}.get(self.closes, self.closes)
        names = ", ".join(part.name for part in self.parts)
        told = f"can catch a person's {names}" if names else "crosses none of the gaps of the table"
        return (
            f"{self.name}: from {both(self.closed, 'mm')} closed to {both(self.open, 'mm')} open,"
            f" least {both(self.least, 'mm')} at {plain(abs(self.least_at), places=0)} degrees,"
            f" narrows while {way}; {told}."
        )

    def data(self) -> dict[str, Any]:
        """The gap as plain data."""
        return {**asdict(self), "sentence": self.sentence}


@cache
def body_parts() -> tuple[BodyPart, ...]:
    """The table of body parts, smallest gap first."""
    rows = list(csv.DictReader(_table()[1:]))
    return tuple(BodyPart(name=row["part"], gap=float(row["gap"])) for row in rows)


def source() -> str:
    """Standard, edition and table of the body parts."""
    return _table()[0].lstrip("# ")


def _table() -> list[str]:
    return Path(__file__).with_name("body_gaps.csv").read_text(encoding="utf-8").splitlines()


def gaps(
    problem: Problem,
    mount: Mount,
    *,
    latch_gap: float | None = None,
    clear_beyond: float | None = None,
) -> tuple[Gap, ...]:
    """The gaps that change and could hold a person, narrowest first.

    `latch_gap` is latch edge to latch post or other leaf, `clear_beyond` the free distance behind
    the open leaf; both only where known.
    """
    angles = swing(problem.direction, problem.opening, STEP)
    shapes = _shapes(problem, mount, angles, latch_gap)
    widths = [(name, distance(a, b)) for name, a, b in _pairs(shapes)]
    if clear_beyond is not None:
        widths.append(
            ("latch edge to what is behind the open leaf", _behind(problem, angles, clear_beyond))
        )
    largest = body_parts()[-1].gap
    found = [_gap(name, values, angles) for name, values in widths]
    shown = [g for g in found if g.greatest - g.least > STILL and g.least < largest]
    return tuple(sorted(shown, key=lambda g: g.least))


Shape = Array  # corners in order, for each angle: (angles, corners, 2)


def _still(corners: Corners, angles: Array) -> Shape:
    return np.broadcast_to(np.array(corners), (angles.size, len(corners), 2))


def _shapes(
    problem: Problem, mount: Mount, angles: Array, latch_gap: float | None
) -> dict[str, Shape]:
    leaf, actuator, tip = problem.leaf, problem.actuator, problem.brackets.ear_tip
    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    corners = [(leaf.hinge_edge, leaf.back), (leaf.width, leaf.back)]
    corners += [(leaf.width, leaf.face), (leaf.hinge_edge, leaf.face)]
    half = tip
    leaf_ear = [(gx - half, leaf.face), (gx + half, leaf.face), *disc(gx, gy, tip)]
    post_ear = [(mount.root[0], mount.post_face), (mount.root[1], mount.post_face)]
    post_ear += disc(px, py, tip)
    ear = outline(leaf_ear)
    shapes = {
        "leaf": np.array([turn(corners, t) for t in angles]),
        "leaf bracket": np.array([turn(ear, t) for t in angles]),
        "post bracket": _still(outline(post_ear), angles),
        "hanging post": _still(box_corners(problem.post.outline), angles),
    }
    shapes |= {o.name: _still(box_corners(o.outline), angles) for o in problem.obstacles}
    if latch_gap is not None:
        x = leaf.width + latch_gap
        box = Box(xmin=x, xmax=x + WALL, ymin=leaf.back, ymax=leaf.face)
        shapes["latch post"] = _still(box_corners(box), angles)
    body = []
    for t in angles:
        x, y = (float(v) for v in turned(gx, gy, float(t)))
        run = float(np.hypot(x - px, y - py))
        ux, uy = (x - px) / run, (y - py) / run
        start, end, r = actuator.post_eye.to_body, actuator.body_end, actuator.body_radius
        body.append(
            [
                (px + s * ux - w * uy, py + s * uy + w * ux)
                for s, w in ((start, -r), (end, -r), (end, r), (start, r))
            ]
        )
    return {**shapes, "actuator": np.array(body)}


def _pairs(shapes: dict[str, Shape]) -> Iterator[tuple[str, Shape, Shape]]:
    """What can close on a person: whatever moves against something else."""
    named = ("leaf", "leaf bracket", "post bracket", "hanging post", "latch post", "actuator")
    yield "leaf to hanging post, at the hinge", shapes["leaf"], shapes["hanging post"]
    yield "actuator to leaf", shapes["actuator"], shapes["leaf"]
    yield "actuator to hanging post", shapes["actuator"], shapes["hanging post"]
    yield "post bracket to leaf", shapes["post bracket"], shapes["leaf"]
    yield "leaf bracket to actuator", shapes["leaf bracket"], shapes["actuator"]
    yield "leaf bracket to hanging post", shapes["leaf bracket"], shapes["hanging post"]
    if "latch post" in shapes:
        yield "latch edge to what it closes on", shapes["leaf"], shapes["latch post"]
    for name, shape in shapes.items():
        if name not in named:
            yield f"leaf to {name}", shapes["leaf"], shape
            yield f"actuator to {name}", shapes["actuator"], shape


def _gap(name: str, values: Array, angles: Array) -> Gap:
    low, high = int(np.argmin(values)), int(np.argmax(values))
    least, greatest = float(values[low]), float(values[high])
    shrinks = bool((np.maximum.accumulate(values) - values).max() > STILL)
    grows = bool((values - np.minimum.accumulate(values)).max() > STILL)
    # A person comes in where the gap is wide and is caught where it is narrow; a finger always.
    parts = body_parts()
    caught = tuple(p for p in parts if least < p.gap and (p.gap <= greatest or p is parts[0]))
    return Gap(
        name=name,
        closed=float(values[0]),
        open=float(values[-1]),
        least=least,
        least_at=float(angles[low]),
        greatest=greatest,
        greatest_at=float(angles[high]),
        closes="both" if shrinks and grows else "opening" if shrinks else "closing",
        parts=caught,
    )


def beyond_open_leaf(problem: Problem, mount: Mount) -> float:
    """How far actuator and leaf bracket stand out past the leading face of the open leaf."""
    (angle,) = open_at = swing(problem.direction, problem.opening, STEP)[-1:]
    shapes = _shapes(problem, mount, open_at, None)
    leaf, sign = problem.leaf, 1.0 if problem.direction == "pull" else -1.0
    there = np.concatenate([shapes[name][0] for name in ("actuator", "leaf bracket")])
    out = sign * turned(there[:, 0], there[:, 1], -angle)[1]
    return max(0.0, float(out.max()) - (leaf.face if sign > 0.0 else -leaf.back))


def _behind(problem: Problem, angles: Array, clear: float) -> Array:
    """The latch edge to a wall that stands along the open leaf, `clear` beyond its leading face."""
    leaf, sign = problem.leaf, 1.0 if problem.direction == "pull" else -1.0
    lead = leaf.face if sign > 0.0 else -leaf.back
    left = angles - angles[-1]  # the leaf as seen from where it stands open
    reach = [sign * turned(leaf.width, y, left)[1] for y in (leaf.back, leaf.face)]
    return np.asarray(np.maximum(lead + clear - np.maximum(*reach), 0.0))
