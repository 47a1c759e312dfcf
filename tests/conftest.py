"""What all tests share: an invented gate; and property tests that draw the same examples."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import settings

from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Brackets,
    Eye,
    LeafPlan,
    PostPlan,
    Problem,
)

settings.register_profile("repeatable", deadline=None, derandomize=True)  # however busy it is
settings.load_profile("repeatable")

Gate = Callable[..., Problem]


def _gate(**changes: Any) -> Problem:
    eye = Eye(radius=18.0, thickness=20.0, to_body=46.0)
    problem = Problem(
        direction="pull",
        opening=92.0,
        post=PostPlan.square(to_leaf_face=40.0, to_actuator_face=66.0, width=140.0, depth=150.0),
        leaf=LeafPlan(width=3300.0, thickness=52.0, rail_from=0.0, rail_to=3300.0),
        actuator=ActuatorPlan(
            retracted=770.0,
            stroke=410.0,
            thrust=2600.0,
            speed=16.0,
            body_radius=36.0,
            rod_radius=14.0,
            post_eye=eye,
            leaf_eye=eye,
        ),
        torque=310e3,
        brackets=Brackets(max_reach=350.0, max_overhang=300.0, ear_tip=19.0, seat_half_width=19.0),
        height=660.0,
    )
    return replace(problem, **changes)


@pytest.fixture(scope="session")
def gate() -> Gate:
    """An invented gate that has usable pivots pulled and pushed, with fields changed at will."""
    return _gate
