"""The pivot map as a drawing: one sheet to look at, readable without colour.

To the left the map, x along the closed leaf to the right, y towards the actuator upwards, both to
one scale; to the right what the signs mean and where on the gate the map lies. Lines differ by
their dashes and regions by their hatching, every edge carries its name. Pixels, y down.
"""

import textwrap
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Final

from hangpost.generators.pivots.contours import Line, Point, length, middle
from hangpost.generators.pivots.pivot_map import Mark, PivotMap
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.svg import Attributes, document, path, tag, words

SHEET: Final = (1000.0, 760.0)
FRAME: Final = (70.0, 96.0, 600.0, 560.0)  # left, top, width and height of the map at most
COLUMN: Final = 710.0  # x of the right-hand column
LINE: Final = 17.0  # between two lines of text
INK, GREY, TINT, DEEP, EDGE = "#1a1a1a", "#5b6470", "#dbe7f3", "#a9c6e3", "#0b3d6e"
DASHES: Final = ("", "9 4", "2 4", "12 4 2 4", "5 3", "14 5", "1 3", "8 3 2 3 2 3")
TURNS: Final = (45.0, -45.0, 0.0, 90.0)  # of hatchings
HALO: Attributes = {"stroke": "#ffffff", "stroke-width": 4, "paint-order": "stroke"}
SMALL: Attributes = {"font-size": 13, "fill": INK}

