"""Many gates: tables, the journal, orders, kept parts and who does the work."""

import csv
import io
import os
import signal
import time
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators import batch
from hangpost.generators.kept import Kept
from hangpost.generators.many import table
from hangpost.generators.many.engine import NoScheduler, embedded, on_scheduler
from hangpost.generators.many.journal import Journal
from hangpost.generators.many.order import Order, Outcome
from hangpost.generators.many.toml_text import toml
from hangpost.generators.shelf import Shelf
from hangpost.generators.spreadsheet import FORMULA
from hangpost.parts.spacer import SpacerBlock

SITE = b'units = "mm"\njob = "x"\n'

# TOML 1.0.0: what a file may hold, dates and times left out; text of any signs but surrogates.
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=8)
PLAIN = (
    st.booleans()
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | WORDS
)
VALUES = st.recursive(
    PLAIN,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(WORDS, VALUES, max_size=5))
def test_written_toml_is_read_back_equal_by_the_standard_library(tables: dict[str, object]) -> None:
    assert tomllib.loads(toml(tables)) == tables


CELLS = st.none() | st.booleans() | st.integers() | WORDS | st.floats(allow_nan=False)


@given(st.lists(st.dictionaries(st.sampled_from(["a", "b", "=c"]), CELLS), max_size=4))
def test_no_cell_of_the_table_starts_a_formula_and_every_text_comes_back(
    rows: list[dict[str, table.Cell]],
) -> None:
    data = table.csv_table(rows).decode("utf-8")
    read = list(csv.reader(io.StringIO(data, newline="")))
    names = table.columns(rows)

    assert len(read) == len(rows) + 1 if names else len(rows) + 1 == data.count("\r\n")
    for row, cells in zip(rows, read[1:], strict=False):
        for name, cell in zip(names, cells, strict=False):
            given_cell = row.get(name)
            if isinstance(given_cell, str):
                assert cell in (given_cell, f"'{given_cell}")
                assert not cell.startswith(FORMULA)
    assert not any(name.startswith("=") for name in read[0])


def test_parquet_holds_the_same_table() -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    rows = [{"name": "a", "n": 1, "mixed": 1.5}, {"name": "=b", "mixed": "text", "flag": True}]
    found = parquet.read_table(io.BytesIO(table.parquet_table(rows))).to_pylist()

    assert found == [
        {"name": "a", "n": 1, "mixed": "1.5", "flag": None},
        {"name": "=b", "n": None, "mixed": "text", "flag": True},
    ]


def outcome(name: str) -> Outcome:
    return Outcome(key=f"key of {name}", name=name, status="pass", rows=({"name": name},))


def test_a_line_that_a_kill_cut_short_is_done_again_and_the_others_stay(tmp_path: Path) -> None:
    path = tmp_path / "finished.jsonl"
    with Journal(path) as journal:
        journal.add(outcome("one"))
        journal.add(outcome("two"))
    whole = path.read_bytes()
    for length in range(len(whole)):
        path.write_bytes(whole[:length])
        with Journal(path) as journal:
            assert set(journal.known) <= {"key of one", "key of two"}
            journal.add(outcome("three"))
        again = Journal(path).known
        assert again["key of three"] == outcome("three")
        assert ("key of one" in again) == (length >= whole.index(b"\n"))


@pytest.mark.parametrize(
    "change", [{"name": "b"}, {"site": b"y"}, {"shop": b"z"}, {"pack": Path("p")}, {"shop": b""}]
)
def test_an_order_is_another_when_what_it_hangs_on_is(change: dict[str, object]) -> None:
    order = Order(name="a", site=SITE, file="a.toml")

    assert (replace(order, **change).key != order.key) == (change != {"shop": b""})
    assert replace(order, file="b.toml", kept=Path("k")).key == order.key


def test_kept_things_are_made_once_and_a_torn_one_again(tmp_path: Path) -> None:
    kept, made = Kept(tmp_path / "kept"), []

    def make() -> bytes:
        made.append(1)
        return b"thing"

    assert [kept.get("step", ("part", 1.5), make) for _ in range(3)] == [b"thing"] * 3
    assert len(made) == 1
    (file,) = (path for path in kept.folder.rglob("*") if path.is_file())
    file.write_bytes(file.read_bytes()[:-1])
    assert kept.get("step", ("part", 1.5), make) == b"thing" and len(made) == 2
    assert kept.get("step", ("part", 1.5000000000000002), make) == b"thing" and len(made) == 3
    assert kept.get("mesh", ("part", 1.5), make) == b"thing" and len(made) == 4
    assert all("." not in path.name for path in kept.folder.rglob("*") if path.is_file())


