"""The calculation sheet: sketch, loads, then every check with its numbers put in, worst first.

For whoever has to look over the strength of a bracket: the formula with the numbers in it, the
result, the limit and the clause it comes from. Frame: mm on the paper, upright.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.strength.tables import table
from hangpost.generators.survey.display import shop_first
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.units import Units
from hangpost.generators.told import figure, figures, name_of
from hangpost.generators.writers.block import Block
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.ink import Circle, Text, arrow, frame, line
from hangpost.generators.writers.layout import moved
from hangpost.generators.writers.press import Press
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.table import Table, paragraph
from hangpost.parts.frame import turned
from hangpost.parts.loop import Point

SIZE = 2.3
HEADING = (3.8, 25.0)  # size, and room for what follows
SKETCH = 62.0  # mm, height of the sketch of one leaf
FAMILIES = ("strength", "make", "fasteners")
INTRODUCTION = (
    "Allowable-stress design: nominal strengths of AISC 360 over Omega, reference values of the "
    "NDS times their factors, loads times the house factors below, every limit over the shop's "
    "reserve. This is a screening by rules, not the work of a structural engineer: the local code "
    "and a competent person decide. Footing, soil, rot, hinges and the leaf but for its rail are "
    "outside. "
    "Prying of bolts: a seat that tilts pulls its bolts with the lever about its edge; one that "
    "bends is held as a cantilever from bolts to root, and its bolts by their pull. A plate that "
    "passes both also holds with its edge pressing, in all three modes of a T-stub (EN 1993-1-8 "
    "Table 6.2), so prying needs no check of its own."
)
UNITS = (
    "The workings are in N, mm and MPa, moments in N mm, as the clauses are reckoned in. 1 N m is "
    "1000 N mm and 0.738 lbf ft; 1 kN is 1000 N and 225 lbf; 1 MPa is 145 psi."
)


def from_memory() -> str:
    """What the checks rest on that was recalled and that nothing at hand bears out."""
    rows = table("remembered").values()
    listed = "; ".join(f"{row['value']} ({row['memory_of']})" for row in rows)
    return (
        "Recalled, neither read in a print nor borne out by another library: look these up before "
        f"relying on them. {listed[0].upper()}{listed[1:]}."
    )


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One case of load: where it acts, its greatest force with the factors in it, and when."""

    pin: str
    case: str
    force: float  # N, in the level plane
    along: float  # N, along the seat at the same moment
    out: float  # N, out of the seat
    angle: float
    duration: float  # CD for timber


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """The cases of one leaf, and the wind in words."""

    rows: Sequence[LoadRow]
    words: str


def calculation_sheets(
    design: Design, checks: Sequence[Check], loads: Sequence[Loads], stamp: Stamp
) -> tuple[Sheet, ...]:
    """The sheets of a whole gate; `loads` has the cases of each leaf."""
    press = Press("calculation", stamp, design.shop)
    press.heading("Calculation", *HEADING)
    press.words(INTRODUCTION, SIZE)
    press.words(from_memory(), SIZE)
    press.words(UNITS, SIZE)
    for caution in cautions("installing"):
        press.words(f"{caution.id}  {caution.text}", 1.9)
    for leaf, hung, cases in zip(design.leaves, design.site.leaves, loads, strict=True):
        press.heading(f"{leaf.name} leaf: loads" if leaf.name else "Loads", *HEADING)
        press.put(sketch(leaf, hung, press.wide).shifted(press.left, -SKETCH).items, SKETCH, 2.0)
        press.words(cases.words, SIZE)
        press.table(_load_table(cases.rows))
        for reason in leaf.reasons:
            press.words(shop_first(reason, stamp.units), SIZE)
    judged = [check for check in checks if check.id.split(":", 1)[0] in FAMILIES]
    told = sorted((c for c in judged if _has_formula(c)), key=_worst_first)
    press.heading("Checks, the fullest used first", *HEADING)
    for check in told:
        _check(press, check, stamp.units)
    rest = sorted((c for c in judged if not _has_formula(c)), key=_worst_first)
    sources = tuple(dict.fromkeys(check.source for check in rest))
    press.table(_rest_table(rest, sources, stamp.units))
    for number, source in enumerate(sources, 1):
        press.words(f"source {number}: {source}", size=2.0)
    return press.done()


def _has_formula(check: Check) -> bool:
    return bool(check.working) and check.id.startswith("strength")


def _worst_first(check: Check) -> tuple[bool, float, str]:
    """Warnings that keep their limit after what decides; then by how much of it is used."""
    used = check.utilisation
    passed = check.status == "pass"
    return (passed and check.warning, -used if isfinite(used) else -1e9, check.id)


