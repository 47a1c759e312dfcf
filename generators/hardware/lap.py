"""The strip on one leaf of a double gate that laps behind the other and stops it.

What is there at the gate, drawn so that the swing is held against it: nobody has measured the
strip itself. Frame: the plan frame of the closed leaf that carries it. Units: mm.
"""

from math import inf

from hangpost.generators.hardware.design import LockDesign, Placed
from hangpost.generators.survey.site import Site
from hangpost.parts.bodies import Block, Body
from hangpost.parts.frame import Frame

THICK = 6.0  # house: a flat bar
HELD = 30.0  # house: how far it lies along its own leaf
PAD = 3.0  # house: rubber between the strip and the leaf it stops
BESIDE = 5.0  # house: room above and below a lock receiver


def lap_strip(site: Site, lock: LockDesign | None) -> Placed:
    """The strip, on the leaf that closes first, cut away where a receiver stands on that leaf."""
    first = site.opens_first or 1
    other, own = site.leaves[first - 1], site.leaves[2 - first].leaf
    behind = -1.0 if other.pulls else 1.0  # the side the other leaf closes on
    near = other.leaf.axis_offset + behind * (other.leaf.thickness / 2 + PAD)
    y0, y1 = sorted((near, near + behind * THICK))
    x0, x1 = own.width - HELD, own.width + site.meeting.gap + site.meeting.overlap
    bottom = max(own.bottom, other.leaf.bottom)
    top = min(own.top, other.leaf.top)
    low = high = inf
    if lock is not None and site.lock is not None:
        half = lock.receiver.half_height + BESIDE
        low, high = site.lock.bolt_height - half, site.lock.bolt_height + half
    pieces = [(bottom, min(top, low)), (max(bottom, high), top)]
    shapes = tuple(
        Block((x0, y0, start), (x1, y1, end)) for start, end in pieces if end - start > THICK
    )
    return Placed(name="lap strip", item=Body("lap strip", shapes), frame=Frame(), rides="leaf")
