"""Numbers as a shop reads them: its own unit first, the other in brackets."""

from collections.abc import Sequence

from hangpost.generators.survey.display import both, plain
from hangpost.generators.survey.units import INCH, POUND, Units
from hangpost.parts.weld_ear import WeldEar


def length_words(value: float, units: Units) -> str:
    """A length for a drawing: "2.500 [63.5]" in inches, "63.5 [2.500]" in mm."""
    value = round(value, 4) + 1e-7  # 28.575 reads the same wherever it came from, views as well
    inch, metric = f"{value / INCH:.3f}", plain(value)
    return f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"


def sides_words(sides: Sequence[float], units: Units) -> str:
    """Overall sizes: "131.2 x 230.5 [5.164 x 9.074]" in mm."""
    metric = " x ".join(plain(side + 1e-7) for side in sides)
    inch = " x ".join(f"{(side + 1e-7) / INCH:.3f}" for side in sides)
    return f"{inch} [{metric}]" if units == "in" else f"{metric} [{inch}]"


def mass_words(value: float, units: Units) -> str:
    """A mass with the other unit in brackets."""
    pounds, metric = f"{value / POUND:.2f} lb", f"{value:.2f} kg"
    return f"{pounds} [{metric}]" if units == "in" else f"{metric} [{pounds}]"


def weld_words(ear: WeldEar, units: Units) -> str:
    """The fillets of an ear, in the words of a shop floor."""
    leg, long = both(ear.weld_leg, units), both(ear.weld_length, units)
    return f"{leg} fillet along the whole back edge, {long}, on both sides of each ear"


def unit_note(units: Units) -> str:
    """What unit the numbers of a sheet are in."""
    return "inches [millimetres]" if units == "in" else "millimetres [inches]"
