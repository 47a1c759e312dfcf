"""A plain file read with care: so many bytes at most, and never waited for.

Folders, pipes, sockets and devices are none, and are not even opened: opening a device may do
something. Some files of a running system, such as its log, say that they are plain ones and then
keep a reader waiting for more; so nothing is read in a way that could wait.
"""

import errno
import os
from pathlib import Path
from typing import Final

_NEVER_WAIT: Final[int] = getattr(os, "O_NONBLOCK", 0)


class NotPlain(ValueError):
    """What cannot be read because it is no plain file."""


def plain_bytes(path: Path, most: int) -> bytes:
    """The bytes of a file, or one more than `most` of a larger one; raises NotPlain and OSError."""
    if path.exists() and not path.is_file():
        raise NotPlain("is not a file")
    with open(path, "rb", opener=_opened) as stream:
        data: bytes | None = stream.read(most + 1)
    if data is None:
        raise BlockingIOError(errno.EAGAIN, "it has nothing to give now", str(path))
    return data


def _opened(name: str, flags: int) -> int:
    return os.open(name, flags | _NEVER_WAIT)
