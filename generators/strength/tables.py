"""Reads the CSV tables that lie beside the clauses.

The first line of a table is a comment: standard, edition, table number. The second names the
columns. The column `status` says where a row's numbers come from: "read" (in a print of the
source), "library" (set down from memory and held by an open code library,
tests/validation/codes.csv), "computed" (by the formula named) or "memory" (recalled, confirm before
relying on it; remembered.csv says what hangs on it).
"""

import csv
from functools import cache
from pathlib import Path

Row = dict[str, str]


@cache
def table(name: str) -> dict[str, Row]:
    """Rows of `<name>.csv` by their first column, in the order of the file."""
    lines = (Path(__file__).parent / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(lines[1:]))
    return {next(iter(row.values())): row for row in rows}


def row(name: str, key: str) -> Row:
    """One row of a table; a key that is not there is answered with those that are."""
    rows = table(name)
    if key not in rows:
        raise KeyError(f"{key!r} is not in {name}.csv; it has {', '.join(rows)}")
    return rows[key]
