"""One line that tells how far a long step has come: on a terminal only, on standard error.

Generators know nothing of this: they take any `report: Callable[[str, int, int], None]` and call
it as report(step, done, total). A total of 0 means that nobody knows how long it will be.
"""

import os
import shutil
import sys
import time
from types import TracebackType
from typing import TextIO

BETWEEN = 0.1  # seconds: more often only makes the line flicker


class Progress:
    """Shows the newest report; use it in a `with` so that the line is gone at the end."""

    def __init__(self, stream: TextIO | None = None) -> None:
        """Write to `stream`, standard error by default."""
        self._stream = sys.stderr if stream is None else stream
        self._shown = self._stream.isatty() and os.environ.get("TERM") != "dumb"
        self._step = ""
        self._width = 0
        self._next = 0.0

    def __call__(self, step: str, done: int, total: int) -> None:
        """Show that `done` of `total` pieces of a step are through."""
        now = time.monotonic()
        if not self._shown or (step == self._step and now < self._next and done != total):
            return
        self._step, self._next = step, now + BETWEEN
        line = f"{step}  {done}/{total}" if total else step
        self._draw(line[: shutil.get_terminal_size().columns - 1])

    def close(self) -> None:
        """Wipe the line."""
        if self._width:
            self._draw("")
            self._stream.write("\r")
            self._stream.flush()

    def __enter__(self) -> "Progress":
        """Itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Wipe the line, also when the work broke off."""
        self.close()

    def _draw(self, line: str) -> None:
        # Spaces wipe the rest of a longer line on every terminal; control codes do not.
        self._stream.write("\r" + line.ljust(self._width))
        self._stream.flush()
        self._width = len(line)
