"""A catalogue: every combination of some values over one site file.

RANGES.toml names the site file that everything else comes from and what is varied, by the tables
and keys of that file:

    base = "gate.toml"
    [vary.hinge]
    to_actuator_face = { from = "1 1/2", to = "3 1/2", step = "1/2" }    # both ends included
    [vary.opening]
    angle = [80, 90, 95]                                                 # one after the other
    [[vary.actuator]]                                                    # whole tables, each
    retracted = "30 3/4"                                                 # instead of the base's
    ...

Every combination is a site file of its own, so that any one of them can be built by itself.
"""

import hashlib
import itertools
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from math import floor, isfinite, prod
from pathlib import Path
from typing import Any, Final

from hangpost.generators.many.toml_text import toml
from hangpost.generators.survey.fields import slug
from hangpost.generators.survey.mistakes import Mistake, SurveyError, nearest, shown
from hangpost.generators.survey.reading import read_tables
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.units import BARE, FACTORS, Kind, QuantityError, Units, parse

MOST: Final = 100_000  # combinations of one catalogue, house
LARGEST: Final = 500_000_000  # bytes of all its site files, which are held at once
RANGE: Final = {"from", "to", "step"}
TABLES: Final = tuple(name for name in Site.model_fields if name not in {"units", "job"})
HOUSE: Final[dict[str, str]] = {kind: bare for kind, bare in BARE["mm"].items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One combination: a name, its site file, and what is different in it."""

    name: str
    site: bytes
    varied: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing that is varied: where it is in the site file, and every value of it."""

    key: str  # "opening.angle", or "actuator" for whole tables
    values: tuple[Any, ...]
    words: tuple[str, ...]  # how each value is called in names and in the table


def read_catalogue(path: Path) -> tuple[Variant, ...]:
    """Every combination that a file asks for; SurveyError names what is wrong with it."""
    tables = read_tables(path)
    wrong = [*_unknown(tables, path.name)]
    base = tables.get("base")
    if not isinstance(base, str):
        wrong.append(
            Mistake(file=path.name, key="base", value=shown(base), wrong="is no name of a file")
        )
    vary = tables.get("vary")
    if not isinstance(vary, dict) or not vary:
        wrong.append(
            Mistake(file=path.name, key="vary", wrong="is missing", allowed="tables of lists")
        )
    if wrong or not isinstance(base, str) or not isinstance(vary, dict):
        raise SurveyError(wrong)
    site = _of_base(path, base)
    units: Units = "mm" if site.get("units") == "mm" else "in"
    choices = tuple(_choices(vary, units, path.name))
    count = prod(len(choice.values) for choice in choices)
    if count > MOST:
        words = f"makes {count} combinations"
        raise SurveyError(
            [Mistake(file=path.name, key="vary", wrong=words, allowed=f"at most {MOST}")]
        )
    size = count * len(toml(site))
    if size > LARGEST:
        words = f"makes site files of {size / 1e6:.0f} MB"
        raise SurveyError(
            [Mistake(file=path.name, key="vary", wrong=words, allowed=f"at most {LARGEST / 1e6:g}")]
        )
    # Equal values make equal sites: each once.
    return tuple({variant.name: variant for variant in _variants(site, choices)}.values())


def _of_base(path: Path, base: str) -> dict[str, Any]:
    """The tables of the site file that is varied; where it cannot be read, `base` is at fault."""
    try:
        return read_tables(path.parent / base)
    except SurveyError as error:
        at_fault = {"file": path.name, "key": "base", "value": shown(base)}
        raise SurveyError(
            each if each.key else replace(each, **at_fault) for each in error.mistakes
        ) from None


def _unknown(tables: Mapping[str, Any], file: str) -> Iterator[Mistake]:
    for key in tables.keys() - {"base", "vary"}:
        yield Mistake(
            file=file,
            key=key,
            value=shown(tables[key]),
            wrong="is not a key known here",
            allowed="base, vary",
            nearest=nearest(key, ["base", "vary"]),
        )


def _choices(vary: Mapping[str, Any], units: Units, file: str) -> Iterator[Choice]:
    """What is varied, in the order of the file; SurveyError with every mistake."""
    wrong: list[Mistake] = []
    found: list[Choice] = []
    for table, inner in vary.items():
        if table not in TABLES:
            close = nearest(table, TABLES)
            wrong.append(
                Mistake(
                    file=file,
                    key=f"vary.{table}",
                    wrong="is no table of a site file",
                    nearest=close,
                )
            )
        elif isinstance(inner, list) and all(isinstance(each, dict) for each in inner) and inner:
            words = tuple(f"{table}-{number}" for number in range(1, len(inner) + 1))
            found.append(Choice(key=table, values=tuple(inner), words=words))
        elif isinstance(inner, dict):
            for key, value in inner.items():
                try:
                    found.append(_choice(f"{table}.{key}", value, units))
                except QuantityError as error:
                    wrong.append(
                        Mistake(
                            file=file,
                            key=f"vary.{table}.{key}",
                            value=shown(value),
                            wrong=str(error),
                            allowed="a list, or { from = .., to = .., step = .. }",
                        )
                    )
        else:
            wrong.append(
                Mistake(
                    file=file,
                    key=f"vary.{table}",
                    value=shown(inner),
                    wrong="is neither a table nor a list of tables",
                )
            )
    if wrong:
        raise SurveyError(wrong)
    return iter(found)


def _choice(key: str, value: object, units: Units) -> Choice:
    if isinstance(value, list) and value:
        values = tuple(value)
    elif isinstance(value, dict) and set(value) == RANGE:
        values = tuple(_range(value, units))
    else:
        raise QuantityError("is neither a list nor a range")
    return Choice(key=key, values=values, words=tuple(_word(each) for each in values))


def _range(given: Mapping[str, Any], units: Units) -> Iterator[float | str]:
    """Every value from one end to the other; text gives text in house units."""
    plain = all(isinstance(v, (int, float)) and not isinstance(v, bool) for v in given.values())
    kind: Kind = "share" if plain else _kind(given, units)
    low, high, step = (float(parse(given[name], kind, units)) for name in ("from", "to", "step"))
    if not (step > 0.0 and isfinite(step)) or not high >= low:
        raise QuantityError("has no value: `to` is at least `from`, and `step` more than 0")
    steps = (high - low) / step + 1e-9
    if not steps < MOST:
        raise QuantityError(f"has {steps + 1:.6g} values; at most {MOST}")
    for number in range(floor(steps) + 1):
        at = round(low + number * step, 6)
        yield at if plain else f"{at:.6f}".rstrip("0").rstrip(".") + f" {HOUSE[kind]}"


def _kind(given: Mapping[str, Any], units: Units) -> Kind:
    """The kind of quantity that all three figures are; the first of them when bare."""
    for kind in FACTORS:
        try:
            for value in given.values():
                parse(value, kind, units)
        except QuantityError:
            continue
        return kind
    raise QuantityError("is a range of no one kind of quantity")


def _word(value: object) -> str:
    if isinstance(value, dict):
        return " ".join(f"{_word(each)}" for each in value.values())
    if isinstance(value, list):
        return " ".join(_word(each) for each in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _variants(site: Mapping[str, Any], choices: tuple[Choice, ...]) -> Iterator[Variant]:
    job = str(site.get("job", "gate"))
    for picked in itertools.product(*(range(len(choice.values)) for choice in choices)):
        tables = deepcopy(dict(site))
        varied = {}
        for choice, index in zip(choices, picked, strict=True):
            _put(tables, choice.key, choice.values[index])
            varied[choice.key] = choice.words[index]
        words = " ".join(varied.values())
        tables["job"] = f"{job[:60]}: {words}"[:120]
        text = toml(tables).encode("utf-8")
        # The fingerprint keeps a name what it is when the ranges grow, and no two alike.
        name = f"{slug(words)}-{hashlib.sha256(text).hexdigest()[:8]}"
        yield Variant(name=name, site=text, varied=varied)


def _put(tables: dict[str, Any], key: str, value: object) -> None:
    table, _, name = key.partition(".")
    if not name:
        tables[table] = deepcopy(value)
        return
    inner = tables.setdefault(table, {})
    for each in inner if isinstance(inner, list) else [inner]:
        if isinstance(each, dict):
            each[name] = value
