"""Fixings, extensions, locks, bars and leans: each is made, fits and swings free, or is refused."""

from dataclasses import replace

import pytest
from pydantic import ValidationError

from hangpost.generators.fitting.fits import fit_checks
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.swing import bodies_of, clearance_checks, seated
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.pivot_extension import PivotExtension

from .family import (
    DOUBLE_LOCK,
    FRAMES,
    LOCK,
    SEPARATE,
    SHOP,
    SLIM,
    design,
    failed,
    fits,
    fouled,
    survey,
)


@pytest.mark.parametrize(
    ("post", "toward", "fixing", "more"),
    [
        ("round_steel", "actuator", "clamp", ""),
        ("round_steel", "actuator", "weld", ""),
        ("round_steel", "away", "weld", ""),
        ("square_steel", "actuator", "weld", ""),
        ("timber", "away", "bolted", SEPARATE),
        ("round_steel", "away", "clamp", SEPARATE),
        ("timber", "actuator", "auto", LOCK.format(kind="timber", size="6x6")),
        ("timber", "away", "auto", LOCK.format(kind="round_steel", size="4")),
        ("timber", "actuator", "auto", LOCK.format(kind="square_steel", size="4x4x1/4")),
    ],
)
def test_fixings_extensions_and_locks_fit_and_swing_free(
    post: str, toward: str, fixing: str, more: str, shelf: Shelf
) -> None:
    made = design(survey(post, toward, more=more, fixing=f'"{fixing}"'))

    assert fits(made) == []
    assert fouled(made.leaves[0], shelf) == []


@pytest.mark.parametrize("frame", FRAMES)
def test_a_bar_between_two_rails_carries_the_bracket_where_no_rail_is(
    frame: str, shelf: Shelf
) -> None:
    made = design(survey(frame=frame))
    assert "strongback" not in {p.name for p in made.leaves[0].placed}

    site = made.site.changed({"actuator.height": 36 * 25.4})
    solved = solve_gate(site, SHOP)
    between = design_gate(site, SHOP, solved, [usual(SHOP)])
    assert "strongback" in {p.name for p in between.leaves[0].placed}
    assert fits(between) == []
    assert fouled(between.leaves[0], shelf) == []


def test_nothing_carries_a_bracket_above_the_top_rail() -> None:
    site = survey().site.changed({"actuator.height": 49.2 * 25.4, "leaf.rails": (120.0, 640.0)})
    with pytest.raises(NoHardware, match="no rail above"):
        design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)])


@pytest.mark.parametrize(
    ("post", "fixing"),
    [
        ("timber", "weld"),
        ("timber", "saddle"),
        ("round_steel", "bolted"),
        ("square_steel", "clamp"),
    ],
)
def test_a_fixing_that_does_not_suit_the_post_is_refused_in_words(post: str, fixing: str) -> None:
    with pytest.raises(SurveyError, match=f"does not go with a {post} post"):
        survey(post, fixing=f'"{fixing}"')


def test_rising_ground_and_rising_hinges_are_refused_in_words() -> None:
    """IN-02, GEO-13: tilt beyond what the joints of the actuator take."""
    with pytest.raises(SurveyError, match="run into the ground"):
        survey(rise_at_open='"6"')
    site = survey(rise='"4"').site
    with pytest.raises(NoHardware, match="joints allow"):
        design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)])


@pytest.mark.parametrize("post", ["timber", "square_steel"])
def test_bolts_and_backing_plates_follow_a_post_that_leans(post: str, shelf: Shelf) -> None:
    lean = "{ toward_leaf = 0.8, toward_actuator = -1.3 }"
    site = survey(post, "actuator", "left", lean=lean).site
    picks = replace(usual(SHOP), post_kind="hex bolt")
    made = design_gate(site, SHOP, solve_gate(site, SHOP), [picks])
    (leaf,) = made.leaves
    fixing = next(f for f in leaf.fixings if f.name == "post")

    assert fits(made) == []
    assert (
        failed(clearance_checks(leaf, SHOP, (), None, seated(leaf, bodies_of(leaf, shelf.mesh))))
        == []
    )
    through = fixing.over + float(site.post.depth) + float(picks.post_plate.thickness)
    assert fixing.under > 4.0 and fixing.fastener.length > through


