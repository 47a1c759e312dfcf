"""A drilling template as DXF: for a drawing office, a plotter or a marking laser.

Frame: the template's own, datum at (0, 0), u right, v up as one looks at the face; nothing is
shifted, so a hole's coordinates are its distances from the datum mark. Units: mm.
"""

from typing import Final

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.writers.dxf_document import Layer, Pen, dxf_bytes
from hangpost.parts.loop import Box, slot

HOLES: Final = Layer("HOLES", 7)  # the final drill, one circle a hole
PILOTS: Final = Layer("PILOTS", 8)
CENTRES: Final = Layer("CENTRES", 1)  # hairlines that cross in the middle of each hole
SLOTS: Final = Layer("SLOTS", 4, "DASHED")  # what the part over the face lets the hole move
OUTLINE: Final = Layer("OUTLINE", 3)  # the seat of the part
EDGES: Final = Layer("EDGES", 5, "CENTER")  # edges of the face, and level and plumb line
LETTERS: Final = Layer("TEXT", 2)
LAYERS: Final = (HOLES, PILOTS, CENTRES, SLOTS, OUTLINE, EDGES, LETTERS)

MARGIN: Final = 12.0  # how far lines run past the outline
HEIGHT: Final = 3.5  # of the lettering
CROSS: Final = 5.0  # least arm of a centre cross: hairlines of 10 mm


def template_dxf(template: Template) -> bytes:
    """The template as a DXF file."""
    box = _covered(template)

    def draw(pen: Pen) -> None:
        left, bottom, right, top = box
        pen.loop(template.outline, OUTLINE.name)
        pen.line((left, 0.0), (right, 0.0), EDGES.name)
        pen.line((0.0, bottom), (0.0, top), EDGES.name)
        for edge in template.edges:
            if edge:
                pen.line((edge, bottom), (edge, top), EDGES.name)
        for hole in template.holes:
            _hole(pen, hole)
        for k, words in enumerate(_words(template)):
            pen.text((left, bottom - (k + 1) * 1.8 * HEIGHT), words, HEIGHT, LETTERS.name)
        for name, edge in zip(template.edge_names, template.edges, strict=False):
            pen.text((edge + 1.0, bottom + 1.0), name, HEIGHT, LETTERS.name, 90.0)

    return dxf_bytes("R2010", LAYERS, box, draw)


def _hole(pen: Pen, hole: Drilling) -> None:
    at, arm = (hole.u, hole.v), max(CROSS, 0.75 * hole.diameter)
    pen.circle(at, hole.diameter, HOLES.name)
    if hole.pilot:
        pen.circle(at, hole.pilot, PILOTS.name)
    pen.line((hole.u - arm, hole.v), (hole.u + arm, hole.v), CENTRES.name)
    pen.line((hole.u, hole.v - arm), (hole.u, hole.v + arm), CENTRES.name)
    if hole.slot_length:
        travel = slot(hole.u, hole.v, hole.diameter, hole.slot_length, hole.slot_angle)
        pen.loop(travel, SLOTS.name)
    pen.text((hole.u + arm + 1.0, hole.v + 1.0), hole.name, HEIGHT, LETTERS.name)


def _words(template: Template) -> list[str]:
    """What has to be told in words."""
    found = [template.face, f"datum (0, 0): {template.datum}", "millimetres, full size"]
    if template.wrap_diameter is not None:
        found.append(f"unrolled: wraps round an outside diameter of {template.wrap_diameter:g} mm")
    found += [f"{side}: {what}" for side, what in _sides(template) if what]
    return found


def _sides(template: Template) -> tuple[tuple[str, str], ...]:
    return (("left", template.left_side), ("right", template.right_side))


def _covered(template: Template) -> Box:
    """The box of outline, holes, edges and datum, with a margin."""
    left, bottom, right, top = template.outline.bounds
    holes = template.holes
    us = [left, right, 0.0, *template.edges, *(h.u for h in holes)]
    vs = [bottom, top, 0.0, *(h.v for h in holes)]
    return (min(us) - MARGIN, min(vs) - MARGIN, max(us) + MARGIN, max(vs) + MARGIN)