Look = dict[str, str | float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """From plan to paper."""

    left: float
    bottom: float
    x0: float
    y0: float
    factor: float  # pixels for a millimetre

    def __call__(self, at: Point) -> Point:
        """Where a point of the plan lies on the sheet."""
        x = self.left + (at[0] - self.x0) * self.factor
        return (x, self.bottom - (at[1] - self.y0) * self.factor)

    def line(self, points: Iterable[Point]) -> list[Point]:
        """The same for a line."""
        return [self(at) for at in points]


def map_svg(found: PivotMap, problem: Problem, title: str) -> str:
    """The whole drawing as the text of an SVG file."""
    left, top, most_wide, most_high = FRAME
    wide, high = found.across[1] - found.across[0], found.along[1] - found.along[0]
    factor = min(most_wide / wide, most_high / high)
    size = (wide * factor, high * factor)
    scale = Scale(
        left=left, bottom=top + size[1], x0=found.across[0], y0=found.along[0], factor=factor
    )
    said = " ".join(found.sentences())
    inside = [
        tag("rect", {"width": SHEET[0], "height": SHEET[1], "fill": "#ffffff"}),
        _defs(found, scale, (left, top, *size)),
        words((left, 34.0), title, {"font-size": 19, "font-weight": "bold", "fill": INK}),
        *_lines((left, 57.0), said, 108, SMALL),
        _ground(problem, scale),
        *(_regions(found, scale) if found.outlines else _exclusions(found, scale)),
        *_leverage(found, scale),
        *_edges(found, scale, (left, top, *size)),
        *(_mark(mark, scale(mark.at)) for mark in reversed(found.marks)),
        *_axes(found, scale, (left, top, *size)),
        *_key(found, problem),
    ]
    return document(*SHEET, f"Pivot map: {title}", said, "\n".join(i for i in inside if i))


def _defs(found: PivotMap, scale: Scale, frame: tuple[float, float, float, float]) -> str:
    left, top, wide, high = frame
    box: Look = {"x": left, "y": top, "width": wide, "height": high}
    inside = tag("clipPath", {"id": "frame"}, tag("rect", box))
    usable: Look = {"d": path(map(scale.line, found.outlines), closed=True), "clip-rule": "evenodd"}
    inside += tag("clipPath", {"id": "usable"}, tag("path", usable))
    for index, turn in enumerate(TURNS):
        stroke: Look = {"x1": 0, "y1": 0, "x2": 0, "y2": 9, "stroke": GREY, "stroke-width": 1.6}
        inside += tag(
            "pattern",
            {
                "id": f"hatch{index}",
                "width": 9,
                "height": 9,
                "patternUnits": "userSpaceOnUse",
                "patternTransform": f"rotate({turn:g})",
            },
            tag("line", stroke),
        )
    return tag("defs", {}, inside)


def _ground(problem: Problem, scale: Scale) -> str:
    """Post, leaf and hinge axis, as far as the map shows them."""
    return tag("g", {"clip-path": "url(#frame)"}, gate(problem, scale))


def gate(problem: Problem, scale: Scale) -> str:
    """Post, closed leaf and hinge axis."""
    box, leaf = problem.post.outline, problem.leaf
    (x0, y0), (x1, y1) = scale((box.left, box.top)), scale((box.right, box.bottom))
    round_ = box.rounding * scale.factor
    post: Look = {"x": x0, "y": y0, "width": x1 - x0, "height": y1 - y0, "rx": round_}
    (lx0, ly0), (lx1, ly1) = scale((leaf.hinge_edge, leaf.face)), scale((leaf.width, leaf.back))
    door: Look = {"x": lx0, "y": ly0, "width": lx1 - lx0, "height": ly1 - ly0}
    look: Look = {"fill": "#e6e2dc", "stroke": GREY, "stroke-width": 1.5}
    hx, hy = scale((0.0, 0.0))
    axis = tag("circle", {"cx": hx, "cy": hy, "r": 5, "fill": "#ffffff", "stroke": INK})
    return (
        tag("rect", {**post, **look})
        + tag("rect", {**door, **look})
        + axis
        + tag("circle", {"cx": hx, "cy": hy, "r": 1.5, "fill": INK})
    )


def _regions(found: PivotMap, scale: Scale) -> list[str]:
    rule: Look = {"fill-rule": "evenodd"}
    usable = path(map(scale.line, found.outlines), closed=True)
    sure = path(map(scale.line, found.sure), closed=True)
    return [
        tag("path", {"d": usable, "fill": TINT, **rule}),
        tag("path", {"d": sure, "fill": DEEP, **rule}) if found.sure else "",
        tag("path", {"d": sure, "fill": "none", "stroke": EDGE, "stroke-dasharray": "3 3"})
        if found.sure
        else "",
    ]


def _exclusions(found: PivotMap, scale: Scale) -> list[str]:
    """Where each of the constraints that exclude each other is kept, in its own hatching."""
    drawn = []
    for index, kept in enumerate(found.kept):
        look: Look = {
            "d": path(map(scale.line, kept.outlines), closed=True),
            "fill": f"url(#hatch{index % len(TURNS)})",
            "fill-rule": "evenodd",
            "stroke": EDGE,
            "stroke-width": 2.2,
            "stroke-dasharray": DASHES[index % len(DASHES)] or "none",
        }
        drawn.append(tag("path", look))
    return drawn


def _leverage(found: PivotMap, scale: Scale) -> list[str]:
    clip = "url(#usable)" if found.outlines else "url(#frame)"
    look: Look = {"fill": "none", "stroke": GREY, "stroke-width": 1.2, "clip-path": clip}
    drawn, labels = [], []
    for level in found.levels:
        drawn.append(tag("path", {"d": path(map(scale.line, level.lines)), **look}))
        inside = [run for line in level.lines for run in _inside(line, found.outlines)]
        if inside:
            longest = max(inside, key=length)
            if length(longest) * scale.factor > 26.0:
                at = scale(middle(longest))
                style = {"font-size": 12, "fill": GREY, "text-anchor": "middle", **HALO}
                labels.append(words((at[0], at[1] + 4.0), f"{level.leverage:.0f}", style))
    return [*drawn, *labels]


def _inside(line: Line, outlines: tuple[Line, ...]) -> list[Line]:
    """The runs of a line that lie within the outlines; all of it where there are none."""
    if not outlines:
        return [line]
    runs: list[list[Point]] = [[]]
    for at in line:
        if sum(_around(at, outline) for outline in outlines) % 2:
            runs[-1].append(at)
        elif runs[-1]:
            runs.append([])
    return [tuple(run) for run in runs if len(run) > 1]


def _around(at: Point, outline: Line) -> int:
    """How often a ray from a point to the right crosses an outline."""
    x, y = at
    crossings = 0
    for (ax, ay), (bx, by) in pairwise(outline):
        if (ay > y) != (by > y) and ax + (y - ay) / (by - ay) * (bx - ax) > x:
            crossings += 1
    return crossings


def _edges(found: PivotMap, scale: Scale, frame: tuple[float, float, float, float]) -> list[str]:
    """Every edge in its own dashes, its name beside the map at the end of a leader."""
    names = list(dict.fromkeys(edge.name for edge in found.edges))
    drawn: list[str] = []
    anchors: list[tuple[str, Point, Point]] = []  # name, where on its edge, a point inwards of it
    for edge in found.edges:
        dash = DASHES[names.index(edge.name) % len(DASHES)]
        look: Look = {"fill": "none", "stroke": EDGE, "stroke-width": 3.2}
        if dash:
            look["stroke-dasharray"] = dash
        drawn.append(tag("path", {"d": path([scale.line(edge.line)]), **look}))
    for name in names:
        longest = max((e.line for e in found.edges if e.name == name), key=length)
        # Outwards of an edge is to the right of its run, for the region lies to the left.
        (ax, ay), (bx, by) = scale(longest[0]), scale(longest[-1])
        at = scale(middle(longest))
        anchors.append((name, at, (at[0] + (by - ay), at[1] - (bx - ax))))
    for kept in found.kept:
        if kept.outlines:
            longest = max(kept.outlines, key=length)
            anchors.append(
                (f"{kept.name} kept", scale(middle(longest)), scale(_centre((longest,))))
            )
    taken: list[tuple[float, float, float, float]] = []
    for name, at, centre in anchors:
        label = _free_place(name, at, centre, frame, taken)
        taken.append(label)
        x, y = (label[0] + label[2]) / 2.0, (label[1] + label[3]) / 2.0
        near = (min(max(at[0], label[0]), label[2]), min(max(at[1], label[1]), label[3]))
        drawn.append(tag("path", {"d": path([[near, at]]), "stroke": INK}))
        drawn.append(tag("circle", {"cx": at[0], "cy": at[1], "r": 2.6, "fill": INK}))
        style: Look = {"font-size": 14, "font-weight": "bold", "fill": EDGE}
        drawn.append(words((x, y + 5.0), name, {**style, "text-anchor": "middle", **HALO}))
    return drawn


def _free_place(
    name: str,
    at: Point,
    centre: Point,
    frame: tuple[float, float, float, float],
    taken: list[tuple[float, float, float, float]],
) -> tuple[float, float, float, float]:
    """A box for a name, outwards of its edge, inside the frame and clear of other names."""
    left, top, wide, high = frame
    half_wide, half_high = 4.6 * len(name) + 4.0, 11.0
    dx, dy = at[0] - centre[0], at[1] - centre[1]
    run = max(hypot(dx, dy), 1.0)
    box = (at[0], at[1], at[0], at[1])
    for step in range(12):
        away = 26.0 + 14.0 * step
        x = at[0] + dx / run * (away + half_wide * abs(dx) / run)
        y = at[1] + dy / run * (away + half_high)
        x = min(max(x, left + half_wide + 4.0), left + wide - half_wide - 4.0)
        y = min(max(y, top + half_high + 4.0), top + high - half_high - 4.0)
        box = (x - half_wide, y - half_high, x + half_wide, y + half_high)
        if not any(
            box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in taken
        ):
            break
    return box


def _centre(outlines: tuple[Line, ...]) -> Point:
    """The middle of the box around outlines."""
    xs = [x for outline in outlines for x, _ in outline]
    ys = [y for outline in outlines for _, y in outline]
    return ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)


