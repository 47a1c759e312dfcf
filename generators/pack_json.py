"""The pack.json of a pack, read with care: anybody may have written it, so it is bounded.

Not more than LARGEST bytes, of a plain file (no pipe and no device, which would never end), and
plain JSON only: NaN and Infinity, which are none, are refused.
"""

import json
from pathlib import Path
from typing import Any, Final

from hangpost.generators.plain_file import NotPlain, plain_bytes

LARGEST: Final = 50_000_000  # bytes; that of a gate with two leaves has 400 000


class NotRead(ValueError):
    """A file that cannot be read as pack.json; says why."""


def read_json(path: Path) -> Any:
    """The data of a file; raises NotRead, and OSError when the system does not give it."""
    try:
        return from_bytes(plain_bytes(path, LARGEST))
    except NotPlain as error:
        raise NotRead(str(error)) from None


def from_bytes(data: bytes) -> Any:
    """The data of these bytes; raises NotRead."""
    if len(data) > LARGEST:
        raise NotRead(f"is larger than {LARGEST} bytes")
    try:
        return json.loads(data, parse_constant=_refused)
    except RecursionError:
        raise NotRead("is nested too deeply") from None
    except ValueError as error:
        raise NotRead(f"is not JSON ({error})") from None


def _refused(name: str) -> Any:
    raise ValueError(f"{name} is no number of JSON")
