"""Every post, every leaf, both directions, both hands: it is made, it fits, nothing fouls.

The sweeps here take coarse steps; they are refined between the steps all the same. A left-hand
gate is the mirror image of a right-hand one, part for part, so it is swept once only.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest
from pydantic import ValidationError

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.checks import Check
from hangpost.generators.fits import IN_LINE, fit_checks, pin_lines
from hangpost.generators.hardware.build import design_gate, design_leaf
from hangpost.generators.hardware.design import Design, LeafDesign, Placed
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judged import judged
from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import Survey, survey_from_bytes
from hangpost.generators.survey.shop import Drawings, Shop
from hangpost.generators.survey.starter import starter
from hangpost.generators.swing import clearance_checks, reached, seated, swung
from hangpost.generators.verify import verify
from hangpost.generators.writers.outbox import deliver
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.part import Part, SheetPart
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.saddle import SaddleBlock

POSTS = ("timber", "round_steel", "square_steel")
TOWARD = ("actuator", "away")
FRAMES = ("square_tube", "round_tube", "timber")
MEMBERS = {"square_tube": "2x2x1/8", "round_tube": "1.66x0.14", "timber": "2x4"}
SLIM = {"to_actuator_face": '"5/8"'}  # hinges in front of the middle of a slim post
COARSE = 7.5  # degrees
SHOP = Shop(drawings=Drawings(paper=("a3",)))


def survey(
    post: str = "timber",
    toward: str = "actuator",
    hand: str = "right",
    frame: str = "square_tube",
    *,
    leaves: int = 1,
    more: str = "",
    **swaps: str,
) -> Survey:
    """The starter's gate with some lines of it changed: `key="new value"`, unless commented."""
    text = starter(post=post, toward=toward, leaves=leaves)  # type: ignore[arg-type]
    lines = {"hand": f'"{hand}"', "frame": f'"{frame}"', "member": f'"{MEMBERS[frame]}"', **swaps}
    if frame == "timber":
        lines["rails"] = '["6", "25", "47"]'
    made = []
    for line in text.splitlines():
        key = line.partition("=")[0].strip().removeprefix("#")
        made.append(f"{key} = {lines[key]}" if key in lines and "=" in line else line)
    return survey_from_bytes("\n".join([*made, more, ""]).encode(), file="site.toml")


def design(read: Survey) -> Design:
    solved = solve_gate(read.site, SHOP)
    return design_gate(read.site, SHOP, solved, [usual(SHOP)] * len(solved))


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return Shelf()


def failed(checks: Iterator[Check] | tuple[Check, ...]) -> list[str]:
    return [f"{c.id}: {c.value:.3f}, {c.limit:.3f}" for c in checks if c.status == "fail"]


def fouled(leaf: LeafDesign, shelf: Shelf) -> list[str]:
    swept = swung(leaf, shelf.mesh, COARSE)
    tools, still = reached(leaf, shelf.mesh), seated(leaf, shelf.mesh)
    return failed(clearance_checks(leaf, SHOP, swept, tools, still))


def fits(made: Design) -> list[str]:
    pairs = zip(made.site.leaves, made.leaves, strict=True)
    return [line for hung, leaf in pairs for line in failed(fit_checks(made.site, hung, leaf))]


# -- all of them -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("post", "toward", "frame"), list(product(POSTS, TOWARD, FRAMES)))
def test_every_gate_is_made_fits_and_swings_free_in_both_hands(
    post: str, toward: str, frame: str, shelf: Shelf
) -> None:
    right = design(survey(post, toward, "right", frame))
    (leaf,) = right.leaves
    left_site = survey(post, toward, "left", frame).site
    (other,) = (
        design_leaf(
            left_site.leaves[0], SHOP, leaf.problem, leaf.mount, usual(SHOP), left_site.choice
        ),
    )
    left = Design(site=left_site, shop=SHOP, leaves=(other,))

    assert fits(right) == [] and fits(left) == []
    assert fouled(leaf, shelf) == []
    for made in (right, left):
        assert_pins_coaxial(made.leaves[0])
    assert_mirrored(leaf, other)


