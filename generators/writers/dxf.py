"""Cut files: a flat pattern as DXF, in the three ways that shops ask for.

    cut   outlines and holes and nothing else, for the laser's own software
    full  the same with bend lines (up and down on layers of their own) and what is etched
    r12   as `cut` with what is etched, in the oldest format, for machines that read no other

Etched are the part's mark and a cross at every hole that the process leaves to the drill.
Frame: the pattern's marked face up, moved so that its lower left corner is (0, 0). No kerf is
taken off, holes are drawn at their nominal size, no lettering is text. Units: mm; R12 cannot
say so inside the file, which is why its name has to.
"""

from collections.abc import Sequence
from typing import Final, Literal

from hangpost.generators.writers.dxf_document import Layer, Pen, dxf_bytes
from hangpost.generators.writers.flat_faults import refuse_faulty
from hangpost.parts.flat import FlatPattern
from hangpost.parts.loop import Point

Profile = Literal["cut", "full", "r12"]

CUT: Final = Layer("CUT", 7)
BEND_UP: Final = Layer("BEND_UP", 3, "DASHED")
BEND_DOWN: Final = Layer("BEND_DOWN", 5, "CENTER")
ETCH: Final = Layer("ETCH", 1)


def flat_dxf(
    pattern: FlatPattern, profile: Profile = "cut", *, etched: Sequence[Sequence[Point]] = ()
) -> bytes:
    """The cut file of a pattern; raises FaultyPattern instead of writing one that cannot be cut.

    `etched` are strokes in the pattern's own coordinates (see etching.py); `cut` never has them.
    """
    refuse_faulty(pattern)
    flat = pattern.at_corner()
    left, bottom, _, _ = pattern.outline.bounds

    def draw(pen: Pen) -> None:
        _cut_lines(pen, flat)
        for bend in flat.bends if profile == "full" else ():
            pen.line(bend.start, bend.end, (BEND_UP if bend.up else BEND_DOWN).name)
        for stroke in strokes:
            pen.path([(x - left, y - bottom) for x, y in stroke], ETCH.name)
        for start, end in crosses:
            pen.line(start, end, ETCH.name)

    strokes = () if profile == "cut" else etched
    crosses = () if profile == "cut" else [line for hole in flat.marked for line in hole.cross]
    layers = [CUT]
    layers += [BEND_UP, BEND_DOWN] if profile == "full" else []
    layers += [ETCH] if strokes or crosses else []
    box = (0.0, 0.0, flat.length, flat.width)
    return dxf_bytes("R12" if profile == "r12" else "R2010", layers, box, draw)


def _cut_lines(pen: Pen, flat: FlatPattern) -> None:
    """Openings first and the outline last, so that the piece stays put while it is cut."""
    for hole in flat.holes:
        if hole.slot_length:
            pen.loop(hole.loop, CUT.name)
        else:
            pen.circle((hole.u, hole.v), hole.diameter, CUT.name)
    for window in flat.windows:
        pen.loop(window, CUT.name)
    pen.loop(flat.outline, CUT.name)
