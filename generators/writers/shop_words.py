"""Numbers as a shop reads them: its own unit first, the other in brackets."""

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.units import INCH, POUND, Units


def length_words(value: float, units: Units) -> str:
    """A length for a drawing: "2.500 [63.5]" in inches, "63.5 [2.500]" in mm."""
    value += 1e-7  # 28.575 reads the same wherever the arithmetic came from
    inch, metric = f"{value / INCH:.3f}", plain(value)
    return f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"


def mass_words(value: float, units: Units) -> str:
    """A mass with the other unit in brackets."""
    pounds, metric = f"{value / POUND:.2f} lb", f"{value:.2f} kg"
    return f"{pounds} [{metric}]" if units == "in" else f"{metric} [{pounds}]"


def unit_note(units: Units) -> str:
    """What unit the numbers of a sheet are in."""
    return "inches [millimetres]" if units == "in" else "millimetres [inches]"
