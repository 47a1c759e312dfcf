"""Tables of the trade: dressed timber, steel pipe and clearance holes, from the CSVs beside.

Each CSV's first line names its standard, edition and table, and each row says whether it was
read in a reprint, held by a library, or set down from memory. Inches in the tables, mm in every
answer.
Sources: PS 20; ASME B36.10M; ISO 273; ASME B18.2.8.
"""

import csv
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Final, Literal

Fit = Literal["close", "normal", "loose"]

INCH: Final = 25.4
_HERE: Final = Path(__file__).parent


class SizeError(KeyError):
    """A size that the table does not list; the message names those it does."""

    def __str__(self) -> str:
        """Return the words alone, without the quotes KeyError puts around them."""
        return str(self.args[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """One nominal pipe size: designators, outside diameter and walls by schedule."""

    nps: str
    dn: int
    outside: float
    walls: tuple[tuple[str, float], ...]
    fence_name: str

    def wall(self, schedule: str) -> float:
        """Return the wall of a schedule; raises SizeError."""
        for name, thickness in self.walls:
            if name == schedule:
                return thickness
        raise SizeError(f"schedule {schedule} is not listed; 40 and 80 are")


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleFit:
    """Clearance holes for one bolt or pin size."""

    standard: str
    size: str
    close: float
    normal: float
    loose: float


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table as text, keyed by its header."""
    lines = (_HERE / f"{name}.csv").read_text(encoding="utf-8").splitlines()[1:]
    return tuple(csv.DictReader(lines))


def inches(text: str) -> float:
    """Return mm from a table's inches: "0.75", "9/32" or "1-1/32"."""
    whole, _, part = text.rpartition("-")
    return float((Fraction(whole or 0) + Fraction(part)) * Fraction("25.4"))


@cache
def dressed(nominal: int, *, green: bool = False) -> float:
    """Return the dressed size in mm of a nominal inch; raises SizeError."""
    listed = {int(row["nominal"]): row for row in rows("timber_sizes")}
    if nominal not in listed:
        raise SizeError(f"nominal {nominal} is not listed; {', '.join(map(str, listed))} are")
    return inches(listed[nominal]["green" if green else "dry"])


@cache
def pipes() -> tuple[Pipe, ...]:
    """Return every listed pipe, smallest first."""
    return tuple(
        Pipe(
            nps=row["nps"],
            dn=int(row["dn"]),
            outside=inches(row["outside"]),
            walls=(("40", inches(row["wall_40"])), ("80", inches(row["wall_80"]))),
            fence_name=row["fence_name"],
        )
        for row in rows("pipe")
    )


def pipe(name: str) -> Pipe:
    """Return a pipe by its nominal size ("3", "2-1/2", "2 1/2", "DN 80"); raises SizeError."""
    plain = name.strip().strip('"').strip().replace(" ", "-").upper()
    metric = plain.removeprefix("DN").strip("-")
    for each in pipes():
        if plain == each.nps or (plain.startswith("DN") and metric == str(each.dn)):
            return each
    raise SizeError(f"pipe size {name} is not listed; {', '.join(p.nps for p in pipes())} are")


def pipe_by_outside(diameter: float, *, within: float = 1.0) -> Pipe | None:
    """Return the listed pipe whose outside diameter is this, within a mm or so."""
    near = min(pipes(), key=lambda each: abs(each.outside - diameter))
    return near if abs(near.outside - diameter) <= within else None


@cache
def hole_fits() -> tuple[HoleFit, ...]:
    """Return every listed size with its three holes, in mm, inch sizes after metric ones."""
    made = []
    for row in rows("hole_fits"):
        read = float if row["standard"].startswith("ISO") else inches
        close, normal, loose = (read(row[fit]) for fit in ("close", "normal", "loose"))
        made.append(
            HoleFit(
                standard=row["standard"],
                size=row["size"],
                close=close,
                normal=normal,
                loose=loose,
            )
        )
    return tuple(made)


def hole_fit(size: str) -> HoleFit:
    """Return the clearance holes of "M12" or "1/2"; raises SizeError."""
    wanted = size.strip().strip('"').strip().upper()
    for fit in hole_fits():
        if fit.size == wanted:
            return fit
    raise SizeError(f"size {size} is not listed; {', '.join(f.size for f in hole_fits())} are")


def hole(size: str, fit: Fit = "normal") -> float:
    """Return the clearance hole in mm for a size and series; raises SizeError."""
    found = hole_fit(size)
    return {"close": found.close, "normal": found.normal, "loose": found.loose}[fit]


def is_metric(size: str) -> bool:
    """Whether a listed size is a metric thread."""
    return size.startswith("M")


@cache
def shank(size: str) -> float:
    """Return the nominal diameter in mm of "M12" or "1/2"; raises SizeError."""
    listed = hole_fit(size).size
    return float(listed[1:]) if is_metric(listed) else inches(listed)


@cache
def pin_hole(diameter: float, fit: Fit = "close") -> float:
    """Return the hole for a pin of any diameter: the listed one, or by its neighbour.

    A pin between two listed sizes takes the clearance of the larger of the two.
    """
    listed = sorted(hole_fits(), key=lambda each: shank(each.size))
    for each in listed:
        if shank(each.size) >= diameter - 0.05:
            gap = hole(each.size, fit) - shank(each.size)
            return diameter + gap
    last = listed[-1]
    return diameter + hole(last.size, fit) - shank(last.size)
