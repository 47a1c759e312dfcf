"""Every starter of `hangpost new` is a gate that passes as it is: no check of it fails.

The sweep is left out here: a starter's parts are swept in test_family.py.
"""

from itertools import product
from typing import Literal, get_args

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.judged import reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.survey.starter import PostKind, Toward, starter
from hangpost.generators.survey.units import Units

LEAVES: tuple[Literal[1, 2], ...] = (1, 2)
EVERY = list(product(get_args(Units), get_args(PostKind), get_args(Toward), LEAVES))


@pytest.mark.parametrize(("units", "post", "toward", "leaves"), EVERY)
def test_no_check_of_a_starter_fails(
    units: Units, post: PostKind, toward: Toward, leaves: Literal[1, 2]
) -> None:
    text = starter(units=units, post=post, toward=toward, leaves=leaves)
    site, shop = survey_from_bytes(text.encode(), file="site.toml").site, read_shop(None, units)
    solved = solve_gate(site, shop)
    chosen = choose(site, shop, solved, ())
    design = design_gate(site, shop, solved, [each.picks for each in chosen])

    assert [c.id for c in reckoned(design) if c.status == "fail"] == []
    assert len(EVERY) == 24
