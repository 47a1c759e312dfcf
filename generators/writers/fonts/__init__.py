"""The lettering that travels with every sheet: DejaVu Sans, plain and bold.

Sizes are in mm of the em square, as a printer counts points; capitals are 0.73 of that high.
Licence: licence.txt beside the two files.
"""

from functools import cache, lru_cache
from pathlib import Path
from typing import Final

PLAIN: Final = "DejaVuSans"
BOLD: Final = "DejaVuSans-Bold"
CAPITAL: Final = 0.73  # height of a capital in ems
BELOW: Final = 0.24  # how far the tails of letters hang below the line, in ems


@cache
def registered(bold: bool) -> str:
    """Name of the face, made known to the PDF writer."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = BOLD if bold else PLAIN
    pdfmetrics.registerFont(TTFont(name, str(Path(__file__).parent / f"{name}.ttf")))
    return name


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a line of text in mm."""
    return size * _ems(text, bold)


@lru_cache(maxsize=20_000)  # sheets try the same labels in many places and sizes
def _ems(text: str, bold: bool) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(text, registered(bold), 1.0))
