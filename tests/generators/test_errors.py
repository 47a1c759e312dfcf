"""Plus-minuses: where they come from and how the site file overrules them."""

from math import isclose

import numpy as np
import pytest

from hangpost.generators.pivots.errors import COVERAGE, bent, tape
from hangpost.generators.pivots.linear import propagate
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.starter import starter

from .unsure_gates import off, pair_of, solved


def test_tape_is_that_of_its_class() -> None:
    # OIML R 35-1:2007, class II: 0.3 mm + 0.2 mm a metre, so 1.3 mm at 5 m and 2.3 mm at 10 m
    # (the same figures in reference tables of the European class II). The rest is reading.
    reading = tape(1000.0) - 0.5

    assert isclose(tape(5000.0) - reading, 1.3)
    assert isclose(tape(10_000.0) - reading, 2.3)
    assert isclose(tape(1_020.0) - reading, 0.7)  # whole metres, rounded up: two
    assert isclose(tape(-980.0) - reading, 0.5)


@pytest.mark.parametrize(
    ("size", "allowed"),
    [
        (5.0, 0.3),
        (18.0, 0.5),
        (90.0, 0.8),
        (250.0, 1.2),
        (700.0, 2.0),
        (1500.0, 3.0),
        (3000.0, 4.0),
    ],
)
def test_bent_parts_are_made_to_the_coarse_class(size: float, allowed: float) -> None:
    """ISO 2768-1 class c: 3-6 .3, 6-30 .5, 120-400 1.2, 1000-2000 3 (read); the others from memory."""
    assert bent(size) == bent(-size) == allowed


def test_own_plus_minus_wins_over_the_instrument() -> None:
    text = starter(units="mm").replace("to_leaf_face = 45", 'to_leaf_face = "45 +- 0.4"')
    site = site_from_bytes(text.encode())
    _, problem, _ = solved("actuator")
    listed = {s.name: s for s in off(problem, site)}

    assert listed["hinge.to_leaf_face"].plus_minus == 0.4
    assert listed["hinge.to_leaf_face"].given
    assert not listed["hinge.to_actuator_face"].given
    # JCGM 100:2008, 4.3.4: 95 of 100 lie inside 1.96 standard deviations.
    assert isclose(listed["hinge.to_leaf_face"].sd, 0.4 / 1.96, rel_tol=1e-3)
    assert COVERAGE == 1.96


def test_tape_around_a_post_knows_its_diameter_three_times_better_than_one_across() -> None:
    site, problem, mount = solved("actuator", post="round_steel")
    straight = propagate(problem, pair_of(mount), off(problem, site))
    source = next(s for s in straight.sources if s.name == "post.circumference")
    index = [s.name for s in straight.sources].index("post.circumference")

    # Half of the diameter's error goes into the pin, which stands over the post's middle.
    assert isclose(
        abs(straight.slopes["post pivot along the leaf"][index, 0]),
        source.sd / np.pi / 2.0,
        rel_tol=1e-6,
    )
