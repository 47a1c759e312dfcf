"""The pivot map as a drawing: one sheet to look at, readable without colour.

To the left the map, x along the closed leaf to the right, y towards the actuator upwards, both to
one scale; to the right what the signs mean and where on the gate the map lies. Lines differ by
their dashes and regions by their hatching, every edge carries its name. Pixels, y down.
"""

from hangpost.generators.pivots.contours import Point
from hangpost.generators.pivots.map_edges import named_edges
from hangpost.generators.pivots.map_key import key, sign
from hangpost.generators.pivots.map_paper import (
    FRAME,
    GREY,
    INK,
    SHEET,
    SMALL,
    TURNS,
    Look,
    Scale,
    gate,
    text_lines,
)
from hangpost.generators.pivots.map_regions import exclusions, leverage_lines, regions
from hangpost.generators.pivots.pivot_map import PivotMap
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.svg import document, path, tag, words


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
        *text_lines((left, 57.0), said, 108, SMALL),
        _ground(problem, scale),
        *(regions(found, scale) if found.outlines else exclusions(found, scale)),
        *leverage_lines(found, scale),
        *named_edges(found, scale, (left, top, *size)),
        *(sign(mark, scale(mark.at)) for mark in reversed(found.marks)),
        *_axes(found, scale, (left, top, *size)),
        *key(found, problem),
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
