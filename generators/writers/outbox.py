"""A pack is in its place whole or not at all.

It is written into a new folder beside its place, forced to the disk, and moved there by one
rename. An old pack is exchanged for the new one in one step where the system can do that
(Linux: renameat2); elsewhere the old one is set aside first, and a run that is killed just then
leaves it whole under a name that the next run puts back. Folders of killed runs are cleared
away by the next run; those of a run that is still going are locked and left alone.
"""

import ctypes
import errno
import hashlib
import json
import os
import shutil
import sys
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Final

from hangpost.generators.one_line import one_line
from hangpost.generators.plain_file import plain_bytes

if sys.platform != "win32":
    import fcntl

PACK: Final = "pack.json"
NEW: Final = ".hangpost-new-"  # .<name>.hangpost-new-<process>: being written
OLD: Final = ".hangpost-old-"  # .<name>.hangpost-old-<process>: the pack that is being replaced
LONGEST: Final = 200  # bytes of a name that leave room for ours around it; systems take 255
LARGEST_LIST: Final = 50_000_000  # bytes of a pack.json; ours have 400 000
FOREIGN: Final = 5  # so many names of strange files are told
_AT_FDCWD: Final = -100  # Linux, fcntl.h
_EXCHANGE: Final = 2  # Linux, linux/fs.h: RENAME_EXCHANGE


class NotReplaced(ValueError):
    """The place is taken, by something that is not ours to remove."""


def ready(out: Path, *, force: bool = False) -> None:
    """Refuse a place that cannot be written to later on, before the long work starts."""
    place = _real(out)
    _writable(place, out)
    _recover(place)
    if not place.exists():
        return
    if not place.is_dir():
        raise NotReplaced(f"{one_line(out)} is a file; a pack is a folder. Choose another place.")
    if place.is_mount():
        raise NotReplaced(
            f"{one_line(out)} is where a disk is mounted, and cannot be put in its place in one "
            "step. Choose a folder inside it."
        )
    there = sorted(_files(place))
    if not there:
        return
    if PACK not in there:
        raise NotReplaced(
            f"{one_line(out)} holds files but no {PACK}: it is not a pack and is left alone. "
            "Choose an empty or a new folder."
        )
    if not force:
        raise NotReplaced(f"{one_line(out)} holds a pack already. Give --force to replace it.")
    strange = sorted(set(there) - _listed(place) - {PACK})
    if strange:
        more = f" and {len(strange) - FOREIGN} more" if len(strange) > FOREIGN else ""
        raise NotReplaced(
            f"{one_line(out)} holds files that do not belong to its pack: "
            f"{one_line(', '.join(strange[:FOREIGN]))}{more}. Move them elsewhere first."
        )


def deliver(out: Path, files: Mapping[str, bytes], *, force: bool = False) -> None:
    """Write all files of a pack and put them in place in one step.

    `files` maps paths inside the pack ("fabricate/x.step") to their bytes. Raises NotReplaced
    when the place is taken and OSError when the disk will not have it; both leave what was
    there as it was.
    """
    ready(out, force=force)
    place = _real(out)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with _workshop(place) as fresh:
            for name, data in files.items():
                _write(fresh / name, data)
            for folder in [*(p for p in fresh.rglob("*") if p.is_dir()), fresh]:
                _settle(folder)
            _move_in(fresh, place)
            _settle(place.parent)
    except OSError as error:  # told with the place that the person named, not with ours
        raise OSError(error.errno, error.strerror, str(out)) from error


def _real(out: Path) -> Path:
    """The place itself, links followed, so that a link to a pack stays a link."""
    return Path(os.path.realpath(out))


def _writable(place: Path, out: Path) -> None:
    """Raise OSError for a place whose folder is not one in which we may make others."""
    above = place.parent
    while not os.path.lexists(above) and above != above.parent:
        above = above.parent
    if not above.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(out))
    if not os.access(above, os.W_OK | os.X_OK):
        why = errno.EROFS if _read_only(above) else errno.EACCES
        raise OSError(why, os.strerror(why), str(out))


def _read_only(folder: Path) -> bool:
    """Whether the disk of a folder takes nothing from anybody."""
    return hasattr(os, "statvfs") and bool(os.statvfs(folder).f_flag & os.ST_RDONLY)


def _beside(place: Path, kind: str) -> str:
    """How the names of our folders beside a place begin; a long name is cut, but stays its own."""
    name = os.fsencode(place.name)
    if len(name) > LONGEST:
        digest = hashlib.sha256(name).hexdigest()[:16]
        name = os.fsencode(place.name[: LONGEST // 5]) + f"-{digest}".encode()
    return f".{os.fsdecode(name)}{kind}"


def _files(place: Path) -> list[str]:
    """Every file below, as paths inside the pack."""
    found = (p for p in place.rglob("*") if p.is_symlink() or not p.is_dir())
    return [p.relative_to(place).as_posix() for p in found]


def _listed(place: Path) -> set[str]:
    """The files that the pack itself lists; none when its list cannot be read."""
    try:
        data = json.loads(plain_bytes(place / PACK, LARGEST_LIST))
        return {entry["path"] for entry in data["files"]} if "hangpost" in data else set()
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return set()


@contextmanager
def _workshop(place: Path) -> Iterator[Path]:
    """A locked new folder beside the place; nothing of it stays behind."""
    fresh = place.parent / f"{_beside(place, NEW)}{os.getpid()}"
    try:
        with ExitStack() as held:
            # Another run that clears up may take a folder away before it is locked.
            while True:
                with suppress(FileExistsError):
                    fresh.mkdir()
                with suppress(FileNotFoundError):
                    if held.enter_context(_locked(fresh)) and fresh.exists():
                        break
            yield fresh
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


@contextmanager
def _locked(folder: Path) -> Iterator[bool]:
    """Hold a lock on a folder; says whether it was to be had."""
    if sys.platform == "win32":
        yield True
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        else:
            yield True
    finally:
        os.close(handle)


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def _settle(folder: Path) -> None:
    """Force the names in a folder to the disk."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # some network disks cannot; the files themselves are safe
            os.fsync(handle)
    finally:
        os.close(handle)


def _move_in(fresh: Path, place: Path) -> None:
    """The new folder into its place, in one step if there is a way."""
    if not place.exists():
        fresh.rename(place)
        return
    if _exchanged(fresh, place):  # the old pack now has the new one's name, and goes with it
        return
    aside = place.parent / f"{_beside(place, OLD)}{os.getpid()}"
    place.rename(aside)
    try:
        fresh.rename(place)
    except OSError:
        aside.rename(place)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    """Whether the system has swapped two folders in one step."""
    if sys.platform != "linux":
        return False
    try:
        swap = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    names = (os.fsencode(one), os.fsencode(other))
    return bool(swap(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _EXCHANGE) == 0)


def _recover(place: Path) -> None:
    """Put back a pack that a killed run had set aside, and clear away what such runs left."""
    if not place.parent.is_dir():
        return
    for aside in _ours(place, OLD):
        if place.exists():
            shutil.rmtree(aside, ignore_errors=True)
        else:
            aside.rename(place)
    for left in _ours(place, NEW):
        with suppress(OSError), _locked(left) as ours:
            if ours:
                shutil.rmtree(left, ignore_errors=True)


def _ours(place: Path, kind: str) -> list[Path]:
    """Folders of our own runs beside a place."""
    start = _beside(place, kind)
    beside = (p for p in place.parent.iterdir() if p.name.startswith(start) and p.is_dir())
    return sorted(p for p in beside if p.name.removeprefix(start).isdecimal())
