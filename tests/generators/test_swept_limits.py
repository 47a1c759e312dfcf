"""The search's distances in closed form against the sweep of the solids: never the larger ones.

What is chosen on a limit must keep it in the sweep too, which takes off the facets of its meshes.
"""

from dataclasses import replace

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.shelf import Shelf
from hangpost.generators.swing import bodies_of

from .family import SHOP, design, survey

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


def test_an_ear_on_its_limit_keeps_it_whichever_plate_it_is_bent_from(shelf: Shelf) -> None:
    """Thin plate begins to rise nearer the post than thick plate does: the search knows both."""
    site = survey(toward="away", angle="104").site
    solved = solve_gate(site, SHOP)
    ((problem, mount),) = solved
    said = next(row for row in mount.rows if row.name == "ear clearance")
    assert said.value == pytest.approx(said.limit, abs=0.1)  # on its limit
    angles = [float(a) for a in swing(problem.direction, problem.opening, 7.5)]
    for thickness in (6.35, 12.7):
        picks = replace(usual(SHOP), post_plate=SHOP.plate_near(thickness))
        (leaf,) = design_gate(site, SHOP, solved, [picks]).leaves
        ears = [p.name for p in leaf.placed if "post-bracket" in p.name or "ear" in p.name]
        assert ears
        found = bodies_of(leaf, shelf.mesh).sweep(angles, [(BODY, name) for name in ears])
        assert min(row.least for row in found) >= said.limit
