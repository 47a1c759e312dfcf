"""Pictures of the parts and of the whole gate, for the report, the drawings and whoever asks.

A part is shown as it lies on its seat; the gate as somebody sees it who stands on the actuator's
side, closed and open, and once more close by, around the actuator. Units: mm.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from hangpost.generators.assembly import PLASTIC, STEEL, Standing, piece_name, standing
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.report.moving import near
from hangpost.generators.report.painter import Camera, Thing, paint
from hangpost.generators.report.png import png
from hangpost.generators.writers.mesh import Mesh
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

Meshed = Callable[[Part | Body], Mesh]

SMALL: Final = (480, 360)  # pixels
LARGE: Final = (960, 600)
OF_PART: Final = Camera(turn=30.0, rise=25.0)
FROM_ACTUATOR: Final = Camera(turn=208.0, rise=25.0)  # of a right-hand gate


def part_picture(part: Part, meshed: Meshed) -> bytes:
    """One part as a PNG file."""
    mesh = meshed(part)
    thing = Thing(mesh.vertices, mesh.faces, STEEL if part.process == "cut" else PLASTIC)
    return png(paint([thing], OF_PART, *SMALL))


@dataclass(frozen=True, slots=True)
class Portrait:
    """A picture to be painted of the gate: where it goes, what stands where, who looks."""

    path: str  # no two go to the same place
    pieces: tuple[Standing, ...] = field(compare=False)
    camera: Camera = field(compare=False)
    focus: frozenset[str] = field(default=frozenset(), compare=False)  # what fills it; none: all

    def painted(self, meshed: Meshed) -> bytes:
        """A PNG file."""
        things = {
            piece.name: Thing(mesh.vertices, mesh.faces, piece.colour)
            for piece in self.pieces
            for mesh in [meshed(piece.item).placed(piece.frame)]
        }
        focus = [thing for name, thing in things.items() if name in self.focus]
        return png(paint(list(things.values()), self.camera, *LARGE, focus=focus))


def portraits(design: Design) -> tuple[Portrait, ...]:
    """The gate closed, open, and what is new on it."""
    first = design.leaves[0]
    camera = _camera(first)
    closed, opened = (tuple(standing(design, share)) for share in (0.0, 1.0))
    new = frozenset(piece_name(first, placed) for placed in first.placed if near(placed))
    return (
        Portrait("pictures/assembly-closed.png", closed, camera),
        Portrait("pictures/assembly-open.png", opened, camera),
        Portrait("pictures/assembly-near.png", closed, camera, new),
    )


def map_paths(design: Design) -> list[str]:
    """Where the pivot map of each leaf lies in the pack."""
    if len(design.leaves) == 1:
        return ["pictures/pivot-map.svg"]
    return [f"pictures/pivot-map-{leaf.name}.svg" for leaf in design.leaves]


def pivot_maps(design: Design) -> dict[str, bytes]:
    """The pivot map of each leaf, by its path in the pack."""
    from hangpost.generators.pivots.map_svg import map_svg
    from hangpost.generators.pivots.pivot_map import pivot_map

    drawn = {}
    for leaf, path in zip(design.leaves, map_paths(design), strict=True):
        off = leaf.mount.sure.sources if leaf.mount.sure else ()
        title = f"{design.site.job}, {leaf.name} leaf" if leaf.name else design.site.job
        found = map_svg(pivot_map(leaf.problem, off, leaf.mount), leaf.problem, title)
        drawn[path] = found.encode("utf-8")
    return drawn


def _camera(leaf: LeafDesign) -> Camera:
    """From the actuator's side and a little behind the post, so that the leaf never hides it."""
    if leaf.hand == "right":
        return FROM_ACTUATOR
    return Camera(turn=360.0 - FROM_ACTUATOR.turn, rise=FROM_ACTUATOR.rise)
