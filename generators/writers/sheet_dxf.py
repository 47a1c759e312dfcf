"""A drawing sheet as DXF: the same lines, lettering and real dimensions, views at true size.

The whole sheet is enlarged by the scale of its drawing, so that what is measured in the file is
the part and not the paper. The QR symbol is one solid hatch, its squares joined to
as few rectangles as may be; it names tool, input and revision, for the thousands of rectangles
of a whole site file, which the paper has, make a drawing slow to open. Units: mm.
"""

from typing import Final

from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.dxf_document import Layer, dxf_bytes
from hangpost.generators.writers.dxf_document import Pen as Document
from hangpost.generators.writers.fonts import CAPITAL
from hangpost.generators.writers.ink import Circle, Pen, Stroke, Text
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.stamp import QUIET, symbol
from hangpost.parts.loop import Edge

LAYERS: Final[dict[Pen, Layer]] = {
    "thick": Layer("OUTLINE", 7),
    "thin": Layer("THIN", 8),
    "hair": Layer("HAIRLINE", 8),
    "hidden": Layer("HIDDEN", 4, "DASHED"),
    "centre": Layer("CENTRE", 1, "CENTER"),
    "phantom": Layer("BEND_UP_AND_PHANTOM", 5, "CENTER"),
}
LETTERS: Final = Layer("TEXT", 2)
SYMBOL: Final = Layer("QR", 7)
DIMENSIONS: Final = Layer("DIMENSIONS", 3)
STYLE: Final = "SHOP"


def sheet_dxf(sheet: Sheet, mark: str) -> bytes:
    """The sheet as a DXF file; `mark` is what its symbol holds."""
    factor = 1.0 / sheet.scale

    def draw(document: Document) -> None:
        _style(document)
        for item in sheet.items:
            if isinstance(item, Modules):
                _symbol(document, item, mark, factor)
            else:
                _item(document, item, factor)

    layers = (*LAYERS.values(), LETTERS, DIMENSIONS, SYMBOL)
    box = (0.0, 0.0, sheet.width * factor, sheet.height * factor)
    return dxf_bytes("R2010", layers, box, draw)


def _style(document: Document) -> None:
    """One style for all dimensions; sizes are set for each."""
    space = document.space
    assert space.doc is not None
    style = space.doc.dimstyles.new(STYLE)
    style.dxf.dimtxsty = "Standard"
    style.dxf.dimtad = 1
    style.dxf.dimtih = 0
    style.dxf.dimtoh = 0


def _item(document: Document, item: Dimension | Stroke | Circle | Text, factor: float) -> None:
    if isinstance(item, Dimension):
        _dimension(document, item, factor)
    elif isinstance(item, Stroke):
        _stroke(document, item, factor)
    elif isinstance(item, Circle):
        x, y = item.centre
        name = LAYERS[item.pen].name
        document.circle((x * factor, y * factor), item.diameter * factor, name)
    else:
        _text(document, item, factor)


def _stroke(document: Document, item: Stroke, factor: float) -> None:
    points = [(round(v.x * factor, 6), round(v.y * factor, 6), v.bulge) for v in item.vertices]
    where = {"layer": LAYERS[item.pen].name}
    if item.filled and len(points) == 3:
        a, b, c = ((x, y) for x, y, _ in points)
        document.space.add_solid([a, b, c, c], dxfattribs=where)
    elif len(points) == 2 and not points[0][2]:
        document.space.add_line(points[0][:2], points[1][:2], dxfattribs=where)
    elif len(points) == 2 and not item.closed:
        _arc(document, item.edges[0], factor, where)
    else:
        document.space.add_lwpolyline(points, format="xyb", close=item.closed, dxfattribs=where)


def _arc(document: Document, edge: Edge, factor: float, where: dict[str, str]) -> None:
    from math import atan2, degrees

    (cx, cy), (sx, sy), (ex, ey) = edge.centre, edge.start, edge.end
    start, end = degrees(atan2(sy - cy, sx - cx)), degrees(atan2(ey - cy, ex - cx))
    if edge.bulge < 0:
        start, end = end, start
    centre = (round(cx * factor, 6), round(cy * factor, 6))
    radius = round(edge.radius * factor, 6)
    document.space.add_arc(centre, radius, round(start, 6), round(end, 6), dxfattribs=where)


def _text(document: Document, item: Text, factor: float) -> None:
    from ezdxf.enums import TextEntityAlignment as Alignment

    align = {"left": Alignment.LEFT, "centre": Alignment.CENTER, "right": Alignment.RIGHT}
    attributes = {
        "layer": LETTERS.name,
        "height": round(item.size * CAPITAL * factor, 6),
        "rotation": item.angle,
    }
    text = document.space.add_text(item.text, dxfattribs=attributes)
    at = (round(item.at[0] * factor, 6), round(item.at[1] * factor, 6))
    text.set_placement(at, align=align[item.anchor])


def _symbol(document: Document, whole: Modules, mark: str, factor: float) -> None:
    """The small symbol in the place of the whole one."""
    left, bottom, right, _ = whole.box
    white = QUIET * whole.size
    small = symbol(mark, (left - white, bottom - white), right - left + 2 * white)
    assert small is not None, "what names a sheet fits where a site file does"
    hatch = document.space.add_hatch(color=256, dxfattribs={"layer": SYMBOL.name})
    for left, bottom, right, top in small.blocks:
        corners = ((left, bottom), (right, bottom), (right, top), (left, top))
        points = [(round(x * factor, 4), round(y * factor, 4)) for x, y in corners]
        hatch.paths.add_polyline_path(points)


def _dimension(document: Document, item: Dimension, factor: float) -> None:
    """A linear dimension; the figure is ours, since it gives both units."""

    def at(point: tuple[float, float]) -> tuple[float, float]:
        return (round(point[0] * factor, 6), round(point[1] * factor, 6))

    size = item.size * factor
    label = item.label
    dimension = document.space.add_linear_dim(
        base=at(item.through),
        p1=at(item.first),
        p2=at(item.second),
        angle=item.angle,
        text=item.text,
        location=at(label.at) if item.along else None,
        dimstyle=STYLE,
        override={
            "dimtxt": size * CAPITAL,
            "dimasz": 0.9 * size,
            "dimexo": 0.8 * factor,
            "dimexe": 1.5 * factor,
            "dimgap": 0.25 * size,
        },
        dxfattribs={"layer": DIMENSIONS.name},
    )
    dimension.render()
