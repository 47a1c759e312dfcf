"""The search's distances in closed form against the sweep of the solids: never the larger ones.

What is chosen on a limit must keep it in the sweep too, which takes off the facets of its meshes.
"""

import pytest

from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.shelf import Shelf
from hangpost.generators.swing import bodies_of

from .family import design, survey

BODY = "actuator body"


@pytest.mark.parametrize("diameter", ["2 3/4", "5"])
@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_the_body_keeps_in_the_sweep_what_the_search_says_it_keeps(
    toward: str, diameter: str, shelf: Shelf
) -> None:
    (leaf,) = design(survey(toward=toward, body_diameter=f'"{diameter}"')).leaves
    said = next(row.value for row in leaf.mount.rows if row.name == "body clearance")
    angles = [float(a) for a in swing(leaf.problem.direction, leaf.problem.opening, 1.0)]
    pairs = [(BODY, "leaf"), (BODY, "hanging post")]
    found = bodies_of(leaf, shelf.mesh).sweep(angles, pairs)
    least = min(row.least for row in found)
    assert said - 1e-3 <= least <= said + 0.5
