"""The outline of an ear: the plate that carries a pin, grown from a straight root.

Frame: the unfolded seat plane, root on the line v = `line`, material on the side given by
`down`. The ear is the band around the two root ends and the disc about the pin: true arc at
the tip, two tangents to the root. Units: mm.
"""

from hangpost.parts.hull import hull
from hangpost.parts.loop import Point, Vertex


def ear_path(left: float, right: float, line: float, pin: Point, tip: float) -> tuple[Vertex, ...]:
    """The way from one root end to the other around the pin, root ends left out.

    The root runs from `left` to `right` on v = `line`; the ear lies on the pin's side of it.
    Starts from the left root end for an ear below the line, from the right for one above, so
    that the plate it grows from keeps its counter-clockwise sense.
    """
    u, v = pin
    band = hull(((left, line, 0.0), (right, line, 0.0), (u, v, tip)))
    corners = band.vertices
    first = right if v > line else left
    start = next(i for i, c in enumerate(corners) if _is(c, first, line))
    ordered = (*corners[start:], *corners[:start])
    return tuple(c for c in ordered if not (_is(c, left, line) or _is(c, right, line)))


def _is(corner: Vertex, u: float, v: float) -> bool:
    return abs(corner.x - u) < 1e-7 and abs(corner.y - v) < 1e-7
