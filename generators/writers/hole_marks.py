"""The mark for one hole: hairlines that cross, a dot, the hole's circle, and what drill to take.

Frame: mm in the face (u right, v up); the label is set where it meets nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hangpost.generators.hardware.design import Drilling
from hangpost.generators.survey.display import both, inches, plain
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.ink import Circle, Text, line, outline
from hangpost.generators.writers.layout import first_free, moved
from hangpost.generators.writers.sheet import Item
from hangpost.generators.writers.table import Table
from hangpost.parts.loop import Box, Point, slot

LEAST_ARM: Final = 6.0  # half a hair line; the whole crosses more than 10 mm
DOT: Final = 0.6  # diameter of the centre dot, well under 1 mm
PARTS: Final = 64  # drills in the inch system come in sixty-fourths
LINED: Final = 4.0  # house: how far holes may be out of line on a leaning post and still be a row
LAST: Final = "drill LAST"


@dataclass(frozen=True, slots=True)
class Mark:
    """One hole where it lies on the paper (before the drawing is placed)."""

    hole: Drilling
    at: Point

    @property
    def arm(self) -> float:
        """Half the length of a hair line."""
        return max(LEAST_ARM, self.hole.diameter / 2 + 2.0)

    @property
    def cover(self) -> Box:
        """The box of the mark itself."""
        (x, y), arm = self.at, self.arm
        return (x - arm, y - arm, x + arm, y + arm)

    @property
    def items(self) -> tuple[Item, ...]:
        """The mark without its label."""
        (x, y), arm, hole = self.at, self.arm, self.hole
        found: list[Item] = [
            line((x - arm, y), (x + arm, y), "hair"),
            line((x, y - arm), (x, y + arm), "hair"),
            Circle(self.at, hole.diameter, "thin"),
            Circle(self.at, DOT, "hair", filled=True),
        ]
        if hole.slot_length:
            opening = slot(x, y, hole.diameter, hole.slot_length, hole.slot_angle)
            found.append(outline(opening, "hidden"))
        return tuple(found)

    def label(self, taken: Sequence[Item], field: Box, units: Units) -> tuple[Text, ...]:
        """Name and drills, beside the mark and flush with it on either side."""
        hole, (x, y) = self.hole, self.at
        r = hole.diameter / 2 + 1.6
        words = [drill(hole.diameter, units)]
        if hole.pilot:
            words.append(f"pilot {drill(hole.pilot, units)}")
        if hole.depth:
            words.append(f"{both(hole.depth, units)} deep")
        if hole.last:
            words.append(LAST)
        texts = (
            Text((0.0, 0.0), hole.name, 3.6, bold=True),
            *(
                Text((0.0, -3.0 - 2.7 * k), said, 2.0, bold=said == LAST)
                for k, said in enumerate(words)
            ),
        )
        wide = max(t.width for t in texts)
        low = -texts[-1].at[1]
        spots = [(x + dx, y + dy) for dx in (r, -r - wide) for dy in (low + 1.2, -3.6 - 0.8)]
        spots += [(x - wide / 2, y - r - 4.0), (x - wide / 2, y + r + low + 1.0)]
        far = self.arm + 1.0
        spots += [(x + dx, y + dy) for dx in (far, -far - wide) for dy in (1.0, low + 1.2, -4.4)]
        slotted = far + hole.slot_length / 2
        spots += [(x + dx, y + 2.0) for dx in (slotted, -slotted - wide)]
        spots += [
            (x - wide / 2 + aside, y + level)
            for level in (far + low, -far - 3.0, far + low + 6.0, -far - 9.0)
            for aside in (0.0, 5.0, -5.0, 10.0, -10.0)
        ]
        spots += [(x + dx, y + dy) for dx in (slotted, -slotted - wide) for dy in (8.0, -8.0)]
        spots += [
            (x + side * (far + aside) - (wide if side < 0 else 0.0), y + level)
            for aside in range(4, 61, 4)
            for side in (1.0, -1.0)
            for level in (1.0, low + 1.2, -4.4)
        ]
        return first_free((_flush(texts, spot, x, wide) for spot in spots), taken, field)


def _flush(texts: Sequence[Text], spot: Point, x: float, wide: float) -> tuple[Text, ...]:
    """The label at a spot; to the left of its mark the lines end where the mark begins."""
    if spot[0] + wide > x:
        return tuple(moved(t, spot) for t in texts)
    return tuple(moved(replace(t, anchor="right"), (spot[0] + wide, spot[1])) for t in texts)


def drill(diameter: float, units: Units) -> str:
    """A drill in mm and in the nearest fraction, the shop's unit first."""
    metric, inch = f"Ø{plain(diameter)} mm", f"{inches(diameter, parts=PARTS).text} in"
    return f"{inch} = {metric}" if units == "in" else f"{metric} = {inch}"


