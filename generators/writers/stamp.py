"""What every sheet says of itself: job, revision, input, tool, number of the sheet, QR symbol.

Frame: mm on the sheet. The QR symbol holds the site file's own text when its squares stay large
enough to be read from an ordinary printer; otherwise it holds the line that names the input.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from hangpost.generators.survey.units import Units
from hangpost.generators.writers.fonts import width
from hangpost.generators.writers.ink import Text, line
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.parts.loop import Box, Point

LEAST_MODULE: Final = 0.33  # mm; common practice for a symbol read by a telephone, no source
MARK: Final = 106  # letters in the small symbol: 37 squares to a side, ISO/IEC 18004 5-L
QUIET: Final = 4  # squares kept white around a symbol, ISO/IEC 18004
FOOT: Final = 8.0  # height of the foot of a sheet
ABOVE: Final = 8.5  # from the upper edge down to what stands over a frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """The origin of a sheet; `record` is the site file as it was read."""

    job: str
    site_sha256: str
    version: str
    record: str = ""
    revision: str = "-"
    units: Units = "in"
    failed: int = 0  # checks that fail: then every sheet with a foot says so

    @property
    def warning(self) -> str:
        """What stands on every sheet of a pack that must not be used; else nothing."""
        if not self.failed:
            return ""
        fails = "1 CHECK FAILS" if self.failed == 1 else f"{self.failed} CHECKS FAIL"
        return f"{fails}: DO NOT MAKE, DRILL OR FIT"

    @property
    def maker(self) -> str:
        """The tool and its version."""
        return f"hangpost {self.version}"

    @property
    def input(self) -> str:
        """The start of the input's hash, enough to tell two inputs apart."""
        return self.site_sha256[:12]

    @property
    def plain_record(self) -> str:
        """The site file without its comments and empty lines."""
        lines = (text.strip() for text in self.record.splitlines())
        return "\n".join(_uncommented(text) for text in lines if text and not text.startswith("#"))

    def line_for(self, title: str) -> str:
        """One line that names sheet, job and input."""
        return f"{self.maker}; {self.job}; {title}; rev {self.revision}; {self.site_sha256[:16]}"

    def mark_for(self, title: str) -> str:
        """What the small symbol of a sheet holds: tool, input, revision and sheet."""
        return f"{self.maker};{self.site_sha256[:16]};rev {self.revision};{title}"[:MARK]


def _uncommented(text: str) -> str:
    """A TOML line without a comment after its value."""
    quote = ""
    for i, letter in enumerate(text):
        if quote:
            quote = "" if letter == quote and text[i - 1] != "\\" else quote
        elif letter in "\"'":
            quote = letter
        elif letter == "#":
            return text[:i].rstrip()
    return text


def symbol(text: str, at: Point, room: float) -> Modules | None:
    """A QR symbol in a square of `room` mm at its lower left corner, or None: too fine to read."""
    rows = _squares(text)
    if rows is None:
        return None
    size = room / (len(rows) + 2 * QUIET)
    if size < LEAST_MODULE:
        return None
    size = min(size, 0.6)
    return Modules((at[0] + QUIET * size, at[1] + QUIET * size), size, rows)


@cache
def _squares(text: str) -> tuple[tuple[bool, ...], ...] | None:
    """The symbol's squares; every sheet of a job asks for the same one."""
    import segno
    from segno import DataOverflowError

    try:
        code = segno.make_qr(text, error="l", boost_error=False)
    except DataOverflowError:
        return None
    return tuple(tuple(bool(cell) for cell in row) for row in code.matrix)


def site_symbol(stamp: Stamp, title: str, at: Point, room: float) -> tuple[Modules, str]:
    """The symbol with the site record, or else with the naming line; and what it holds."""
    full = symbol(stamp.plain_record, at, room) if stamp.record else None
    if full is not None:
        return full, "site file"
    short = symbol(stamp.line_for(title), at, room)
    assert short is not None, "a naming line fits any symbol"
    return short, "input hash"


def foot(stamp: Stamp, field: Box, sheet: Sheet, number: int, count: int) -> tuple[Item, ...]:
    """The foot of a sheet: two lines of lettering under a rule."""
    left, bottom, right, _ = field
    top, size = bottom + FOOT, 2.2
    last = f"sheet {number} of {count}"
    room = right - left - width(last, size, bold=True) - 6
    first = _cut(f"{stamp.job} - {sheet.title}", room, size)
    second = f"rev {stamp.revision} - input {stamp.input} - {stamp.maker} - date and initials:"
    loud = stamp.warning
    end = right - (width(loud, size, bold=True) + 2.0 if loud else 0.0)
    return (
        line((left, top), (right, top)),
        Text((left, top - 3.2), first, size, bold=True),
        Text((right, top - 3.2), last, size, "right", bold=True),
        Text((left, top - 6.8), second, size),
        line((left + width(second, size) + 2, top - 7.2), (end, top - 7.2), "hair"),
        *((Text((right, top - 6.8), loud, size, "right", bold=True),) if loud else ()),
    )


def warned(sheet: Sheet, stamp: Stamp) -> Sheet:
    """A sheet without a foot, with the warning over its frame if there is one."""
    if not stamp.warning:
        return sheet
    at = (sheet.width / 2, sheet.height - ABOVE)
    return sheet.with_items([Text(at, stamp.warning, 3.5, "centre", bold=True)])


def _cut(text: str, room: float, size: float) -> str:
    """The text, its end left out when it would not fit."""
    if width(text, size, bold=True) <= room:
        return text
    while text and width(text + "...", size, bold=True) > room:
        text = text[:-1]
    return text.rstrip() + "..."


def numbered(sheets: Sequence[Sheet], stamp: Stamp, field: Box) -> tuple[Sheet, ...]:
    """The sheets with their feet, once it is known how many there are."""
    count = len(sheets)
    return tuple(
        sheet.with_items(foot(stamp, field, sheet, k, count)) for k, sheet in enumerate(sheets, 1)
    )
