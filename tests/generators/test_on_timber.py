"""Where the post bracket's fasteners stand in a timber post."""

from dataclasses import replace

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.parts.tables import shank

from .family import survey
from .judged_gates import SHOP


@pytest.mark.parametrize("kind", ["lag screw", "hex bolt"])
@pytest.mark.parametrize("width", [104, 108, 113, 117, 140, 146, 151, 175, 184])
def test_two_columns_keep_four_diameters_from_one_another_and_from_the_edges(
    width: int, kind: str
) -> None:
    """EN 1995-1-1:2004 Table 8.4: a2 = 4 d; a4,t = (2 + 2 sin 90) d, the thrust across the grain."""
    site = survey(measured=f'["{width} mm", "140 mm"]').site
    solved = solve_gate(site, SHOP)
    made = 0
    for size in ("3/8", "1/2", "5/8"):
        picks = replace(usual(SHOP), post_kind=kind, post_size=size)
        try:
            design = design_gate(site, SHOP, solved, [picks])
        except NoHardware:  # this post is too narrow for it
            continue
        fixing = next(each for each in design.leaves[0].fixings if each.name == "post")
        columns = sorted({hole.u for _, hole in fixing.holes})
        made += 1

        assert min(columns[0], width - columns[-1]) >= 4 * shank(size) - 1e-6, size
        assert columns[-1] - columns[0] == 0 or columns[-1] - columns[0] >= 4 * shank(size) - 1e-6
    assert made
