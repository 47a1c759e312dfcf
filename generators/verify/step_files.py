"""STEP files held against pack.json: holes from their own text, volume and box by the kernel.

Frame: a part's seat frame, an assembly's plan frame. Units: mm.
"""

from collections.abc import Iterator, Sequence
from io import BytesIO
from math import cos, isclose, radians, sin
from typing import TYPE_CHECKING, Any, Final, Literal

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.verify.listed import ListedHole, ListedPart, ListedPiece
from hangpost.generators.verify.problem import Unreadable
from hangpost.generators.verify.step_reader import Cylinder, read_step
from hangpost.parts.kernel import load_kernel

if TYPE_CHECKING:
    import cadquery as cq

Array = NDArray[np.float64]

NEAR: Final = 0.01  # mm
BOX: Final = 0.02  # mm: the kernel's boxes keep a little room
VOLUME: Final = 1e-4  # share


def part_faults(data: bytes, part: ListedPart) -> Iterator[str]:
    """What is wrong with the STEP file of a part."""
    file = read_step(data)
    if not file.in_millimetres:
        yield "the file does not say that it is in millimetres"
    if file.products != (part.id,):
        yield f"names the product {', '.join(file.products)}, should be {part.id}"
    if file.count("MANIFOLD_SOLID_BREP") != 1:
        yield f"{file.count('MANIFOLD_SOLID_BREP')} solids, should be 1"
    for hole in part.holes:
        yield from _hole_faults(hole, file.cylinders)
    shape = imported(data)
    if not shape.isValid():
        yield "the solid is not valid"
    if not isclose(shape.Volume(), part.volume, rel_tol=VOLUME):
        yield f"volume {shape.Volume():.1f} mm3, should be {part.volume:.1f}"
    low, high = box(shape)
    wanted = np.array(part.solid_box, dtype=float)
    if np.abs(np.array([low, high]) - wanted).max() > BOX:
        should = f"{_row(wanted[0])} to {_row(wanted[1])}"
        yield f"covers {_row(low)} to {_row(high)}, should cover {should}"


def assembly_faults(
    data: bytes, pieces: Sequence[ListedPiece], state: Literal["closed", "open"]
) -> Iterator[str]:
    """What is wrong with an assembly: pieces that are missing, strange or out of place."""
    file = read_step(data)
    if not file.in_millimetres:
        yield "the file does not say that it is in millimetres"
    placed = file.pieces
    wanted = {p.name: p.closed if state == "closed" else p.open for p in pieces}
    for name in sorted(set(wanted) - set(placed)):
        yield f"{name} is missing"
    for name in sorted(set(placed) - set(wanted)):
        yield f"{name} does not belong here"
    for name in sorted(set(placed) & set(wanted)):
        frame, (origin, z, x) = wanted[name], placed[name]
        u, v = np.array(frame.u), np.array(frame.v)
        off = float(np.linalg.norm(np.subtract(origin, frame.origin)))
        turn = max(np.abs(np.subtract(x, u)).max(), np.abs(np.subtract(z, np.cross(u, v))).max())
        if off > NEAR or turn > 1e-5:
            yield f"{name} stands at {_row(origin)}, should stand at {_row(frame.origin)}"
    named = {piece.part for piece in pieces if piece.part}
    lost = named - set(file.products)
    if lost:
        yield f"no product named {', '.join(sorted(lost))}"


def imported(data: bytes) -> "cq.Shape":
    """The shape as the CAD kernel reads it; raises Unreadable."""
    load_kernel()
    import cadquery as cq
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    try:
        status = reader.ReadStream("in.step", BytesIO(data))  # no file on the way
        if status != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ValueError("no STEP file")
        reader.TransferRoots()
        found = [cq.Shape.cast(reader.Shape(i)) for i in range(1, reader.NbShapes() + 1)]
    except Exception as error:  # the kernel raises whatever it likes
        raise Unreadable(f"the CAD kernel cannot read it ({error})") from error
    if len(found) != 1:
        raise Unreadable(f"{len(found)} shapes, should be 1")
    return found[0]


def box(shape: "cq.Shape") -> tuple[Array, Array]:
    """Least and greatest corner of a shape."""
    b = shape.BoundingBox(1e-6)
    return np.array([b.xmin, b.ymin, b.zmin]), np.array([b.xmax, b.ymax, b.zmax])


def _hole_faults(hole: ListedHole, cylinders: Sequence[Cylinder]) -> Iterator[str]:
    """Whether the round faces of a hole or the two ends of a slot are where they should be."""
    origin, axis = np.array(hole.origin), np.array(hole.axis)
    half = hole.slot_length / 2
    same = [
        np.cross(np.subtract(c.point, origin), axis)
        for c in cylinders
        if abs(c.diameter - hole.diameter) <= NEAR and np.linalg.norm(np.cross(c.axis, axis)) < 1e-4
    ]
    if hole.panel == "seat" and half:
        turn = radians(hole.slot_angle)
        way = half * np.cross((cos(turn), sin(turn), 0.0), axis)
        ends = [min((float(np.linalg.norm(s - e)) for s in same), default=9e9) for e in (way, -way)]
        off = max(ends)
    else:  # folded up: how far the two ends are from the middle, whichever way they lie
        off = min((abs(float(np.linalg.norm(s)) - half) for s in same), default=9e9)
    if off > NEAR:
        slot = f", slotted {hole.slot_length:g}" if half else ""
        yield (
            f"hole {hole.name}: no round face of diameter {hole.diameter:g} "
            f"on the axis through {_row(origin)}{slot}"
        )


def _row(numbers: Any) -> str:
    return "(" + ", ".join(f"{n:.3f}" for n in numbers) + ")"
