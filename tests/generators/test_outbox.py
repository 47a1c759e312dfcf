"""A pack is in its place whole or not at all, whatever happens on the way."""

import errno
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from hangpost.generators.writers import outbox
from hangpost.generators.writers.outbox import NotReplaced, deliver, ready


def pack(mark: str) -> dict[str, bytes]:
    """A small pack whose every file says which pack it is of."""
    files = {
        "fabricate/a.step": mark.encode() * 100,
        "install/b.pdf": mark.encode(),
        "report.html": mark.encode(),
    }
    listed = [{"path": path, "sha256": "", "bytes": len(data)} for path, data in files.items()]
    return {
        **files,
        "pack.json": json.dumps({"hangpost": "0", "mark": mark, "files": listed}).encode(),
    }


def whole(place: Path) -> str:
    """The mark of the pack in a place; it must be whole and of one piece."""
    mark: str = json.loads((place / "pack.json").read_bytes())["mark"]
    found = {
        p.relative_to(place).as_posix(): p.read_bytes() for p in place.rglob("*") if p.is_file()
    }
    assert found == pack(mark)
    return mark


def left_over(place: Path) -> list[str]:
    return sorted(p.name for p in place.parent.iterdir() if p.name != place.name)


def test_all_files_are_in_place_and_nothing_else(tmp_path: Path) -> None:
    out = tmp_path / "packs" / "gate"

    deliver(out, pack("one"))
    assert whole(out) == "one"
    assert left_over(out) == []


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    out = tmp_path / "gate"
    out.mkdir()

    deliver(out, pack("one"))
    assert whole(out) == "one"


def test_an_old_pack_is_kept_unless_told(tmp_path: Path) -> None:
    """PKG-04: a pack is not overwritten unless told."""
    out = tmp_path / "gate"
    deliver(out, pack("one"))

    with pytest.raises(NotReplaced, match="--force"):
        deliver(out, pack("two"))
    assert whole(out) == "one"
    deliver(out, pack("two"), force=True)
    assert whole(out) == "two" and left_over(out) == []


def test_files_that_are_nobodys_are_not_lost(tmp_path: Path) -> None:
    out = tmp_path / "gate"
    deliver(out, pack("one"))
    (out / "install" / "notes of the installer.txt").write_text("gate drags at 60 degrees")

    with pytest.raises(NotReplaced, match="notes of the installer"):
        deliver(out, pack("two"), force=True)
    assert (out / "install" / "notes of the installer.txt").read_text().startswith("gate drags")


@pytest.mark.parametrize("force", [False, True])
def test_a_folder_that_is_no_pack_is_left_alone(tmp_path: Path, force: bool) -> None:
    out = tmp_path / "photos"
    out.mkdir()
    (out / "gate.jpg").write_bytes(b"jpg")

    with pytest.raises(NotReplaced, match="not a pack"):
        deliver(out, pack("one"), force=force)
    assert [p.name for p in out.iterdir()] == ["gate.jpg"] and left_over(out) == []


@pytest.mark.parametrize(
    "words", [b"{}", b"[]", b"not json", b'{"hangpost": 1, "files": 7}', b"\xff"]
)
def test_a_strange_pack_json_makes_no_pack(tmp_path: Path, words: bytes) -> None:
    out = tmp_path / "gate"
    out.mkdir()
    (out / "pack.json").write_bytes(words)
    (out / "thesis.txt").write_bytes(b"three years of work")

    with pytest.raises(NotReplaced, match=r"thesis\.txt"):
        deliver(out, pack("one"), force=True)
    assert (out / "thesis.txt").exists()


def test_a_file_in_the_way_is_told(tmp_path: Path) -> None:
    out = tmp_path / "gate"
    out.write_text("a file")

    with pytest.raises(NotReplaced, match="is a file"):
        deliver(out, pack("one"), force=True)
    assert out.read_text() == "a file"


def test_a_link_to_a_pack_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "latest"
    deliver(real, pack("one"))
    link.symlink_to(real)

    deliver(link, pack("two"), force=True)
    assert link.is_symlink() and whole(real) == "two"


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO])
def test_a_refusal_of_the_disk_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    out = tmp_path / "gate"
    deliver(out, pack("one"))
    written = []

    def refused(path: Path, data: bytes) -> None:
        if len(written) == 2:
            raise OSError(code, os.strerror(code), str(path))
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        written.append(path)

    monkeypatch.setattr(outbox, "_write", refused)
    with pytest.raises(OSError, match=r"gate'$") as caught:
        deliver(out, pack("two"), force=True)
    assert caught.value.errno == code and str(caught.value.filename) == str(out)
    assert whole(out) == "one" and left_over(out) == []


