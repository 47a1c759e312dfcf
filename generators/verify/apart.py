"""Files read by another process.

A reader that goes down over a file, as the CAD kernel does, or is never through with it takes
nothing else along: that file is told, the others are read by the next process. Which file it was
is found out by having them read one by one from then on.
"""

from collections import deque
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from typing import Final

from hangpost.generators.beside import Beside, KernelDied
from hangpost.generators.verify.contents import Pack, around, file_faults

BY_KERNEL: Final = (".step", ".stl", ".3mf")
LONGEST: Final = 120.0  # seconds for one file, house: of ours none takes more than two
MEMORY: Final = 4_000_000_000  # bytes of addresses for one process, house: ours take half of it
MOST: Final = 3  # files that cannot be read before the rest is left alone

Faults = tuple[str, ...]


def shared_out(paths: Sequence[str]) -> tuple[list[str], list[str]]:
    """The files without and with the CAD kernel: about as long to read."""
    return (
        [path for path in paths if not path.endswith(BY_KERNEL)],
        [path for path in paths if path.endswith(BY_KERNEL)],
    )


@dataclass(frozen=True, slots=True)
class Reading:
    """One file to be read."""

    pack: Pack = field(repr=False)
    path: str

    def done(self, _: object = None) -> Faults:
        """What is wrong with it."""
        try:
            return tuple(file_faults(self.pack, self.path))
        except MemoryError:
            return ("cannot be read: that takes more memory than there is for it",)


class Readers:
    """The second process, and the next one where a file was too much for it."""

    def __init__(self, running: ExitStack, longest: float = LONGEST) -> None:
        """Begin to load the kernel over there; it ends with `running`."""
        self._running = running
        self._longest = longest
        self._one_by_one = False
        self._lost = 0
        self._beside = running.enter_context(Beside(MEMORY))
        self._asked: deque[Reading] = deque()

    def ask(self, pack: Pack, paths: Sequence[str]) -> None:
        """Have these files of the pack read over there, in this order."""
        self._asked.extend(Reading(around(pack, path), path) for path in paths)
        self._beside.ask(self._asked)

    def next(self) -> Faults:
        """What is wrong with the next of them."""
        reading = self._asked.popleft()
        if self._lost == MOST:
            return ("is not read, after so many that cannot be",)
        if self._one_by_one:
            self._beside.ask([reading])
        try:
            coming = self._beside.answer(self._longest)
        except KernelDied as error:
            return self._again(reading, error)
        return coming[1] if coming else reading.done()

    def _again(self, reading: Reading, error: KernelDied) -> Faults:
        """Once more with another process; what is lost there by itself is told."""
        self._running.pop_all().close()
        self._beside = self._running.enter_context(Beside(MEMORY))
        if not self._one_by_one:  # it may have been at the next one already
            self._one_by_one = True
            self._asked.appendleft(reading)
            return self.next()
        self._lost += 1
        if error.code is None:
            return (f"cannot be read: that takes more than {self._longest:g} s",)
        return (f"cannot be read: what reads it went down over it ({error.code})",)
