"""STEP files (ISO 10303-214): one part, or an assembly of named and coloured parts in place.

Parts stand in their seat frame, assemblies in the plan frame. The tree is flat: a product for
every different part and one placement for every piece. Names are plain ASCII, because readers
disagree about anything else. Units: mm. The bytes repeat: see step_order.py.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from hangpost.generators.writers.cut_name import file_word
from hangpost.generators.writers.step_order import repeatable
from hangpost.parts.frame import Frame

if TYPE_CHECKING:
    import cadquery as cq

_NO_REVISION: Final = b"PRODUCT_DEFINITION_FORMATION('','',"  # as the kernel writes it

Colour = tuple[float, float, float]  # red, green, blue from 0 to 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A thing in its place; pieces of the same product share one shape."""

    name: str  # unique in the assembly
    product: str
    shape: "cq.Shape"
    frame: Frame
    colour: Colour


def part_step(name: str, shape: "cq.Shape") -> bytes:
    """One solid as a product of that name."""
    document, shapes, _ = _document()
    _name(shapes.AddShape(_own(shape), False), name)
    return _written(document, name)


def revised(data: bytes, revision: str) -> bytes:
    """The file with the revision of its products, where ISO 10303-41 has it."""
    word = file_word(revision).encode("ascii")
    return data.replace(_NO_REVISION, b"PRODUCT_DEFINITION_FORMATION('" + word + b"','',")


def assembly_step(name: str, pieces: Sequence[Piece]) -> bytes:
    """All pieces in place below one product of that name."""
    from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
    from OCP.XCAFDoc import XCAFDoc_ColorType

    names = [piece.name for piece in pieces]
    if len(set(names)) < len(names):
        raise ValueError(f"names in an assembly must differ: {sorted(names)}")
    document, shapes, colours = _document()
    whole = shapes.NewShape()
    _name(whole, name)
    products: dict[str, Any] = {}
    for piece in pieces:
        if piece.product not in products:
            label = shapes.AddShape(_own(piece.shape), False)
            _name(label, piece.product)
            paint = Quantity_Color(*piece.colour, Quantity_TOC_sRGB)
            colours.SetColor(label, paint, XCAFDoc_ColorType.XCAFDoc_ColorSurf)
            products[piece.product] = label
        placed = shapes.AddComponent(whole, products[piece.product], _location(piece.frame))
        _name(placed, piece.name)
    shapes.UpdateAssemblies()
    return _written(document, name)


def _document() -> tuple[Any, Any, Any]:
    """An empty document with its tools for shapes and colours."""
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    main = document.Main()
    tool = XCAFDoc_DocumentTool
    return document, tool.ShapeTool_s(main), tool.ColorTool_s(main)


def _own(shape: "cq.Shape") -> Any:
    """A copy of the shape with its place worked into its coordinates.

    The document keeps one entry for a shape, however often and wherever it is added: a shape
    under two names, or one that carries a placement, would lose name and colour.
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.TopLoc import TopLoc_Location

    place = shape.wrapped.Location().Transformation()
    return BRepBuilderAPI_Transform(shape.wrapped.Located(TopLoc_Location()), place, True).Shape()


def _name(label: Any, name: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    if not name.isascii() or not name.isprintable() or "'" in name or not name:
        raise ValueError(f"a name in a STEP file must be plain ASCII: {name!r}")
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))


def _location(frame: Frame) -> Any:
    import cadquery as cq

    origin, u, w = (cq.Vector(*v) for v in (frame.origin, frame.u, frame.w))
    return cq.Location(cq.Plane(origin, u, w)).wrapped


def _written(document: Any, name: str) -> bytes:
    """The document through the kernel's writer, then put in order."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType

    writer = STEPCAFControl_Writer()
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    stream = BytesIO()  # no file on the way: nothing stays behind after a kill, no disk is needed
    sent = writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
    status = writer.WriteStream(stream) if sent else None
    if status != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise ValueError(f"the CAD kernel could not write the STEP file of {name}")
    text = stream.getvalue().decode("latin-1")
    return repeatable(text, name=name, maker=f"hangpost {version('hangpost')}").encode("ascii")
