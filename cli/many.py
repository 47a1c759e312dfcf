"""What `hangpost batch` and `hangpost catalogue` share: options, the run, what is told."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hangpost.cli.memory import KERNEL, want
from hangpost.cli.progress import Progress

if TYPE_CHECKING:
    from hangpost.generators.batch import Tally
    from hangpost.generators.many.order import Order, Outcome

Command = Callable[..., int]

_OPTIONS = (
    click.option(
        "-o",
        "--out",
        type=click.Path(path_type=Path, file_okay=False),
        required=True,
        help="Folder for the packs and the table of results.",
    ),
    click.option(
        "--shop", type=click.Path(path_type=Path), help="Shop file; default: the house shop."
    ),
    click.option(
        "--solve-only",
        is_flag=True,
        help="Pivots, hardware and checks by rule, without solids and packs: for large studies.",
    ),
    click.option(
        "--jobs",
        type=click.IntRange(1, 256),
        help="Processes on this machine; default: one for each processor.",
    ),
    click.option("--scheduler", metavar="ADDRESS", help="Dask scheduler, as tcp://10.0.0.5:8786."),
)


def options(command: Command) -> Command:
    """Give a command the options of a run over many gates."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def run_all(orders: "Sequence[Order]", out: Path, jobs: int | None, scheduler: str | None) -> int:
    """Run them, tell how it went; exit status 1 when any is not as one would wish."""
    from hangpost.generators.batch import run, work
    from hangpost.generators.many.engine import embedded, on_scheduler, usable_cores

    if scheduler is None:  # its workers stand elsewhere
        want(KERNEL)

    def engine(left: "Iterable[Order]") -> "Iterator[Outcome]":
        if scheduler is not None:
            return on_scheduler(scheduler, work, left)
        return embedded(work, left, jobs or usable_cores())

    with Progress() as progress:
        tally = run(orders, out, engine, progress)
    _tell(tally, len(orders), out)
    return 0 if tally.passed and sum(tally.counts.values()) == len(orders) else 1


def _tell(tally: "Tally", count: int, out: Path) -> None:
    from hangpost.generators.many.table import can_parquet

    words = ", ".join(f"{number} {status}" for status, number in sorted(tally.counts.items()))
    click.echo(f"{out}: {count} gates: {words}")
    if tally.kept:
        click.echo(f"{tally.kept} of them were finished before", err=True)
    if tally.done:
        rate = 60.0 * tally.done / max(tally.seconds, 1e-9)
        click.echo(f"{tally.done} in {tally.seconds:.1f} s: {rate:.0f} a minute", err=True)
    tables = "results.csv, results.parquet" if can_parquet() else "results.csv"
    click.echo(f"table: {tables} in {out}", err=True)
    if not can_parquet():
        click.echo("results.parquet needs one more package: pip install pyarrow", err=True)
