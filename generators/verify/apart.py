"""Files that the CAD kernel must read, read by a second process.

It works while this one reads the rest, and a kernel that goes down over a file takes nothing
else along: that file is told, the others are read by the next process.
"""

from collections import deque
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from typing import Final

from hangpost.generators.beside import Beside, KernelDied
from hangpost.generators.verify.contents import Pack, file_faults

BY_KERNEL: Final = (".step", ".stl", ".3mf")

Faults = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """One file to be read."""

    pack: Pack
    path: str

    def done(self, _: object = None) -> Faults:
        """What is wrong with it."""
        return tuple(file_faults(self.pack, self.path))


class Readers:
    """The second process, and the next one where a file was too much for it."""

    def __init__(self, running: ExitStack) -> None:
        """Begin to load the kernel over there; it ends with `running`."""
        self._running = running
        self._beside = running.enter_context(Beside())
        self._asked: deque[Reading] = deque()

    def ask(self, pack: Pack, paths: Sequence[str]) -> None:
        """Have these files of the pack read over there, in this order."""
        self._asked.extend(Reading(pack, path) for path in paths)
        self._beside.ask(self._asked)

    def next(self) -> Faults:
        """What is wrong with the next of them."""
        reading = self._asked.popleft()
        try:
            coming = self._beside.answer()
        except KernelDied as error:
            self._beside = self._running.enter_context(Beside())
            self._beside.ask(self._asked)
            return (f"the CAD kernel went down over it ({error.code})",)
        return coming[1] if coming else reading.done()
