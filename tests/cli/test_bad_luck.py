"""Bad luck around a build, for real: full disks, forbidden and strange places, signals, terminals.

Every case is a process of its own that runs the command. So that each takes a second or two, the
pack that it hands over is one of the committed examples; all the rest is as always. Whatever
happens: the old pack is whole or the new one is, nothing else stays, words and no traceback.
"""

import os
import shlex
import shutil
import signal
import subprocess
import sys
import time
from functools import partial
from hashlib import sha256
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SITE = ROOT / "cli" / "demo.toml"
EXAMPLE = ROOT / "outputs_example" / "orchard-lane" / "pack"
LINUX = pytest.mark.skipif(sys.platform != "linux", reason="tried with the means of Linux")
AS_ROOT = pytest.mark.skipif(
    not (hasattr(os, "geteuid") and os.geteuid() == 0), reason="only root may do this"
)

# The command with pack.make replaced: it says that it works, perhaps waits (-1: for a line), and
# gives the example.
COMMAND = """
import sys, time
from pathlib import Path
from unittest.mock import MagicMock
from hangpost.generators import pack
made, wait = Path(sys.argv.pop(1)), float(sys.argv.pop(1))
files = {p.relative_to(made).as_posix(): p.read_bytes() for p in made.rglob("*") if p.is_file()}
def make(*_):
    print("working", flush=True)
    sys.stdin.readline() if wait < 0 else time.sleep(wait)
    return MagicMock(files=files, checks=(), passed=True)  # the rest of a pack is empty
pack.make = make
from hangpost.cli.main import main
main()
"""


def command(*args: str | Path, wait: float = 0.0) -> list[str]:
    return [sys.executable, "-c", COMMAND, str(EXAMPLE), str(wait), *map(str, args)]


def build(place: Path | str, *more: str, **how: object) -> "subprocess.CompletedProcess[str]":
    done = subprocess.run(
        command("build", SITE, "-o", place, *more), capture_output=True, text=True, **how
    )  # type: ignore[call-overload]
    assert "Traceback" not in done.stderr
    return done


def content(folder: Path) -> dict[str, str]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {
        str(path.relative_to(folder)): sha256(path.read_bytes()).hexdigest()
        for path in sorted(files)
    }


def is_whole(folder: Path) -> bool:
    return content(folder) == content(EXAMPLE)


def beside(place: Path) -> list[str]:
    return sorted(p.name for p in place.parent.iterdir() if p.name != place.name)


