"""The installation sheet, read back and held against what it is made from."""

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import acos, degrees, hypot, radians, sin

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.hardware.trade import sized
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.display import shop_first
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.shop import Drawings, Shop
from hangpost.generators.writers.cautions import CAUTIONS, cautions
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.installation import CLOSEST, Gap, installation_sheets
from hangpost.generators.writers.installation_steps import steps
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, TRUE, pdf
from hangpost.generators.writers.pictures import Plan, elevation
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.views import looking

from .drawings import EXAMPLE, GATE, strays, text_of
from .family import DOUBLE_LOCK, SHOP, survey

CASES = {
    "right, pull": GATE,
    "left, pull": GATE.replace('hand = "right"', 'hand = "left"'),
    "right, push": GATE.replace('toward = "actuator"', 'toward = "away"'),
}
GAPS = tuple(
    Gap(between=f"thing {k} - other thing", least=300.0 - 4.0 * k, at_angle=1.5 * k)
    for k in range(60)
)


@cache
def gate(case: str):
    """Site, design and stamp, and whoever looks at solids built once."""
    text = CASES.get(case, EXAMPLE)
    site, shop = site_from_bytes(text.encode()), read_shop(None)
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    stamp = Stamp(job=site.job, site_sha256="0e" * 32, version="0.1.0", units="mm")
    return site, design, stamp, looking(cache(lambda part: part.solid()))


@cache
def sheets(case: str):
    _, design, stamp, look = gate(case)
    return installation_sheets(design, stamp, look, GAPS)


def mm(value: float) -> str:
    return f"{value + 1e-7:.1f}".rstrip("0").rstrip(".")


@pytest.mark.parametrize("case", CASES)
def test_sheet_gives_this_jobs_numbers(case):
    _, design, _, _ = gate(case)
    text = text_of(sheets(case))
    (leaf,) = design.leaves
    mount, width = leaf.mount, leaf.problem.leaf.width
    edge = 2 * width * sin(radians(mount.opening / 2))  # the chord of the latch edge
    for value in (
        *(mount.closed_length, mount.open_length, mount.margin_retracted, mount.margin_extended),
        *(mount.leaf_pivot[0], leaf.problem.height, edge),
        *(abs(mount.post_pivot[0]), mount.post_pivot[1]),
    ):
        assert f"{mm(value)} mm (" in text
    tied = (
        "Stand the leaf open"
        if mount.open_length < mount.closed_length
        else "Stand the leaf closed"
    )
    assert tied in text
    assert "at actual size" in text.lower() and "When a number does not come out" in text


@pytest.mark.parametrize("case", CASES)
def test_cable_loop_is_told_how_far_the_actuator_turns(case):
    """GEO-14. The two ends by the law of cosines: from pin to pin at both, and the leaf pin's chord."""
    _, design, _, _ = gate(case)
    (leaf,) = design.leaves
    mount = leaf.mount
    chord = 2 * hypot(*mount.leaf_pivot) * sin(radians(mount.opening) / 2)
    a, b = mount.closed_length, mount.open_length
    ends = degrees(acos((a * a + b * b - chord * chord) / (2 * a * b)))
    (told,) = re.findall(r"actuator turns (\d+)° about its post pin", text_of(sheets(case)))

    assert ends - 0.5 <= mount.turn <= ends + 25.0  # it may turn back on its way
    assert int(told) == round(mount.turn)


def test_a_gate_with_a_lock_gets_its_step():
    _, design, stamp, look = gate("shipped example")
    with_lock = text_of(installation_sheets(design, stamp, look))
    assert "Set the lock receiver" in with_lock
    assert "Set the lock receiver" not in text_of(sheets("right, pull"))
    for part, _ in design.parts:
        assert f"First piece: {part.mark}" in with_lock