def spacer() -> SpacerBlock:
    return SpacerBlock(
        id="s", width=60, length=90, height=12, corner=5, bores_at=((0, 20), (9, -25)), bore=14
    )


def test_a_part_that_another_gate_had_is_not_built_again_and_is_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, part = Shelf(Kept(tmp_path)), spacer()
    built, mesh = first.solid(part), first.mesh(part)

    def fails(_part: SpacerBlock) -> None:
        raise AssertionError("built again")

    monkeypatch.setattr(SpacerBlock, "solid", fails)
    second = Shelf(Kept(tmp_path))
    assert second.mesh(part).vertices.tobytes() == mesh.vertices.tobytes()
    assert second.solid(part).Volume() == built.Volume()
    with pytest.raises(AssertionError, match="built again"):
        second.solid(replace(part, height=13))


# The workers below run in processes of their own, so they are functions of this module's file.


def quick(order: Order) -> Outcome:
    return Outcome(key=order.key, name=order.name, status="pass", rows=({"name": order.name},))


def deadly(order: Order) -> Outcome:
    if order.name == "7":
        os.kill(os.getpid(), signal.SIGKILL)
    time.sleep(0.01)
    return quick(order)


def orders(count: int) -> Iterator[Order]:
    return (Order(name=f"{n}", site=b"%d" % n, file="x") for n in range(count))


@pytest.fixture
def importable(monkeypatch: pytest.MonkeyPatch) -> str:
    """Let other processes find this file by a name of its own."""
    import sys

    monkeypatch.syspath_prepend(str(Path(__file__).parent))
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parent))
    sys.modules.pop("test_many", None)
    return "test_many"


def test_an_order_that_kills_its_process_is_lost_and_no_other(importable: str) -> None:
    work = __import__(importable).deadly
    found = {outcome.name: outcome for outcome in embedded(work, orders(20), 2)}

    assert set(found) == {f"{n}" for n in range(20)}
    assert {name for name, each in found.items() if each.status == "lost"} == {"7"}
    assert "its process died" in found["7"].reason


def test_the_workers_of_a_scheduler_do_every_order_once(
    importable: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    distributed = pytest.importorskip("distributed")
    work = __import__(importable).quick
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, processes=False
    ) as cluster:
        names = [each.name for each in on_scheduler(cluster.scheduler_address, work, orders(25))]

    assert sorted(names, key=int) == [f"{n}" for n in range(25)]


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:1", "no address at all", "zzz://x"])
def test_a_scheduler_that_is_not_there_is_told(address: str) -> None:
    pytest.importorskip("distributed")
    with pytest.raises(NoScheduler, match="no Dask scheduler answers"):
        list(on_scheduler(address, quick, orders(1)))


def test_what_is_not_there_any_more_is_done_again(tmp_path: Path) -> None:
    order = Order(name="a", site=SITE, file="a.toml")
    fault = Outcome(key=order.key, name="a", status="fault", rows=({"name": "a"},))
    seen: list[str] = []

    def engine(given: object) -> Iterator[Outcome]:
        for each in given:  # type: ignore[attr-defined]
            seen.append(each.name)
            yield fault if len(seen) == 1 else quick(each)

    for _ in range(3):
        tally = batch.run([order], tmp_path, engine, lambda *_: None)

    assert seen == ["a", "a"]  # a fault is tried again, a pass is kept
    assert (tally.kept, tally.done, tally.passed) == (1, 0, True)
    packed = replace(order, pack=tmp_path / "packs" / "a")
    assert not batch._is_finished(Outcome(key=packed.key, name="a", status="pass"), packed)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes of POSIX")
def test_a_journal_that_is_none_is_told_and_lines_of_others_are_passed_over(
    tmp_path: Path,
) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(OSError, match="is not a file"):
        Journal(tmp_path / "pipe")
    with pytest.raises(OSError, match="is not a file"):
        Journal(tmp_path)

    lines = [
        b"[" * 200_000,
        b"\xff",
        b"7",
        b'{"key": "a", "name": "a", "status": "pass", "rows": [7]}',
    ]
    (tmp_path / "garbage").write_bytes(b"\n".join(lines))
    assert Journal(tmp_path / "garbage").known == {}