@LINUX
@AS_ROOT
@pytest.mark.parametrize("old", [False, True], ids=["nothing there", "an old pack"])
def test_a_full_disk_is_told_and_leaves_what_was_there(tmp_path: Path, old: bool) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    size = sum(path.stat().st_size for path in EXAMPLE.rglob("*")) + 500_000
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no tmpfs may be mounted here")
    try:
        if old:
            assert build(disk / "gate").returncode == 0
        else:
            (disk / "taken").write_bytes(b"x" * 1_000_000)
        done = build(disk / "gate", "--force")

        assert (done.returncode, done.stderr.splitlines()[-1]) == (
            2,
            f"Cannot use {disk / 'gate'}: the disk is full.",
        )
        assert beside(disk / "gate") == ([] if old else ["taken"])
        assert is_whole(disk / "gate") if old else not (disk / "gate").exists()
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@LINUX
@AS_ROOT
def test_a_disk_that_can_only_be_read_is_told_before_the_work(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "ro", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no tmpfs may be mounted here")
    try:
        inside, itself = build(disk / "gate"), build(disk)
    finally:
        subprocess.run(["umount", str(disk)], check=True)

    assert (inside.returncode, inside.stdout) == (2, "")
    assert "that place can only be read" in inside.stderr
    assert (itself.returncode, itself.stdout) == (2, "")
    assert "where a disk is mounted" in itself.stderr


@LINUX
def test_a_folder_of_somebody_else_is_told_before_the_work(tmp_path: Path) -> None:
    place = tmp_path / "theirs" / "gate"
    place.parent.mkdir(mode=0o555)
    mortal = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"]  # root as anybody else
    if os.geteuid() == 0 and shutil.which(mortal[0]) is None:
        pytest.skip("root may write everywhere")
    run = [*(mortal if os.geteuid() == 0 else []), *command("build", SITE, "-o", place)]
    done = subprocess.run(run, capture_output=True, text=True, check=False)

    assert (done.returncode, done.stdout) == (2, "")
    assert f"Cannot use {place}: no permission." in done.stderr


@pytest.mark.parametrize(
    ("name", "status"),
    [
        ("two\nlines", 0),
        ("Gatter Höhe 門 \U0001f6aa", 0),
        ("x" * 250, 0),
        ("門" * 80, 0),
        ("x" * 300, 2),
        ("-starts-with-a-dash", 0),
        ("ends with a space ", 0),
    ],
    ids=["newline", "letters", "long", "long in bytes", "too long", "dash", "space"],
)
def test_strange_names_work_or_are_told(tmp_path: Path, name: str, status: int) -> None:
    place = tmp_path / name
    done = build(place)

    assert done.returncode == status, done.stderr
    assert is_whole(place) if status == 0 else "too long" in done.stderr
    assert beside(place) == []
    assert all(line.isprintable() for line in (done.stdout + done.stderr).splitlines())
    if status == 0:
        assert len(done.stdout.splitlines()) == 2  # the name stays on one line
        assert build(place, "--force").returncode == 0
        assert is_whole(place) and beside(place) == []


@pytest.mark.skipif(os.name != "posix", reason="names are text elsewhere")
def test_a_name_that_is_no_text_is_told_in_signs(tmp_path: Path) -> None:
    place = tmp_path / os.fsdecode(b"caf\xe9")
    done = build(place)

    assert done.returncode == 0, done.stderr
    assert is_whole(place) and "caf?" in done.stdout


def test_a_file_in_the_way_is_told_before_the_work(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    itself, below = build(tmp_path / "file", "--force"), build(tmp_path / "file" / "gate")

    assert [(done.returncode, done.stdout) for done in (itself, below)] == [(2, ""), (2, "")]
    assert "is a file" in itself.stderr and "not a folder" in below.stderr
    assert (tmp_path / "file").read_text() == "mine" and beside(tmp_path / "file") == []


def test_a_link_is_followed_and_a_loop_told(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    through, round_and_round = build(tmp_path / "link"), build(tmp_path / "loop")

    assert through.returncode == 0, through.stderr
    assert (tmp_path / "link").is_symlink() and is_whole(tmp_path / "real")
    assert round_and_round.returncode == 2
    assert beside(tmp_path / "real") == ["link", "loop"]


def test_a_place_taken_meanwhile_is_kept_and_told(tmp_path: Path) -> None:
    place = tmp_path / "gate"
    with subprocess.Popen(
        command("build", SITE, "-o", place, wait=-1),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as slow:
        assert slow.stdout is not None and slow.stdout.readline() == "working\n"
        quick = build(place)
        _, told = slow.communicate("go on\n")

    assert quick.returncode == 0
    assert (slow.returncode, "holds a pack already" in told) == (2, True)
    assert is_whole(place) and beside(place) == []


def test_a_clock_that_went_back_changes_nothing(tmp_path: Path) -> None:
    place = tmp_path / "gate"
    build(place)
    for path in (place, *place.rglob("*")):
        os.utime(path, (4_000_000_000, 4_000_000_000))  # the year 2096
    done = build(place, "--force")

    assert done.returncode == 0 and is_whole(place) and beside(place) == []
    assert all(path.stat().st_mtime < 4_000_000_000 for path in place.rglob("*"))


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
@pytest.mark.parametrize("when", ["working", "handing over"])
def test_told_to_stop_a_run_clears_up_and_says_so(
    tmp_path: Path, number: signal.Signals, when: str
) -> None:
    place = tmp_path / "gate"
    build(place)
    wait = 60.0 if when == "working" else 0.0
    with subprocess.Popen(
        command("build", SITE, "-o", place, "--force", wait=wait),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=partial(signal.signal, number, signal.SIG_DFL),  # nohup may be about the tests
    ) as run:
        assert run.stdout is not None and run.stdout.readline() == "working\n"
        while when == "handing over" and run.poll() is None and not beside(place):
            time.sleep(0.0005)
        run.send_signal(number)
        _, told = run.communicate(timeout=30)

    if run.returncode != 0:  # it may have been through by then
        assert run.returncode == 128 + number
        assert told.splitlines()[-1] == "Stopped."
    else:
        assert when == "handing over"
    assert "Traceback" not in told
    assert is_whole(place) and beside(place) == []


PLAIN = {"PATH": os.defpath, "PYTHONDONTWRITEBYTECODE": "1"}


@pytest.mark.parametrize(
    "environment",
    [
        {},
        {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"LC_ALL": "nn_XX.nowhere", "LANG": "C"},
        {"PYTHONIOENCODING": "ascii"},
        {"PYTHONIOENCODING": "cp1252", "TERM": "dumb"},
        # Below a file nobody can make a folder, not even root.
        dict.fromkeys(("HOME", "XDG_CACHE_HOME", "TMPDIR"), f"{os.devnull}/none"),
        {"COLUMNS": "0", "LINES": "-1", "NO_COLOR": "1"},
    ],
    ids=["bare", "C", "no such locale", "ascii", "cp1252", "no home", "no columns"],
)
def test_poor_surroundings_change_words_at_most(
    tmp_path: Path, environment: dict[str, str]
) -> None:
    place = tmp_path / "Höhe 門"  # the second letter is in no small code page
    done = subprocess.run(
        command("build", SITE, "-o", place), capture_output=True, env={**PLAIN, **environment}
    )

    assert done.returncode == 0, done.stderr
    assert b"Traceback" not in done.stderr
    assert is_whole(place)


@pytest.mark.skipif(shutil.which("bash") is None, reason="the shell that tells of a pipe")
@pytest.mark.parametrize("words", ["solve {site}", "--help", "verify {pack}"])
def test_a_reader_that_goes_away_is_no_error(words: str) -> None:
    line = f"{sys.executable} -m hangpost.cli {words.format(site=SITE, pack=EXAMPLE)}"
    done = subprocess.run(
        ["bash", "-c", f"{line} | head -c 1; exit ${{PIPESTATUS[0]}}"],
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode in (0, 141)
    assert "Traceback" not in done.stderr and "rror" not in done.stderr


@pytest.mark.skipif(shutil.which("bash") is None, reason="the shell that closes streams")
@pytest.mark.parametrize("closed", ["1>&-", "2>&-", "0<&- 1>&- 2>&-"])
def test_streams_that_are_closed_cost_no_pack(tmp_path: Path, closed: str) -> None:
    place = tmp_path / "pack"
    line = shlex.join(command("build", SITE, "-o", place))
    done = subprocess.run(
        ["bash", "-c", f"{line} {closed}"], capture_output=True, text=True, check=False
    )

    assert done.returncode == 0, done.stderr
    assert is_whole(place) and not beside(place)


def test_the_dxf_library_lists_no_fonts_and_leaves_nothing_in_a_home(tmp_path: Path) -> None:
    """Also where its list is of another version: then it would look, and write into our folder."""
    told = (
        "import json, sys; sys.argv = ['hangpost', '--version']\n"
        "from hangpost.cli.main import FONT_LISTS, main\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "before = {p: p.read_bytes() for p in FONT_LISTS.rglob('*.json')}\n"
        "from ezdxf.fonts.fonts import font_manager\n"
        "assert before and {p: p.read_bytes() for p in FONT_LISTS.rglob('*.json')} == before\n"
        "print('fonts:', json.loads(font_manager.dumps())['font-faces'])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", told],
        capture_output=True,
        text=True,
        env={**PLAIN, "HOME": str(tmp_path)},
    )

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1] == "fonts: []"
    assert list(tmp_path.rglob("*")) == []
