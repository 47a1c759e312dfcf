"""A plain reader of STEP files, so that they are not judged by the kernel that wrote them.

It reads the clear text of ISO 10303-21: products, solids, round faces with their axes, and the
placements of an assembly. Volumes and boxes are left to a CAD kernel. Units: those of the file.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite
from typing import Final

from hangpost.generators.verify.problem import Unreadable

Vector = tuple[float, float, float]

_REFERENCE: Final = r"#[0-9]{1,18}"
# A quote within a text is doubled, so that it reads as two texts; there is one way to take a line,
# and whatever has been taken is not tried again: what is torn must not take for ever.
_ENTITY: Final = re.compile(r"#([0-9]{1,18})\s*=\s*((?:'[^']*'|[^;'])*+);")


# How many arguments the entities that are read here have: ISO 10303-42 and 10303-44, memory.
_ARGUMENTS: Final = {
    "PRODUCT": 4,
    "CYLINDRICAL_SURFACE": 3,
    "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION": 2,
    "NEXT_ASSEMBLY_USAGE_OCCURRENCE": 6,
    "ITEM_DEFINED_TRANSFORMATION": 4,
    "AXIS2_PLACEMENT_3D": 4,
    "CARTESIAN_POINT": 2,
    "DIRECTION": 2,
}


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A round face: a point on its axis, the direction, the diameter."""

    point: Vector
    axis: Vector
    diameter: float


@dataclass(frozen=True, slots=True)
class StepFile:
    """The entities of a file, as (keyword, arguments in plain text)."""

    entities: dict[int, tuple[str, str]]
    header: str

    def each(self, keyword: str) -> Iterator[list[str]]:
        """The arguments of every entity of a kind."""
        for name, arguments in self.entities.values():
            if name == keyword:
                yield _arguments(keyword, arguments)

    def count(self, keyword: str) -> int:
        """How many entities of a kind there are."""
        return sum(name == keyword for name, _ in self.entities.values())

    @property
    def in_millimetres(self) -> bool:
        """Whether its unit of length is the millimetre and no other."""
        units = [
            arguments
            for name, arguments in self.entities.values()
            if not name and "LENGTH_UNIT" in arguments
        ]
        return bool(units) and all("SI_UNIT(.MILLI.,.METRE.)" in u for u in units)

    @property
    def products(self) -> tuple[str, ...]:
        """Names of the products."""
        return tuple(_text(arguments[0]) for arguments in self.each("PRODUCT"))

    @property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """Every round face."""
        found = []
        for _, place, radius in self.each("CYLINDRICAL_SURFACE"):
            point, axis, _ = self.placement(place)
            found.append(Cylinder(point, axis, 2 * _number(radius)))
        return tuple(found)

    @property
    def pieces(self) -> dict[str, tuple[Vector, Vector, Vector]]:
        """Pieces of an assembly by name: origin, third axis and first axis of each."""
        holders = {
            number: arguments
            for number, (name, arguments) in self.entities.items()
            if name == "PRODUCT_DEFINITION_SHAPE"
        }
        found: dict[str, tuple[Vector, Vector, Vector]] = {}
        for relation, holder in self.each("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"):
            usage = _split(holders.get(_reference(holder), ""))[-1]
            name = _text(self._get(usage, "NEXT_ASSEMBLY_USAGE_OCCURRENCE")[1])
            _, complex_arguments = self.entities.get(_reference(relation), ("", ""))
            match = re.search(
                r"REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION\s*\(\s*(#\d+)", complex_arguments
            )
            if match is None:
                raise Unreadable(f"the piece {name} has no placement")
            transformation = self._get(match[1], "ITEM_DEFINED_TRANSFORMATION")
            found[name] = self.placement(transformation[3])
        return found

    def placement(self, reference: str) -> tuple[Vector, Vector, Vector]:
        """Origin, third axis and first axis of an axis placement."""
        _, point, axis, first = self._get(reference, "AXIS2_PLACEMENT_3D")
        z = self._vector(axis, "DIRECTION") if axis != "$" else (0.0, 0.0, 1.0)
        x = self._vector(first, "DIRECTION") if first != "$" else (1.0, 0.0, 0.0)
        return self._vector(point, "CARTESIAN_POINT"), z, x

    def _vector(self, reference: str, keyword: str) -> Vector:
        numbers = _split(self._get(reference, keyword)[1].strip("()"))
        if len(numbers) != 3:
            raise Unreadable(f"{reference}: three numbers expected")
        x, y, z = (_number(n) for n in numbers)
        return (x, y, z)

    def _get(self, reference: str, keyword: str) -> list[str]:
        name, arguments = self.entities.get(_reference(reference), ("", ""))
        if name != keyword:
            raise Unreadable(f"{reference} should be a {keyword}")
        return _arguments(keyword, arguments)


def read_step(data: bytes) -> StepFile:
    """The file; raises Unreadable."""
    text = data.decode("latin-1")
    if not text.startswith("ISO-10303-21;") or "END-ISO-10303-21;" not in text:
        raise Unreadable("not a whole STEP file")
    head, _, body = text.partition("DATA;")
    entities = {}
    for match in _ENTITY.finditer(body):
        words = match[2].strip()
        name, _, arguments = words.partition("(")
        entities[int(match[1])] = (name.strip(), arguments.rsplit(")", 1)[0])
    if not entities:
        raise Unreadable("a STEP file without data")
    return StepFile(entities, head)


def _arguments(keyword: str, arguments: str) -> list[str]:
    """The arguments of an entity, as many as its kind has."""
    found = _split(arguments)
    if len(found) != _ARGUMENTS[keyword]:
        raise Unreadable(f"a {keyword} with {len(found)} arguments")
    return found


def _split(arguments: str) -> list[str]:
    """Arguments at the outer level, as they stand."""
    found, depth, start, quoted = [], 0, 0, False
    for i, sign in enumerate(arguments):
        if sign == "'":
            quoted = not quoted
        elif quoted:
            continue
        elif sign == "(":
            depth += 1
        elif sign == ")":
            depth -= 1
        elif sign == "," and not depth:
            found.append(arguments[start:i].strip())
            start = i + 1
    return [*found, arguments[start:].strip()]


def _text(argument: str) -> str:
    return argument.strip("'").replace("''", "'")


def _reference(argument: str) -> int:
    if not re.fullmatch(_REFERENCE, argument):
        raise Unreadable(f"a reference expected, not {argument[:20]!r}")
    return int(argument[1:])


def _number(argument: str) -> float:
    try:
        number = float(argument)
    except ValueError:
        number = inf
    if not isfinite(number):
        raise Unreadable(f"a number expected, not {argument[:20]!r}")
    return number
