"""Every parser of files that people write, as functions of bytes: what the fuzzers call.

Whatever the bytes are, either a record comes back or a SurveyError in words; nothing else.
"""

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from hangpost.generators.catalogue import read_catalogue
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import (
    check_sizes_from_bytes,
    measured_from_bytes,
    shop_from_bytes,
    site_from_bytes,
)

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


PARSERS: dict[str, Callable[[bytes], None]] = {
    "site": site,
    "shop": shop,
    "measured": measured,
    "check_sizes": check_sizes,
    "ranges": ranges,
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
