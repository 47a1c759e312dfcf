"""A plain reader of DXF files, so that cut files are not judged by the library that wrote them.

It knows group codes, the header and the few entities that a cutter knows; whatever else stands
in the file is told by its kind. Source: DXF reference, ASCII form. Units: those of the file.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import atan2, degrees, hypot, inf
from typing import Final

from hangpost.generators.verify.problem import Unreadable
from hangpost.parts.loop import Loop, Point, Vertex

Pair = tuple[int, str]
FARTHEST: Final = 1e9  # mm: no number in a file of ours is larger


@dataclass(frozen=True, slots=True)
class Entity:
    """One entity: its kind and layer, its corners and, for a circle, its diameter."""

    kind: str
    layer: str
    vertices: tuple[Vertex, ...] = ()
    closed: bool = False
    diameter: float = 0.0

    @property
    def loop(self) -> Loop:
        """Its corners as a closed outline."""
        return Loop(self.vertices)


@dataclass(frozen=True, slots=True)
class Opening:
    """A round hole or a slot as it is drawn."""

    at: Point
    diameter: float
    length: float = 0.0  # between the arc centres
    angle: float = 0.0  # degrees from x, 0 to 180


@dataclass(frozen=True, slots=True)
class DxfFile:
    """Header values by name (a number, or the x, y of a point) and the entities."""

    header: dict[str, tuple[str, ...]] = field(default_factory=dict)
    entities: tuple[Entity, ...] = ()

    def number(self, name: str) -> float | None:
        """A header number, or None."""
        try:
            return float(self.header[name][0])
        except (KeyError, IndexError, ValueError):
            return None

    def corner(self, name: str) -> Point | None:
        """A header point, or None."""
        try:
            x, y = (float(n) for n in self.header[name][:2])
        except (KeyError, ValueError):
            return None
        return (x, y)


def read_dxf(data: bytes) -> DxfFile:
    """The file; raises Unreadable."""
    pairs = list(_pairs(data))
    if not pairs or pairs[-1] != (0, "EOF"):
        raise Unreadable("the file breaks off: no EOF")
    header: dict[str, tuple[str, ...]] = {}
    entities: list[Entity] = []
    section, name = "", ""
    items: list[list[Pair]] = []
    for code, text in pairs:
        if code == 2 and section == "?":
            section = text
        elif code == 0 and text == "SECTION":
            section = "?"
        elif code == 0 and text == "ENDSEC":
            section = ""
        elif section == "HEADER" and code == 9:
            name = text
            header[name] = ()
        elif section == "HEADER":
            header[name] = (*header.get(name, ()), text)[:3]  # a number, or a point
        elif section == "ENTITIES" and code == 0:
            items.append([(code, text)])
        elif section == "ENTITIES" and items:
            items[-1].append((code, text))
    entities = list(_entities(items))
    return DxfFile(header, tuple(entities))


def _pairs(data: bytes) -> Iterator[Pair]:
    try:
        lines = data.decode("utf-8").splitlines()
    except UnicodeDecodeError:
        lines = data.decode("cp1252", "replace").splitlines()
    if len(lines) % 2:
        raise Unreadable("the file breaks off within a group")
    for code, text in zip(lines[::2], lines[1::2], strict=True):
        try:
            yield int(code), text.strip()
        except ValueError:
            raise Unreadable(f"not a DXF file: group code {code[:20]!r}") from None


def _entities(items: Sequence[Sequence[Pair]]) -> Iterator[Entity]:
    """Entities, the vertices of an old polyline gathered into it."""
    old: list[Vertex] | None = None
    start: Sequence[Pair] = ()
    for item in items:
        kind = item[0][1]
        if kind == "POLYLINE":
            old, start = [], item
        elif kind == "VERTEX" and old is not None:
            old.append(Vertex(_one(item, 10), _one(item, 20), _one(item, 42, 0.0)))
        elif kind == "SEQEND" and old is not None:
            yield Entity("POLYLINE", _layer(start), tuple(old), int(_one(start, 70, 0)) % 2 == 1)
            old = None
        else:
            yield _entity(kind, item)
    if old is not None:
        raise Unreadable("a polyline does not end")


def _entity(kind: str, item: Sequence[Pair]) -> Entity:
    layer = _layer(item)
    if kind == "LWPOLYLINE":
        return Entity(kind, layer, tuple(_corners(item)), int(_one(item, 70, 0)) % 2 == 1)
    if kind == "CIRCLE":
        centre = Vertex(_one(item, 10), _one(item, 20))
        return Entity(kind, layer, (centre,), True, 2 * _one(item, 40))
    if kind == "LINE":
        ends = (Vertex(_one(item, 10), _one(item, 20)), Vertex(_one(item, 11), _one(item, 21)))
        return Entity(kind, layer, ends)
    return Entity(kind, layer)


def _corners(item: Sequence[Pair]) -> Iterator[Vertex]:
    """Corners of a light polyline: each 10 begins one, 20 and 42 belong to it."""
    x: float | None = None
    y = bulge = 0.0
    for code, text in item:
        if code == 10:
            if x is not None:
                yield Vertex(x, y, bulge)
            x, y, bulge = _number(text), 0.0, 0.0
        elif code == 20:
            y = _number(text)
        elif code == 42:
            bulge = _number(text)
    if x is not None:
        yield Vertex(x, y, bulge)


def _layer(item: Sequence[Pair]) -> str:
    return next((text for code, text in item if code == 8), "0")


def _one(item: Sequence[Pair], code: int, default: float | None = None) -> float:
    for found, text in item:
        if found == code:
            return _number(text)
    if default is None:
        raise Unreadable(f"{item[0][1]} without group {code}")
    return default


def _number(text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        number = inf
    if not abs(number) <= FARTHEST:
        raise Unreadable(f"not a number: {text[:20]!r}")
    return number


def opening(entity: Entity) -> Opening | None:
    """The hole or slot that an entity draws, or None for any other shape."""
    if entity.kind == "CIRCLE":
        return Opening(entity.vertices[0].point, entity.diameter)
    if not entity.closed or len(entity.vertices) not in (2, 4):
        return None
    ends = [edge for edge in entity.loop.edges if abs(abs(edge.bulge) - 1) < 1e-6]
    if len(ends) != 2 or abs(ends[0].chord - ends[1].chord) > 1e-4:
        return None
    (x0, y0), (x1, y1) = ends[0].centre, ends[1].centre
    length = hypot(x1 - x0, y1 - y0)
    angle = degrees(atan2(y1 - y0, x1 - x0)) % 180 if length > 1e-6 else 0.0
    return Opening(((x0 + x1) / 2, (y0 + y1) / 2), ends[0].chord, length, angle)
