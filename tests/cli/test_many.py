"""Many gates in one run: one that cannot be built stops none, and what is finished stays."""

import csv
import os
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pytest

from hangpost.cli.main import run

DEMO = Path(__file__).parents[2] / "cli" / "demo.toml"


@pytest.fixture(scope="module")
def gates(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gates")
    good = DEMO.read_text(encoding="utf-8")
    (folder / "a.toml").write_text(good, encoding="utf-8")
    (folder / "b.toml").write_text(good.replace('kind = "timber"', 'kind = "timbr"'))
    (folder / "c.toml").write_text(good.replace("angle = 92", "angle = 140"))
    return folder


def table(out: Path) -> dict[str, dict[str, str]]:
    with (out / "results.csv").open(encoding="utf-8", newline="") as file:
        return {row["name"]: row for row in csv.DictReader(file)}


def test_each_gate_gets_its_row_and_a_bad_one_stops_none(gates: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    status = run(["batch", str(gates), "-o", str(out), "--solve-only", "--jobs", "1"])
    rows = table(out)

    assert status == 1
    assert {name: row["status"] for name, row in rows.items()} == {
        "a": "pass",
        "b": "wrong input",
        "c": "no pivots",
    }
    assert "timbr" in rows["b"]["reason"]


def test_second_run_does_nothing_again(gates: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    command = ["batch", str(gates / "a.toml"), "-o", str(out), "--solve-only", "--jobs", "1"]
    first = run(command)
    before = (out / "results.csv").read_bytes()
    journal = (out / "finished.jsonl").read_bytes()
    second = run(command)

    assert (first, second) == (0, 0)
    assert (out / "results.csv").read_bytes() == before
    assert (out / "finished.jsonl").read_bytes() == journal


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
def test_a_run_that_was_killed_goes_on_and_ends_as_if_it_had_not_been(tmp_path: Path) -> None:
    """For real: SIGKILL after the second gate, and the workers must end as well."""
    sites = tmp_path / "sites"
    sites.mkdir()
    text = DEMO.read_text(encoding="utf-8")
    for angle in (86, 88, 90, 92, 140):
        (sites / f"{angle}.toml").write_text(text.replace("angle = 92", f"angle = {angle}"))

    def start(out: Path) -> "subprocess.Popen[bytes]":
        command = [sys.executable, "-m", "hangpost.cli", "batch", str(sites), "-o", str(out)]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        return subprocess.Popen(
            [*command, "--solve-only", "--jobs", "2"], start_new_session=True, **quiet
        )

    killed, journal = tmp_path / "killed", tmp_path / "killed" / "finished.jsonl"
    run_ = start(killed)
    while run_.poll() is None and (not journal.exists() or journal.read_bytes().count(b"\n") < 2):
        time.sleep(0.01)
    run_.kill()
    run_.wait()
    done_before = journal.read_bytes().count(b"\n")
    until = time.monotonic() + 60
    while (alive := _session(run_.pid)) and time.monotonic() < until:
        time.sleep(0.1)
    assert alive == []

    assert start(killed).wait() == start(tmp_path / "whole").wait() == 1
    assert 2 <= done_before <= 5
    assert journal.read_bytes().count(b"\n") == 5  # nothing was done twice
    whole = (tmp_path / "whole" / "results.csv").read_bytes()
    assert (killed / "results.csv").read_bytes() == whole
    assert len(table(killed)) == 5


def _session(number: int) -> list[str]:
    """Processes of a session that are still there."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            state, _, _, session = stat.read_text().rpartition(")")[2].split()[:4]
            if int(session) == number and state != "Z":
                found.append(stat.parent.name)
    return found


@pytest.mark.skipif(os.name != "posix", reason="names are text elsewhere")
def test_site_files_whose_names_are_no_text_get_their_rows(tmp_path: Path) -> None:
    """Two of them whose packs would have one name."""
    folder = tmp_path / "gates"
    folder.mkdir()
    for name in (b"caf\xe9.toml", b"caf\xff.toml", b"a\x1b[31m\n.toml"):
        (folder / os.fsdecode(name)).write_text("units = 7")
    out = tmp_path / "out"

    assert run(["batch", str(folder), "-o", str(out), "--solve-only", "--jobs", "1"]) == 1
    rows = table(out)
    assert len(rows) == 3
    assert {row["file"] for row in rows.values()} == {"caf?.toml", "a?[31m?.toml"}
