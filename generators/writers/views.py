"""Views of a solid with its hidden lines, in true mm and with a known way up.

The kernel's own hidden-line removal does the work; here its edges become strokes: lines and arcs
stay what they are, other curves are cut to short lines. Frame of a view: paper right and up as
asked, the solid's own origin at (0, 0).
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import dist, tan
from typing import TYPE_CHECKING, Any, Final

from hangpost.generators.writers.ink import Pen, Stroke, together
from hangpost.parts.frame import Frame, Vector
from hangpost.parts.loop import Box, Point, Vertex
from hangpost.parts.part import Part

if TYPE_CHECKING:
    import cadquery as cq

TINY: Final = 1e-6
PIECES: Final = 12  # straight pieces of a curve that is neither line nor arc


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """From where one looks: towards the eye, and which way is right on the paper."""

    look: Vector
    right: Vector


FRONT: Final = Eye(look=(0.0, 0.0, 1.0), right=(1.0, 0.0, 0.0))  # at the marked face
TOP: Final = Eye(look=(0.0, 1.0, 0.0), right=(1.0, 0.0, 0.0))
RIGHT: Final = Eye(look=(1.0, 0.0, 0.0), right=(0.0, 0.0, -1.0))
CORNER: Final = Eye(look=(0.62, 0.47, 0.63), right=(0.7125, 0.0, -0.7017))
HOME: Final = Frame()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """A part where it stands, and how it is looked at."""

    part: Part
    eye: Eye
    place: Frame = HOME
    smooth: bool = True  # show where a bend begins
    hidden: bool = True  # show what is behind


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What one sees, and what is hidden."""

    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...]

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        """All of it, hidden lines first."""
        return (*self.hidden, *self.visible)

    @property
    def box(self) -> Box:
        """The box it covers."""
        return together(s.box for s in self.strokes)


Look = Callable[[Sight], View]  # whoever can say what one sees


def looking(solid: "Callable[[Part], cq.Shape]") -> Look:
    """Look at solids right here."""
    from hangpost.parts.solids import located

    def look(sight: Sight) -> View:
        whole = solid(sight.part)
        placed = whole if sight.place == HOME else located(whole, sight.place)
        return view(placed, sight.eye, smooth=sight.smooth, hidden=sight.hidden)

    return look


def view(solid: "cq.Shape", eye: Eye, *, smooth: bool = True, hidden: bool = True) -> View:
    """The solid seen from `eye`; `smooth` shows where a bend begins, `hidden` what is behind."""
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    remover = HLRBRep_Algo()
    remover.Add(solid.wrapped)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*eye.look), gp_Dir(*eye.right))
    remover.Projector(HLRAlgo_Projector(axes))
    remover.Update()
    remover.Hide()
    found = HLRBRep_HLRToShape(remover)
    seen = [found.VCompound(), found.OutLineVCompound()]
    soft = [found.Rg1LineVCompound()] if smooth else []
    behind = [found.HCompound(), found.OutLineHCompound()] if hidden else []
    return View(
        visible=(*_strokes(soft, "thin"), *_strokes(seen, "thick")),
        hidden=_strokes(behind, "hidden"),
    )


def _strokes(compounds: list[Any], pen: Pen) -> tuple[Stroke, ...]:
    import cadquery as cq
    from OCP.BRepLib import BRepLib

    found: dict[tuple[float, ...], Stroke] = {}
    for compound in compounds:
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        for edge in cq.Shape.cast(compound).Edges():
            for stroke in _stroke(edge, pen):
                ends = sorted(v.point for v in stroke.vertices)
                middle = stroke.edges[0].at(0.5)
                key = tuple(round(c, 4) for p in (*ends, middle) for c in p)
                found[key] = stroke
    return tuple(found[key] for key in sorted(found))


def _stroke(edge: "cq.Edge", pen: Pen) -> list[Stroke]:
    """An edge in the paper's plane as strokes; what has no length is left out."""
    kind = edge.geomType()
    if kind == "CIRCLE":
        return _arc(edge, pen)
    points = _along(edge, 1 if kind == "LINE" else PIECES)
    if sum(dist(a, b) for a, b in pairwise(points)) < TINY:
        return []
    return [Stroke(tuple(Vertex(*p) for p in points), pen)]


def _arc(edge: "cq.Edge", pen: Pen) -> list[Stroke]:
    """An arc in two halves, so that a full circle is one too."""
    start, quarter, middle, _, end = _along(edge, 4)
    sweep = edge.Length() / edge.radius()
    if edge.Length() < TINY:
        return []
    turn = (quarter[0] - start[0]) * (middle[1] - quarter[1]) - (quarter[1] - start[1]) * (
        middle[0] - quarter[0]
    )
    bulge = tan(sweep / 8) * (1.0 if turn > 0 else -1.0)
    return [Stroke((Vertex(*start, bulge), Vertex(*middle, bulge), Vertex(*end)), pen)]


def _along(edge: "cq.Edge", count: int) -> list[Point]:
    """Points of an edge at equal steps of its parameter, both ends included."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve

    curve = BRepAdaptor_Curve(edge.wrapped)
    first, last = curve.FirstParameter(), curve.LastParameter()
    points = (curve.Value(first + (last - first) * k / count) for k in range(count + 1))
    return [(_dust(p.X()), _dust(p.Y())) for p in points]


def _dust(value: float) -> float:
    return round(value, 6) + 0.0