def assert_pins_coaxial(leaf: LeafDesign) -> None:
    """In the assembly, closed and open: the bores of both ends about the actuator's eyes."""
    for angle in (0.0, leaf.mount.curve[-1].angle):
        for end, eye in (("post", "actuator post eye"), ("leaf", "actuator leaf eye")):
            names = [name for name, _ in pin_lines(leaf, end)]
            carriers = [p for p in leaf.placed if p.name in names]
            held = next(p for p in leaf.placed if p.name == eye)
            x, y, _ = leaf.standing(held, angle).origin

            assert len(names) == 2
            for placed in carriers:
                part = placed.for_hand(leaf.hand).item
                assert isinstance(part, Part)
                for bore in part.bores:
                    if bore.hole.use == "pin":
                        u, v, _ = leaf.standing(placed, angle).point(bore.origin)
                        assert abs(u - x) < IN_LINE and abs(v - y) < IN_LINE


def assert_mirrored(right: LeafDesign, left: LeafDesign) -> None:
    """Volumes equal, holes mirrored in u, the flat of one hand the mirror of the other's."""
    assert [p.name for p in right.placed] == [p.name for p in left.placed]
    for one, two in zip(right.placed, left.placed, strict=True):
        x, y, z = right.standing(one, 20.0).origin
        a, b, c = left.standing(two, 20.0).origin
        assert (a, b, c) == pytest.approx((-x, y, z), abs=1e-9)
    for one, two in zip(right.made, left.made, strict=True):
        assert one.volume == pytest.approx(two.volume, rel=1e-12)
        mine = {(h.hole.name, round(-h.origin[0], 6), round(h.origin[1], 6)) for h in one.bores}
        assert mine == {
            (h.hole.name, round(h.origin[0], 6), round(h.origin[1], 6)) for h in two.bores
        }
        if isinstance(one, SheetPart) and isinstance(two, SheetPart):
            flat, turned = one.flat_pattern(), two.flat_pattern()
            assert flat.outline.mirrored(across_x=True).bounds == pytest.approx(
                turned.outline.bounds
            )
            assert flat.area == pytest.approx(turned.area, rel=1e-12)


def test_left_hand_flat_folds_to_the_mirrored_solid(shelf: Shelf) -> None:
    """The kernel's mirror image of the right-hand solid and the left-hand solid are one body."""
    (leaf,) = design(survey("timber", "away")).leaves
    part = next(p for p in leaf.made if p.handed)
    image = shelf.solid(part).mirror("YZ")
    other = shelf.solid(part.mirrored())

    assert image.cut(other).Volume() == pytest.approx(0.0, abs=1e-3)
    assert other.cut(image).Volume() == pytest.approx(0.0, abs=1e-3)


def test_left_hand_gate_keeps_the_same_distances(shelf: Shelf) -> None:
    read = survey("round_steel", "away", frame="round_tube")
    (right,) = design(read).leaves
    left = replace(right, hand="left")
    near = ("actuator body", "leaf-bracket", "post-bracket-upper", "leaf")
    some = tuple(p for p in right.placed if p.name in near)

    found = [
        [row.least for row in swung(replace(leaf, placed=some), shelf.mesh, 15.0)]
        for leaf in (right, left)
    ]
    assert found[0] == pytest.approx(found[1], abs=0.05)  # the meshes' chord