def test_the_extension_is_chosen_by_weight_and_as_told() -> None:
    reasons = {}
    for wanted in ("auto", "one-piece", "separate"):
        read = survey("timber", "away", more=f'[choice]\nextension = "{wanted}"\n')
        made = design(read)
        plates = [p for p in made.leaves[0].placed if isinstance(p.item, PivotExtension)]
        mass = sum(p.mass for p in made.leaves[0].made)
        reasons[wanted] = (len(plates), mass, " ".join(made.leaves[0].reasons))

    assert reasons["separate"][0] == 2 and reasons["one-piece"][0] == 0
    assert reasons["auto"][1] == min(mass for _, mass, _ in reasons.values())
    assert "kg" in reasons["auto"][2]
    assert all("choice.extension" in reasons[w][2] for w in ("one-piece", "separate"))


def test_a_slim_post_pulled_open_has_pivots(shelf: Shelf) -> None:
    """Its ears grow from behind their pin, past the post's middle, and pass the actuator."""
    made = design(survey("round_steel", circumference='"11"'))
    assert fits(made) == []
    assert fouled(made.leaves[0], shelf) == []


def test_a_small_post_is_refused_or_warned_of() -> None:
    with pytest.raises(SurveyError, match="accept_small"):
        survey("round_steel", circumference='"8"', wall='"0.2"')
    made = design(
        survey(
            "round_steel", "away", circumference='"8"\naccept_small = true', wall='"0.2"', **SLIM
        )
    )
    checks = fit_checks(made.site, made.site.leaves[0], made.leaves[0])

    assert [c.status for c in checks if "too small" in c.id] == ["warn"]


def test_double_gates_share_parts_and_name_hands() -> None:
    made = design(survey("timber", leaves=2, more=DOUBLE_LOCK))
    counted = {part.mark: count for part, count in made.parts}

    assert fits(made) == []
    assert counted["leaf-bracket"] == 2  # its own mirror image: one part, counted once
    assert all(mark.endswith(("-RH", "-LH")) for mark in counted if mark.startswith("post-bracket"))
    assert made.leaves[0].lock is None and made.leaves[1].lock is not None


def test_lap_of_two_leaves_says_which_closes_first() -> None:
    site = survey(leaves=2).site.changed({"meeting.overlap": 20.0, "meeting.first_to_close": 2})
    made = design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)] * 2)

    assert all("leaf 2 closes first" in " ".join(leaf.reasons) for leaf in made.leaves)


def test_receiver_takes_the_sag_it_says() -> None:
    """GEO-11."""
    made = design(survey(more=LOCK.format(kind="timber", size="6x6")))
    lock = made.leaves[0].lock
    assert lock is not None
    throw, gap, sag = 1.5 * 25.4, 1.75 * 25.4, 0.375 * 25.4

    assert lock.receiver.sag_as_set >= sag
    reaches = lock.behind + lock.receiver.plate_thickness  # off the post, towards the leaf
    assert gap - throw < reaches < gap  # the bolt goes through the plate, the leaf clears it
    assert any("come down by" in note for note in lock.notes)


@pytest.mark.parametrize("off", ["1", "1 1/8", "1 3/8"])
def test_washers_of_a_receiver_lie_flat_however_near_the_bolt_comes_to_the_stop(off: str) -> None:
    more = LOCK.format(kind="timber", size="6x6").replace('leaf_face = "1"', f'leaf_face = "{off}"')
    made = design(survey(more=more))
    lock = made.leaves[0].lock
    assert lock is not None
    receiver = lock.receiver

    assert receiver.stop_u is not None
    away = -receiver.stop_u / abs(receiver.stop_u)
    bend = abs(receiver.stop_u) - receiver.bend_radius  # the flat ends here
    assert all(u * away + bend >= receiver.slot.land for u, _ in receiver.bolts)
    (crossing,) = (p.item for p in made.leaves[0].placed if isinstance(p.item, CrossingPlate))
    joined = [(h.u, h.v) for h in crossing.holes if h.use == "join"]
    assert joined == list(receiver.bolts)


def test_a_gap_too_small_for_a_receiver_is_refused_in_words() -> None:
    more = LOCK.format(kind="timber", size="6x6").replace('gap = "1 3/4"', 'gap = "1/4"')
    with pytest.raises(NoHardware, match="gap"):
        design(survey(more=more))


def test_unknown_choices_stay_mistakes_of_the_file() -> None:
    with pytest.raises(ValidationError):
        survey().site.changed({"choice.extension": "long"})
