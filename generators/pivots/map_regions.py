"""What lies inside the pivot map: usable and sure regions, what excludes what, lines of leverage.

Pixels, y down.
"""

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.pivots.contours import Line, Point, length, middle
from hangpost.generators.pivots.map_paper import (
    DASHES,
    DEEP,
    EDGE,
    GREY,
    HALO,
    TINT,
    TURNS,
    Look,
    Scale,
)
from hangpost.generators.pivots.pivot_map import PivotMap
from hangpost.generators.pivots.svg import path, tag, words


def regions(found: PivotMap, scale: Scale) -> list[str]:
    """The usable region and the part of it that is sure."""
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


def exclusions(found: PivotMap, scale: Scale) -> list[str]:
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


def leverage_lines(found: PivotMap, scale: Scale) -> list[str]:
    """Lines of equal leverage, each with its figure."""
    clip = "url(#usable)" if found.outlines else "url(#frame)"
    look: Look = {"fill": "none", "stroke": GREY, "stroke-width": 1.2, "clip-path": clip}
    drawn, labels = [], []
    for level in found.levels:
        drawn.append(tag("path", {"d": path(map(scale.line, level.lines)), **look}))
        inside = [run for line in level.lines for run in within(line, found.outlines)]
        if inside:
            longest = max(inside, key=length)
            if length(longest) * scale.factor > 26.0:
                at = scale(middle(longest))
                style = {"font-size": 12, "fill": GREY, "text-anchor": "middle", **HALO}
                labels.append(words((at[0], at[1] + 4.0), f"{level.leverage:.0f}", style))
    return [*drawn, *labels]


def within(line: Line, outlines: tuple[Line, ...]) -> list[Line]:
    """The runs of a line that lie within the outlines; all of it where there are none."""
    if not outlines:
        return [line]
    inside = np.sum([_crossings(line, outline) for outline in outlines], axis=0) % 2
    runs: list[list[Point]] = [[]]
    for at, is_in in zip(line, inside, strict=True):
        if is_in:
            runs[-1].append(at)
        elif runs[-1]:
            runs.append([])
    return [tuple(run) for run in runs if len(run) > 1]


def _crossings(line: Line, outline: Line) -> NDArray[np.int64]:
    """How often a ray from each point of a line to the right crosses an outline."""
    x, y = np.array(line).T[:, :, None]
    ax, ay = np.array(outline[:-1]).T
    bx, by = np.array(outline[1:]).T
    level = by == ay  # never crossed, and nothing is divided by its height
    at = ax + (y - ay) / np.where(level, 1.0, by - ay) * (bx - ax)
    return np.asarray((((ay > y) != (by > y)) & (at > x)).sum(axis=1))
