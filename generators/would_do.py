"""What would make a gate pass whose checks fail: one change at a time, made and judged as a whole.

Nothing is told that was not tried: a change is put into the survey, pivots and hardware are found
anew, and every check that needs no solids is reckoned again. To find the few that are worth this,
changes are tried first on the hardware that failed and on what is near it. Units: mm, N, degrees.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from hangpost.generators.changes import Change, changes
from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.judged import reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.judging.stock import Stock, StockError
from hangpost.generators.pivots.gate import Solved, solve_gate
from hangpost.generators.pivots.ways_out import NoPivots
from hangpost.generators.progress import Report
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site

ENOUGH = 2  # kinds of change that make the whole gate pass; more are not looked for
TOLD = 2  # ways told with one check

Failing = Callable[[Change], frozenset[str] | None]
Picked = Callable[[Site, Shop, tuple[Solved, ...]], Sequence[Sequence[Picks]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A change that was tried: which of the failed checks it cures, and which fail all the same."""

    change: Change
    cures: frozenset[str]
    others: frozenset[str]

    @property
    def words(self) -> str:
        """The change, and whether it is enough for the whole gate."""
        own = self.change.words
        return f"{own} (not enough for other checks that fail)" if self.others else own


def with_ways(
    design: Design,
    picks: Sequence[Picks],
    checks: Sequence[Check],
    stock: Sequence[str],
    report: Report,
) -> tuple[Check, ...]:
    """The checks, those that fail with what would do."""
    failed = [check for check in checks if check.status == "fail"]
    if failed:  # a swept check is not reckoned again with a change: it is told its open stop
        again = {check.id for check in reckoned(design)}
        failed = [check for check in failed if check.id in again]
    if not failed:
        return tuple(checks)
    report("looking for what would do", 0, 0)
    ways = ways_to_pass(design, picks, failed, stock)
    ids = {check.id for check in failed}
    return tuple(
        replace(check, would_do=_told(check, ways)) if check.id in ids else check
        for check in checks
    )


def ways_to_pass(
    design: Design, picks: Sequence[Picks], failed: Sequence[Check], stock: Sequence[str] = ()
) -> tuple[Way, ...]:
    """What cures failed checks and spoils none, best first; the design is made of `picks`."""
    ids, shop = frozenset(check.id for check in failed), design.shop
    near = tuple(_near(picks, Stock.of(shop, stock)))

    def on_near_hardware(change: Change) -> frozenset[str] | None:
        return _failing(change, design, lambda *_: near)

    def chosen_anew(change: Change) -> frozenset[str] | None:
        return _failing(change, design, partial(_chosen, stock))

    found: list[Way] = []
    for kind in changes(design, failed):
        found += _of_one_kind(kind, ids, on_near_hardware)
        if sum(not way.others for way in found) >= ENOUGH:
            break
    wanted = {id(way): way for check in failed for way in _best(check, found)}
    true = (
        way
        for each in wanted.values()
        for way in _of_one_kind(iter([each.change]), ids, chosen_anew)
    )
    return tuple(sorted(true, key=_rank))


def _near(picks: Sequence[Picks], stock: Stock) -> Iterator[Sequence[Picks]]:
    """What failed, and the same with thicker plate at one end, or other bolts at the post."""
    yield picks
    for plate in stock.plates:
        if plate.thickness > min(each.post_plate.thickness for each in picks):
            yield [replace(each, post_plate=plate) for each in picks]
        if plate.thickness > min(each.leaf_plate.thickness for each in picks):
            yield [replace(each, leaf_plate=plate) for each in picks]
    for kind, size in stock.post:
        if kind == "hex bolt":
            yield [replace(each, post_kind=kind, post_size=size) for each in picks]


def _of_one_kind(kind: Iterator[Change], ids: frozenset[str], failing: Failing) -> Iterator[Way]:
    """The least changes that cure one check more; the last of them cures all, if one does."""
    cured: frozenset[str] = frozenset()
    for change in kind:
        left = failing(change)
        if left is None:  # and with more of it neither
            return
        if left <= ids and ids - left - cured:
            yield Way(change=change, cures=ids - left, others=left)
            cured |= ids - left
        if not left:
            return


def _failing(change: Change, design: Design, picked: Picked) -> frozenset[str] | None:
    """Ids of the checks that fail with the change, the fewest; None where nothing can be made."""
    shop = design.shop
    try:
        site = design.site.changed(change.values)
        solved = solve_gate(site, shop, briefly=True)
        several = picked(site, shop, solved)
    except (NoPivots, StockError, ValueError):  # the last: the survey forbids it
        return None
    made = (_made(site, shop, solved, picks) for picks in several)
    least: frozenset[str] | None = None
    for left in (each for each in made if each is not None):
        if least is None or len(left) < len(least):
            least = left
        if not left:
            break
    return least


def _made(
    site: Site, shop: Shop, solved: tuple[Solved, ...], picks: Sequence[Picks]
) -> frozenset[str] | None:
    try:
        checks = reckoned(design_gate(site, shop, solved, picks))
    except NoHardware:
        return None
    return frozenset(check.id for check in checks if check.status == "fail")


def _chosen(
    stock: Sequence[str], site: Site, shop: Shop, solved: tuple[Solved, ...]
) -> list[list[Picks]]:
    return [[each.picks for each in choose(site, shop, solved, stock)]]


def _best(check: Check, ways: Sequence[Way]) -> list[Way]:
    """What is told of one check: what makes the whole gate pass or, without that, the next best."""
    mine = sorted((way for way in ways if check.id in way.cures), key=_rank)
    whole = [way for way in mine if not way.others]
    return (whole or mine[:1])[:TOLD]


def _rank(way: Way) -> tuple[int, int]:
    return len(way.others), -len(way.cures)


def _told(check: Check, ways: Sequence[Way]) -> str:
    if mine := _best(check, ways):
        return ", or ".join(way.words for way in mine)
    return "no single change of thrust, opening, pivots, lock, post, leaf or pins that was tried"
