"""A DXF file as such: units said everywhere, layers, extents, the same bytes every time.

What is drawn in it is the business of dxf.py (cut files) and template_dxf.py. Units: mm.
Source: DXF reference, header variables INSUNITS (4 = millimetres) and MEASUREMENT (1 = metric).
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from io import StringIO
from threading import Lock
from typing import TYPE_CHECKING, Final, Literal

from hangpost.parts.loop import Box, Loop, Point

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

Version = Literal["R12", "R2010"]  # AC1009, which everything reads, and AC1024
Linetype = Literal["CONTINUOUS", "DASHED", "CENTER"]

PLACES: Final = 6  # decimals of a coordinate: a nanometre, and no dust from the arithmetic

# Total length, then dash (+) and gap (-), in mm as drawn.
PATTERNS: Final[dict[Linetype, tuple[float, ...]]] = {
    "DASHED": (9.0, 6.0, -3.0),
    "CENTER": (22.0, 14.0, -3.0, 2.0, -3.0),
}

_writing = Lock()


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer: its name, AutoCAD colour index and linetype."""

    name: str
    colour: int
    linetype: Linetype = "CONTINUOUS"


def dxf_bytes(
    version: Version, layers: Sequence[Layer], box: Box, draw: Callable[["Pen"], None]
) -> bytes:
    """The file that `draw` fills; `box` is what the drawing covers."""
    from ezdxf.document import Drawing
    from ezdxf.units import InsertUnits

    with _same_every_time():
        old = version == "R12"
        document = Drawing.new(version)
        if not old:  # R12 cannot say its unit
            document.units = InsertUnits.Millimeters
            document.modelspace().units = InsertUnits.Millimeters
            document.header["$MEASUREMENT"] = 1
        document.header["$LUNITS"] = 2  # decimal numbers
        for name, pattern in PATTERNS.items():
            document.linetypes.add(name, list(pattern))
        for layer in layers:
            document.layers.add(layer.name, color=layer.colour, linetype=layer.linetype)
        space = document.modelspace()
        draw(Pen(space, flat=old))
        low, high = (_at(box[:2]), _at(box[2:]))
        space.reset_extents((*low, 0.0), (*high, 0.0))
        document.header["$EXTMIN"], document.header["$EXTMAX"] = (*low, 0.0), (*high, 0.0)
        audit = document.audit()
        if audit.errors or audit.fixes:
            raise RuntimeError(f"DXF audit: {[e.message for e in (*audit.errors, *audit.fixes)]}")
        _classes_in_order(document)
        stream = StringIO()
        document.write(stream)
        return document.encode(stream.getvalue())


def _classes_in_order(document: "Drawing") -> None:
    """Put the section of classes in order: the library fills it from a set, in any order."""
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))


@contextmanager
def _same_every_time() -> Iterator[None]:
    """Time stamps and identifiers of new documents held fixed, the library's switch put back."""
    import ezdxf

    with _writing:
        before = ezdxf.options.write_fixed_meta_data_for_testing
        ezdxf.options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            ezdxf.options.write_fixed_meta_data_for_testing = before


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws in a document; `flat` documents know only the old polyline."""

    space: "Modelspace"
    flat: bool

    def loop(self, loop: Loop, layer: str) -> None:
        """A closed outline as one polyline with true arcs."""
        points = [(*_at(v.point), round(v.bulge, 12) + 0.0) for v in loop.vertices]
        self._polyline(points, layer, closed=True)

    def path(self, points: Sequence[Point], layer: str) -> None:
        """An open run of straight lines."""
        self._polyline([(*_at(p), 0.0) for p in points], layer, closed=False)

    def _polyline(
        self, points: list[tuple[float, float, float]], layer: str, *, closed: bool
    ) -> None:
        add = self.space.add_polyline2d if self.flat else self.space.add_lwpolyline
        add(points, format="xyb", close=closed, dxfattribs={"layer": layer})

    def circle(self, centre: Point, diameter: float, layer: str) -> None:
        """A full circle."""
        radius = round(diameter / 2, PLACES)
        self.space.add_circle(_at(centre), radius, dxfattribs={"layer": layer})

    def line(self, start: Point, end: Point, layer: str) -> None:
        """A straight line."""
        self.space.add_line(_at(start), _at(end), dxfattribs={"layer": layer})

    def text(self, at: Point, words: str, height: float, layer: str, angle: float = 0.0) -> None:
        """A line of lettering from its lower left corner."""
        attributes = {"layer": layer, "height": height, "rotation": angle}
        self.space.add_text(words, dxfattribs=attributes).set_placement(_at(at))


def _at(point: Sequence[float]) -> Point:
    """The point to the decimals that are written, without a minus before nought."""
    return (round(point[0], PLACES) + 0.0, round(point[1], PLACES) + 0.0)
