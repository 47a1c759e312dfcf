"""Cells of a CSV file that no spreadsheet takes for something to reckon."""

from typing import Final

# What a spreadsheet reckons with; the last four are full-width forms (OWASP, CSV injection).
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def safe(cell: str) -> str:
    """The cell, with the quote in front that spreadsheets themselves use for "this is text"."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell
