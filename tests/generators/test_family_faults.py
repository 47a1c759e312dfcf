"""Planted faults in a finished design are found by the checks of fit."""

from dataclasses import replace

import pytest

from hangpost.generators.fitting.fits import fit_checks
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.part import Part
from hangpost.parts.saddle import SaddleBlock

from .family import SEPARATE, SLIM, design, failed, survey


def swapped(leaf: LeafDesign, name: str, item: Part | Body) -> LeafDesign:
    placed = tuple(replace(p, item=item) if p.name == name else p for p in leaf.placed)
    return replace(leaf, placed=placed)


def item(leaf: LeafDesign, name: str) -> Part | Body:
    return next(p.item for p in leaf.placed if p.name == name)


def test_a_saddle_for_three_inches_on_a_three_and_a_half_inch_post_is_found() -> None:
    made = design(survey("round_steel", circumference='"11"', **SLIM))  # 3.501 in across
    (leaf,), hung = made.leaves, made.site.leaves[0]
    saddle = item(leaf, "upper saddle")
    assert isinstance(saddle, SaddleBlock) and failed(fit_checks(made.site, hung, leaf)) == []

    wrong = swapped(leaf, "upper saddle", replace(saddle, outside=3.0 * 25.4, depth=18.0))
    found = failed(fit_checks(made.site, hung, wrong))
    assert len(found) == 1 and "upper saddle on its tube" in found[0]


def test_an_extension_one_bolt_short_is_found() -> None:
    made = design(survey("timber", "away", more=SEPARATE))
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bolts = item(leaf, "extension bolts")
    assert isinstance(bolts, Body) and failed(fit_checks(made.site, hung, leaf)) == []

    x = max(s.start[0] for s in bolts.shapes if isinstance(s, Bar))
    one = tuple(s for s in bolts.shapes if isinstance(s, Bar) and abs(s.start[0] - x) < 1.0)
    short = swapped(leaf, "extension bolts", replace(bolts, shapes=one))
    assert "pivot extension bolted" in " ".join(failed(fit_checks(made.site, hung, short)))

    bracket = item(leaf, "post-bracket-upper")
    unbored = swapped(leaf, "post-bracket-upper", replace(bracket, joins=()))  # type: ignore[call-arg]
    assert "pivot extension bolted" in " ".join(failed(fit_checks(made.site, hung, unbored)))


def test_a_part_of_the_other_hand_is_found() -> None:
    made = design(survey("timber", "away", "left"))
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bracket = item(leaf, "post-bracket-upper")
    assert bracket.handed and failed(fit_checks(made.site, hung, leaf)) == []  # type: ignore[union-attr]

    wrong = swapped(leaf, "post-bracket-upper", bracket.mirrored())
    assert "hand of the parts" in " ".join(failed(fit_checks(made.site, hung, wrong)))


def test_a_bracket_off_its_pin_is_found() -> None:
    made = design(survey())
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bracket = item(leaf, "leaf-bracket")
    off = swapped(leaf, "leaf-bracket", replace(bracket, pin_u=0.02))  # type: ignore[call-arg]

    assert "leaf pin in line" in " ".join(failed(fit_checks(made.site, hung, off)))


def test_two_things_of_one_name_are_refused() -> None:
    made = design(survey())
    (leaf,) = made.leaves
    first: Placed = leaf.placed[-1]
    twice = replace(leaf, placed=(*leaf.placed, first))

    with pytest.raises(ValueError, match=first.name):
        replace(made, leaves=(twice,))