def drill_words(what: str, diameter: float, units: Units) -> str:
    """A drill in both units; in brackets how much larger the fraction is."""
    return f"{what} {drill(diameter, units)}{_larger(diameter, ' mm')}"


def _larger(diameter: float, unit: str = "") -> str:
    """How much larger the nearest fraction is, in brackets; nothing where it is the size."""
    error = f"{inches(diameter, parts=PARTS).error:+.2f}"
    return "" if float(error) == 0.0 else f" ({error}{unit})"


def hole_table(holes: Sequence[Drilling], origin: str, units: Units) -> Table:
    """Every hole: where it lies, what drill it wants and, where that matters, when."""
    turns = any(h.last for h in holes)
    inch = units == "in"
    rows = []
    for h in holes:
        drills = [d for size in (h.diameter, h.pilot) for d in drill_cells(size, inch=inch)]
        deep = both(h.depth, units, parts=PARTS) if h.depth else "through"
        when = (("last" if h.last else "first"),) if turns else ()
        rows.append((h.name, *placed_words(h.u, h.v, inch=inch), *drills, deep, *when))
    ours, other = ("in", "mm") if inch else ("mm", "in")
    return Table(
        title=f"Holes, {ours} ({other}) from {origin}; brackets at the drills: how much larger the "
        "fraction is, mm",
        head=(
            *("hole", "right or left", "up or down"),
            *(f"{what} {unit}" for what in ("drill", "pilot") for unit in (ours, other)),
            *("depth", "when")[: 2 if turns else 1],
        ),
        rows=tuple(rows),
        align=("centre", *(("right",) * 6), "right", *(("left",) if turns else ())),
    )


def drill_cells(diameter: float, *, inch: bool) -> tuple[str, str]:
    """A drill in the shop's unit and in the other, as the table has it."""
    if not diameter:
        return "none", ""
    both_ = plain(diameter), f"{inches(diameter, parts=PARTS).text}{_larger(diameter)}"
    return (both_[1], both_[0]) if inch else both_


def placed_words(u: float, v: float, *, inch: bool) -> tuple[str, str]:
    """Where a hole lies from the datum, in words: a minus sign is lost on a poor copy."""
    return _aside(u, "right", "left", inch=inch), _aside(v, "up", "down", inch=inch)


def _aside(value: float, more: str, less: str, *, inch: bool) -> str:
    metric, near = plain(abs(value)), inches(abs(value), parts=PARTS).text
    size = f"{near} ({metric})" if inch else f"{metric} ({near})"
    return f"{size} {more if value > 0 else less}" if metric != "0" else size


def distance_table(marks: Sequence[tuple[str, Point]], words: str, units: Units) -> Table:
    """True distances between holes, so that a tape can overrule the paper."""
    pairs = [
        (a, b, ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)
        for i, (a, (ax, ay)) in enumerate(marks)
        for b, (bx, by) in marks[i + 1 :]
    ]
    if len(pairs) > 15:  # more than a person checks: neighbours in rows and columns, diagonals
        at = dict(marks)
        chosen = [p for p in pairs if _neighbours(at, p[0], p[1])]
        longest = sorted(pairs, key=lambda p: -p[2])[:2]
        pairs = [p for p in pairs if p in chosen or p in longest]
    way = -1 if units == "in" else 1
    rows = tuple(
        (f"{a} - {b}", *(plain(d), inches(d, parts=PARTS).text)[::way]) for a, b, d in pairs
    )
    return Table(
        title=words,
        head=("centres", *("mm", "in")[::way]),
        rows=rows,
        align=("centre", "right", "right"),
    )


def _neighbours(at: dict[str, Point], a: str, b: str) -> bool:
    """Whether two holes stand in one row or column, near enough, with none between them."""
    for axis in (0, 1):
        if abs(at[a][axis] - at[b][axis]) < LINED:
            low, high = sorted((at[a][1 - axis], at[b][1 - axis]))
            row = [p[1 - axis] for p in at.values() if abs(p[axis] - at[a][axis]) < LINED]
            return not any(low < v < high for v in row)
    return False
