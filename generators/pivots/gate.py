"""The pivots of a whole gate: one problem and one answer for each leaf, and how sure it is."""

from dataclasses import replace
from math import isfinite

from hangpost.generators.pivots.errors import Source, sources
from hangpost.generators.pivots.leaf_reach import farther_out
from hangpost.generators.pivots.mount import Alternative, Mount, Rule
from hangpost.generators.pivots.of_site import problem_of
from hangpost.generators.pivots.pairs import Pairs
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.robust import lightest_sure, most_robust
from hangpost.generators.pivots.rows import mm
from hangpost.generators.pivots.search import lightest_bracket, settle
from hangpost.generators.pivots.sift import Usable
from hangpost.generators.pivots.solve import mount, runners_up
from hangpost.generators.pivots.uncertainty import GATES, Uncertainty, uncertainty
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site

Solved = tuple[Problem, Mount]
LINES = 600  # of the search grid: what it chooses is closed in on to 0.01 mm anyhow
SAME = 1.0  # mm: two places that nobody can tell apart at the gate; house
FEWER = 10_000  # gates that judge the pair of the other rule: one figure of it is shown


def solve_gate(site: Site, shop: Shop, *, briefly: bool = False) -> tuple[Solved, ...]:
    """The pivots of every leaf with the problem they answer; raises NoPivots.

    `briefly`: NoPivots names what excludes what, and looks for no ways out.
    """
    return tuple(
        solve_leaf(site, hung, problem_of(site, shop, index), briefly=briefly)
        for index, hung in enumerate(site.leaves)
    )


def solve_leaf(site: Site, hung: HungLeaf, problem: Problem, *, briefly: bool = False) -> Solved:
    """The pivots of one leaf by the rule that the site prefers, beside those of the other rule."""
    found = settle(problem, lightest_bracket, LINES)
    out = farther_out(problem, LINES) if found is None else None
    if out is not None:
        problem, found = out
    if found is None:
        from hangpost.generators.pivots.ways_out import no_pivots

        raise no_pivots(problem, briefly=briefly, units=site.units)
    strongest, usable, best = found
    farther = _why_farther(problem) if out is not None else ""
    off = errors_of(hung, problem, strongest)
    safest = most_robust(problem, usable, best, off) or strongest
    by_rule: dict[Rule, Usable] = {"leverage": strongest, "robust": safest}
    rule = site.choice.prefer
    if rule == "light":
        by_rule[rule] = lightest_sure(problem, usable, off) or safest
    chosen = mount(
        problem, by_rule[rule], best, runners_up=runners_up(problem, by_rule[rule], usable)
    )
    sure = judged(problem, chosen, by_rule[rule].pairs, off)
    other_rule: Rule = "leverage" if rule == "robust" else "robust"
    rejected = by_rule[other_rule]
    other = mount(problem, rejected, best, step=problem.opening)
    other_sure = judged(problem, other, rejected.pairs, off, gates=FEWER)
    return problem, replace(
        chosen,
        rule=rule,
        why=_why(rule, chosen, sure) + farther,
        sure=sure,
        other=Alternative(
            rule=other_rule,
            post_pivot=other.post_pivot,
            leaf_pivot=other.leaf_pivot,
            leverage_least=other.leverage_least,
            reach=other.reach,
            overhang=other.overhang,
            bracket_moment=other.bracket_moment,
            worst_spare=other_sure.worst_spare,
            sentence=_other_rule(chosen, other, other_sure, rule == "robust"),
        ),
    )


def errors_of(hung: HungLeaf, problem: Problem, pair: Usable) -> tuple[Source, ...]:
    """What may be off at this leaf, with a post bracket that reaches as far as this pair's."""
    return sources(hung, problem, float(pair.pairs.py[0]) - problem.post.face)


def judged(
    problem: Problem,
    found: Mount,
    pair: Pairs,
    off: tuple[Source, ...],
    gates: int = GATES,
) -> Uncertainty:
    """What the errors make of a pair, looked at where its clearances are tightest too."""
    tight = {row.at_angle for row in found.rows if row.name in ("body clearance", "ear clearance")}
    ends = (0.0, problem.retracted_at, problem.extended_at)
    between = tuple(sorted(a for a in tight if all(abs(a - end) > 0.25 for end in ends)))
    return uncertainty(problem, pair, off, between=between, gates=gates)


def _why_farther(problem: Problem) -> str:
    return (
        f" The leaf pivot stands {mm(problem.brackets.least_leaf_reach)} off the leaf's face or"
        " more: nearer to it no pair is usable."
    )


def _why(rule: Rule, found: Mount, sure: Uncertainty) -> str:
    if rule == "leverage":
        return found.why
    best = (
        "Of the usable pairs with good leverage this one stands errors of tape and drill best"
        if rule == "robust"
        else "Of the usable pairs that errors of tape and drill leave something this one bends the"
        f" post bracket least, by {found.bracket_moment / 1000.0:.0f} N m"
    )
    share = 100.0 * found.leverage_least / found.best_leverage
    return (
        f"{best}: {_spare(sure)}. Its least"
        f" leverage is {mm(found.leverage_least)}, {share:.0f} % of the best there is"
        f" ({mm(found.best_leverage)}), and {mm(found.margin_extended)} of stroke are left when"
        " the actuator is longest."
    )


def _other_rule(chosen: Mount, other: Mount, other_sure: Uncertainty, is_leverage: bool) -> str:
    name = "good leverage with the lightest bracket" if is_leverage else "what stands errors best"
    px, py = other.post_pivot
    if abs(px - chosen.post_pivot[0]) < SAME and abs(py - chosen.post_pivot[1]) < SAME:
        return f"Chosen by {name} it would be the same pair, to a millimetre."
    return (
        f"Chosen by {name} the post pivot would be at {mm(px)} along the leaf and {mm(py)} off it:"
        f" least leverage {mm(other.leverage_least)}, bracket moment"
        f" {other.bracket_moment / 1000.0:.0f} N m against {chosen.bracket_moment / 1000.0:.0f},"
        f" and {_spare(other_sure)}."
    )


def _spare(sure: Uncertainty) -> str:
    """The worst spare in words."""
    worst = sure.worst_spare
    if not isfinite(worst):
        return "one gate in 100 cannot be built at all"
    if worst < 0.0:
        return f"one gate in 100 breaks a limit by {mm(-worst)} or more"
    return f"in 99 of 100 gates every limit keeps at least {mm(worst)} in hand"
