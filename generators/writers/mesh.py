"""Solids as triangles: meshed once, then used for STL, 3MF and the clearance sweep.

Facets of parts lie within 0.05 mm of the true surface and turn at most 0.1 rad from one to the
next; those of bodies that only stand for what is there lie within 0.1 mm and turn 0.25 rad.
STL knows neither units nor names; the file name says mm, and the 3MF beside it says it inside.
Sources: STL binary, 3MF Core Specification (unit, metadata names). Units: mm.
"""

import struct
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from io import BytesIO
from typing import TYPE_CHECKING, Final
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from numpy.typing import NDArray

from hangpost.parts.frame import Frame

if TYPE_CHECKING:
    import cadquery as cq

TOLERANCE: Final = 0.05  # mm between facet and surface
TURN: Final = 0.1  # radians between neighbouring facets
ROUGH: Final = (0.1, 0.25)  # the same two of a body that nobody makes
MERGE: Final = 6  # decimals to which two corners are the same one


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """A closed surface: corners (n, 3) and triangles (m, 3), counter-clockwise from outside."""

    vertices: NDArray[np.float64]
    faces: NDArray[np.int64]
    chord: float = 0.0  # how far a facet may lie off the true surface

    @property
    def bounds(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Least and greatest corner."""
        return self.vertices.min(axis=0), self.vertices.max(axis=0)

    @property
    def volume(self) -> float:
        """Volume inside, by the divergence theorem."""
        a, b, c = (self.vertices[self.faces[:, k]] for k in range(3))
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)

    @property
    def is_closed(self) -> bool:
        """Whether every edge is walked once each way."""
        start, end = self.faces.ravel(), np.roll(self.faces, -1, axis=1).ravel()
        count = int(self.faces.max(initial=0)) + 1
        there = np.sort(start * count + end)  # each way along an edge as one number
        back = np.sort(end * count + start)
        return bool((np.diff(there) > 0).all()) and np.array_equal(there, back)

    def placed(self, frame: Frame) -> "Mesh":
        """The mesh where the frame stands."""
        m = np.array(frame.matrix)
        return replace(self, vertices=self.vertices @ m[:3, :3].T + m[:3, 3])

    def shifted(self, way: NDArray[np.float64]) -> "Mesh":
        """The mesh moved along."""
        return replace(self, vertices=self.vertices + way)


def meshed(shape: "cq.Shape", tolerance: float = TOLERANCE, turn: float = TURN) -> Mesh:
    """The shape's surface as one closed mesh; it is a fault of ours if it does not close."""
    surfaces, points, triangles = facets(shape, tolerance, turn)
    rounded = np.round(points, MERGE) + 0.0
    vertices, at = np.unique(rounded, axis=0, return_inverse=True)
    faces = at.reshape(-1)[triangles]
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]  # slivers that the merging closed up
    flat = all(face.geomType() == "PLANE" for face in surfaces)
    mesh = Mesh(vertices, _in_order(faces), 0.0 if flat else tolerance)
    if not mesh.is_closed or not mesh.volume > 0:
        raise RuntimeError("the mesh of a solid does not close")
    return mesh


def facets(
    shape: "cq.Shape", tolerance: float, turn: float
) -> tuple["Sequence[cq.Face]", NDArray[np.float64], NDArray[np.int64]]:
    """The surfaces, corners (n, 3) and triangles (m, 3) that lie within mm and radians of them.

    Each surface has its own corners. Raises RuntimeError when one gets no facets.
    """
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location

    copy = shape.copy()  # the kernel keeps the finest mesh a shape ever had and gives it again
    copy.mesh(tolerance, turn)
    surfaces = copy.Faces()
    points: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    for face in surfaces:
        place = TopLoc_Location()
        net = BRep_Tool.Triangulation_s(face.wrapped, place)
        if net is None:
            raise RuntimeError("the kernel lays no facets over a face")
        moved = None if place.IsIdentity() else place.Transformation()
        before = len(points) - 1  # the kernel counts from one
        for number in range(1, net.NbNodes() + 1):
            node = net.Node(number)
            node = node if moved is None else node.Transformed(moved)
            points.append((node.X(), node.Y(), node.Z()))
        turned = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        for number in range(1, net.NbTriangles() + 1):
            a, b, c = net.Triangle(number).Get()
            corners = (a, c, b) if turned else (a, b, c)
            triangles.append((before + corners[0], before + corners[1], before + corners[2]))
    return surfaces, np.array(points), np.array(triangles, dtype=np.int64)


