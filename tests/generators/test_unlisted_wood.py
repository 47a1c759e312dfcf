"""A wood that the tables of species do not have: hardware all the same, and nothing in silence."""

from dataclasses import replace

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judging.judge import bench_for, strength_checks
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength.tables import table
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.starter import starter

from .family import LOCK, survey
from .judged_gates import SHOP


@pytest.mark.parametrize("kind", ["lag screw", "hex bolt"])
def test_post_and_latch_post_of_it_are_built_and_said_to_be_unjudged(kind: str) -> None:
    lock = LOCK.format(kind="timber", size="6x6").replace('"6x6"', '"6x6", species = "yew"')
    site = survey(species='"Scots Pine"', more=lock).site
    picks = replace(usual(SHOP), post_kind=kind)
    design = design_gate(site, SHOP, solve_gate(site, SHOP), [picks])
    bench = bench_for(site, SHOP, site.leaves[0], design.leaves[0])
    told = [check.what for check in strength_checks(bench) if "not judged" in check.id]
    fixing = bench.fixing("post")

    assert fixing is not None and fixing.fastener.kind == kind
    assert any("Scots Pine" in words and "western cedars" in words for words in told)
    assert any("yew" in words and "southern pine" in words for words in told)


def test_the_starter_names_the_woods_of_the_table() -> None:
    words = " ".join(line.removeprefix("# ") for line in starter().splitlines())
    woods = [name for name in table("species") if not name.endswith((" north", " south"))]

    assert [name for name in woods if name not in words] == []


@pytest.mark.parametrize(("slip", "meant"), [("southren pine", "southern pine"),
                                             ("Western  Cedar", "western cedars"),
                                             ("douglas fir-larch nrth", "douglas fir-larch north")])  # fmt: skip
@pytest.mark.parametrize("frame", ["timber", "square_tube"])
def test_a_slip_in_the_name_of_a_listed_wood_is_refused(slip: str, meant: str, frame: str) -> None:
    """It would lose every check of the post in silence but for a warning."""
    with pytest.raises(SurveyError) as told:
        survey(frame=frame, species=f'"{slip}"')

    wrong = [each for each in told.value.mistakes if each.key.endswith("species")]
    assert wrong and all(f'looks like "{meant}"' in each.wrong for each in wrong)
    assert slip in str(told.value)


@pytest.mark.parametrize("other", ["northern pine", "rosewood", "white ash", "Red  Oak"])
def test_another_wood_is_no_slip(other: str) -> None:
    assert survey(species=f'"{other}"').site.post.species == other