def test_the_installer_reads_what_the_receiver_takes_and_how_it_is_set_anew():
    """GEO-11: the sag it absorbs and a re-set table, on paper, and what was taken for granted."""
    _, design, stamp, look = gate("shipped example")
    lock = next(leaf.lock for leaf in design.leaves if leaf.lock)
    text = " ".join(text_of(installation_sheets(design, stamp, look)).split())

    for said in (lock.assumed, *lock.notes):
        assert " ".join(shop_first(said, stamp.units).split()) in text
    assert text.index("The crossing plate goes on first") < text.index("Gate on its closed stop")
    told = re.search(r"receiver takes ([\d.]+) mm \(([\d/ ]+) in\) of sag", text)
    sag = lock.receiver.sag_as_set
    assert told and float(told[1]) == pytest.approx(sag, abs=0.051)
    assert float(sum(map(Fraction, told[2].split()))) == pytest.approx(sag / 25.4, abs=1 / 32)


def test_the_closest_pairs_are_listed_first_and_the_rest_left_to_the_data():
    text = text_of(sheets("right, pull"))
    wanted = sorted(GAPS, key=lambda g: g.least)
    places = [text.index(f"{g.between} {mm(g.least)}") for g in wanted[:CLOSEST]]
    assert places == sorted(places)
    assert wanted[-1].between not in text


@pytest.mark.parametrize("case", CASES)
def test_nothing_meets_and_nothing_runs_off(case):
    _, design, _, _ = gate(case)
    field = TRUE.field(PAPERS[design.shop.drawings.paper[0]])
    for sheet in sheets(case):
        assert overlaps(sheet.items) == []
        assert strays(sheet, field) == []


def test_every_caution_stands_on_the_installation_sheet():
    """SAF-01, SAF-03: every caution has an id and stands in every pack."""
    text = text_of(sheets("right, pull"))
    for caution in CAUTIONS:
        assert f"{caution.id} {caution.text.split('.')[0][:20]}" in text


def test_cautions_say_what_the_trade_asks_for_and_claim_nothing():
    """SAF-04, SAF-05, SAF-06: tether, electrics, release, stops, signs, separate path."""
    # what every pack must show: list of the trade's and public bodies' cautions in the issue
    text = " ".join(c.text for c in CAUTIONS)
    for words in (
        *("hardware alone", "local code", "competent person", "crush", "hinge gap", "one hinge"),
        *(
            "manual release",
            "solid stops",
            "Isolate the power",
            "check bars",
            "services",
            "treated",
        ),
        *("zinc", "1 week", "footing", "children", "separate path", "not claimed"),
    ):
        assert words.lower() in text.lower()
    assert len({c.id for c in CAUTIONS}) == len(CAUTIONS)
    assert all(c.id.startswith("SAF-") for c in CAUTIONS)
    assert {c.id for c in cautions("timber")} >= {c.id for c in CAUTIONS if c.where == "always"}
    assert "complies" not in text and "compliant" not in text
    electrics = next(c.text for c in CAUTIONS if "Electrical" in c.text)
    assert "competent person" in electrics and "local code" in electrics


@pytest.mark.parametrize(
    ("hinges", "warned"), [("count = 2", True), ("count = 2\ntether = true", False)]
)
def test_two_hinges_without_a_tether_are_told_where_the_gate_is_checked(hinges, warned):
    """SAF-04: the leaf must not fall when one hinge fails."""
    assert "count = 3" in GATE
    site = site_from_bytes(GATE.replace("count = 3", hinges).encode())
    _, design, _, look = gate("right, pull")
    first = steps(design.leaves[0], site.leaves[0], look, "in")[0]
    assert ("SAF-04" in " ".join(first.words)) is warned


def test_pictures_show_pins_at_the_length_the_mount_gives():
    _, design, _, look = gate("left, pull")
    (leaf,) = design.leaves
    plan = Plan.of(leaf, look)
    for angle, length in (
        (0.0, leaf.mount.closed_length),
        (leaf.mount.opening, leaf.mount.open_length),
    ):
        (px, py), (gx, gy) = plan.pins(angle)
        assert ((gx - px) ** 2 + (gy - py) ** 2) ** 0.5 == pytest.approx(length, abs=0.01)
        bores = [m.box for m in plan.at(angle, 2000.0)]
        pin = leaf.problem.actuator.post_eye.radius
        assert any(
            b == pytest.approx((px - pin, py - pin, px + pin, py + pin), abs=0.01) for b in bores
        )


