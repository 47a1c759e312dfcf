"""Mistakes in a file, in the words of the person who wrote it.

One line each: file, key, value as written, what is wrong, what is allowed, and the nearest key or
word when it looks like a slip. All mistakes of a file are listed, up to a limit a person can read.
"""

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from hangpost.generators.one_line import one_line

MOST_LISTED: Final = 40
MOST_TOLD: Final = 400  # the rest of a flood is only counted from here
LONGEST_VALUE: Final = 60
LONGEST_NAME: Final = 300  # characters of a file's name


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One mistake: where, what was written, why not, what then."""

    file: str
    key: str
    wrong: str
    value: str = ""
    allowed: str = ""
    nearest: str = ""

    def __str__(self) -> str:
        """Return the one line a person reads."""
        file = one_line(self.file, LONGEST_NAME)
        where = f"{file}: {self.key}" if self.key else file
        written = f" = {self.value}" if self.value else ""
        line = f"{where}{written}: {self.wrong}"
        if self.allowed:
            line += f"; allowed: {self.allowed}"
        if self.nearest:
            line += f'; did you mean "{self.nearest}"?'
        return one_line(line)


class SurveyError(ValueError):
    """A file that cannot be used: every mistake found in it."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        """Keep the mistakes; the message lists them, one a line."""
        self.mistakes = tuple(mistakes)
        listed = [str(each) for each in self.mistakes[:MOST_LISTED]]
        more = len(self.mistakes) - MOST_LISTED
        if more > 0:
            listed.append(f"{self.mistakes[0].file}: and at least {more} more mistakes")
        super().__init__("\n".join(listed))


def from_validation(
    error: ValidationError, *, file: str, data: Mapping[str, Any], record: type[BaseModel]
) -> tuple[Mistake, ...]:
    """Return pydantic's errors as mistakes, each once, in the order of the file's tables."""
    found: dict[Mistake, None] = {}
    errors = error.errors(include_url=False, include_input=False)
    places = [tuple(each["loc"]) for each in errors]
    for each in errors[:MOST_TOLD]:
        loc = tuple(each["loc"])
        if each["type"] == "too_short" and any(
            place[: len(loc)] == loc != place for place in places[:MOST_TOLD]
        ):
            continue  # the entries are there, but none of them is sound
        for mistake in _told(dict(each), file=file, data=data, record=record):
            found.setdefault(mistake)
    return tuple(found)


def _told(
    error: Mapping[str, Any], *, file: str, data: Mapping[str, Any], record: type[BaseModel]
) -> Iterable[Mistake]:
    path, kind, context = tuple(error["loc"]), error["type"], error.get("ctx", {})
    if not _was_written(path, data):
        # A leaf's own table was completed from the shared one, where the mistake is told.
        path = _shared_path(path, data)
    key, value = written_key(path, data), shown(_value_at(path, data))
    if kind == "broken":
        for rule in context["broken"]:
            at = f"{key}.{rule.key}" if key else rule.key
            yield Mistake(
                file=file,
                key=at,
                value=shown(_value_at(_steps(at, data), data)),
                wrong=rule.wrong,
                allowed=rule.allowed,
            )
    elif kind == "unfit":
        yield Mistake(
            file=file, key=key, value=value, wrong=context["wrong"], allowed=context["allowed"]
        )
    elif kind == "missing":
        field = field_at(path, record)
        yield Mistake(
            file=file,
            key=key,
            wrong="is missing",
            allowed=(field.description or "").rstrip(".") if field else "",
        )
    elif kind == "extra_forbidden":
        yield _unknown_key(path, file=file, key=key, value=value, record=record)
    elif kind == "literal_error":
        words = str(context.get("expected", ""))
        options = [word.strip(" '") for word in words.replace(" or ", ",").split(",")]
        yield Mistake(
            file=file,
            key=key,
            value=value,
            wrong="is not one of the words known here",
            allowed=", ".join(options),
            nearest=nearest(str(_value_at(path, data)), options),
        )
    else:
        wrong, allowed = _plainly(kind, context)
        yield Mistake(file=file, key=key, value=value, wrong=wrong, allowed=allowed)


def _plainly(kind: str, context: Mapping[str, Any]) -> tuple[str, str]:
    """Return pydantic's remaining errors in a fitter's words."""
    words = {
        "model_type": ("is not a table", "a table of keys"),
        "model_attributes_type": ("is not a table", "a table of keys"),
        "dict_type": ("is not a table", "a table of keys"),
        "tuple_type": ("is not a list", "a list in square brackets"),
        "string_type": ("is not text", "text in quotes"),
        "bool_type": ("is neither yes nor no", "true, false"),
        "int_type": ("is not a whole number", "a whole number"),
        "too_long": ("has too many entries", f"at most {context.get('max_length')}"),
        "too_short": ("has too few entries", f"at least {context.get('min_length')}"),
        "string_too_long": ("is too long", f"at most {context.get('max_length')} characters"),
        "string_too_short": ("is too short", f"at least {context.get('min_length')} characters"),
        "greater_than_equal": ("is too small", f"at least {context.get('ge')}"),
        "less_than_equal": ("is too large", f"at most {context.get('le')}"),
        "missing_positional_only_argument": ("has too few entries", "two"),
        "unexpected_positional_argument": ("has too many entries", "two"),
    }
    return words.get(kind, ("cannot be used here", ""))


def _unknown_key(
    path: tuple[Any, ...], *, file: str, key: str, value: str, record: type[BaseModel]
) -> Mistake:
    name = str(path[-1])
    table = record_at(path[:-1], record)
    keys = sorted(_keys(table)) if table else []
    close = nearest(name, keys)
    homes = [] if close else _homes(name, record)
    return Mistake(
        file=file,
        key=key,
        value=value,
        wrong="is not a key known here" + (f", it belongs under {homes[0]}" if homes else ""),
        allowed="" if close or homes else ", ".join(keys),
        nearest=close,
    )


def nearest(word: str, options: Iterable[str]) -> str:
    """Return the option that looks like a slip of this word, or nothing."""
    close = difflib.get_close_matches(word[:60].lower(), list(options), n=1, cutoff=0.6)
    return close[0] if close else ""


def shown(value: object) -> str:
    """Return a value as it may stand in a message: short, on one line, printable."""
    if value is None:
        return ""
    if isinstance(value, (dict, list, tuple)):
        return "{...}" if isinstance(value, dict) else f"[{len(value)} entries]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and abs(value) >= 10**30:
        return "a number of more than 30 digits"
    text = f'"{value[: LONGEST_VALUE + 1]}"' if isinstance(value, str) else str(value)
    text = "".join(sign if sign.isprintable() else "?" for sign in text)
    return text if len(text) <= LONGEST_VALUE + 2 else text[:LONGEST_VALUE] + '..."'


def written_key(path: Iterable[object], data: Mapping[str, Any]) -> str:
    """Return the dotted key as the person would point at it; entries of a list count from 1."""
    steps = list(path)
    if len(steps) > 1 and steps[0] == "leaf" and not isinstance(data.get("leaf"), list):
        del steps[1]
    text = ""
    for step in steps:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            name = shown(str(step))[1:-1]
            text += f".{name}" if text else name
    return text


def _steps(key: str, data: Mapping[str, Any]) -> tuple[Any, ...]:
    steps: list[Any] = []
    for part in key.split("."):
        name, _, index = part.partition("[")
        steps.append(name)
        if index.rstrip("]").isdigit():
            steps.append(int(index.rstrip("]")) - 1)
    return tuple(steps)


def _value_at(path: Iterable[object], data: object) -> object:
    for step in path:
        if isinstance(data, dict):
            if step == 0 and "leaf" not in data:  # one leaf, written as a plain table
                continue
            data = data.get(step)
        elif isinstance(data, (list, tuple)) and isinstance(step, int) and step < len(data):
            data = data[step]
        elif isinstance(step, int):
            continue  # one measured side, written without brackets
        else:
            return None
    return data


def _was_written(path: tuple[Any, ...], data: Mapping[str, Any]) -> bool:
    if len(path) < 4 or path[0] != "leaf":
        return True
    own = _value_at(path[:3], data)
    return not isinstance(own, dict) or path[3] in own or path[2] not in data


def _shared_path(path: tuple[Any, ...], data: Mapping[str, Any]) -> tuple[Any, ...]:
    return path[2:] if path[2] in data else path


def _keys(record: type[BaseModel]) -> dict[str, FieldInfo]:
    return {info.alias or name: info for name, info in record.model_fields.items()}


def field_at(path: Iterable[object], record: type[BaseModel]) -> FieldInfo | None:
    """Return the field a path leads to, if it leads to one."""
    names = [step for step in path if isinstance(step, str)]
    table = record_at(names[:-1], record)
    return _keys(table).get(names[-1]) if table and names else None


def record_at(path: Iterable[object], record: type[BaseModel]) -> type[BaseModel] | None:
    """Return the kind of table a path leads to, if it leads to one."""
    here: type[BaseModel] | None = record
    for step in path:
        if isinstance(step, int):
            continue
        info = _keys(here).get(str(step)) if here else None
        here = _record_in(info.annotation) if info else None
    return here


def _record_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in get_args(annotation):
        found = _record_in(inner)
        if found is not None:
            return found
    return None


def _homes(name: str, record: type[BaseModel]) -> list[str]:
    found: list[str] = []
    for table, info in _keys(record).items():
        inner = _record_in(info.annotation)
        if name == table:
            found.insert(0, "no table, at the top of the file")
        elif inner is not None and name in _keys(inner):
            found.append(f"[{table}]")
    return found
