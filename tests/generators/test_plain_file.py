"""Files that are none, or that never end, are refused at once; nothing waits for them."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from hangpost.generators.one_line import one_line
from hangpost.generators.plain_file import NotPlain, plain_bytes

# A file of the running system that says that it is a plain one, and keeps its readers waiting.
WAITING = Path("/proc/kmsg")


def test_a_plain_file_is_given_whole_or_one_byte_too_long(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"12345")
    (tmp_path / "link").symlink_to("file")

    assert plain_bytes(tmp_path / "file", 5) == b"12345"
    assert plain_bytes(tmp_path / "link", 3) == b"1234"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes of POSIX")
def test_what_is_no_plain_file_is_not_even_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")

    for place in (tmp_path / "pipe", tmp_path, Path(os.devnull)):
        with pytest.raises(NotPlain, match="not a file"):
            plain_bytes(place, 10)
    with pytest.raises(FileNotFoundError):
        plain_bytes(tmp_path / "gone", 10)


@pytest.mark.skipif(not os.access(WAITING, os.R_OK), reason="the log of the system is not ours")
@pytest.mark.parametrize("words", ["solve {0}", "compare {0} {0}", "catalogue {0} -o out"])
def test_a_file_that_would_keep_us_waiting_is_told(tmp_path: Path, words: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "hangpost.cli", *words.format(WAITING).split()],
        capture_output=True,
        text=True,
        timeout=120,
        cwd=tmp_path,
    )

    assert done.returncode == 2 and "kmsg" in done.stderr
    assert "Traceback" not in done.stderr and list(tmp_path.iterdir()) == []


def test_words_of_somebody_else_stay_on_one_line_and_end() -> None:
    assert one_line("a\nb\x1b[31m\u202ec") == "a?b?[31m?c"
    assert one_line("Höhe 門") == "Höhe 門"
    assert one_line("x" * 11, 10) == "x" * 10 + "..." and one_line("x" * 10, 10) == "x" * 10
