"""The `hangpost` command: finds the sub-command, runs it, turns errors into words and a status.

Each sub-command lives in a module of its own that is imported only when it is called, so that
`hangpost --help` answers at once. A sub-command returns its exit status (nothing means 0) and
lets errors rise; they become messages here (see hangpost.cli.messages) and nowhere else.
"""

import importlib
import os
import signal
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from io import FileIO, TextIOWrapper
from pathlib import Path
from typing import Any, NamedTuple

import click

from hangpost.cli.memory import RECKONING, want
from hangpost.cli.messages import explain, unexpected

INTERRUPTED = 130  # what a shell reports for Ctrl-C
ENDING = ("SIGTERM", "SIGHUP")  # told to end; a shell reports 128 and the signal's number
FONT_LISTS = Path(__file__).with_name("no_fonts")
SURROUNDINGS = {
    "XDG_CACHE_HOME": str(FONT_LISTS),
    "OPENBLAS_NUM_THREADS": "1",  # small matrices: a second thread only waits for the first
}
BROKEN_PIPE = 141  # and for a reader that went away, as in `hangpost solve gate.toml | head -1`


class Ended(BaseException):
    """Told to end from outside: what is half written is cleared away while this rises."""

    def __init__(self, number: int) -> None:
        """Keep the signal's number."""
        super().__init__(number)
        self.status = 128 + number


class Entry(NamedTuple):
    """Where a sub-command lies and the line that `--help` shows for it."""

    module: str
    name: str
    help: str


# In the order of the work. The help is repeated here so that listing it imports nothing.
COMMANDS: dict[str, Entry] = {
    "new": Entry("hangpost.cli.new", "new", "Write a commented starter site file."),
    "solve": Entry("hangpost.cli.solve", "solve", "Find the two pivots; seconds, no CAD."),
    "build": Entry("hangpost.cli.build", "build", "Build the whole pack for a site file."),
    "verify": Entry(
        "hangpost.cli.verify", "verify", "Hold every file of a pack against pack.json."
    ),
    "survey-form": Entry(
        "hangpost.cli.survey_form", "survey_form", "Write the one-page form to take to the gate."
    ),
    "survey-check": Entry(
        "hangpost.cli.survey_check", "survey_check", "Which measurement is probably wrong."
    ),
    "templates": Entry(
        "hangpost.cli.templates", "templates", "Issue the templates again for one printer."
    ),
    "asbuilt": Entry(
        "hangpost.cli.asbuilt", "asbuilt", "What to do when the holes are not where they should be."
    ),
    "compare": Entry("hangpost.cli.compare", "compare", "What changed between two packs."),
    "batch": Entry("hangpost.cli.batch", "batch", "Build the packs of many site files."),
    "catalogue": Entry(
        "hangpost.cli.catalogue", "catalogue", "Build every combination of some values."
    ),
    "new-shop": Entry("hangpost.cli.new_shop", "new_shop", "Write a commented starter shop file."),
    "doctor": Entry("hangpost.cli.doctor", "doctor", "What is installed, and does it work."),
    "demo": Entry("hangpost.cli.build", "demo", "Build the shipped example."),
}


class LazyGroup(click.Group):
    """A group whose sub-commands are imported when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command itself, or nothing when there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        entry = COMMANDS[cmd_name]
        command = getattr(importlib.import_module(entry.module), entry.name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of sub-commands without importing them."""
        rows = [(name, entry.help) for name, entry in COMMANDS.items()]
        if rows:
            with formatter.section("Commands"):
                formatter.write_dl(rows)


@click.command(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="hangpost")
@click.option(
    "--debug",
    is_flag=True,
    envvar="HANGPOST_DEBUG",
    help="Show where in the program an error arose (or set HANGPOST_DEBUG=1).",
)
def hangpost(debug: bool) -> None:
    """Mounting hardware and drilling templates for swing gates, from site measurements.

    Exit status: 0 all checks pass; 1 built, but a check failed; 2 the input is wrong;
    3 no usable pair of pivots; 4 the pack does not verify.
    """
    want(RECKONING)


def run(args: Sequence[str]) -> int:
    """Exit status of `hangpost ARGS`, every error told on standard error."""
    debug = False
    try:
        with hangpost.make_context("hangpost", list(args)) as context:
            debug = context.params["debug"]
            status = hangpost.invoke(context)
        sys.stdout.flush()  # here, where a full disk can still be told
    except click.exceptions.Exit as stop:  # --help, --version, ctx.exit()
        return stop.exit_code
    except click.ClickException as error:
        error.show()
        return 2
    except (KeyboardInterrupt, click.Abort):
        return _stopped(INTERRUPTED)
    except Ended as error:
        return _stopped(error.status)
    except BrokenPipeError:
        _forget_standard_output()
        return BROKEN_PIPE
    except Exception as error:
        if debug:
            traceback.print_exc()
        if isinstance(error, OSError):
            _forget_standard_output()
        message = explain(error) or unexpected(error, args)
        click.echo(message.text, err=True)
        return message.status
    return status if isinstance(status, int) else 0


def main() -> None:
    """Entry point of the console script."""
    _open_closed_streams()
    for name, value in SURROUNDINGS.items():  # for the processes that are started here too
        os.environ[name] = value
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a terminal that lacks a letter shows ? for it
            stream.reconfigure(errors="replace")
    for name in ENDING:
        if hasattr(signal, name) and signal.getsignal(getattr(signal, name)) == signal.SIG_DFL:
            signal.signal(getattr(signal, name), _end)  # under nohup it is ignored, and stays so
    sys.exit(run(sys.argv[1:]))


def _open_closed_streams() -> None:
    """Let what whoever started us has closed lead nowhere, under the numbers that belong to it."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, TextIOWrapper(FileIO(os.devnull, mode), encoding="utf-8"))


def _end(number: int, _frame: Any) -> None:
    raise Ended(number)


def _stopped(status: int) -> int:
    with suppress(OSError):
        click.echo("Stopped.", err=True)
    return status


def _forget_standard_output() -> None:
    """Send what is still buffered nowhere, or Python would stumble over it again at exit."""
    try:
        sys.stdout.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
