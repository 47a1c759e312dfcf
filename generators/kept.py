"""Things made before, kept on disk by what they were made from, for the gates of one run.

The key is a fingerprint of everything that goes in: the part with all its figures, what is made
of it, and the sources that make it; so what comes out is what would be made anew. Several
processes may write the same thing at once: each writes a file of its own and moves it in place,
and all of them have the same bytes.
"""

import hashlib
import os
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Final

MAKERS: Final = ("hangpost.parts", "hangpost.generators", "hangpost.generators.writers")


class Kept:
    """A folder of things by fingerprint."""

    def __init__(self, folder: Path) -> None:
        """Made when the first thing comes in."""
        self.folder = folder

    def get(self, what: str, of: object, make: Callable[[], bytes]) -> bytes:
        """The bytes of `what` made of a record: as kept, or made now and kept."""
        words = f"{makers()} {what} {of!r}"  # a frozen record's repr holds every figure, to the bit
        name = hashlib.sha256(words.encode("utf-8")).hexdigest()
        path = self.folder / name[:2] / name
        try:
            return _whole(path.read_bytes())
        except (OSError, ValueError):
            made = make()
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = path.with_name(f"{name}.{os.getpid()}")
        try:
            fresh.write_bytes(hashlib.sha256(made).digest() + made)
            fresh.replace(path)
        except OSError:  # a full disk is told by whoever writes what people asked for
            fresh.unlink(missing_ok=True)
        return made


def _whole(data: bytes) -> bytes:
    """What was kept, if the disk still has all of it."""
    digest, made = data[:32], data[32:]
    if hashlib.sha256(made).digest() != digest:
        raise ValueError("torn")
    return made


@cache
def makers() -> str:
    """Fingerprint of the sources that make parts and their files."""
    digest = hashlib.sha256()
    for package in MAKERS:
        for source in sorted(files(package).iterdir(), key=lambda source: source.name):
            if source.name.endswith((".py", ".csv")):
                digest.update(source.read_bytes())
    return digest.hexdigest()
