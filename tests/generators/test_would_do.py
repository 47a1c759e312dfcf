"""What is told to do about a failed check does, when somebody writes it into the site file."""

import re
from dataclasses import dataclass, replace
from functools import cache
from itertools import islice

import pytest

from hangpost.generators.changes import changes
from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.judged import reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.site import Site
from hangpost.generators.would_do import with_ways

from .family import LOCK, SHOP, survey

STRONG = {"timber": "900 lbf", "square_steel": "1000 lbf"}


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A gate with its hardware and what was reckoned of it."""

    design: Design
    picks: list[Picks]
    checks: tuple[Check, ...]

    @property
    def failed(self) -> set[str]:
        """Ids of the checks that fail."""
        return {check.id for check in self.checks if check.status == "fail"}

    def helped(self) -> list[Check]:
        """The checks that fail, with what would do."""
        told = with_ways(self.design, self.picks, self.checks, (), lambda *_: None)
        return [check for check in told if check.status == "fail"]


def judged(site: Site) -> Judged:
    solved = solve_gate(site, SHOP)
    picks = [each.picks for each in choose(site, SHOP, solved)]
    design = design_gate(site, SHOP, solved, picks)
    return Judged(design=design, picks=picks, checks=reckoned(design))


def tight(design: Design, to_leaf_face: float) -> Design:
    """The same with the hinge axis nearer to its post."""
    (leaf,) = design.leaves
    by = -to_leaf_face - leaf.problem.post.outline.right
    box = leaf.problem.post.outline
    box = replace(box, xmin=box.xmin + by, xmax=box.xmax + by)
    post = replace(leaf.problem.post, outline=box)
    return replace(design, leaves=(replace(leaf, problem=replace(leaf.problem, post=post)),))


@cache
def strong(post: str) -> tuple[Judged, tuple[Check, ...]]:
    gate = judged(survey(post=post, thrust=f'"{STRONG[post]}"').site)
    return gate, tuple(gate.helped())


@pytest.mark.parametrize("post", STRONG)
def test_the_thrust_that_is_told_does_and_a_quarter_more_does_not(post: str) -> None:
    gate, helped = strong(post)
    said = {found for check in helped if (found := re.search(r"at most (\d+) lbf", check.would_do))}
    (least,) = {int(found[1]) for found in said}

    assert gate.failed and all("force setting" in check.would_do for check in helped)
    assert not judged(survey(post=post, thrust=f'"{least} lbf"').site).failed
    assert judged(survey(post=post, thrust=f'"{least * 1.25:.0f} lbf"').site).failed


QUARRY = """
units = "mm"
job = "quarry track gate (invented)"
post = { kind = "square_steel", size = "120x120x6", measured = [120, 120] }
hinge = { hand = "left", to_leaf_face = 35, to_actuator_face = 60, count = 3 }
opening = { toward = "actuator", angle = 95 }

[leaf]
width = 3600
height = 1500
bottom = 90
thickness = 50
mass = 160
frame = "square_tube"
member = "50x50x3"
rails = [140, 750, 1540]
fill = 0.35

[actuator]
retracted = 820
stroke = 400
thrust = 3500
speed = 17
body_diameter = 78
post_eye = { pin = 14, thickness = 20, radius = 20, to_body = 52 }
height = 750

[lock]
post = { kind = "square_steel", size = "120x120x6" }
bolt_diameter = 20
bolt_height = 800
bolt_to_leaf_face = 25
throw = 60
gap = 40
"""


def test_pivots_that_load_the_bracket_least_are_told_first_and_do() -> None:
    gate = judged(site_from_bytes(QUARRY.encode()))
    helped = gate.helped()
    (said,) = {found[0] for c in helped if (found := re.search(r'choice.*?"light"', c.would_do))}

    assert gate.failed and all(c.would_do.startswith("the pivots that") for c in helped)
    assert not judged(site_from_bytes(f"{said}\n{QUARRY}".encode())).failed


def test_another_way_to_fix_the_bracket_is_told_where_that_does() -> None:
    """A gate on a 4 in pipe, bolted through its middle: legs on either side hold more."""
    hinge = {"to_actuator_face": '"1"', "to_leaf_face": '"2 1/2"'}
    pipe = {"size": '"4"', "thrust": '"950 lbf"', **hinge}
    gate = judged(survey("round_steel", **pipe).site)
    failed = [check for check in gate.checks if check.status == "fail"]
    told = {c.words: c for kind in changes(gate.design, failed) for c in islice(kind, 1)}
    legs, seam = (told[words] for words in told if "post.fixing" in words)

    assert any("post bracket" in check.id for check in failed)
    assert "U-bolts" in legs.words and "welded" in seam.words
    held = judged(gate.design.site.changed(legs.values)).failed
    assert not any("post bracket" in name for name in held)
    clamped = replace(gate.design, site=gate.design.site.changed(legs.values))
    assert [c.words for kind in changes(clamped, failed) for c in kind if "fixing" in c.words] == [
        seam.words
    ]
    near = tight(gate.design, 30.0)  # a leaf of 2 in: 5 mm beside the post, and legs stand there
    assert not any("U-bolts" in c.words for kind in changes(near, failed) for c in kind)


def test_a_lock_is_told_where_the_storm_is_too_much_and_does() -> None:
    gate = judged(survey(survival='"90 mph"').site)
    helped = gate.helped()
    locked = survey(survival='"90 mph"', more=LOCK.format(kind="timber", size="6x6")).site

    assert helped and all(check.would_do.startswith("a lock at the latch") for check in helped)
    assert not judged(locked).failed & gate.failed


def test_a_post_is_told_that_carries_it_all() -> None:
    """With the face to the leaf where it is, a larger post grows backwards: so does the file."""
    slim = {"size": '"4x4"', "to_actuator_face": '"1"'}
    gate = judged(survey(**slim).site)
    size = {
        found for c in gate.helped() if (found := re.search(r"dressed post of (\w+)", c.would_do))
    }
    (name,) = {found[1] for found in size}

    assert any("hanging post" in name for name in gate.failed)
    assert not judged(survey(**{**slim, "size": f'"{name}"'}).site).failed


def test_where_nothing_does_that_is_said() -> None:
    """A leaf of 2x4 on edge hinges: thicker rails meet the post, less thrust does not move it."""
    gate = judged(survey(frame="timber").site)
    (check,) = gate.helped()

    assert check.id == "strength: leaf bracket rail bending"
    assert check.would_do.startswith("no single change")


def test_what_passes_is_left_as_it_is() -> None:
    gate = judged(survey().site)

    assert not gate.failed
    assert with_ways(gate.design, gate.picks, gate.checks, (), lambda *_: None) == gate.checks
