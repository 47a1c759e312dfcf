"""What is finished, written down as it happens, so that a run that was killed goes on from there.

One line of JSON an order, appended and never changed. A line that a kill cut short is passed over
by the next run, which does that order again.
"""

import errno
import json
import os
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from hangpost.generators.many.order import Outcome
from hangpost.generators.plain_file import NotPlain, plain_bytes

LARGEST: Final = 2_000_000_000  # bytes: a row of a gate has some 600


class Journal:
    """The outcomes of a folder by their key; open for appending inside a `with`."""

    def __init__(self, path: Path) -> None:
        """Read what is there; nothing is written yet."""
        self.path = path
        self.known = {outcome.key: outcome for outcome in _read(path)}

    def __enter__(self) -> Self:
        """Open the file, a torn last line closed off."""
        self._stream = self.path.open("ab")
        if self._stream.tell() and not self.path.read_bytes().endswith(b"\n"):
            self._stream.write(b"\n")
        return self

    def add(self, outcome: Outcome) -> None:
        """Write one outcome down."""
        self.known[outcome.key] = outcome
        line = json.dumps({k: v for k, v in asdict(outcome).items() if k != "files"})
        self._stream.write(line.encode("utf-8") + b"\n")
        self._stream.flush()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close the file, its lines forced to the disk."""
        os.fsync(self._stream.fileno())
        self._stream.close()


def _read(path: Path) -> Iterator[Outcome]:
    try:
        found = plain_bytes(path, LARGEST)
    except FileNotFoundError:
        return
    except NotPlain as error:
        raise OSError(errno.EINVAL, str(error), str(path)) from None
    for line in found.splitlines():
        try:
            data = json.loads(line)
            yield Outcome(**{**data, "rows": tuple(dict(row) for row in data["rows"])})
        except (ValueError, TypeError, KeyError, RecursionError):
            continue
