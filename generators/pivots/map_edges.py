"""The edges of the usable region, each by name at the end of a leader, clear of the others.

Pixels, y down.
"""

from math import hypot

from hangpost.generators.pivots.contours import Line, Point, length, middle
from hangpost.generators.pivots.map_paper import DASHES, EDGE, HALO, INK, Look, Scale
from hangpost.generators.pivots.pivot_map import PivotMap
from hangpost.generators.pivots.svg import path, tag, words


def named_edges(
    found: PivotMap, scale: Scale, frame: tuple[float, float, float, float]
) -> list[str]:
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
