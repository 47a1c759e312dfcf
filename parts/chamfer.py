"""What a chamfer takes away: the 45 degree bevel round a flat end and round its openings.

Units: mm. Corners are mitred, as the CAD kernel and a file make them.
"""

from collections.abc import Iterable

from hangpost.parts.loop import Loop


def rim(outline: Loop, openings: Iterable[Loop], size: float) -> float:
    """Volume lost when one flat end of a prism is chamfered, outline and openings alike."""
    lost = outline.area * size - _integral(outline, size)
    return lost + sum(countersink(opening, size) for opening in openings)


def countersink(opening: Loop, size: float) -> float:
    """Volume lost when the rim of an opening is bevelled at one end."""
    return _integral(opening, -size) - opening.area * size


def _integral(loop: Loop, size: float) -> float:
    """Area of the loop summed over an inset from 0 to `size`; Simpson is exact for squares."""
    levels = [loop.inset_area(share * size) for share in (0.0, 0.5, 1.0)]
    return abs(size) / 6 * (levels[0] + 4 * levels[1] + levels[2])