def _in_order(faces: NDArray[np.int64]) -> NDArray[np.int64]:
    """The triangles in one order, whatever order the kernel's threads left them in."""
    first = faces.argmin(axis=1)
    turned = np.stack([faces[np.arange(len(faces)), (first + k) % 3] for k in range(3)], axis=1)
    return np.asarray(turned[np.lexsort(turned.T[::-1])])


def mesh_bytes(mesh: Mesh) -> bytes:
    """The mesh to be kept; see `mesh_of`."""
    stream = BytesIO()
    np.savez(stream, vertices=mesh.vertices, faces=mesh.faces, chord=np.array(mesh.chord))
    return stream.getvalue()


def mesh_of(data: bytes) -> Mesh:
    """The mesh that `mesh_bytes` kept, to the bit."""
    with np.load(BytesIO(data), allow_pickle=False) as arrays:
        return Mesh(arrays["vertices"], arrays["faces"], float(arrays["chord"]))


def on_bed(mesh: Mesh, frame: Frame | None = None) -> Mesh:
    """The mesh as it is printed: turned by the part's print frame, least corner at the origin."""
    lying = mesh if frame is None else mesh.placed(frame)
    lying = replace(lying, vertices=np.round(lying.vertices, MERGE) + 0.0)
    return lying.shifted(-lying.bounds[0])


def stl(mesh: Mesh, name: str) -> bytes:
    """The mesh as a binary STL; the name goes into the header."""
    record = np.zeros(len(mesh.faces), dtype=[("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    corners = mesh.vertices[mesh.faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    record["n"] = normals / np.where(lengths > 0, lengths, 1.0)
    record["v"] = corners
    # Must not begin with "solid": that marks the text form.
    header = f"hangpost {name}, millimetres".encode("ascii", "replace")[:80].ljust(80)
    return header + struct.pack("<I", len(record)) + record.tobytes()


_TYPES: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
_RELATIONS: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


def three_mf(mesh: Mesh, name: str, description: str = "") -> bytes:
    """The mesh as a 3MF file with its name, in millimetres, without any placement."""
    told = {
        "Title": name,
        "Description": description,
        "Application": f"hangpost {version('hangpost')}",
    }
    corners = "".join(
        f'<vertex x="{x:.6f}" y="{y:.6f}" z="{z:.6f}"/>' for x, y, z in mesh.vertices.tolist()
    )
    triangles = "".join(
        f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist()
    )
    model = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<model unit="millimeter" xml:lang="en-GB" '
        'xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        + "".join(f'<metadata name="{k}">{escape(v)}</metadata>' for k, v in told.items() if v)
        + f'<resources><object id="1" type="model" name={quoteattr(name)}><mesh>'
        f"<vertices>{corners}</vertices><triangles>{triangles}</triangles></mesh></object>"
        '</resources><build><item objectid="1"/></build></model>'
    )
    stream = BytesIO()
    with zipfile.ZipFile(stream, "w") as package:
        for path, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELATIONS),
            ("3D/3dmodel.model", model),
        ):
            entry = zipfile.ZipInfo(path, (1980, 1, 1, 0, 0, 0))  # the earliest a zip can say
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            entry.create_system = 3
            package.writestr(entry, text)
    return stream.getvalue()
