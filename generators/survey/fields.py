"""What a field of a survey file is: a quantity with its range, or a short text.

A field says its kind and its limits once; reading, message and JSON Schema all come from that.
Files give the reader's context {"units": "in" | "mm"}; without it a bare number is already in
house units (mm, kg, N, mm/s, degrees), which is how the rest of the program builds records.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, Self, cast

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    ValidationInfo,
    model_validator,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from hangpost.generators.survey import units
from hangpost.generators.survey.display import say
from hangpost.generators.survey.units import Kind, Measure, QuantityError, Units

MOST_ENTRIES: Final = 200  # of any list in a file; house
LONGEST_NAME: Final = 200  # characters of a job or an obstacle; house


def _no_truth(given: object) -> object:
    """`true` counts as 1 in Python and in nobody's file."""
    return str(given).lower() if isinstance(given, bool) else given


WhichLeaf = Annotated[Literal[1, 2], BeforeValidator(_no_truth)]


def units_of(info: ValidationInfo) -> Units:
    """Return the units of the file that is being read, mm when none is."""
    context = info.context if isinstance(info.context, dict) else {}
    return cast("Units", context.get("units", "mm"))


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number or text with a unit, between two limits in house units."""

    kind: Kind
    least: float
    most: float
    above: bool = False  # the least itself is not allowed

    def allowed(self, shown_in: Units) -> str:
        """Return the range in words, in the person's units."""
        if self.least == 0.0:
            low = "more than 0" if self.above else "0"
        else:
            low = ("more than " if self.above else "") + say(self.least, self.kind, shown_in)
        return f"{low} to {say(self.most, self.kind, shown_in)}"

    def read(self, given: object, info: ValidationInfo) -> Measure:
        """Return the value in house units or raise with the reason and the range."""
        shown_in = units_of(info)
        try:
            value = self._parse(given, info)
        except QuantityError as reason:
            carry = units.allowed_units(self.kind)
            allowed = f"{self.allowed(shown_in)}" + (f" (units: {carry})" if carry else "")
            raise unfit(str(reason), allowed) from None
        too_low = value <= self.least if self.above else value < self.least
        if too_low or not value <= self.most:
            words = "is too small" if too_low else "is too large"
            raise unfit(words, self.allowed(shown_in))
        return value

    def _parse(self, given: object, info: ValidationInfo) -> Measure:
        from_file = isinstance(info.context, dict) and "units" in info.context
        if isinstance(given, Measure):
            return given
        if isinstance(given, str) or from_file or isinstance(given, bool):
            return units.parse(given, self.kind, units_of(info))
        # A bare number from the program itself is in house units, wind in mm/s as well.
        plain = units.parse(given, "share", "mm")
        return Measure(float(plain))

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        """Hand pydantic the one function that reads this field."""
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Say in JSON Schema what a file may hold: a bare number or text with a unit."""
        return {"anyOf": [{"type": "number"}, {"type": "string", "minLength": 1}]}


def unfit(wrong: str, allowed: str = "") -> PydanticCustomError:
    """Return the error of one field: what is wrong with it and what is allowed."""
    return PydanticCustomError("unfit", "{wrong}; {allowed}", {"wrong": wrong, "allowed": allowed})


@dataclass(frozen=True, slots=True)
class Broken:
    """A rule between fields that is broken: the key to change, what is wrong, what is allowed."""

    key: str
    wrong: str
    allowed: str


def refuse(broken: Iterable[Broken]) -> None:
    """Raise one error that carries every broken rule, or return when there is none."""
    found = tuple(broken)
    if found:
        words = "; ".join(f"{each.key} {each.wrong}" for each in found)
        raise PydanticCustomError("broken", "{words}", {"words": words, "broken": found})


class Record(BaseModel):
    """A table of a survey file: frozen, and a key it does not know is a mistake."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    @model_validator(mode="before")
    @classmethod
    def _few(cls, table: object) -> object:
        # Before each entry of a list is read: a flood of them is one mistake, not a million.
        if isinstance(table, Mapping):
            refuse(
                Broken(str(key), f"has {len(value)} entries", f"at most {MOST_ENTRIES}")
                for key, value in table.items()
                if isinstance(value, (list, tuple)) and len(value) > MOST_ENTRIES
            )
        return table

    def given(self, key: str) -> bool:
        """Tell whether the file itself said this, as against a default."""
        return key in self.model_fields_set

    @classmethod
    def read(cls, table: object, shown_in: Units) -> Self:
        """Return the record of a table whose bare numbers are in these units."""
        return cls.model_validate(table, context={"units": shown_in})


def _printable(text: str) -> str:
    if not text.strip():
        raise unfit("is empty", "some words")
    if len(text) > LONGEST_NAME:
        raise unfit(f"has {len(text)} characters", f"at most {LONGEST_NAME}")
    if not text.isprintable():
        raise unfit("holds a control or invisible character", "printable words on one line")
    return text.strip()


def as_text(value: object) -> object:
    """A bare number as the text it was meant as; anything else as it is."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value:g}" if abs(value) < 1e6 else "too large"
    return value


def slug(text: str) -> str:
    """Return a name safe in any file system: lower case letters, digits and hyphens."""
    plain = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
    return plain[:40].strip("-") or "gate"


Name = Annotated[str, AfterValidator(_printable)]
Size = Annotated[float, Quantity("length", 0.0, 2000.0, above=True)]  # of a thing one can carry
Gap = Annotated[float, Quantity("length", 0.0, 2000.0)]
Offset = Annotated[float, Quantity("length", -2000.0, 2000.0)]
Span = Annotated[float, Quantity("length", 300.0, 10_000.0)]  # of a leaf; house
Place = Annotated[float, Quantity("length", -100_000.0, 100_000.0)]
Tilt = Annotated[float, Quantity("angle", -10.0, 10.0)]
Share = Annotated[float, Quantity("share", 0.0, 1.0)]
Force = Annotated[float, Quantity("force", 0.0, 100_000.0)]
Stress = Annotated[float, Quantity("stress", 1.0, 2000.0)]
Wind = Annotated[float, Quantity("wind", 0.0, 89_408.0)]
