"""One gate of many: what is asked of whoever builds it, and what comes back.

Both are plain data that travel between processes and machines.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.metadata import version
from pathlib import Path
from typing import Final, Literal

from hangpost.generators.many.table import Row

Status = Literal["pass", "fail", "wrong input", "no pivots", "no hardware", "fault", "lost"]
MADE: Final[tuple[Status, ...]] = ("pass", "fail")  # there is a design, and it has been judged


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One site to be built, or only solved and judged when there is no place for a pack."""

    name: str  # unique in its run, safe as the name of a folder
    site: bytes
    file: str  # what the site file is called in messages
    shop: bytes | None = None
    pack: Path | None = None  # where the pack goes
    kept: Path | None = None  # where built parts are kept for other orders
    bring: bool = False  # return the files instead of writing them: no disk is shared
    varied: Mapping[str, str] = field(default_factory=dict)  # what differs, for the table

    @property
    def key(self) -> str:
        """Fingerprint of everything that the outcome hangs on."""
        depth = b"pack" if self.pack else b"solve"
        name = self.name.encode()  # equal sites under two names are two orders
        pieces = (version("hangpost").encode(), depth, name, self.site, self.shop or b"")
        digests = (hashlib.sha256(piece).digest() for piece in pieces)
        return hashlib.sha256(b"".join(digests)).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How it went, with the rows of the table."""

    key: str
    name: str
    status: Status
    reason: str = ""
    rows: tuple[Row, ...] = ()
    seconds: float = 0.0
    files: Mapping[str, bytes] | None = None  # of the pack, when it was to be brought
