"""A part that cannot be made is refused in words of the site file, wherever it is made."""

from typing import Any

import pytest

from hangpost.generators.hardware import build
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.many.order import Order
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import survey_from_bytes
from hangpost.parts.flat import ParameterError

from .family import LOCK, SHOP, survey

BROKEN = "post-thing: width = 3 mm, needs at least 4 mm (house)\nother: width = 3 mm, needs at \
least 4 mm (house)\nother: length = 1 mm, needs at least 2 mm (house)"


def refuse(*_: Any) -> Any:
    raise ParameterError(BROKEN)


@pytest.mark.parametrize(
    ("name", "stand_in", "said"),
    [
        ("ON_POST", {("timber", "bolted"): refuse}, "the post bracket.*post, actuator.post_eye"),
        ("ON_LEAF", {"square_tube": refuse}, "the leaf bracket.*leaf.rails"),
        ("on_latch_post", refuse, "the lock receiver.*lock, meeting.gap"),
    ],
)
def test_parts_that_cannot_be_made_are_refused_by_the_sites_keys(
    name: str, stand_in: object, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = survey(more=LOCK.format(kind="timber", size="6x6")).site
    solved = solve_gate(site, SHOP)
    monkeypatch.setattr(build, name, stand_in)
    with pytest.raises(NoHardware, match=said) as told:
        build.design_gate(site, SHOP, solved, [usual(SHOP)])

    words = str(told.value)
    assert "post-thing" not in words and "\n" not in words  # no part's own name
    assert words.count("width = 1/8 in (3 mm)") == 1 and "length = 1/16 in (1 mm)" in words


def test_a_refused_part_is_an_outcome_of_a_batch_and_no_fault(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from hangpost.generators.batch import work

    monkeypatch.setattr(build, "ON_LEAF", {"square_tube": refuse})
    outcome = work(Order(name="gate", site=survey().text.encode(), file="gate.toml"))

    assert (outcome.status, "leaf bracket" in outcome.reason) == ("no hardware", True)


# A drawn gate on a post that leans, pushed open: its pin stands beside the post.
BESIDE = b"""
units = "in"
job = "beside a leaning post"
[post]
kind = "timber"
measured = ["6 5/8", "4 5/8"]
surface = "rough"
fixing = "bolted"
lean = { toward_leaf = 0.6, toward_actuator = 0.1 }
[hinge]
hand = "right"
to_leaf_face = "2 1/8"
to_actuator_face = "4 13/16"
[leaf]
width = "65 7/8"
height = "43 5/16"
bottom = "6 11/16"
thickness = "1 15/16"
mass = "50.6 kg"
frame = "square_tube"
member = "50x50x3 mm"
rails = ["7 11/16", "27 1/4", "49"]
fill = 0.1
[opening]
toward = "away"
angle = 90
clear_beyond = "47 1/16"
[actuator]
retracted = "38 1/16"
stroke = "14"
thrust = "2367 N"
speed = "19.1 mm/s"
body_diameter = "3 1/8"
height = "19 5/16"
post_eye = { pin = "1/2", thickness = "1", radius = "11/16", to_body = "2 1/4" }
leaf_eye = { pin = "1/2", thickness = "1", radius = "11/16", to_body = "2 1/4" }
[wind]
operating = "10.2 m/s"
survival = "28 m/s"
"""


def test_a_pin_beside_the_post_leaves_room_for_the_bend_and_the_wedges() -> None:
    site = survey_from_bytes(BESIDE, file="gate.toml").site
    ((problem, mount),) = solve_gate(site, SHOP)

    assert mount.post_pivot[0] > problem.post.outline.right  # beside it, not over its face
    assert mount.reach >= problem.brackets.least_reach
    build.design_gate(site, SHOP, [(problem, mount)], [usual(SHOP)])


def test_wedges_take_reach() -> None:
    plumb = BESIDE.replace(b"lean", b"# lean")
    least = [
        solve_gate(survey_from_bytes(text, file="gate.toml").site, SHOP)[0][0].brackets.least_reach
        for text in (plumb, BESIDE)
    ]

    assert 4.0 < least[1] - least[0] < 10.0  # thin end of a wedge, and what it grows by
