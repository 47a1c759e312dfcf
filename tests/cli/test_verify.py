"""`hangpost verify`: what it prints and the status it ends with, whatever is in the folder."""

import json
from pathlib import Path

import pytest

from hangpost.cli.main import run


def empty_pack(folder: Path, **changes: object) -> Path:
    data = {
        "hangpost": "0",
        "job": "j",
        "parts": [],
        "templates": [],
        "assembly": {"files": {}, "pieces": []},
        "files": [],
        **changes,
    }
    (folder / "pack.json").write_text(json.dumps(data))
    return folder


def test_a_sound_pack_ends_well(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(empty_pack(tmp_path))]) == 0

    assert capsys.readouterr().out == "verified: 1 files\n"


def test_every_problem_is_a_line_and_the_status_is_4(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty_pack(tmp_path, files=[{"path": "gone.step", "sha256": "0" * 64, "bytes": 1}])
    (tmp_path / "extra.txt").write_text("x")

    assert run(["verify", str(tmp_path)]) == 4
    told = capsys.readouterr()
    assert told.out.splitlines() == [
        "extra.txt: does not belong to the pack",
        "gone.step: is missing",
    ]
    assert "2 problems" in told.err


@pytest.mark.parametrize("name", ["nowhere", "file.txt"])
def test_what_is_no_folder_is_wrong_input(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file.txt").write_text("x")

    assert run(["verify", str(tmp_path / name)]) == 2
    assert name in capsys.readouterr().err


def test_a_folder_that_is_no_pack_does_not_verify(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["verify", str(tmp_path)]) == 4

    assert "no pack" in capsys.readouterr().out


def test_names_that_a_terminal_cannot_show_do_no_harm(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty_pack(tmp_path)
    (tmp_path / "two\nlines\x1b[31m.txt").write_text("x")

    assert run(["verify", str(tmp_path)]) == 4
    out = capsys.readouterr().out
    assert len(out.splitlines()) == 1 and "\x1b" not in out