def _mark(mark: Mark, at: Point) -> str:
    """The sign of a post pivot."""
    x, y = at
    look: Attributes = {"fill": "#ffffff", "stroke": INK, "stroke-width": 2}
    if mark.kind == "chosen":
        ring = tag("circle", {"cx": x, "cy": y, "r": 9, **look})
        return ring + tag("circle", {"cx": x, "cy": y, "r": 5.5, "fill": INK})
    if mark.kind in ("safest", "lightest"):
        return tag("rect", {"x": x - 6, "y": y - 6, "width": 12, "height": 12, **look})
    if mark.kind == "nearest miss":
        arms = [[(x - 7, y - 7), (x + 7, y + 7)], [(x - 7, y + 7), (x + 7, y - 7)]]
        return tag("path", {"d": path(arms), "stroke": INK, "stroke-width": 3})
    corners = [(x, y - 9), (x + 9, y), (x, y + 9), (x - 9, y)]
    number = "".join(c for c in mark.words.partition(":")[0] if c.isdigit())
    style: Attributes = {"font-size": 11, "fill": INK, "text-anchor": "middle"}
    return tag("path", {"d": path([corners], closed=True), **look}) + words(
        (x, y + 4.0), number, style
    )


def _axes(found: PivotMap, scale: Scale, frame: tuple[float, float, float, float]) -> list[str]:
    left, top, wide, high = frame
    look: Look = {"fill": "none", "stroke": INK, "stroke-width": 1.2}
    drawn = [tag("rect", {"x": left, "y": top, "width": wide, "height": high, **look})]
    span = max(found.across[1] - found.across[0], found.along[1] - found.along[0])
    step = next(s for s in (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 1e9) if span / s <= 12.0)
    bottom = top + high
    for value in _ticks(found.across, step):
        x = scale((value, 0.0))[0]
        drawn.append(tag("path", {"d": path([[(x, bottom), (x, bottom + 5)]]), "stroke": INK}))
        drawn.append(_tick((x, bottom + 19.0), value, "middle"))
    for value in _ticks(found.along, step):
        y = scale((0.0, value))[1]
        drawn.append(tag("path", {"d": path([[(left - 5, y), (left, y)]]), "stroke": INK}))
        drawn.append(_tick((left - 9.0, y + 4.0), value, "end"))
    drawn.append(
        words(
            (left + wide / 2.0, bottom + 39.0),
            "post pivot along the leaf, mm from the hinge axis (minus: behind it)",
            {**SMALL, "text-anchor": "middle"},
        )
    )
    up = f"translate(18 {top + high / 2.0:.2f}) rotate(-90)"
    said = "post pivot off the closed leaf, mm (towards the actuator)"
    middle_ = {**SMALL, "text-anchor": "middle"}
    drawn.append(tag("g", {"transform": up}, words((0.0, 0.0), said, middle_)))
    return drawn


