"""The frame of the command: what `--help` loads, and how every kind of error ends."""

import errno
import importlib
import os
import subprocess
import sys
from collections.abc import Callable
from subprocess import PIPE, CompletedProcess
from types import ModuleType
from typing import IO

import click
import pytest

from hangpost.cli import main, messages
from hangpost.generators.hardware.kit import NoHardware
from hangpost.parts.flat import ParameterError

HEAVY = (
    "OCP",
    "cadquery",
    "ezdxf",
    "fcl",
    "manifold3d",
    "numpy",
    "pydantic",
    "reportlab",
    "trimesh",
)
CAD = ("OCP", "cadquery", "ezdxf", "fcl", "manifold3d", "reportlab", "trimesh")
# Seen on a bare Debian 12 without libgl1.
NO_LIBGL = "libGL.so.1: cannot open shared object file: No such file or directory"


def python(code: str, *args: str, stdout: int | IO[str] = PIPE) -> CompletedProcess[str]:
    """Run code in a Python of its own, with arguments as if they stood on the command line."""
    buffered = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    return subprocess.run(
        [sys.executable, "-c", code, *args],
        stdout=stdout,
        stderr=PIPE,
        text=True,
        check=False,
        env=buffered,
    )


HELP = "import sys; from hangpost.cli.main import run; run(sys.argv[1:])"


def loaded_after(code: str, names: tuple[str, ...]) -> set[str]:
    done = python(f"{code}\nprint('loaded', *(m for m in {names!r} if m in sys.modules))", "--help")
    assert done.returncode == 0, done.stderr
    word, *modules = done.stdout.splitlines()[-1].split()
    assert word == "loaded"
    return set(modules)


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[], object]], None]:
    """Put a sub-command `work` in the table that does what a test wants."""

    def put(does: Callable[[], object]) -> None:
        module = ModuleType("work_for_a_test")
        module.work = click.command("work")(does)
        monkeypatch.setitem(sys.modules, module.__name__, module)
        entry = main.Entry(module.__name__, "work", "Does something.")
        monkeypatch.setitem(main.COMMANDS, "work", entry)

    return put


def failing(error: BaseException) -> Callable[[], object]:
    def does() -> object:
        raise error

    return does


def test_help_loads_no_heavy_library() -> None:
    """CLI-04: start-up budget, held by what is loaded and not by a clock."""
    assert loaded_after(HELP, HEAVY) == set()


@pytest.mark.parametrize("name", sorted({"new", "solve"} & set(main.COMMANDS)))
def test_light_commands_load_no_cad_library(name: str) -> None:
    """CLI-04: commands without solids load no kernel."""
    module = main.COMMANDS[name].module

    assert loaded_after(f"import sys, {module}", CAD) == set()


