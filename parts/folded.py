"""A plate with flanges folded along its straight edges: angles, lobed channels, flat plates.

Frame: the base lies in 0 <= w <= thickness; w = 0 is the face that touches the host (a post, a
rail), u to the right and v up as one looks at the other face, which is the marked one. A flange
is described in the same (u, v) plane as if the bend took up no length: its path leaves the base
edge at A and comes back to it at B. The flat pattern pushes it out by the bend allowance, the
solid turns it about the bend axis. Units: mm, degrees.
"""

from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin

from hangpost.parts.bends import allowance
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.frame import Frame, Vector
from hangpost.parts.loop import Loop, Point, Vertex

Box3 = tuple[Vector, Vector]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flange:
    """A panel folded along edge number `edge` of the base outline; `path` runs from A to B."""

    name: str
    edge: int
    path: tuple[Vertex, ...]  # between the ends of the edge; the first stretch is straight
    radius: float  # inside the bend
    angle: float = 90.0
    up: bool = True  # towards the viewer of the marked face
    holes: tuple[Hole, ...] = ()


def _turn(angle: float) -> tuple[float, float]:
    """Cosine and sine, exact for the square bend."""
    return (0.0, 1.0) if angle == 90 else (cos(radians(angle)), sin(radians(angle)))


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedPlate:
    """A base outline with its openings and the flanges that are folded out of its edges."""

    thickness: float
    outline: Loop
    windows: tuple[Loop, ...] = ()
    holes: tuple[Hole, ...] = ()
    flanges: tuple[Flange, ...] = ()
    k_factor: float | None = None  # None: DIN 6935

    def root(self, flange: Flange) -> tuple[Point, Point, Point, Point]:
        """The root edge of a flange: its ends A and B, its direction, and the way outward."""
        edge = self.outline.edges[flange.edge]
        (ax, ay), (bx, by) = edge.start, edge.end
        length = hypot(bx - ax, by - ay)
        along = ((bx - ax) / length, (by - ay) / length)
        return edge.start, edge.end, along, (along[1], -along[0])

    def taken_up(self, flange: Flange) -> float:
        """Length of sheet that the bend of this flange takes up."""
        return allowance(flange.angle, flange.radius, self.thickness, self.k_factor)

    def fold(self, flange: Flange) -> Frame:
        """The rigid map from the unfolded plane (no allowance) to the folded flange."""
        a, _, (dx, dy), (nx, ny) = self.root(flange)
        side = 1.0 if flange.up else -1.0
        c, s = _turn(flange.angle)
        out: Vector = (nx * c, ny * c, side * s)  # where the outward way n points once folded

        def image(x: float, y: float) -> Vector:
            along, away = x * dx + y * dy, x * nx + y * ny
            return (along * dx + away * out[0], along * dy + away * out[1], away * out[2])

        u, v = image(1, 0), image(0, 1)
        across = (-side * s * nx, -side * s * ny, c)  # where the thickness direction points
        axis = self.thickness + flange.radius if flange.up else -flange.radius
        drop = -axis  # from the bend axis down to the face w = 0, before folding
        moved = image(*a)
        origin = (
            a[0] + drop * across[0] - moved[0],
            a[1] + drop * across[1] - moved[1],
            axis + drop * across[2] - moved[2],
        )
        return Frame(origin, u, v)

    def panel(self, flange: Flange) -> Loop:
        """Outline of a flange in the unfolded plane, bend allowance left out."""
        a, b, _, _ = self.root(flange)
        return Loop((Vertex(*a), *flange.path, Vertex(*b)))

    def flat_pattern(self) -> FlatPattern:
        """The developed blank: base, bends at their full length, flanges."""
        vertices = list(self.outline.vertices)
        holes, bends = list(self.holes), []
        for flange in sorted(self.flanges, key=lambda f: -f.edge):
            a, b, _, (nx, ny) = self.root(flange)
            gap = self.taken_up(flange)
            du, dv = gap * nx, gap * ny
            pushed = [Vertex(x.x + du, x.y + dv, x.bulge) for x in self.panel(flange).vertices]
            vertices[flange.edge + 1 : flange.edge + 1] = pushed
            holes += [hole.moved(du, dv) for hole in flange.holes]
            start, end = (a[0] + du / 2, a[1] + dv / 2), (b[0] + du / 2, b[1] + dv / 2)
            bends.append(Bend(start, end, flange.angle, flange.radius, gap, flange.up))
        return FlatPattern(
            thickness=self.thickness,
            outline=Loop(tuple(vertices)).tidied(),
            windows=self.windows,
            holes=tuple(holes),
            bends=tuple(reversed(bends)),
        )

    @property
    def volume(self) -> float:
        """Volume by closed form: base, flanges and true bend sectors, openings taken out."""
        openings = sum(w.area for w in self.windows) + sum(h.area for h in self.holes)
        total = self.thickness * (self.outline.area - openings)
        for flange in self.flanges:
            net = self.panel(flange).area - sum(h.area for h in flange.holes)
            inner, outer = flange.radius, flange.radius + self.thickness
            sector = radians(flange.angle) * (outer**2 - inner**2) / 2
            total += self.thickness * net + sector * self.outline.edges[flange.edge].chord
        return total

    @property
    def box(self) -> Box3:
        """Least and greatest corner of the folded plate (exact for square bends)."""
        left, bottom, right, top = self.outline.bounds
        corners = [(x, y, h) for x in (left, right) for y in (bottom, top) for h in self._skin]
        for flange in self.flanges:
            left, bottom, right, top = self.panel(flange).bounds
            flat = [(x, y, h) for x in (left, right) for y in (bottom, top) for h in self._skin]
            corners += [self.fold(flange).point(corner) for corner in flat]
        xs, ys, zs = zip(*corners, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))

    @property
    def _skin(self) -> tuple[float, float]:
        return (0.0, self.thickness)

    def mirrored(self, *, across_u: bool) -> "FoldedPlate":
        """Mirror image: u changes sign, or v when `across_u` is false; bends keep their side."""
        count = len(self.outline.vertices)
        su, sv = (-1.0, 1.0) if across_u else (1.0, -1.0)

        def image(flange: Flange) -> Flange:
            way_back = self.panel(flange).edges[-3::-1]  # from B to A, without the two ends
            path = tuple(Vertex(su * e.end[0], sv * e.end[1], e.bulge) for e in way_back)
            return replace(
                flange,
                edge=count - 1 - flange.edge,
                path=path,
                holes=tuple(h.mirrored(across_u=across_u) for h in flange.holes),
            )

        return replace(
            self,
            outline=self.outline.mirrored(across_x=across_u),
            windows=tuple(w.mirrored(across_x=across_u) for w in self.windows),
            holes=tuple(h.mirrored(across_u=across_u) for h in self.holes),
            flanges=tuple(image(f) for f in self.flanges),
        )
