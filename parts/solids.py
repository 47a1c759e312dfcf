"""From arithmetic to solids: the one file that knows how the CAD kernel is spoken to.

The kernel is imported inside the functions, so that whatever needs no solid starts quickly.
Units: mm. Every function returns one valid solid placed in the caller's coordinates.
"""

from collections.abc import Sequence
from math import cos, radians, sin, tan
from typing import TYPE_CHECKING

from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.frame import Frame, Vector
from hangpost.parts.loop import Loop, Vertex

if TYPE_CHECKING:
    import cadquery as cq


def wire(loop: Loop) -> "cq.Wire":
    """The loop as a wire in the plane z = 0, true arcs kept."""
    import cadquery as cq

    edges = [e for e in loop.edges if e.chord > 1e-9]
    if len(edges) == 2 and all(abs(abs(e.bulge) - 1) < 1e-12 for e in edges):
        (x, y), radius = edges[0].centre, edges[0].radius
        return cq.Wire.makeCircle(radius, cq.Vector(x, y, 0), cq.Vector(0, 0, 1))
    return cq.Wire.assembleEdges(
        [
            cq.Edge.makeThreePointArc(*(cq.Vector(*e.at(k)) for k in (0.0, 0.5, 1.0)))
            if e.bulge
            else cq.Edge.makeLine(cq.Vector(*e.start), cq.Vector(*e.end))
            for e in edges
        ]
    )


def located(shape: "cq.Shape", frame: Frame) -> "cq.Shape":
    """The shape moved from local coordinates to where the frame stands."""
    import cadquery as cq

    origin, u, w = (cq.Vector(*a) for a in (frame.origin, frame.u, frame.w))
    return shape.moved(cq.Location(cq.Plane(origin, u, w)))


def extruded(
    outline: Loop, openings: Sequence[Loop], height: float, frame: Frame | None = None
) -> "cq.Solid":
    """The outline with its openings, raised from w = 0 to w = height in the frame."""
    import cadquery as cq

    inner = [wire(opening) for opening in openings]
    solid = cq.Solid.extrudeLinear(wire(outline), inner, cq.Vector(0, 0, height))
    return solid if frame is None else located(solid, frame)  # type: ignore[return-value]


def cylinder(start: Vector, direction: Vector, radius: float, length: float) -> "cq.Solid":
    """A round bar from `start` along `direction`."""
    import cadquery as cq

    return cq.Solid.makeCylinder(radius, length, cq.Vector(*start), cq.Vector(*direction))


def half_ring(centre: Vector, side: Vector, crown: Vector, radius: float, bar: float) -> "cq.Solid":
    """Half a ring of round bar, from centre + side over the crown to centre - side."""
    import cadquery as cq

    middle, out, up = (cq.Vector(*a) for a in (centre, side, crown))
    section = cq.Wire.makeCircle(bar, middle + out * radius, up)
    return cq.Solid.revolve(section, [], 180.0, middle, middle + out.cross(up))


def block(least: Vector, greatest: Vector) -> "cq.Solid":
    """An upright box between two corners."""
    import cadquery as cq

    dx, dy, dz = (b - a for a, b in zip(least, greatest, strict=True))
    return cq.Solid.makeBox(dx, dy, dz, cq.Vector(*least))


def chamfered(solid: "cq.Solid", heights: Sequence[float], size: float) -> "cq.Solid":
    """The solid with every edge that lies flat at one of the heights (w) chamfered."""
    edges = [
        edge
        for edge in solid.Edges()
        for w in heights
        if abs(edge.BoundingBox().zmin - w) < 1e-6 and abs(edge.BoundingBox().zmax - w) < 1e-6
    ]
    return one_solid(solid.chamfer(size, None, edges))


def one_solid(shape: "cq.Shape") -> "cq.Solid":
    """The only solid of a shape; anything else is a fault of the construction."""
    solids = shape.Solids()
    if len(solids) != 1 or not solids[0].isValid():
        raise RuntimeError(f"expected one valid solid, got {len(solids)}")
    return solids[0]


def folded_solid(plate: FoldedPlate) -> "cq.Solid":
    """The plate as it leaves the press brake: base, bend sectors and flanges made one."""
    openings = [*plate.windows, *(hole.loop for hole in plate.holes)]
    solid: cq.Shape = extruded(plate.outline, openings, plate.thickness)
    pieces = []
    for flange in plate.flanges:
        inner = [hole.loop for hole in flange.holes]
        pieces.append(_bend_sector(plate, flange))
        pieces.append(extruded(plate.panel(flange), inner, plate.thickness, plate.fold(flange)))
    if pieces:
        solid = solid.fuse(*pieces).clean()
    return one_solid(solid)


def _bend_sector(plate: FoldedPlate, flange: Flange) -> "cq.Solid":
    """The ring sector that joins base and flange, swept along the root edge."""
    _, b, _, (nx, ny) = plate.root(flange)
    t, turn = plate.thickness, radians(flange.angle)
    inner, outer = flange.radius, flange.radius + t
    side, axis = (1.0, t + inner) if flange.up else (-1.0, -inner)
    c, s, bulge = cos(turn), sin(turn), tan(turn / 4)

    def corner(radius: float, way_s: float, way_c: float, k: float) -> Vertex:
        return Vertex(radius * way_s, axis - side * radius * way_c, side * k)

    ring = [corner(inner, s, c, -bulge), corner(inner, 0, 1, 0), corner(outer, 0, 1, bulge)]
    ring.append(corner(outer, s, c, 0))
    if not flange.up:
        ring = [Vertex(e.end[0], e.end[1], -e.bulge) for e in Loop(tuple(ring)).edges[::-1]]
    frame = Frame((*b, 0.0), (nx, ny, 0.0), (0.0, 0.0, 1.0))
    width = plate.outline.edges[flange.edge].chord
    return extruded(Loop(tuple(ring)), (), width, frame)


def bevelled(solid: "cq.Solid", rim: Loop, height: float, size: float) -> "cq.Solid":
    """The solid with the edges of one opening, where it meets w = height, bevelled."""
    left, bottom, right, top = rim.bounds
    edges = [
        edge
        for edge in solid.Edges()
        for box in [edge.BoundingBox(1e-4)]
        if abs(box.zmin - height) < 1e-3 and abs(box.zmax - height) < 1e-3
        if left - 1e-2 < box.xmin and box.xmax < right + 1e-2
        if bottom - 1e-2 < box.ymin and box.ymax < top + 1e-2
    ]
    return one_solid(solid.chamfer(size, None, edges))


def stored(shape: "cq.Shape") -> bytes:
    """The shape as bytes that lose no digit of it."""
    from io import BytesIO

    stream = BytesIO()
    shape.exportBin(stream)
    return stream.getvalue()


def restored(data: bytes) -> "cq.Shape":
    """The shape that was stored."""
    from io import BytesIO

    import cadquery as cq

    return cq.Shape.importBin(BytesIO(data))