@pytest.mark.parametrize(("px", "py", "gx", "gy"), [(-150, 180, 880, 95), (60, 150, 820, 110)])
def test_push_is_pull_run_backwards_in_a_mirror(px: float, py: float, gx: float, gy: float) -> None:
    """The post turned about the leaf: the same lengths and levers at t and at t - opening."""
    opening = 92.0
    qx, qy = kinematics.turned(px, py, -opening)  # the post pivot as the open leaf sees it
    for t in (0.0, 31.0, 60.5, 92.0):
        pull = kinematics.length(px, py, gx, gy, t)
        push = kinematics.length(qx, qy, gx, gy, t - opening)
        assert push == pytest.approx(pull, rel=1e-12)
        lever = kinematics.leverage(px, py, gx, gy, t)
        assert kinematics.leverage(qx, qy, gx, gy, t - opening) == pytest.approx(lever, rel=1e-12)


# -- variants --------------------------------------------------------------------------------------

LOCK = """
[lock]
post = {{ kind = "{kind}", size = "{size}" }}
bolt_diameter = "5/8"
bolt_height = "30"
bolt_to_leaf_face = "1"
throw = "1 1/2"
gap = "1 3/4"
sag = "3/8"
"""
SEPARATE = '[choice]\nextension = "separate"\n'


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
    with pytest.raises(SurveyError, match="run into the ground"):
        survey(rise_at_open='"6"')
    site = survey(rise='"4"').site
    with pytest.raises(NoHardware, match="joints allow"):
        design_gate(site, SHOP, solve_gate(site, SHOP), [usual(SHOP)])


def test_saddles_do_not_hide_a_lean() -> None:
    lean = "{ toward_leaf = 0.0, toward_actuator = 1.5 }"
    site = survey("round_steel", lean=lean).site
    with pytest.raises(NoHardware, match="out of plumb"):
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
    assert failed(clearance_checks(leaf, SHOP, (), (), seated(leaf, shelf.mesh))) == []
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


# -- planted faults --------------------------------------------------------------------------------


def swapped(leaf: LeafDesign, name: str, item: Part | Body) -> LeafDesign:
    placed = tuple(replace(p, item=item) if p.name == name else p for p in leaf.placed)
    return replace(leaf, placed=placed)


def item(leaf: LeafDesign, name: str) -> Part | Body:
    return next(p.item for p in leaf.placed if p.name == name)


def test_a_saddle_for_three_inches_on_a_three_and_a_half_inch_post_is_found() -> None:
    made = design(survey("round_steel", circumference='"11"', **SLIM))  # 3.501 in across
    (leaf,), hung = made.leaves, made.site.leaves[0]
    saddle = item(leaf, "upper saddle")
    assert isinstance(saddle, SaddleBlock) and failed(fit_checks(made.site, hung, leaf)) == []

    wrong = swapped(leaf, "upper saddle", replace(saddle, outside=3.0 * 25.4, depth=18.0))
    found = failed(fit_checks(made.site, hung, wrong))
    assert len(found) == 1 and "upper saddle on its tube" in found[0]


def test_an_extension_one_bolt_short_is_found() -> None:
    made = design(survey("timber", "away", more=SEPARATE))
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bolts = item(leaf, "extension bolts")
    assert isinstance(bolts, Body) and failed(fit_checks(made.site, hung, leaf)) == []

    x = max(s.start[0] for s in bolts.shapes if isinstance(s, Bar))
    one = tuple(s for s in bolts.shapes if isinstance(s, Bar) and abs(s.start[0] - x) < 1.0)
    short = swapped(leaf, "extension bolts", replace(bolts, shapes=one))
    assert "pivot extension bolted" in " ".join(failed(fit_checks(made.site, hung, short)))

    bracket = item(leaf, "post-bracket-upper")
    unbored = swapped(leaf, "post-bracket-upper", replace(bracket, joins=()))  # type: ignore[call-arg]
    assert "pivot extension bolted" in " ".join(failed(fit_checks(made.site, hung, unbored)))


def test_a_part_of_the_other_hand_is_found() -> None:
    made = design(survey("timber", "away", "left"))
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bracket = item(leaf, "post-bracket-upper")
    assert bracket.handed and failed(fit_checks(made.site, hung, leaf)) == []  # type: ignore[union-attr]

    wrong = swapped(leaf, "post-bracket-upper", bracket.mirrored())
    assert "hand of the parts" in " ".join(failed(fit_checks(made.site, hung, wrong)))


