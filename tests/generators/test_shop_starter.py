"""The starter shop file: what is assumed without one, in inches or in mm with M threads."""

import re

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.judged import reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import shop_from_bytes, survey_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.shop_starter import shop_starter
from hangpost.generators.survey.starter import starter
from hangpost.generators.survey.units import Units

SWITCHED_ON = re.compile(r"^#(?=\[?[a-z_]+\]?( =|  ))", re.MULTILINE)


def numbers(shop: Shop) -> dict[str, object]:
    """Every figure of it by its path, rounded to what a tape cannot tell."""
    found: dict[str, object] = {}

    def walk(path: str, value: object) -> None:
        if isinstance(value, dict):
            for key, each in value.items():
                walk(f"{path}.{key}", each)
        elif isinstance(value, (list, tuple)):
            for index, each in enumerate(value):
                walk(f"{path}.{index}", each)
        else:
            found[path] = round(value, 1) if isinstance(value, float) else value

    walk("", shop.model_dump())
    return found


def test_in_inches_it_is_what_stands_in_for_a_missing_file() -> None:
    assert numbers(shop_from_bytes(shop_starter("in").encode())) == numbers(Shop())


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_choice_in_it_can_be_switched_on(units: Units) -> None:
    whole = SWITCHED_ON.sub("", shop_starter(units))
    shop = shop_from_bytes(whole.encode())

    assert shop.prices is not None
    assert shop.prices.steel == 2.4
    assert shop.plates[0].k_factor == 0.42
    assert shop.drawings.angle == "first"
    assert len(shop.fasteners.lengths("bolt", "1/2")) == 7


def test_a_metric_one_makes_a_gate_of_metric_threads_that_passes() -> None:
    site = survey_from_bytes(starter(units="mm").encode(), file="site.toml").site
    shop = shop_from_bytes(shop_starter("mm").encode())
    solved = solve_gate(site, shop)
    chosen = choose(site, shop, solved, ())
    design = design_gate(site, shop, solved, [each.picks for each in chosen])
    sizes = {fixing.fastener.size for leaf in design.leaves for fixing in leaf.fixings}

    assert [c.id for c in reckoned(design) if c.status == "fail"] == []
    assert all(size.startswith("M") for size in sizes)
