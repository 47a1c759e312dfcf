"""Why this and not that: the choice of stock in sentences for people.

What was picked and the next lighter that fails; when nothing passes, which check, by how much,
and whether more of the stock would do.
"""

from collections.abc import Iterator, Sequence
from math import isfinite

from hangpost.generators.checks import SHARE, Check
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.u_bolted import u_size
from hangpost.generators.judging.candidates import Job
from hangpost.generators.judging.stock import Stock
from hangpost.generators.judging.trials import Tried, search
from hangpost.generators.survey.display import both, shop_first
from hangpost.generators.survey.units import Units
from hangpost.generators.told import figure, figures


def said(job: Job, picks: Picks, end: str) -> str:
    """One end of a combination in words."""
    units = job.shop.drawings.units
    if end == "leaf":
        plate, many = both(picks.leaf_plate.thickness, units), picks.leaf_bolts > 1
        count = "two" if many else "one"
        bolts = f"{count} {picks.leaf_size} bolt{'s' if many else ''} on either side"
        return f"{plate} plate, a neck of {picks.leaf_neck:g} thicknesses, with {bolts}"
    plate, fixing = both(picks.post_plate.thickness, units), job.hung.post.fixing
    if fixing == "weld":
        return f"{plate} plate, welded to the post"
    if fixing == "clamp":
        size = u_size(picks.post_size, job.shop)
        return f"{plate} plate with {picks.post_rows} U-bolts {size} in each angle"
    return (
        f"{plate} plate with {picks.post_rows} rows of {picks.post_size} "
        f"{picks.post_kind}s in each angle"
    )


def failing(check: Check, units: Units) -> str:
    """A failing check in words: what, and by how much."""
    name = check.id.split(": ", 1)[1]
    if not isfinite(check.utilisation):
        return f"{name} has nothing to hold with"
    if check.unit in {"mm", ""} and check.at_least:
        value, limit = (figure(v, check.unit, units) for v in (check.value, check.limit))
        return f"{name} is {value} and wants {limit}"
    over = f"{name} is {100 * (check.utilisation - 1):.0f} % over"
    if check.unit in {"", SHARE}:
        return over
    return f"{over} ({figures(check, units)})"


def why(
    job: Job, end: str, best: Tried, tried: list[Tried], limits: Sequence[str] = ()
) -> Iterator[str]:
    """What was picked at one end, or that nothing passes, and what fails next to it.

    `limits` are the words that the stock was narrowed with.
    """
    where, units = f"{end} bracket", job.shop.drawings.units
    of = " and ".join(f'"{words}"' for words in limits)
    if best.refused:
        made = said(job, best.picks, end)
        refused = shop_first(best.refused.replace("\n", "; "), units)
        asked = f"stock {of}" if of else "this stock"
        yield f"The {where} cannot be made from {asked}; tried last {made}: {refused}."
        return
    if not best.passed:
        assert best.worst is not None
        made = said(job, best.picks, end)
        asked = f"Nothing of the stock {of}" if of else "No stock"
        yield (
            f"{asked} makes the {where} pass every check ({len(tried)} tried); the strongest is "
            f"{made}: {failing(best.worst, units)}."
        )
        return
    lighter = [one for one in tried if not one.passed and one.mass < best.mass]
    sentence = (
        f"The {where} is made from {said(job, best.picks, end)} ({best.mass:.2f} kg): the "
        f"lightest of {len(tried)} tried that passes every check with the shop's reserve."
    )
    if lighter:
        last = max(lighter, key=lambda one: one.mass)
        assert last.worst is not None
        sentence += (
            f" The next lighter, {said(job, last.picks, end)} ({last.mass:.2f} kg), fails: "
            f"{failing(last.worst, units)}."
        )
    yield sentence


def what_would_help(job: Job, end: str, best: Tried, stock: Stock, whole: Stock) -> Iterator[str]:
    """What would make it pass: more of the stock than was asked for, or what the hardware says."""
    if stock != whole:
        other, _ = search(job, end, whole)
        if other.passed:
            made = said(job, other.picks, end)
            yield f"With the whole stock {made} would do for the {end} bracket."
            return
        if other.worst is not None:
            units = job.shop.drawings.units
            yield f"The whole stock does not do either: with it {failing(other.worst, units)}."
    if best.worst is not None:
        yield from best.eases
