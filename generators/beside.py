"""A second process with the CAD kernel in it, beside the one that reckons and draws.

Loading the kernel takes as long as all the rest of a small pack, and what it makes is wanted
late. So it is loaded over there from the first moment on; then it does errands in the order they
come and sends each answer as soon as it has it. It ends when the pipe to us does, whatever
becomes of us.
"""

import os
import signal
import threading
from collections import deque
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from queue import SimpleQueue
from types import TracebackType
from typing import Any, Final, Self

END: Final = object()  # after the last answer


class KernelDied(Exception):
    """The process of the CAD kernel went down over an errand, or was given up over it."""

    def __init__(self, errand: str, code: int | None) -> None:
        """What it was at, and how it ended: minus the number of the signal; None: given up."""
        super().__init__(f"the CAD kernel went down ({code}) over {errand[:200]}")
        self.errand, self.code = errand, code


class KernelEnded(KernelDied):
    """Somebody ended the process of the CAD kernel: a person, or a system short of memory."""

    def __str__(self) -> str:
        """What a person can do about it."""
        return (
            "Cannot go on: the process of the CAD kernel was ended from outside "
            f"(signal {-(self.code or 0)}).\n"
            "A system that is short of memory does that: close what you\n"
            "do not need, then run it again."
        )


FROM_OUTSIDE: Final = {-signal.SIGKILL, -signal.SIGTERM}


class Beside:
    """The other process; leave the `with` block to be rid of it."""

    def __init__(self, memory: int | None = None) -> None:
        """Begin to load the kernel over there, with so many bytes of addresses at most."""
        context = get_context("spawn")  # the same on every system, and no threads copied
        self._ours, theirs = context.Pipe()
        self._process = context.Process(target=_serve, args=(theirs, memory), daemon=True)
        self._asked: deque[Any] = deque()
        with _deaf_to_interrupt():
            self._process.start()
        theirs.close()

    def ask(self, errands: Iterable[Any]) -> None:
        """Have these done over there, after all that was asked for before."""
        wanted = list(errands)
        self._asked.extend(wanted)
        with suppress(OSError):  # it is gone: its answers will be missed
            self._ours.send(wanted)

    def answer(self, longest: float | None = None) -> tuple[Any, Any] | None:
        """The next errand and its answer; None when no more come.

        They stop short at an errand that fails over there. Raises KernelDied when the process
        itself went down, or was still at it after so many seconds.
        """
        if not self._asked:
            return None
        errand = self._asked.popleft()
        try:
            if longest is not None and not self._ours.poll(longest):
                raise KernelDied(repr(errand), None)
            return errand, self._ours.recv()
        except (EOFError, OSError):
            self._process.join(5.0)
            if code := self._process.exitcode:
                died = KernelEnded if code in FROM_OUTSIDE else KernelDied
                raise died(repr(errand), code) from None
            self._asked.clear()
            return None

    def __enter__(self) -> Self:
        """Ready when it is."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """What it is still at is not wanted any more."""
        self._ours.close()
        self._process.kill()
        self._process.join()
        self._process.close()


@contextmanager
def _deaf_to_interrupt() -> Iterator[None]:
    """Ctrl-C reaches every process of a terminal; what is started here is ended by us instead."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _bounded(memory: int | None) -> None:
    """No more addresses than so many, where the system knows such a limit and has no lower one."""
    if memory is None:
        return
    with suppress(ImportError, ValueError, OSError):  # Windows has none of it
        import resource

        before, most = resource.getrlimit(resource.RLIMIT_AS)
        if before == resource.RLIM_INFINITY or before > memory:
            resource.setrlimit(resource.RLIMIT_AS, (memory, most))


def _serve(ours: Connection, memory: int | None = None) -> None:
    """Load the kernel, then do what is asked for; the first failure is left to the other side."""
    import gc

    _bounded(memory)

    gc.disable()  # nothing here lives in circles, and the process ends with the pack
    wanted: SimpleQueue[Any] = SimpleQueue()
    done: SimpleQueue[Any] = SimpleQueue()
    taker = threading.Thread(target=_take, args=(ours, wanted), daemon=True)
    sender = threading.Thread(target=_send, args=(ours, done), daemon=True)
    try:
        taker.start()
        sender.start()
    except RuntimeError:  # this system lets nobody have more threads: all is done over there
        return
    with suppress(Exception):
        from hangpost.generators.shelf import Shelf
        from hangpost.parts.kernel import load_kernel

        load_kernel()
        shelf = Shelf()
        for errand in iter(wanted.get, END):
            done.put(shelf.get(errand))
    done.put(END)
    sender.join()


def _take(ours: Connection, wanted: "SimpleQueue[Any]") -> None:
    """What is asked for, while the kernel works: whoever asks is not kept waiting."""
    try:
        while True:
            for errand in ours.recv():
                wanted.put(errand)
    except (EOFError, OSError):  # the asker is gone, and so is the reason for all the rest
        os._exit(0)
    except Exception:  # what cannot be read here is done over there
        wanted.put(END)


def _send(ours: Connection, done: "SimpleQueue[Any]") -> None:
    """What is done, while the next is being done: a pipe holds little, and the reader is busy."""
    try:
        while (answer := done.get()) is not END:
            ours.send(answer)
    except OSError:  # the reader is gone, and so is the reason for all the rest
        os._exit(0)
