"""Every check of a design, gathered: pivots, swing, sockets, fit, strength, making."""

from dataclasses import replace
from math import isfinite

from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.fitting.fits import fit_checks
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.slack import slack, slack_check
from hangpost.generators.judging.judge import judge_leaf
from hangpost.generators.open_stop import with_open_stop
from hangpost.generators.pivots.mount import Row
from hangpost.generators.progress import Report
from hangpost.generators.shelf import Shelf
from hangpost.generators.swing import bodies_of, clearance_checks, reached, seated, swung
from hangpost.generators.two_leaves import passing


def judged(
    design: Design, shelf: Shelf, report: Report
) -> tuple[tuple[Check, ...], tuple[Clearance, ...]]:
    """Every check of the design, and the least distances over the swing."""
    checks: list[Check] = []
    clearances: list[Clearance] = []
    for number, (hung, leaf) in enumerate(zip(design.site.leaves, design.leaves, strict=True)):
        report("swinging the gate", number, len(design.leaves))
        fits = (*fit_checks(design.site, hung, leaf), *_slots(leaf))
        strength = judge_leaf(design.site, design.shop, hung, leaf)
        bodies = bodies_of(leaf, shelf.mesh)
        swept = swung(leaf, bodies)
        socket, still = reached(leaf, bodies), seated(leaf, bodies)
        checks += _pivots(leaf)
        near = clearance_checks(leaf, design.shop, swept, socket, still)
        checks += with_open_stop(leaf, bodies, swept, near)
        clearances += (_in_gate(row, leaf) for row in swept)
        checks += (*fits, *strength)
    passed, rows = passing(design, shelf.mesh)
    return (*checks, *passed), (*clearances, *rows)


def _in_gate(row: Clearance, leaf: LeafDesign) -> Clearance:
    """The row with its things named as they are in the assembly of the whole gate."""
    a, b = (f"{leaf.name} {name}".strip() for name in row.pair)
    return replace(row, pair=(a, b))


def reckoned(design: Design) -> tuple[Check, ...]:
    """The checks that need no solids: pivots, fit, strength, making."""
    return tuple(
        check
        for hung, leaf in zip(design.site.leaves, design.leaves, strict=True)
        for check in (
            *_pivots(leaf),
            *fit_checks(design.site, hung, leaf),
            *_slots(leaf),
            *judge_leaf(design.site, design.shop, hung, leaf),
        )
    )


def _pivots(leaf: LeafDesign) -> list[Check]:
    rows = (*leaf.mount.rows, leaf.mount.leaf_to_post)
    return [_from_row(row, leaf) for row in rows if isfinite(row.limit)]


def _slots(leaf: LeafDesign) -> list[Check]:
    return [slack_check(row, leaf.name) for row in slack(leaf.fixings, leaf.mount)]


def _from_row(row: Row, leaf: LeafDesign) -> Check:
    where = f"{leaf.name} leaf: " if leaf.name else ""
    return Check(
        id=f"pivots: {row.name}{f' ({leaf.name} leaf)' if leaf.name else ''}",
        what=where + row.sentence,
        value=row.value,
        limit=row.limit,
        unit=row.unit,
        source="hangpost design rule; limits from the shop and site files",
        at_least=row.sense == "least",
    )
