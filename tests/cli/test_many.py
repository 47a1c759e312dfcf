"""Many gates in one run: one that cannot be built stops none, and what is finished stays."""

import csv
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
