"""The right-hand column of the pivot map: what its signs mean and where on the gate it lies.

Pixels, y down.
"""

import textwrap

from hangpost.generators.pivots.contours import Point
from hangpost.generators.pivots.map_paper import (
    COLUMN,
    DEEP,
    EDGE,
    FRAME,
    GREY,
    INK,
    LINE,
    SHEET,
    SMALL,
    TINT,
    Look,
    Scale,
    gate,
    text_lines,
)
from hangpost.generators.pivots.pivot_map import Mark, PivotMap
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.svg import Attributes, path, tag, words


def sign(mark: Mark, at: Point) -> str:
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


def key(found: PivotMap, problem: Problem) -> list[str]:
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
        drawn.append(sign(mark, (COLUMN + 13, y - 5)))
        for line in textwrap.wrap(mark.words, 33):
            drawn.append(words((COLUMN + 36, y), line, SMALL))
            y += LINE
        y += 7.0
    if found.outlines:
        said = "in hand: what every limit keeps in 99 of 100 gates, mm or what weighs as much"
        drawn += text_lines((COLUMN, y), said, 38, {**SMALL, "fill": GREY})
        y += 2.0 * LINE + 8.0
    drawn += _where(found, problem, y)
    idle = "Not the tightest anywhere here: " + ", ".join(found.idle) + "."
    if found.outlines and found.idle:
        drawn += text_lines((FRAME[0], SHEET[1] - 36.0), idle, 125, {**SMALL, "fill": GREY})
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
