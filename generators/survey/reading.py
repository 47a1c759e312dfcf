"""Reading a site file or a shop file: bytes in, a record out, or every mistake at once.

Files come from people and over networks, so the bytes are looked at before they are parsed:
size, encoding, length of a line, depth of a dotted name. Whatever is wrong is a SurveyError that
lists mistakes in words; no bytes whatever make anything else.
"""

import hashlib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from pydantic import TypeAdapter, ValidationError

from hangpost.generators.plain_file import NotPlain, plain_bytes
from hangpost.generators.survey import rules
from hangpost.generators.survey.check_sizes import CheckSizes
from hangpost.generators.survey.fields import Record
from hangpost.generators.survey.measured import Measured
from hangpost.generators.survey.mistakes import Mistake, SurveyError, from_validation
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.tables_of_leaf import shared_out
from hangpost.generators.survey.torn import torn
from hangpost.generators.survey.units import Units
from hangpost.generators.survey.usual import completed

Taped = TypeVar("Taped", bound=Record)
LARGEST: Final = 1_000_000  # bytes; a site file has about 3000
LONGEST_LINE: Final = 4000  # characters
# The parser's time grows with the cube of a dotted name's parts. Dots are counted whatever they
# stand in, so that no quoting hides them; a row of dots in a comment is one.
MOST_DOTS: Final = 40
_DOTS: Final = re.compile(r"\.+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """A site as read, and the fingerprint of the bytes it came from."""

    site: Site
    sha256: str
    file: str
    text: str  # the file itself, for the record on every sheet


def read_survey(path: Path) -> Survey:
    """Return the site of a file with its fingerprint; raises SurveyError."""
    return survey_from_bytes(file_bytes(path), file=path.name)


def survey_from_bytes(data: bytes, *, file: str) -> Survey:
    """Return the site of a file's bytes with their fingerprint; raises SurveyError."""
    site = site_from_bytes(data, file=file)
    digest = hashlib.sha256(data).hexdigest()
    return Survey(site=site, sha256=digest, file=file, text=data.decode("utf-8"))


def read_tables(path: Path) -> dict[str, Any]:
    """Return the tables of any file of ours, looked at for size and shape only; SurveyError."""
    return _tables(file_bytes(path), path.name)


def read_shop(path: Path | None, site_units: Units = "in") -> Shop:
    """Return the shop of a file, or the usual one without; raises SurveyError."""
    if path is None:
        return usual_shop(site_units)
    return shop_from_bytes(file_bytes(path), site_units, file=path.name)


def usual_shop(site_units: Units) -> Shop:
    """Return the shop that is assumed where no file says what the workshop has."""
    return Shop.read(completed({}, site_units, site_units), site_units)


def site_from_bytes(data: bytes, *, file: str = "site file") -> Site:
    """Return the site that these bytes describe; raises SurveyError."""
    tables = _tables(data, file)
    units = _units(tables)
    try:
        return Site.read(tables, units)
    except ValidationError as error:
        found = from_validation(error, file=file, data=tables, record=Site)
        raise SurveyError(found + _rules_of_sound(tables, units, file, found)) from None


def shop_from_bytes(data: bytes, site_units: Units = "in", *, file: str = "shop file") -> Shop:
    """Return the shop that these bytes describe; raises SurveyError."""
    tables = _tables(data, file)
    units = _units(tables)
    try:
        return Shop.read(completed(tables, units, site_units), units)
    except ValidationError as error:
        raise SurveyError(from_validation(error, file=file, data=tables, record=Shop)) from None


def read_measured(path: Path, units: Units) -> Measured:
    """Return what was measured after drilling; bare numbers are in `units` unless it says."""
    return measured_from_bytes(file_bytes(path), units, file=path.name)


def measured_from_bytes(data: bytes, units: Units, *, file: str = "measured file") -> Measured:
    """Return what these bytes say was measured after drilling; raises SurveyError."""
    return _taped(Measured, data, units, file)


def read_check_sizes(path: Path, units: Units) -> CheckSizes:
    """Return the sizes that check a survey; bare numbers are in `units` unless the file says."""
    return check_sizes_from_bytes(file_bytes(path), units, file=path.name)


def check_sizes_from_bytes(data: bytes, units: Units, *, file: str = "check file") -> CheckSizes:
    """Return the sizes in these bytes that check a survey; raises SurveyError."""
    return _taped(CheckSizes, data, units, file)


def _taped(record: type[Taped], data: bytes, units: Units, file: str) -> Taped:
    """A file of sizes taken at a gate that has been read: its units unless it names its own."""
    tables = _tables(data, file)
    own = tables.get("units")
    try:
        return record.read(tables, own if own in ("in", "mm") else units)
    except ValidationError as error:
        found = from_validation(error, file=file, data=tables, record=record)
        raise SurveyError(found) from None


def file_bytes(path: Path) -> bytes:
    """Return the bytes of a file of ours, as many as could be read; raises SurveyError."""
    name = path.name or str(path)
    try:
        return plain_bytes(path, LARGEST)
    except NotPlain as error:
        words = str(error)
    except FileNotFoundError:
        words = "does not exist"
    except (OSError, ValueError) as error:
        words = f"cannot be read: {getattr(error, 'strerror', None) or 'its name cannot be used'}"
    raise SurveyError([Mistake(file=name, key="", wrong=words)])


def _tables(data: bytes, file: str) -> dict[str, Any]:
    text = _text(data, file)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SurveyError([torn(str(error), text, file)]) from None
    except RecursionError:
        words = "is nested too deeply"
    except (ValueError, OverflowError, MemoryError):
        # tomllib lets the limit on digits of an integer and impossible dates through
        words = "holds a number or a date that cannot be read"
    raise SurveyError([Mistake(file=file, key="", wrong=words)])


def _text(data: bytes, file: str) -> str:
    def stop(words: str, key: str = "") -> SurveyError:
        return SurveyError([Mistake(file=file, key=key, wrong=words)])

    if len(data) > LARGEST:
        raise stop(f"is larger than {LARGEST} bytes")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise stop(f"is not UTF-8 text (byte {error.start})") from None
    if not text.strip():
        raise stop("is empty; `hangpost new` writes a starter")
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LONGEST_LINE:
            key = line.partition("=")[0].strip()
            at = key if 0 < len(key) <= 60 and key.isprintable() else ""
            raise stop(f"line {number} has {len(line)} characters; at most {LONGEST_LINE}", at)
        if len(_DOTS.findall(line)) > MOST_DOTS:
            raise stop(f"line {number} has more than {MOST_DOTS} dots")
    return text


def _units(tables: Mapping[str, Any]) -> Units:
    # Without usable units that key is a mistake of its own; the rest is read as inches.
    return "mm" if tables.get("units") == "mm" else "in"


def _rules_of_sound(
    tables: Mapping[str, Any], units: Units, file: str, found: tuple[Mistake, ...]
) -> tuple[Mistake, ...]:
    """Return the broken rules between those tables that are sound by themselves."""
    whole = shared_out(tables)
    sound: dict[str, Any] = {}
    for name, info in Site.model_fields.items():
        if name not in whole:
            if not info.is_required():
                sound[name] = info.get_default()
            continue
        value = whole[name]
        try:
            adapter: TypeAdapter[Any] = TypeAdapter(info.annotation or object)
            sound[name] = adapter.validate_python(value, context={"units": units})
        except ValidationError:
            continue
    half = Site.model_construct(None, **{**sound, "units": units})
    told = {mistake.key for mistake in found}
    broken = rules.broken(half, sound)
    return tuple(
        Mistake(file=file, key=each.key, wrong=each.wrong, allowed=each.allowed)
        for each in broken
        if each.key not in told
    )
