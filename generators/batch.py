"""Many gates in one run: each built or only solved, one bad one stopping none of the others.

A folder of results holds a pack for every gate, `results.csv` (and `results.parquet`), and
`finished.jsonl`, by which a run that was stopped goes on where it was. A pack is taken as finished
when that file has its key (site, shop, version) and the pack there is of that site file.
"""

import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from hangpost.generators.many.journal import Journal
from hangpost.generators.many.order import MADE, Order, Outcome, Status
from hangpost.generators.many.table import Cell, Row, can_parquet, csv_table, parquet_table
from hangpost.generators.pack_json import read_json
from hangpost.generators.progress import Report

if TYPE_CHECKING:
    from hangpost.generators.checks import Check
    from hangpost.generators.hardware.design import Design
    from hangpost.generators.pack import Pack
    from hangpost.generators.survey.reading import Survey
    from hangpost.generators.survey.shop import Shop
    from hangpost.generators.survey.units import Units

FINISHED: Final = "finished.jsonl"
Engine = Callable[[Iterable[Order]], Iterator[Outcome]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """How a run went."""

    counts: Mapping[Status, int]
    kept: int  # finished by an earlier run
    seconds: float

    @property
    def done(self) -> int:
        """Gates done by this run."""
        return sum(self.counts.values()) - self.kept

    @property
    def passed(self) -> bool:
        """Whether every gate was made and every check passes."""
        return set(self.counts) <= {"pass"}


def run(orders: Sequence[Order], folder: Path, engine: Engine, report: Report) -> Tally:
    """Do what is not done yet, note it down as it comes, and write the table of all."""
    started = time.monotonic()
    folder.mkdir(parents=True, exist_ok=True)
    journal = Journal(folder / FINISHED)
    done = {o.key for o in orders if _is_finished(journal.known.get(o.key), o)}
    try:
        with journal:
            left = [order for order in orders if order.key not in done]
            by_key = {order.key: order for order in left}
            for number, outcome in enumerate(engine(left), start=1):
                report("building gates", len(done) + number, len(orders))
                journal.add(_landed(outcome, by_key[outcome.key]))
    finally:  # after Ctrl-C too: the table says what there is
        found = [journal.known[o.key] for o in orders if o.key in journal.known]
        _write_tables(folder, found)
    counts: dict[Status, int] = {}
    for outcome in found:
        counts[outcome.status] = counts.get(outcome.status, 0) + 1
    return Tally(counts=counts, kept=len(done), seconds=time.monotonic() - started)


def _is_finished(outcome: Outcome | None, order: Order) -> bool:
    """Whether an order need not be done again: what went wrong by no fault of the site is."""
    if outcome is None or outcome.status in {"fault", "lost"}:
        return False
    if order.pack is None or outcome.status not in MADE:
        return True
    try:
        data = read_json(order.pack / "pack.json")
        there = all((order.pack / each["path"]).is_file() for each in data["files"])
    except (OSError, ValueError, LookupError, TypeError):
        return False
    import hashlib

    return there and bool(data["site_sha256"] == hashlib.sha256(order.site).hexdigest())


def _landed(outcome: Outcome, order: Order) -> Outcome:
    """The outcome with its pack in place, where a worker without our disk has brought it."""
    if outcome.files is None or order.pack is None:
        return outcome
    from hangpost.generators.writers.outbox import deliver

    deliver(order.pack, outcome.files, force=True)
    return outcome


def _write_tables(folder: Path, found: Iterable[Outcome]) -> None:
    rows = [row for outcome in found for row in outcome.rows]
    tables = {"results.csv": csv_table(rows)}
    if can_parquet():
        tables["results.parquet"] = parquet_table(rows)
    for name, data in tables.items():
        fresh = folder / f".{name}.new"
        fresh.write_bytes(data)
        fresh.replace(folder / name)


def work(order: Order) -> Outcome:
    """One order, from the bytes of its site file to its pack; whatever goes wrong is its outcome.

    Runs in a process of its own; the imports below are what its server has loaded already.
    """
    from hangpost.generators.hardware.kit import NoHardware
    from hangpost.generators.pivots.ways_out import NoPivots
    from hangpost.generators.survey.mistakes import SurveyError

    started = time.monotonic()
    reasons: Sequence[tuple[type[Exception], Status]] = (
        (SurveyError, "wrong input"),
        (NoPivots, "no pivots"),
        (NoHardware, "no hardware"),
        (Exception, "fault"),
    )
    files: Mapping[str, bytes] | None = None
    try:
        status, reason, rows, files = _done(order)
    except Exception as error:
        status = next(word for kind, word in reasons if isinstance(error, kind))
        name = f"{type(error).__name__}: " if status == "fault" else ""
        reason = f"{name}{error}"
        if isinstance(error, NoPivots):
            reason = f"excluded by {', '.join(error.blocking)}"
        rows = [{}]
    head: dict[str, Cell] = {"name": order.name, "site_sha256": _digest(order), **order.varied}
    told = {"status": status, "reason": " ".join(reason.split())}
    return Outcome(
        key=order.key,
        name=order.name,
        status=status,
        reason=reason,
        rows=tuple({**head, **told, **row} for row in rows),
        seconds=time.monotonic() - started,
        files=files,
    )


Done = tuple[Status, str, list[Row], Mapping[str, bytes] | None]


def _digest(order: Order) -> str:
    import hashlib

    return hashlib.sha256(order.site).hexdigest()


def _done(order: Order) -> Done:
    from hangpost.generators.survey.reading import (
        shop_from_bytes,
        survey_from_bytes,
        usual_shop,
    )

    survey = survey_from_bytes(order.site, file=order.file)
    units = survey.site.units
    shop = usual_shop(units) if order.shop is None else shop_from_bytes(order.shop, units)
    if order.pack is None:
        design, checks = _judged(survey, shop)
        return (*_told(checks, survey.site.units), _rows(design, checks), None)
    pack = _built(order, survey, shop)
    return (
        *_told(pack.checks, survey.site.units),
        _rows(pack.design, pack.checks),
        pack.files if order.bring else None,
    )


def _built(order: Order, survey: "Survey", shop: "Shop") -> "Pack":
    from hangpost.generators.kept import Kept
    from hangpost.generators.pack import make
    from hangpost.generators.shelf import Shelf
    from hangpost.generators.writers.outbox import deliver

    assert order.pack is not None
    shelf = Shelf(Kept(order.kept) if order.kept else None)
    pack = make(survey, shop, _quiet, shelf=shelf)
    if not order.bring:
        deliver(order.pack, pack.files, force=True)
    return pack


def _quiet(_step: str, _done: int, _total: int) -> None:
    """Say nothing."""


def _judged(survey: "Survey", shop: "Shop") -> "tuple[Design, tuple[Check, ...]]":
    """Pivots, hardware and every check that needs no CAD: a tenth of a second a leaf."""
    from hangpost.generators.hardware.build import design_gate
    from hangpost.generators.judged import reckoned
    from hangpost.generators.judging.choose import choose
    from hangpost.generators.pivots.gate import solve_gate

    solved = solve_gate(survey.site, shop, briefly=True)
    chosen = choose(survey.site, shop, solved)
    design = design_gate(survey.site, shop, solved, [each.picks for each in chosen])
    return design, reckoned(design)


def _told(checks: "Sequence[Check]", units: "Units") -> tuple[Status, str]:
    """Status, and the failed check that is farthest over."""
    failed = [check for check in checks if check.status == "fail"]
    if not failed:
        return "pass", ""
    from hangpost.generators.told import figures

    worst = max(failed, key=lambda check: check.utilisation)
    more = f" and {len(failed) - 1} more" if len(failed) > 1 else ""
    helps = f"; what would do: {worst.would_do}" if worst.would_do else ""
    return "fail", f"{worst.what}: {figures(worst, units)}{more}{helps}"


def _rows(design: "Design", checks: "Sequence[Check]") -> list[Row]:
    """A row for each leaf: its pivots, what they give, and how the checks of the gate stand."""
    counts = {word: sum(check.status == word for check in checks) for word in ("warn", "fail")}
    mass = sum(part.mass * count for part, count in design.parts)
    return [
        {
            "leaf": number,
            "hand": leaf.hand,
            "post_pivot_x": leaf.mount.post_pivot[0],
            "post_pivot_y": leaf.mount.post_pivot[1],
            "leaf_pivot_x": leaf.mount.leaf_pivot[0],
            "leaf_pivot_y": leaf.mount.leaf_pivot[1],
            "reach": leaf.mount.reach,
            "closed_length": leaf.mount.closed_length,
            "open_length": leaf.mount.open_length,
            "stroke_used": leaf.mount.stroke_used,
            "leverage_least": leaf.mount.leverage_least,
            "swing_time": leaf.mount.swing_time,
            "mass_of_parts": mass,
            "checks": len(checks),
            "checks_warn": counts["warn"],
            "checks_fail": counts["fail"],
        }
        for number, leaf in enumerate(design.leaves, start=1)
    ]
