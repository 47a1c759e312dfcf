"""Redundant measurements: a planted slip is found and the right reading is named.

Pythagorean triples give gates whose diagonals are known without reckoning: 28-45-53 for the
near corner, 45-108-117 for the far one (arithmetic).
"""

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.survey.consistency import (
    CHECKS,
    LIMIT,
    NAMES,
    UNKNOWNS,
    suspects,
    unchecked,
)

# to_leaf 28, to_actuator 45, far face 108: width 80; depth 60 makes the post's diagonal 100
TRUE = {
    "hinge.to_leaf_face": 28.0,
    "hinge.to_actuator_face": 45.0,
    "post.width": 80.0,
    "post.depth": 60.0,
    "check.hinge_to_far_post_face": 108.0,
    "check.hinge_to_back_face": 15.0,
    "check.hinge_to_near_corner": 53.0,
    "check.hinge_to_far_corner": 117.0,
    "check.post_diagonal": 100.0,
    "leaf.width": 2800.0,
    "leaf.height": 960.0,
    "check.leaf_diagonal": 2960.0,  # 35-12-37 times 80
    "leaf.bottom": 90.0,
    "check.ground_to_leaf_top": 1050.0,
    "lock.gap": 45.0,
    "check.hinge_to_latch_post": 2845.0,
    "actuator.retracted": 780.0,
    "actuator.stroke": 400.0,
    "check.actuator_extended": 1180.0,
}
# these are seen from enough sides that one slip is told from every other
TELLING = (
    "hinge.to_leaf_face",
    "hinge.to_actuator_face",
    "post.width",
    "post.depth",
    "check.hinge_to_far_post_face",
    "check.hinge_to_near_corner",
    "check.hinge_to_far_corner",
)


def test_true_readings_raise_no_suspicion():
    assert suspects(TRUE) == ()


@pytest.mark.parametrize("name", TELLING)
@pytest.mark.parametrize("slip", [25.4, -12.7])
def test_an_inch_too_much_is_named(name, slip):
    """IN-06: redundancy names the likely bad measurement."""
    (found,) = suspects({**TRUE, name: TRUE[name] + slip})

    assert found.name == name and found.alone
    assert found.others_say == pytest.approx(TRUE[name], abs=1.5)
    assert name in found.sentence and "probably wrong" in found.sentence


@pytest.mark.parametrize("name", [n for n in TRUE if n not in TELLING])
def test_any_other_slip_is_at_least_among_the_suspects(name):
    found = suspects({**TRUE, name: TRUE[name] + 25.4})

    assert name in [s.name for s in found]


def test_three_readings_alone_cannot_tell_which():
    found = suspects(
        {"actuator.retracted": 780.0, "actuator.stroke": 400.0, "check.actuator_extended": 1205.4}
    )
    assert len(found) == 3
    assert all("may be wrong" in s.sentence for s in found)


@given(st.integers(0, 10_000))
def test_what_a_tape_cannot_see_raises_no_suspicion(seed):
    rng = np.random.default_rng(seed)
    # class II tape and a careful hand: within 2 mm of true
    read = {n: v + float(rng.uniform(-2.0, 2.0)) for n, v in TRUE.items()}
    assert all(s.score < LIMIT + 1.0 for s in suspects(read))


def test_round_posts_are_checked_by_the_tape_around_them():
    good = {"post.diameter": 88.9, "check.post_circumference": pi * 88.9}
    assert suspects(good) == ()
    # pipe called 3 inch that measures 3 inches: 76.2 mm across against 11 in around
    found = suspects({"post.diameter": 76.2, "check.post_circumference": pi * 88.9})
    assert {s.name for s in found} == {"post.diameter", "check.post_circumference"}


def test_readings_that_nothing_checks_are_named():
    assert unchecked(
        {"leaf.bottom": 90.0, **{k: TRUE[k] for k in ("leaf.width", "leaf.height")}}
    ) == (
        "leaf.bottom",
        "leaf.width",
        "leaf.height",
    )
    assert unchecked(TRUE) == ()


def test_every_check_uses_known_names():
    assert len(set(NAMES)) == len(NAMES)
    for check in CHECKS:
        assert set(check.uses) <= set(UNKNOWNS)
