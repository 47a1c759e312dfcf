"""The rubber band around discs: how an ear grows from its root to the eye of a pin.

Units: mm. A disc is (x, y, radius); a radius of 0 is a sharp corner. The band consists of
true arcs and the straight lines that touch two neighbouring discs.
"""

from math import acos, atan, atan2, cos, hypot, pi, sin, tan

from hangpost.parts.loop import Loop, Vertex

Disc = tuple[float, float, float]


def hull(discs: tuple[Disc, ...]) -> Loop:
    """The convex band around the discs, counter-clockwise from the lowest one.

    Walks from disc to disc, each time along the outer tangent that turns least, which is the
    gift-wrapping walk for points carried over to circles.
    """
    start = min(discs, key=lambda d: (d[1] - d[2], d[0]))
    found: list[Vertex] = []
    here, heading, turned = start, 0.0, 0.0
    while True:
        after, turn = _next(here, heading, discs)
        turned += turn
        if turned >= 2 * pi - 1e-12:  # the band has come round: close it on the first disc
            _arc(found, here, heading, 2 * pi - (turned - turn))
            return _closed(found)
        _arc(found, here, heading, turn)
        here, heading = after, heading + turn


def _next(here: Disc, heading: float, discs: tuple[Disc, ...]) -> tuple[Disc, float]:
    """The disc that the band touches next and how far the heading turns to reach it."""
    best: tuple[float, float, Disc] | None = None
    for disc in discs:
        dx, dy = disc[0] - here[0], disc[1] - here[1]
        apart = hypot(dx, dy)
        if disc == here or apart <= abs(here[2] - disc[2]):
            continue
        direction = atan2(dy, dx) + pi / 2 - acos((here[2] - disc[2]) / apart)
        turn = (direction - heading) % (2 * pi)
        turn = 0.0 if turn > 2 * pi - 1e-9 else turn
        if best is None or (turn, -apart) < best[:2]:
            best = (turn, -apart, disc)
    if best is None:
        return here, 2 * pi
    return best[2], best[0]


def _arc(found: list[Vertex], disc: Disc, heading: float, turn: float) -> None:
    """The band's way around one disc: in at `heading`, out `turn` radians later."""
    x, y, r = disc
    pieces = 2 if turn > pi - 1e-9 else 1
    for k in range(pieces + 1):
        way = heading + turn * k / pieces - pi / 2
        bulge = tan(turn / pieces / 4) if k < pieces and r else 0.0
        found.append(Vertex(x + r * cos(way), y + r * sin(way), bulge))
        if not r:
            return


def _closed(found: list[Vertex]) -> Loop:
    """The loop without repeated vertices, the first disc's two half arcs made one."""
    kept: list[Vertex] = []
    for vertex in found:
        if kept and hypot(vertex.x - kept[-1].x, vertex.y - kept[-1].y) < 1e-9:
            kept[-1] = vertex
        else:
            kept.append(vertex)
    first, last = kept[0], kept[-1]
    if hypot(first.x - last.x, first.y - last.y) < 1e-9:
        kept.pop()
        before = kept[-1]
        bulge = tan(atan(before.bulge) + atan(first.bulge))
        if before.bulge and first.bulge and 0 < bulge <= 1:
            kept = [*kept[1:-1], Vertex(before.x, before.y, bulge)]
    return Loop(tuple(kept))
