"""What a person reads when something goes wrong: one message and an exit status for each error.

Statuses: 2 the input, the place to write to or the machine is not as it must be; 3 no usable
pair of pivots; 70 a fault in hangpost itself (EX_SOFTWARE, BSD sysexits.h). That a check failed
(1) or a pack does not verify (4) is a result and no error: the commands return those.
"""

import errno
import os
import re
import shlex
import textwrap
from collections.abc import Sequence
from typing import NamedTuple

from hangpost.cli.memory import ENOUGH, allowed, too_little

WRONG_INPUT = 2
NO_PIVOTS = 3
OUR_FAULT = 70

# Our own errors carry their whole text. They are known by name, because importing them here
# would load the survey and the solver before `--help` can answer.
KNOWN = {
    "hangpost.generators.survey.mistakes.SurveyError": WRONG_INPUT,
    "hangpost.generators.judging.stock.StockError": WRONG_INPUT,
    "hangpost.generators.writers.outbox.NotReplaced": WRONG_INPUT,
    "hangpost.generators.many.engine.NoScheduler": WRONG_INPUT,
    "hangpost.generators.beside.KernelEnded": WRONG_INPUT,
    "hangpost.generators.pivots.ways_out.NoPivots": NO_PIVOTS,
    "hangpost.generators.hardware.kit.NoHardware": NO_PIVOTS,
}

# What the usual refusals of the system mean to somebody at a workbench.
REFUSALS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EACCES: "no permission",
    errno.EPERM: "no permission",
    errno.EROFS: "that place can only be read",
    errno.ENOENT: "there is no such file or folder",
    errno.ENOTDIR: "a part of the path is a file, not a folder",
    errno.EISDIR: "that is a folder, not a file",
    errno.EEXIST: "it is there already",
    errno.ENOTEMPTY: "the folder is not empty",
    errno.ENAMETOOLONG: "the name is too long",
    errno.EBUSY: "something else holds it",
    errno.EIO: "the disk does not answer as it should",
    errno.ELOOP: "it is a link that leads to itself",
    errno.EFBIG: "a file grew larger than this system lets it",
    errno.EMFILE: "this system lets a program open no more files",
}

LONGEST_NAME = 300  # characters
WIDE = 79  # columns
# The gap inside "5 1/2 in", "188 N m", "671 lbf ft".
TOGETHER = re.compile(
    r"(?<=\d) (?=\d+/\d+\b|(?:mm|in|k?N|MPa|psi|ksi|lbf?|kg|s|m/s|mph|degrees?|%)(?:[\s,.;:)]|$))"
    r"|(?<=\d N) (?=mm?\b)|(?<=\d kN) (?=mm?\b)|(?<=\d lbf) (?=(?:ft|in)\b)"
)

NO_MORE = "this system lets you start no more processes (`ulimit -u`)"
NO_THREAD = re.compile(r"can't start new thread|pthread_create has failed")
SYSTEM_LIBRARY = re.compile(r"\blib(GL|X11|GLX|GLdispatch)\.so[.\d]*")


class Message(NamedTuple):
    """A finished text for standard error, and the exit status that goes with it."""

    text: str
    status: int


def explain(error: Exception) -> Message | None:
    """The message for an error that a person can do something about, or None for a bug."""
    for ancestor in type(error).__mro__:
        status = KNOWN.get(f"{ancestor.__module__}.{ancestor.__qualname__}")
        if status is not None:
            text = _wrapped(str(error)) if status == NO_PIVOTS else str(error)
            return Message(text, status)
    if _by_memory(error):
        return Message(f"Cannot go on: {too_little()}", WRONG_INPUT)
    if isinstance(error, RuntimeError) and NO_THREAD.search(str(error)):
        return Message(f"Cannot go on: {NO_MORE}.", WRONG_INPUT)
    if isinstance(error, ImportError):
        return _missing_library(error)
    if isinstance(error, OSError):
        return _refused(error)
    return None


def _by_memory(error: Exception) -> bool:
    """Whether too little memory is behind an error: for sure, or most likely under such a limit."""
    if isinstance(error, OSError):
        return error.errno == errno.ENOMEM
    if isinstance(error, MemoryError):
        return True
    torn = isinstance(error, ImportError) and not SYSTEM_LIBRARY.search(str(error))
    return allowed() < ENOUGH and (torn or type(error).__name__ == "KernelDied")


def _wrapped(text: str) -> str:
    """Sentences for a narrow window, what follows a dash set in."""
    return "\n".join(
        filled(line, rest="  " if line.startswith("- ") else "") for line in text.splitlines()
    )


def filled(text: str, first: str = "", rest: str = "") -> str:
    """A sentence for a window of 80 columns; no number is torn from its unit."""
    whole = TOGETHER.sub("\u00a0", text)
    lines = textwrap.wrap(
        whole, WIDE, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
    )
    return "\n".join(lines).replace("\u00a0", " ")


def unexpected(error: Exception, args: Sequence[str]) -> Message:
    """The message for a bug: what it was, in one line, and how to see where."""
    what = " ".join(str(error).split())
    name = type(error).__name__
    notes = "".join(f"{note}\n" for note in getattr(error, "__notes__", ()))
    return Message(
        f"hangpost went wrong: {name}{': ' + what if what else ''}\n{notes}"
        "This is a fault in hangpost, not in your files. To see where, run:\n"
        f"    hangpost --debug {shlex.join(a for a in args if a != '--debug')}",
        OUR_FAULT,
    )


def _missing_library(error: ImportError) -> Message | None:
    library = SYSTEM_LIBRARY.search(str(error))
    if library:
        return Message(
            f"The CAD kernel needs the system library {library.group()}, which is missing here.\n"
            "On Debian or Ubuntu this brings it:\n"
            "    sudo apt-get install -y --no-install-recommends libgl1",
            WRONG_INPUT,
        )
    if error.name and error.name.split(".")[0] != "hangpost":
        return Message(
            f"The Python package `{error.name}` is missing or damaged ({error}).\n"
            "Install hangpost again with its dependencies:  pip install --force-reinstall hangpost",
            WRONG_INPUT,
        )
    return None


def _refused(error: OSError) -> Message:
    why = REFUSALS.get(error.errno or 0) or (error.strerror or str(error)).lower()
    if error.filename is None:
        if error.errno == errno.EAGAIN:
            why = NO_MORE
        return Message(f"Cannot go on: {why}.", WRONG_INPUT)
    names = [shown(os.fsdecode(error.filename))] if not isinstance(error.filename, int) else []
    if error.filename2 is not None:
        names.append(shown(os.fsdecode(error.filename2)))
    return Message(f"Cannot use {' -> '.join(names) or 'a file'}: {why}.", WRONG_INPUT)


def shown(name: object) -> str:
    """A name of a file for a terminal: no control characters, not longer than a few lines."""
    text = "".join(letter if letter.isprintable() else "?" for letter in str(name))
    return text if len(text) <= LONGEST_NAME else f"{text[:LONGEST_NAME]}..."
