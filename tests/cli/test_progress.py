"""Progress shows on a terminal and keeps quiet everywhere else."""

import io

import pytest

from hangpost.cli.progress import Progress


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Return yes."""
        return True


def screen(written: str) -> str:
    """What a terminal would show of one line: a return goes back, what follows overwrites."""
    line = ""
    for piece in written.split("\r"):
        line = piece + line[len(piece) :]
    return line.rstrip()


@pytest.fixture(autouse=True)
def _terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "60")


def test_the_newest_step_stands_alone_on_the_line() -> None:
    stream = Terminal()
    progress = Progress(stream)
    progress("sweeping the leaf over its swing", 3, 96)
    progress("writing", 1, 9)

    assert screen(stream.getvalue()) == "writing  1/9"


def test_the_line_is_gone_at_the_end_even_after_an_error() -> None:
    stream = Terminal()

    def break_off() -> None:
        with Progress(stream) as progress:
            progress("writing", 1, 9)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        break_off()

    assert screen(stream.getvalue()) == ""
    assert stream.getvalue().endswith("\r")


def test_the_last_piece_of_a_step_is_always_shown() -> None:
    stream = Terminal()
    progress = Progress(stream)
    for done in range(1, 1001):
        progress("sweeping", done, 1000)

    assert screen(stream.getvalue()) == "sweeping  1000/1000"
    assert stream.getvalue().count("\r") < 1000


def test_a_long_line_does_not_wrap() -> None:
    stream = Terminal()
    Progress(stream)("x" * 300, 0, 0)

    assert len(screen(stream.getvalue())) == 59


@pytest.mark.parametrize("columns", ["0", "-3", "1", "many"])
def test_a_terminal_of_no_width_to_speak_of_breaks_nothing(
    columns: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    stream = Terminal()
    with Progress(stream) as progress:
        progress("writing", 1, 9)

    assert screen(stream.getvalue()) == ""


@pytest.mark.parametrize("why", ["pipe", "dumb"])
def test_silent_where_nobody_watches(why: str, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.StringIO() if why == "pipe" else Terminal()
    if why == "dumb":
        monkeypatch.setenv("TERM", "dumb")
    with Progress(stream) as progress:
        progress("writing", 9, 9)

    assert stream.getvalue() == ""