def test_left_hand_picture_is_the_mirror_image():
    _, right, _, look = gate("right, pull")
    _, left, _, others = gate("left, pull")
    a = elevation(right.leaves[0], look)
    b = elevation(left.leaves[0], others)
    # standing on the actuator side the hinges of the right hand are on the right
    assert min(m.box[0] for m in a) <= -right.leaves[0].problem.leaf.width + 1.0
    assert 0 < max(m.box[2] for m in a) < 600
    mirrored = [(-m.box[2], m.box[1], -m.box[0], m.box[3]) for m in a]
    found = [m.box for m in b]
    assert len(mirrored) == len(found)
    for box in mirrored:
        assert (
            min(max(abs(p - q) for p, q in zip(box, other, strict=True)) for other in found) < 0.02
        )


def test_the_same_gate_gives_the_same_sheet():
    _, design, stamp, _ = gate("right, pull")
    again = installation_sheets(design, stamp, looking(lambda part: part.solid()), GAPS)
    one, two = (pdf(s, title="t", subject="s", maker="m") for s in (sheets("right, pull"), again))
    assert one == two
    other = installation_sheets(
        design, replace(stamp, revision="Z"), looking(lambda p: p.solid()), GAPS
    )
    assert pdf(other, title="t", subject="s", maker="m") != one


def test_sheet_says_how_tight_both_brackets_are_bolted():
    _, design, _, _ = gate("right, pull")
    text = " ".join(text_of(sheets("right, pull")).split())

    assert {each.name for each in design.leaves[0].fixings} >= {"post", "leaf"}
    for each in design.leaves[0].fixings:
        kind = f"{each.fastener.kind}s {sized(each.fastener)}: tighten"
        assert f"{kind[0].upper()}{kind[1:]}" in text
    torque = next(f for f in design.leaves[0].fixings if f.name == "leaf").tightening
    assert torque.split(" (")[0] in text


@pytest.mark.parametrize("paper", ["a4", "letter", "a3", "tabloid"])
@pytest.mark.parametrize("more", ["", DOUBLE_LOCK])
@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_name_of_a_leaf_stands_over_its_first_step(paper: str, more: str, toward: str) -> None:
    site = survey("square_steel", toward, leaves=2, more=more).site
    shop = Shop(drawings=Drawings(paper=(paper,)))
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    stamp = Stamp(job=site.job, site_sha256="0e" * 32, version="0.1.0", units="mm")
    pages = installation_sheets(design, stamp, looking(cache(lambda part: part.solid())))
    told = [[i.text for i in page.items if isinstance(i, Text)] for page in pages]
    named = [words for words in told for each in words if each.endswith("-hand leaf")]

    assert len(named) == 2
    for words in told:
        for at, each in enumerate(words):
            if each.endswith("-hand leaf"):
                assert words[at + 1].startswith("1  ")


def test_answers_about_people_are_told_to_the_installer():
    """SAF-06, SAF-07: what was answered at the survey, and what was not, stands on the sheet."""
    asked = survey(more="[people]\nstop_open = true\nsigns = false\n")
    solved = solve_gate(asked.site, SHOP)
    design = design_gate(asked.site, SHOP, solved, [usual(SHOP)])
    _, _, stamp, look = gate("right, pull")
    told = text_of(installation_sheets(design, stamp, look))

    assert "holds the open leaf: yes" in told
    assert "signs on both sides: NO" in told
    assert "released by hand: not answered" in told
    assert "The survey's answers" not in text_of(sheets("right, pull"))


def test_the_re_check_table_stands_beside_the_gaps_and_takes_no_sheet_of_its_own():
    titled = {
        text.split()[0]: (number, item.at[1])
        for number, sheet in enumerate(sheets("right, pull"))
        for item in sheet.items
        if isinstance(item, Text)
        for text in [item.text]
        if text.startswith(("The closest pairs", "Re-check tightness"))
    }

    assert titled["The"] == pytest.approx(titled["Re-check"])