def _ticks(span: tuple[float, float], step: float) -> list[float]:
    first, last = int(span[0] // step) + 1, int(span[1] // step)
    return [step * n for n in range(first, last + 1)]


def _tick(at: Point, value: float, anchor: str) -> str:
    return words(at, f"{value:.0f}", {"font-size": 12, "fill": INK, "text-anchor": anchor})


def _key(found: PivotMap, problem: Problem) -> list[str]:
    """What the signs mean, the marks one by one, and where on the gate the map lies."""
    drawn, y = [], 108.0
    if found.outlines:
        for fill, said in ((TINT, "usable"), (DEEP, "99 of 100 gates keep every limit")):
            if fill == DEEP and not found.sure:
                continue
            look: Look = {"fill": fill, "stroke": EDGE, "stroke-width": 1}
            if fill == DEEP:
                look["stroke-dasharray"] = "3 3"
            box: Look = {"x": COLUMN, "y": y - 12, "width": 26, "height": 15}
            drawn += [tag("rect", {**box, **look}), words((COLUMN + 36, y), said, SMALL)]
            y += 24.0
        look = {"stroke": GREY, "stroke-width": 1.2}
        drawn.append(tag("path", {"d": path([[(COLUMN, y - 5), (COLUMN + 26, y - 5)]]), **look}))
        drawn.append(words((COLUMN + 36, y), "least leverage, mm", SMALL))
        y += 30.0
    for mark in found.marks:
        drawn.append(_mark(mark, (COLUMN + 13, y - 5)))
        for line in textwrap.wrap(mark.words, 33):
            drawn.append(words((COLUMN + 36, y), line, SMALL))
            y += LINE
        y += 7.0
    if found.outlines:
        said = "in hand: what every limit keeps in 99 of 100 gates, mm or what weighs as much"
        drawn += _lines((COLUMN, y), said, 38, {**SMALL, "fill": GREY})
        y += 2.0 * LINE + 8.0
    drawn += _where(found, problem, y)
    idle = "Not the tightest anywhere here: " + ", ".join(found.idle) + "."
    if found.outlines and found.idle:
        drawn += _lines((FRAME[0], SHEET[1] - 36.0), idle, 125, {**SMALL, "fill": GREY})
    return drawn


def _where(found: PivotMap, problem: Problem, y: float) -> list[str]:
    """The gate in small, with the map as a frame on it."""
    box = problem.post.outline
    x0, x1 = min(box.left, found.across[0]) - 20.0, max(box.right, found.across[1], 0.0) + 160.0
    y0, y1 = min(box.bottom, -60.0) - 10.0, max(box.top, found.along[1]) + 20.0
    high = max(90.0, min(210.0, SHEET[1] - 70.0 - y))
    factor = min((SHEET[0] - COLUMN - 20.0) / (x1 - x0), high / (y1 - y0))
    scale = Scale(left=COLUMN, bottom=y + (y1 - y0) * factor, x0=x0, y0=y0, factor=factor)
    wide, tall = (x1 - x0) * factor, (y1 - y0) * factor
    frame: Look = {"x": COLUMN, "y": y, "width": wide, "height": tall}
    (fx, fy), (gx, gy) = (
        scale((found.across[0], found.along[1])),
        scale((found.across[1], found.along[0])),
    )
    look: Look = {"fill": "none", "stroke": EDGE, "stroke-width": 2}
    inset: Look = {"x": fx, "y": fy, "width": gx - fx, "height": gy - fy}
    clip = tag("clipPath", {"id": "small"}, tag("rect", frame))
    usable: Look = {"d": path(map(scale.line, found.outlines), closed=True), "fill": DEEP}
    pictured = gate(problem, scale) + tag("path", usable) + tag("rect", {**inset, **look})
    plain: Look = {"fill": "none", "stroke": GREY}
    under = y + tall + 16.0
    return [
        clip,
        tag("g", {"clip-path": "url(#small)"}, pictured),
        tag("rect", {**frame, **plain}),
        words((COLUMN, under), "the map on the gate: post, hinge axis, leaf", SMALL),
    ]


def _lines(at: Point, said: str, width: int, style: Attributes) -> list[str]:
    wrapped = textwrap.wrap(said, width)
    return [words((at[0], at[1] + LINE * i), line, style) for i, line in enumerate(wrapped)]
