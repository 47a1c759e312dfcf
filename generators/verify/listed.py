"""What verifying reads of pack.json, as records: wrong types are told at once and by name.

pack.json may have been written by anybody, so numbers must be finite and kinds known before any
of it is reckoned with. Keys that are not read here may hold anything. Units: mm, degrees.
"""

from collections import Counter
from collections.abc import Iterable
from math import hypot
from typing import Annotated, Any, Literal, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    field_validator,
    model_validator,
)

from hangpost.generators.verify.problem import Problem

Number = Annotated[float, Field(allow_inf_nan=False, ge=-1e9, le=1e9)]
Size = Annotated[float, Field(allow_inf_nan=False, gt=0, le=1e12)]
LONGEST = 2000  # entries of a list: what would be told of longer ones nobody could read
LIGHT, HEAVY = 0.2e-6, 9e-6  # kg/mm3: a print with little inside; brass; memory


def _not_longer(entries: Any) -> Any:
    if isinstance(entries, list) and len(entries) > LONGEST:
        raise ValueError(f"has {len(entries)} entries, more than {LONGEST}")
    return entries


MOST = BeforeValidator(_not_longer)
Flat2 = tuple[Number, Number]
Vector = tuple[Number, Number, Number]


class Record(BaseModel):
    """A record that cannot be changed and takes nothing for something else."""

    model_config = ConfigDict(frozen=True, extra="ignore")


def _is_direction(way: Vector) -> Vector:
    if abs(hypot(*way) - 1) > 1e-4:
        raise ValueError("should be a direction of length 1")
    return way


Direction = Annotated[Vector, AfterValidator(_is_direction)]


class ListedFrame(Record):
    """A placement."""

    origin: Vector = (0.0, 0.0, 0.0)
    u: Direction = (1.0, 0.0, 0.0)
    v: Direction = (0.0, 1.0, 0.0)

    @model_validator(mode="after")
    def _is_square(self) -> Self:
        if abs(sum(a * b for a, b in zip(self.u, self.v, strict=True))) > 1e-4:
            raise ValueError("u and v should be square to each other")
        return self


class ListedBend(Record):
    """A bend line in the cut file."""

    up: bool
    start: Flat2
    end: Flat2


class ListedFlat(Record):
    """The blank."""

    length: Size
    width: Size
    area: Size
    windows: int
    bends: tuple[ListedBend, ...]


class ListedHole(Record):
    """A hole of a part, in its panel, in the cut file and in the solid."""

    name: str
    diameter: Size
    slot_length: Number
    slot_angle: Number
    panel: str
    flat_at: Flat2 | None = None
    flat_angle: Number = 0.0
    drilled: bool = False  # marked in the cut file and not cut
    origin: Vector
    axis: Direction


class ListedPart(Record):
    """A part and its files."""

    id: str
    volume: Size
    mass: Size
    quantity: Annotated[int, Field(ge=1, le=1000, strict=True)]
    solid_box: tuple[Vector, Vector]
    flat: ListedFlat | None
    holes: Annotated[tuple[ListedHole, ...], MOST]
    files: dict[str, str]
    print_frame: ListedFrame = ListedFrame()

    @model_validator(mode="after")
    def _is_of_something(self) -> Self:
        if not LIGHT <= self.mass / self.volume <= HEAVY:
            raise ValueError(f"a mass of {self.mass:.3g} kg is none for {self.volume:.3g} mm3")
        return self


class ListedMark(Record):
    """A hole on a page."""

    hole: str
    x: Number
    y: Number
    diameter: Size


class ListedPage(Record):
    """A page of a template."""

    page: int
    kind: Literal["entry", "exit", "wrap", "numbers"]
    turned: bool
    marks: Annotated[tuple[ListedMark, ...], MOST]


class ListedPaper(Record):
    """A template on one paper."""

    paper: Literal["a4", "a3", "letter", "tabloid"]
    file: str
    printer: tuple[Annotated[float, Field(gt=0.5, lt=2)], Annotated[float, Field(gt=0.5, lt=2)]]
    pages: tuple[ListedPage, ...]


class ListedDrilling(Record):
    """A hole of a template."""

    name: str
    at: Flat2
    diameter: Size
    depth: Number = 0.0


class ListedTemplate(Record):
    """A template and its files."""

    id: str
    wrap_diameter: Size | None
    holes: Annotated[tuple[ListedDrilling, ...], MOST]
    dxf: str | None
    papers: tuple[ListedPaper, ...]


class ListedPiece(Record):
    """A piece of the assembly, where it stands."""

    name: str
    part: str | None
    closed: ListedFrame
    open: ListedFrame


class ListedAssembly(Record):
    """The assembly and its files, closed and open."""

    files: dict[Literal["closed", "open"], str]
    pieces: Annotated[tuple[ListedPiece, ...], MOST]


class ListedFile(Record):
    """An entry of the list of files."""

    path: str
    sha256: str
    bytes: int


class ListedCheck(Record):
    """A check: what others know it by."""

    id: str


class ListedClearance(Record):
    """A distance over the swing: between what."""

    pair: tuple[str, str]


def _told_apart(names: Iterable[Any]) -> None:
    twice = [name for name, count in Counter(names).items() if count > 1]
    if twice:
        raise ValueError(f"{len(twice)} of its names stand there twice, the first {twice[0]!r}")


class Listed(Record):
    """All of pack.json that is read back."""

    hangpost: str
    job: str
    parts: Annotated[tuple[ListedPart, ...], MOST]
    templates: Annotated[tuple[ListedTemplate, ...], MOST]
    assembly: ListedAssembly
    checks: tuple[ListedCheck, ...] = ()
    clearances: tuple[ListedClearance, ...] = ()
    files: Annotated[tuple[ListedFile, ...], MOST]

    @field_validator("checks")
    @classmethod
    def _each_check_once(cls, checks: tuple[ListedCheck, ...]) -> tuple[ListedCheck, ...]:
        _told_apart(check.id for check in checks)
        return checks

    @field_validator("files")
    @classmethod
    def _each_file_once(cls, files: tuple[ListedFile, ...]) -> tuple[ListedFile, ...]:
        _told_apart(entry.path for entry in files)
        return files

    @field_validator("clearances")
    @classmethod
    def _each_pair_once(cls, rows: tuple[ListedClearance, ...]) -> tuple[ListedClearance, ...]:
        _told_apart(row.pair for row in rows)
        return rows


def listed(data: Any, path: str) -> Listed | tuple[Problem, ...]:
    """The records, or what is wrong with the data."""
    try:
        return Listed.model_validate(data)
    except ValidationError as error:
        return tuple(
            Problem(path, f"{'.'.join(map(str, e['loc'])) or 'all of it'}: {e['msg'].lower()}")
            for e in error.errors()
        )
