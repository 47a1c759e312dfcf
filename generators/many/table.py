"""The table of results: one row for each leaf of each gate, as CSV and as Parquet.

CSV opens anywhere; a cell that a spreadsheet would take for a formula is kept as text. Parquet is
for whoever goes on with a data tool, so it is written where the optional package pyarrow is there
(pip install 'hangpost[tables]'): a writer of our own would be one more format to keep right.
"""

import csv
from collections.abc import Mapping, Sequence
from io import BytesIO, StringIO

from hangpost.generators.spreadsheet import safe

Cell = str | int | float | bool | None
Row = Mapping[str, Cell]


def columns(rows: Sequence[Row]) -> list[str]:
    """Every column that any row has, in the order of their first appearance."""
    return list(dict.fromkeys(name for row in rows for name in row))


def csv_table(rows: Sequence[Row]) -> bytes:
    """The rows as CSV with a head line."""
    names = columns(rows)
    stream = StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")  # RFC 4180
    writer.writerow(map(_safe, names))
    writer.writerows([_safe(row.get(name)) for name in names] for row in rows)
    return stream.getvalue().encode("utf-8")


def _safe(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if not isinstance(cell, str):
        return f"{cell:.6g}" if isinstance(cell, float) else str(cell)
    return safe(cell)


def can_parquet() -> bool:
    """Whether the package that writes Parquet is there."""
    from importlib.util import find_spec

    return find_spec("pyarrow") is not None


def parquet_table(rows: Sequence[Row]) -> bytes:
    """The same rows as Parquet; ImportError without pyarrow."""
    import pyarrow
    import pyarrow.parquet

    names = columns(rows)
    cells = {name: _of_one_kind([row.get(name) for row in rows]) for name in names}
    stream = BytesIO()
    pyarrow.parquet.write_table(pyarrow.table(cells), stream)
    return stream.getvalue()


def _of_one_kind(cells: list[Cell]) -> list[Cell]:
    """A column of one type: numbers as they are, a mixed column as text."""
    kinds = {type(cell) for cell in cells if cell is not None}
    if len(kinds) <= 1:
        return cells
    if kinds <= {int, float}:
        return [None if cell is None else float(cell) for cell in cells]
    return [None if cell is None else str(cell) for cell in cells]
