"""What the generator tests share: gates as the search for the pins sees them, a folded plate."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Brackets,
    Eye,
    LeafPlan,
    PostPlan,
    Problem,
)
from hangpost.generators.shelf import Shelf
from hangpost.parts.flat import Hole
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Vertex, rectangle, rounded

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
def shelf() -> Shelf:
    """Solids and meshes, made once for all gates."""
    return Shelf()


@pytest.fixture(scope="session")
def gate() -> Gate:
    """An invented gate that has usable pivots pulled and pushed, with fields changed at will."""
    return _gate


@pytest.fixture
def plate() -> FoldedPlate:
    """An angle with nothing symmetrical about it: slots, a window, one flange up, one down."""
    lower = ((0, 0, 0), (90, 0, 0), (90, -6, 0), (130, -6, 9))
    base = rounded((*lower, (130, 70, 12), (110, 70, 0), (40, 70, 0), (0, 70, 5)))
    edges = base.edges
    top = next(i for i, e in enumerate(edges) if e.start == (110, 70) and e.end == (40, 70))
    return FoldedPlate(
        thickness=6.0,
        outline=base,
        windows=(rectangle(60, 20, 78, 31, 3),),
        holes=(
            Hole("A", 22, 30, 14, "post", 16.0),
            Hole("B", 108, 34, 11, "post", 12.0, 35.0),
            Hole("C", 24, 56, 9, "cable"),
        ),
        flanges=(
            Flange(
                name="ear",
                edge=0,
                path=(Vertex(0, -40, math.tan(math.pi / 8)), Vertex(25, -65), Vertex(90, -65)),
                radius=7.0,
                holes=(Hole("P", 26, -38, 13, "pin"),),
            ),
            Flange(
                name="lip", edge=top, path=(Vertex(110, 92), Vertex(40, 92)), radius=7.0, up=False
            ),
        ),
        k_factor=0.42,
    )


@pytest.fixture(scope="session")
def report() -> Any:
    """A report page with a job's name and an obstacle's that would break out of it."""
    from .report_made import EVIL, WALL, demo, made

    return made(demo(EVIL) + WALL)


@pytest.fixture(scope="session")
def read(report: Any) -> Any:
    """The same page as a browser would find it."""
    from .report_made import Reader

    return Reader(report.page)