def test_a_bracket_off_its_pin_is_found() -> None:
    made = design(survey())
    (leaf,), hung = made.leaves, made.site.leaves[0]
    bracket = item(leaf, "leaf-bracket")
    off = swapped(leaf, "leaf-bracket", replace(bracket, pin_u=0.02))  # type: ignore[call-arg]

    assert "leaf pin in line" in " ".join(failed(fit_checks(made.site, hung, off)))


def test_two_things_of_one_name_are_refused() -> None:
    made = design(survey())
    (leaf,) = made.leaves
    first: Placed = leaf.placed[-1]
    twice = replace(leaf, placed=(*leaf.placed, first))

    with pytest.raises(ValueError, match=first.name):
        replace(made, leaves=(twice,))


# -- whole packs -----------------------------------------------------------------------------------

DOUBLE_LOCK = """
[lock]
bolt_diameter = "5/8"
bolt_height = "30"
bolt_to_leaf_face = "1"
throw = "1 1/2"
sag = "3/8"
"""


@pytest.mark.parametrize(
    "read",
    [
        survey("round_steel", "away", "left", "round_tube", more=SEPARATE, fixing='"clamp"'),
        survey("square_steel", "actuator", "right", leaves=2, more=DOUBLE_LOCK, fixing='"weld"'),
    ],
    ids=["clamped round post, push, left", "double gate, welded, locked"],
)
def test_whole_packs_are_written_and_verify(
    read: Survey, shelf: Shelf, tmp_path: pytest.TempPathFactory
) -> None:
    made = design(read)
    stamp = Stamp(
        job=read.site.job,
        site_sha256=read.sha256,
        version="0",
        record=read.text,
        revision="A",
        units="in",
    )
    written = pack_files.reckoned(made, shelf, stamp, lambda *_: None)
    pack_files.built(made, (), (), shelf, stamp, lambda *_: None, written)
    checks, clearances = judged(made, shelf, lambda *_: None)
    data = manifest.manifest(
        made,
        site_sha256=read.sha256,
        checks=checks,
        clearances=clearances,
        files=written.files,
        part_files=written.parts,
        template_files=written.templates,
    )
    out = tmp_path / "pack"  # type: ignore[operator]
    deliver(out, {**written.files, "pack.json": manifest.as_bytes(data)})

    assert [str(problem) for problem in verify(out).problems] == []
    if read.site.is_double:
        ids = [check["id"] for check in data["checks"]]
        assert len(set(ids)) == len(ids)
        pieces = {piece["name"] for piece in data["assembly"]["pieces"]}
        assert {name for row in data["clearances"] for name in row["pair"]} <= pieces
        marks = [part["id"] for part in data["parts"]]
        assert len(set(marks)) == len(marks)
        assert {"lock-receiver-LH", "post-ear-LH", "post-ear-RH"} <= set(marks)


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
    made = design(survey(more=LOCK.format(kind="timber", size="6x6")))
    lock = made.leaves[0].lock
    assert lock is not None
    throw, gap, sag = 1.5 * 25.4, 1.75 * 25.4, 0.375 * 25.4

    assert lock.receiver.sag_as_set >= sag
    reaches = lock.behind + lock.receiver.plate_thickness  # off the post, towards the leaf
    assert gap - throw < reaches < gap  # the bolt goes through the plate, the leaf clears it
    assert any("lower" in note for note in lock.notes)


def test_a_gap_too_small_for_a_receiver_is_refused_in_words() -> None:
    more = LOCK.format(kind="timber", size="6x6").replace('gap = "1 3/4"', 'gap = "1/4"')
    with pytest.raises(NoHardware, match="gap"):
        design(survey(more=more))


def test_unknown_choices_stay_mistakes_of_the_file() -> None:
    with pytest.raises(ValidationError):
        survey().site.changed({"choice.extension": "long"})
