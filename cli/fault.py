"""What is kept when hangpost itself fails at a gate: one text file that shows it again."""

import platform
import tempfile
import traceback
from collections.abc import Mapping
from importlib.metadata import version
from pathlib import Path


def kept(error: BaseException, out: Path, told: Mapping[str, str]) -> str:
    """Write the fault and the texts it arose from down beside `out`; says where they are now.

    `told` maps what each text is ("site file gate.toml") to the text.
    """
    head = f"hangpost {version('hangpost')}, Python {platform.python_version()}"
    where = "".join(traceback.format_exception(error))
    pieces = [f"{head}, {platform.platform()}", where]
    pieces += [f"---- {name}\n{text}" for name, text in told.items()]
    text = "\n".join(pieces)
    place = out.resolve()
    try:
        path = place.with_name(f"{place.name[:100]}-fault.txt")
        path.write_text(text, encoding="utf-8", errors="replace")
    except OSError:
        try:
            path = Path(tempfile.mkdtemp(prefix="hangpost-fault-")) / "fault.txt"
            path.write_text(text, encoding="utf-8", errors="replace")
        except OSError:
            return "The site file could not be kept for a report: the disk takes nothing."
    return f"The site file and where it went wrong are kept in {path}: send that file along."