def _load_table(cases: Sequence[LoadRow]) -> Table:
    return Table(
        title="Greatest force on each pin, factors included: along and out of its seat",
        head=("pin", "case", "F, N", "along, N", "out, N", "leaf at", "CD"),
        rows=tuple(
            (
                row.pin,
                row.case,
                f"{row.force:.0f}",
                f"{row.along:.0f}",
                f"{row.out:.0f}",
                f"{row.angle:.0f} deg",
                f"{row.duration:g}",
            )
            for row in cases
        ),
        align=("left", "left", "right", "right", "right", "right", "right"),
    )


def _rest_table(checks: Sequence[Check], sources: Sequence[str], units: Units) -> Table:
    """What has no formula; sources by their numbers, so that the lettering stays readable."""
    return Table(
        title="Sizes held against the rules of making and buying; the sources stand below",
        head=("check", "value", "limit", "status", "by", "source"),
        rows=tuple(
            (
                check.id,
                figure(check.value, check.unit, units),
                f"{'at least' if check.at_least else 'at most'} "
                f"{figure(check.limit, check.unit, units)}",
                check.status,
                check.working,
                str(sources.index(check.source) + 1),
            )
            for check in checks
        ),
        align=("left", "right", "right", "left", "left", "right"),
        size=2.0,
    )


def result_words(check: Check, units: Units) -> str:
    """The result of a check in one line; the working is in N, mm and MPa."""
    used = f"{100 * check.utilisation:.0f} %" if isfinite(check.utilisation) else "no capacity"
    said = figures(check, "mm")
    other = figures(check, "in")
    if units == "in" and other != said:
        said = f"{said} [{other}]"
    return f"{said}: {used} used, {check.status.upper()}"


def sketch(leaf: LeafDesign, hung: HungLeaf, wide: float) -> Block:
    """Plan of post, leaf and actuator, closed and open, with the pull on both pins."""
    x0, y0, x1, y1 = hung.post_box
    post, pivot = leaf.mount.post_pivot, leaf.mount.leaf_pivot
    open_at = turned(leaf.mount.curve[-1].angle).point((*pivot, 0.0))[:2]
    points = [(x0, y0), (x1, y1), post, pivot, open_at, (0.0, 0.0)]
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    low, high = min(p[1] for p in points), max(p[1] for p in points)
    scale = min((SKETCH - 16.0) / (high - low), (wide - 60.0) / (right - left))

    def at(p: Point) -> Point:
        return (20.0 + (p[0] - left) * scale, 8.0 + (p[1] - low) * scale)

    items: list[Item] = [frame((*at((x0, y0)), *at((x1, y1))), "thick")]
    items.append(line(at((0.0, 0.0)), at((right, 0.0)), "thick"))
    items.append(line(at((0.0, 0.0)), at(open_at), "phantom"))
    items.append(line(at(post), at(pivot), "centre"))
    items.append(line(at(post), at(open_at), "centre"))
    for point, name in ((post, "post pivot"), (pivot, "leaf pivot"), ((0.0, 0.0), "hinge axis")):
        items.append(Circle(at(point), 1.6, "thin"))
        x, y = at(point)
        if point == post:
            items.append(Text((x - 1.5, y + 1.4), name, 1.9, "right"))
        elif point == pivot:
            items.append(Text((x + 1.5, y + 1.4), name, 1.9))
        else:
            items.append(Text((x, y - 3.4), name, 1.9))
    way = _unit(post, pivot)
    for point, sign in ((post, -1.0), (pivot, 1.0)):
        x, y = at(point)
        items += arrow((x, y), (x + sign * 9 * way[0], y + sign * 9 * way[1]), 2.0)
    items.append(Text((20.0, 2.0), "plan, not to scale; the arrows: a pushing actuator", 1.9))
    return Block(tuple(items))


def _unit(a: Point, b: Point) -> Point:
    long = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long


def _check(press: Press, check: Check, units: Units) -> None:
    """One check: its name, what it is about, the numbers, the result, the source."""
    name = Text((press.left, -2.6), name_of(check), 2.5, bold=True)
    words = result_words(check, units)
    result = Text((press.right, -2.6), words, 2.2, "right", bold=True)
    y = -4.0
    if name.box[2] > result.box[0] - 8.0:  # no room beside the name
        result, y = moved(result, (0.0, -3.4)), -7.4
    found: list[Item] = [name, result]
    helps = f"what would do: {check.would_do}" if check.would_do else ""
    what = shop_first(check.what, units)
    for words in filter(None, (what, helps, check.working, f"source: {check.source}")):
        lines, tall = paragraph(words, (press.left + 4.0, y), press.wide - 4.0, 2.1)
        found += lines
        y -= tall
    found.append(line((press.left, y - 0.6), (press.right, y - 0.6), "hair"))
    press.put(found, -y + 1.6)