@pytest.mark.parametrize("name", sorted(main.COMMANDS))
def test_each_command_is_there_and_has_its_own_help(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.run([name, "--help"]) == 0
    assert f"Usage: hangpost {name}" in capsys.readouterr().out


def test_help_lists_every_command(capsys: pytest.CaptureFixture[str], command) -> None:
    command(lambda: None)

    assert main.run(["--help"]) == 0
    shown = capsys.readouterr().out
    assert all(
        f"\n  {name} " in shown and entry.help in shown for name, entry in main.COMMANDS.items()
    )


@pytest.mark.parametrize("args", [["sovle"], ["--frobnicate"], ["work", "--frobnicate"], []])
def test_wrong_usage_ends_with_2(
    args: list[str], capsys: pytest.CaptureFixture[str], command
) -> None:
    command(lambda: None)

    assert main.run(args) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "Usage: hangpost" in told.err


@pytest.mark.parametrize(("returned", "status"), [(None, 0), (0, 0), (1, 1), (4, 4)])
def test_what_a_command_returns_is_the_exit_status(returned: object, status: int, command) -> None:
    command(lambda: returned)

    assert main.run(["work"]) == status


@pytest.mark.parametrize("name", sorted(messages.KNOWN))
def test_each_known_error_exists(name: str) -> None:
    module, _, kind = name.rpartition(".")

    assert issubclass(getattr(importlib.import_module(module), kind), Exception)


@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        (NoHardware("the leaf bracket cannot be made here: edge = 12 mm"), 3, "edge = 12 mm"),
        (ParameterError("plate: edge = 12 mm"), 70, "edge = 12 mm"),  # nobody has told it: ours
        (PermissionError(errno.EACCES, "Permission denied", "/pack"), 2, "no permission"),
        (OSError(errno.ENOSPC, "No space left on device"), 2, "the disk is full"),
        (FileNotFoundError(errno.ENOENT, "x", "gate.toml"), 2, "gate.toml: there is no such file"),
        (OSError(errno.EXDEV, "x", "a", None, "b"), 2, "a -> b"),
        (OSError("odd"), 2, "odd"),
        (ImportError(NO_LIBGL, name="OCP.OCP"), 2, "apt-get install -y --no-install-recommends libgl1"),
        (ImportError("libX11.so.6: cannot open", name="OCP"), 2, "libgl1"),
        (ModuleNotFoundError("No module named 'fcl'", name="fcl"), 2, "`fcl`"),
        (click.FileError("gate.toml", "odd"), 2, "gate.toml"),
        (KeyboardInterrupt(), 130, "Stopped."),
        (click.Abort(), 130, "Stopped."),
        (main.Ended(15), 143, "Stopped."),
        (BrokenPipeError(errno.EPIPE, "Broken pipe"), 141, ""),
        (KeyError("ear"), 70, "KeyError: 'ear'"),
        (ImportError("no name", name="hangpost.parts.ear"), 70, "fault in hangpost"),
    ],
)  # fmt: skip
def test_an_error_is_told_in_words(
    error: BaseException,
    status: int,
    words: str,
    capsys: pytest.CaptureFixture[str],
    command,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("HANGPOST_DEBUG", raising=False)
    command(failing(error))

    assert main.run(["work"]) == status
    told = capsys.readouterr()
    assert told.out == ""
    assert words in told.err
    assert bool(words) == bool(told.err)
    assert "Traceback" not in told.err


@pytest.mark.parametrize("how", ["option", "environment"])
def test_debug_shows_the_place(
    how: str, capsys: pytest.CaptureFixture[str], command, monkeypatch: pytest.MonkeyPatch
) -> None:
    command(failing(KeyError("ear")))
    if how == "environment":
        monkeypatch.setenv("HANGPOST_DEBUG", "1")

    assert main.run(["--debug", "work"] if how == "option" else ["work"]) == 70
    assert "Traceback" in capsys.readouterr().err


def test_a_bug_names_the_command_that_shows_it(capsys: pytest.CaptureFixture[str], command) -> None:
    command(failing(ZeroDivisionError("two\nlines")))

    main.run(["work"])
    told = capsys.readouterr().err
    assert "ZeroDivisionError: two lines\n" in told
    assert "    hangpost --debug work\n" in told


# A command whose output is still in Python's buffer when it returns, as `print` leaves it.
PRINTS = """
import sys, types, click
from hangpost.cli import main
sys.modules["printing"] = types.ModuleType("printing")
sys.modules["printing"].work = click.command("work")(lambda: print("much"))
main.COMMANDS["work"] = main.Entry("printing", "work", "Prints.")
main.main()
"""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no /dev/full here")
@pytest.mark.parametrize("argument", ["work", "--help"])
def test_a_full_disk_behind_standard_output_is_told(argument: str) -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = python(PRINTS, argument, stdout=full)

    assert (done.returncode, done.stderr) == (2, "Cannot go on: the disk is full.\n")


@pytest.mark.skipif(os.name != "posix", reason="pipes of POSIX")
@pytest.mark.parametrize("argument", ["work", "--help"])
def test_a_reader_that_went_away_is_no_error(argument: str) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = python(PRINTS, argument, stdout=writer)
    os.close(writer)

    assert (done.returncode, done.stderr) == (141, "")
