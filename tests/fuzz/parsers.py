"""Every parser of files and words that people write, as functions of bytes: what fuzzers call.

Whatever the bytes are, either a record comes back or an error of ours in words; nothing else.
"""

import json
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import click

from hangpost.cli.templates import _printer
from hangpost.generators.catalogue import read_catalogue
from hangpost.generators.compare import compare, read_pack
from hangpost.generators.pack_json import NotRead, from_bytes
from hangpost.generators.reissue import book, from_pack
from hangpost.generators.survey.mistakes import Mistake, SurveyError
from hangpost.generators.survey.reading import (
    check_sizes_from_bytes,
    measured_from_bytes,
    shop_from_bytes,
    site_from_bytes,
)
from hangpost.generators.survey.units import BARE, QuantityError, parse
from hangpost.generators.verify import verify
from hangpost.generators.writers.paper import TRUE

EXAMPLES = Path(__file__).parents[2] / "outputs_example"
LONGEST_MESSAGE = 40_000  # characters: what a person might still scroll through


def site(data: bytes) -> None:
    read = site_from_bytes(data, file="gate.toml")
    assert len(list(read.leaves)) in (1, 2)
    list(read.notes)
    assert read.slug.isascii() and "/" not in read.slug


def shop(data: bytes) -> None:
    shop_from_bytes(data, file="shop.toml")


def measured(data: bytes) -> None:
    measured_from_bytes(data, "mm", file="measured.toml")


def check_sizes(data: bytes) -> None:
    check_sizes_from_bytes(data, "mm", file="checks.toml")


def ranges(data: bytes) -> None:
    with TemporaryDirectory(prefix="hangpost-") as folder:
        (Path(folder) / "ranges.toml").write_bytes(data)
        (Path(folder) / "gate.toml").write_bytes(b'units = "mm"\njob = "x"\n[post]\nsize = "4x4"\n')
        read_catalogue(Path(folder) / "ranges.toml")


def pack(data: bytes) -> None:
    """A pack.json for verify, compare and templates, in a folder with nothing else in it."""
    with TemporaryDirectory(prefix="hangpost-") as folder:
        (Path(folder) / "pack.json").write_bytes(data)
        for problem in verify(Path(folder)).problems:
            assert str(problem).isprintable()
        issue = _issued(Path(folder))
        if issue:
            raise SurveyError(list(issue.mistakes))
        read = read_pack(Path(folder))
        for good in EXAMPLES.glob("*/pack"):
            compare(read_pack(good), read)
            compare(read, read_pack(good))


def _issued(folder: Path) -> SurveyError | None:
    try:
        issue = from_pack(folder)
        book(issue, issue.papers[0], TRUE)
    except SurveyError as error:
        return error
    return None


NASTY: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 2, 0.5, -0.0, 1e-300, 1e300, 10**30, 4999.0, -4999.0),
    *("", "x", "..", "../../x", "/etc/passwd", "a\x00b", "\x1b[2J", "\ud800", "nan", "x" * 2000),
    *([], {}, [[]], [None], {"": None}, [0.0, 0.0], [1, 2, 3], {"at": [0, 0]}),
)


def changed_pack(data: bytes) -> None:
    """An example's pack.json with some of its values exchanged, as the bytes say: two a change."""
    root = json.loads((EXAMPLES / "orchard-lane" / "pack" / "pack.json").read_bytes())
    data = data[:30]
    for where, what in zip(data[:-1:3], data[2::3], strict=False):
        _exchange(root, where + 256 * (data[1] if len(data) > 1 else 0), NASTY[what % len(NASTY)])
    pack(json.dumps(root).encode("utf-8"))


def _exchange(root: Any, steps: int, value: Any) -> None:
    """Walk down by the digits of a number and put the value there."""
    at, key = root, None
    while isinstance(at, dict | list) and at:
        steps, turn = divmod(steps, len(at))
        key = list(at)[turn] if isinstance(at, dict) else turn
        if steps == 0 or not isinstance(at[key], dict | list) or not at[key]:
            at[key] = value
            return
        at = at[key]


def plain_json(data: bytes) -> None:
    try:
        from_bytes(data)
    except NotRead as error:
        raise SurveyError([_mistake(str(error))]) from None


def printed(data: bytes) -> None:
    """The two bars of --printed."""
    try:
        found = _printer(data.decode("utf-8", "replace"))
    except click.BadParameter as error:
        raise SurveyError([_mistake(repr(error.message))]) from None
    assert 0.5 < found.x < 2 and 0.5 < found.y < 2


def quantity(data: bytes) -> None:
    """One measurement in every kind of unit."""
    text = data.decode("utf-8", "replace")
    for units, kinds in BARE.items():
        for kind in kinds:
            try:
                assert float(parse(text, kind, units)) < 1e300
            except QuantityError:
                continue


def _mistake(words: str) -> Mistake:
    return Mistake(file="x", key="", wrong=words)


PARSERS: dict[str, Callable[[bytes], None]] = {
    "site": site,
    "shop": shop,
    "measured": measured,
    "check_sizes": check_sizes,
    "ranges": ranges,
    "pack": pack,
    "changed_pack": changed_pack,
    "plain_json": plain_json,
    "printed": printed,
    "quantity": quantity,
}


def fed(parser: Callable[[bytes], None], data: bytes) -> str:
    """The message that the bytes bring about, "" when they are fine; anything else rises."""
    try:
        parser(data)
    except SurveyError as error:
        words = str(error)
        assert words and len(words) < LONGEST_MESSAGE
        assert all(line.isprintable() for line in words.splitlines())
        return words
    return ""
