"""Wedge shims that are too long for the printer are made in pieces, or refused in words."""

from dataclasses import replace
from itertools import pairwise

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.judge import judge_leaf
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.shop import Printer, Shop
from hangpost.generators.swing import bodies_of, clearance_checks, seated
from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.wedge import WedgeShim

from .family import SHOP, failed, fits, survey

LEAN = "{ toward_leaf = 0.6, toward_actuator = -1.2 }"


def leaning(bed: tuple[float, float, float]) -> tuple[Design, Shop]:
    shop = SHOP.model_copy(update={"printer": Printer(bed=bed)})
    site = survey("square_steel", "away", lean=LEAN).site
    picks = replace(usual(shop), post_rows=3)
    return design_gate(site, shop, solve_gate(site, shop), [picks]), shop


def wedges(made: Design, word: str) -> list[WedgeShim]:
    items = [part for part in made.leaves[0].made if isinstance(part, WedgeShim)]
    return [item for item in items if word in item.id]


def test_pieces_fit_the_bed_and_lie_end_to_end_each_on_two_bolts(shelf: Shelf) -> None:
    """MSH-02: what is too long for the bed comes in pieces."""
    (made, shop), (whole, _) = leaning((130.0, 130.0, 200.0)), leaning((250.0, 250.0, 200.0))
    (leaf,), hung = made.leaves, made.site.leaves[0]

    for word in ("upper", "lower"):
        (one,), several = wedges(whole, word), wedges(made, word)
        several.sort(key=lambda item: item.centre[1])
        assert len(several) == 2 and sum(len(w.bores_at) for w in several) == len(one.bores_at)
        assert all(len(w.bores_at) >= 2 for w in several)
        assert sum(w.length for w in several) == pytest.approx(one.length)
        for below, above in pairwise(several):
            edge = below.centre[1] + below.length / 2
            assert above.centre[1] - above.length / 2 == pytest.approx(edge)
    assert fits(made) == []
    checks = judge_leaf(made.site, shop, hung, leaf)
    printed = [c for c in checks if "wedge" in c.id and "on the printer" in c.id]
    assert len(printed) == 8 and {c.status for c in printed} == {"pass"}
    assert (
        failed(clearance_checks(leaf, shop, (), None, seated(leaf, bodies_of(leaf, shelf.mesh))))
        == []
    )


def test_what_no_piece_of_fits_the_bed_is_refused_before_it_is_built() -> None:
    with pytest.raises(NoHardware, match=r"bed of 3 15/16 x 3 15/16 in \(100 x 100 mm\)"):
        leaning((100.0, 100.0, 200.0))


def on_rail(side: float) -> tuple[Design, Shop]:
    shop = SHOP.model_copy(update={"printer": Printer(bed=(side, side, 200.0))})
    site = survey(frame="round_tube").site
    picks = replace(usual(shop), leaf_bolts=2)
    return design_gate(site, shop, solve_gate(site, shop), [picks]), shop


@pytest.mark.parametrize(
    ("side", "count", "turned"), [(220.0, 1, False), (195.0, 1, True), (140.0, 2, False)]
)
def test_the_saddle_of_a_round_rail_lies_across_the_bed_or_comes_in_pieces(
    side: float, count: int, turned: bool, shelf: Shelf
) -> None:
    """MSH-02: along a bed as long as itself, else across its corners, else in pieces."""
    made, shop = on_rail(side)
    (leaf,), hung = made.leaves, made.site.leaves[0]
    blocks = [part for part in leaf.made if part.id.startswith("rail-saddle")]
    checks = judge_leaf(made.site, shop, hung, leaf)
    printed = [c for c in checks if "rail-saddle" in c.id and "on the printer" in c.id]
    still = seated(leaf, bodies_of(leaf, shelf.mesh))

    (channel,) = (part for part in leaf.made if isinstance(part, LobedChannel))
    assert sum(part.extent[1] for part in blocks) == pytest.approx(2 * channel.half_width)
    assert len(blocks) == count
    assert {check.status for check in printed} == {"pass"}
    assert any("turned by" in check.what for check in printed) == turned
    assert not [check for check in checks if "not judged" in check.id]
    assert fits(made) == []
    assert failed(clearance_checks(leaf, shop, (), None, still)) == []