def test_a_full_disk_leaves_nothing_behind(tmp_path: Path) -> None:
    """A real limit of the system, not a stand-in: no file of the child may exceed 4 kB."""
    code = (
        "import resource, signal, sys; from pathlib import Path\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "from hangpost.generators.writers.outbox import deliver\n"
        "try: deliver(Path(sys.argv[1]), {'a': b'x' * 100, 'b': b'x' * 10000})\n"
        "except OSError as error: print(error.errno, error.filename)\n"
    )
    out = tmp_path / "gate"
    done = subprocess.run(
        [sys.executable, "-c", code, str(out)], capture_output=True, text=True, check=True
    )

    assert done.stdout.split() == [str(errno.EFBIG), str(out)]
    assert list(tmp_path.iterdir()) == []


STEPS = ("_write", "_settle", "_move_in", "_exchanged")


@pytest.mark.parametrize("one_step", [True, False])
@pytest.mark.parametrize("step", [*STEPS, "rename"])
def test_killed_at_any_step_the_old_or_the_new_pack_is_whole(
    tmp_path: Path, step: str, one_step: bool
) -> None:
    out = tmp_path / "gate"
    deliver(out, pack("one"))
    (tmp_path / "two.json").write_text(json.dumps({k: v.decode() for k, v in pack("two").items()}))
    code = f"""
import json, os, signal, sys
from pathlib import Path
from hangpost.generators.writers import outbox
def die(*args, **more): os.kill(os.getpid(), signal.SIGKILL)
if not {one_step}: outbox._exchanged = lambda *args: False
if {step!r} == "rename":
    count, real = [], Path.rename
    def rename(self, target):
        count.append(1)
        if len(count) == 2: die()
        return real(self, target)
    Path.rename = rename
else:
    outbox.{step if step != "rename" else "_write"} = die
outbox.deliver(Path(sys.argv[1]), {{k: v.encode() for k, v in json.loads(Path(sys.argv[2]).read_text()).items()}}, force=True)
"""
    killed = subprocess.run(
        [sys.executable, "-c", code, str(out), str(tmp_path / "two.json")], check=False
    )
    if step != "rename" or not one_step:
        assert killed.returncode == -signal.SIGKILL
    (tmp_path / "two.json").unlink()

    ready(out, force=True)  # what the next run does first
    assert whole(out) in ("one", "two")
    assert left_over(out) == []
    deliver(out, pack("three"), force=True)
    assert whole(out) == "three" and left_over(out) == []


def test_a_run_that_is_still_going_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "gate"
    code = (
        "import sys, time; from pathlib import Path\n"
        "from hangpost.generators.writers import outbox\n"
        "def slow(path, data): print('writing', flush=True); time.sleep(60)\n"
        "outbox._write = slow\n"
        "outbox.deliver(Path(sys.argv[1]), {'a': b''})\n"
    )
    with subprocess.Popen([sys.executable, "-c", code, str(out)], stdout=subprocess.PIPE) as other:
        try:
            assert other.stdout is not None and other.stdout.readline()
            deliver(out, pack("one"))

            assert whole(out) == "one"
            assert len(left_over(out)) == 1
        finally:
            other.kill()
    time.sleep(0.05)
    ready(out, force=True)
    assert left_over(out) == []


def test_folders_that_only_look_like_leftovers_are_not_touched(tmp_path: Path) -> None:
    names = [
        ".gate.hangpost-new-notes",
        ".gate.hangpost-old-",
        ".gate1.hangpost-new-7",
        ".gate.old-1",
    ]
    for name in names:
        (tmp_path / name).mkdir()

    deliver(tmp_path / "gate", pack("one"))
    assert left_over(tmp_path / "gate") == sorted(names)


def test_leftovers_of_a_killed_run_are_cleared(tmp_path: Path) -> None:
    (tmp_path / ".gate.hangpost-new-99999999" / "fabricate").mkdir(parents=True)

    deliver(tmp_path / "gate", pack("one"))
    assert left_over(tmp_path / "gate") == []


def test_folders_get_the_usual_permissions(tmp_path: Path) -> None:
    out = tmp_path / "gate"
    deliver(out, pack("one"))

    (tmp_path / "usual").mkdir()
    assert out.stat().st_mode == (tmp_path / "usual").stat().st_mode
