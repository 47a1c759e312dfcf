"""STL and 3MF files held against pack.json and against the solid they were made from.

STL is read by trimesh; 3MF, a zip with XML inside, by the standard library. Frame: the bed, least
corner at the origin. Units: mm.
"""

import zipfile
from collections.abc import Iterator
from io import BytesIO
from typing import Any, Final
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.verify.listed import ListedPart
from hangpost.generators.verify.problem import Unreadable
from hangpost.parts.frame import Frame

BOX: Final = 0.06  # mm: facets lie within 0.05 of the surface
VOLUME: Final = 2e-3  # share
CENTRE: Final = 0.02  # mm: the middle of the volume
RING: Final = 16  # corners of a bore's edge, at least
LARGEST: Final = 20_000_000  # bytes that a 3MF may unpack to; ours below 1 million
Array = NDArray[np.float64]
SPACE: Final = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def stl_faults(data: bytes, part: ListedPart, solid: Any) -> Iterator[str]:
    """What is wrong with the STL of a part; `solid` is its STEP file as imported, or None."""
    import trimesh

    try:
        with np.errstate(all="ignore"):  # of corners that are no numbers we tell ourselves
            mesh = trimesh.load(BytesIO(data), file_type="stl", force="mesh")
    except Exception as error:  # whatever a reader says of a damaged file
        raise Unreadable(f"cannot be read ({error})") from error
    yield from _mesh_faults(mesh, part, solid)


def three_mf_faults(data: bytes, part: ListedPart, solid: Any) -> Iterator[str]:
    """What is wrong with the 3MF of a part."""
    import trimesh

    model = _model(data)
    if model.get("unit") != "millimeter":
        yield f"the unit is {model.get('unit')}, should be millimeter"
    objects = model.findall(f".//{SPACE}object")
    names = [o.get("name") for o in objects]
    if names != [part.id]:
        yield f"holds {names}, should hold {part.id}"
    items = model.findall(f"./{SPACE}build/{SPACE}item")
    if len(items) != 1 or items[0].get("transform") is not None:
        yield "should hold one piece where it lies, without a placement"
    try:
        corners = [
            [float(v.attrib[k]) for k in ("x", "y", "z")] for v in model.iter(f"{SPACE}vertex")
        ]
        faces = [
            [int(t.attrib[k]) for k in ("v1", "v2", "v3")] for t in model.iter(f"{SPACE}triangle")
        ]
    except (KeyError, ValueError) as error:
        raise Unreadable(f"a corner or triangle is damaged ({error})") from error
    if not faces or max(map(max, faces)) >= len(corners):
        raise Unreadable("triangles without corners")
    mesh = trimesh.Trimesh(np.array(corners), np.array(faces), process=False)
    yield from _mesh_faults(mesh, part, solid)


def _model(data: bytes) -> ElementTree.Element:
    try:
        with zipfile.ZipFile(BytesIO(data)) as package:
            entry = package.getinfo("3D/3dmodel.model")
            if entry.file_size > LARGEST:
                raise Unreadable("unpacks to more than it should")
            text = package.read(entry)
    except Unreadable:
        raise
    except Exception as error:  # whatever is said of a damaged archive, and by which unpacker
        raise Unreadable(f"not a 3MF file ({error})") from error
    if b"<!DOCTYPE" in text or b"<!ENTITY" in text:
        raise Unreadable("holds declarations that no 3MF needs")
    try:
        return ElementTree.fromstring(text)
    except (ElementTree.ParseError, LookupError, ValueError) as error:  # no XML; no such encoding
        raise Unreadable(f"not a 3MF file ({error})") from error


def _mesh_faults(mesh: Any, part: ListedPart, solid: Any) -> Iterator[str]:
    if not len(mesh.faces) or not np.isfinite(mesh.vertices).all():
        yield "there is no surface"
        return
    if not mesh.is_watertight or not mesh.is_winding_consistent:
        yield "the surface does not close"
        return
    if mesh.body_count != 1:
        yield f"{mesh.body_count} bodies, should be 1"
    if abs(mesh.volume / part.volume - 1) > VOLUME:
        yield f"volume {mesh.volume:.1f} mm3, should be {part.volume:.1f}"
    if abs(mesh.bounds[0][2]) > 1e-3:
        yield f"does not lie on the bed: lowest point at {mesh.bounds[0][2]:.3f}"
    if solid is None:
        return
    lying = Frame(part.print_frame.origin, part.print_frame.u, part.print_frame.v)
    low, high, centre = _turned(solid, lying)
    yield from _bore_faults(mesh, part, lying, low)
    size, should = mesh.extents, high - low
    if np.abs(size - should).max() > BOX:
        yield f"measures {_row(size)} mm, should measure {_row(should)}"
    off = np.linalg.norm(mesh.center_mass - (centre - low))
    if off > CENTRE:
        yield f"the middle of its volume is {off:.3f} mm from where the solid has it"


def _turned(solid: Any, lying: Frame) -> tuple[Array, Array, Array]:
    """Box and middle of the solid as it lies on the bed."""
    import cadquery as cq

    from hangpost.generators.verify.step_files import box
    from hangpost.parts.solids import located

    moved = located(solid, lying)
    low, high = box(moved)
    return low, high, np.array(cq.Shape.centerOfMass(moved).toTuple())


def _bore_faults(mesh: Any, part: ListedPart, lying: Frame, low: Array) -> Iterator[str]:
    """Whether every round bore has its ring of corners around the axis, and nothing within."""
    for hole in part.holes:
        if hole.slot_length:
            continue
        origin, axis = lying.point(hole.origin) - low, lying.direction(hole.axis)
        off = np.linalg.norm(np.cross(mesh.vertices - origin, axis), axis=1) - hole.diameter / 2
        if np.count_nonzero(np.abs(off) < BOX) < RING or off.min() < -BOX:
            yield f"hole {hole.name}: no bore of diameter {hole.diameter:g} in its place"


def _row(numbers: Any) -> str:
    return "(" + ", ".join(f"{n:.3f}" for n in numbers) + ")"
