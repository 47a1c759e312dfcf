"""Round posts that lean two ways: seats plumb, hollows and ears on the post, the sheet too."""

from dataclasses import replace
from math import acos, cos, degrees, radians, sin, tan

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.picks import usual
from hangpost.generators.judged import reckoned
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.shop import Printer
from hangpost.generators.writers.ink import Circle
from hangpost.generators.writers.installation_pictures import hinge_picture
from hangpost.generators.writers.pictures import Plan
from hangpost.parts.frame import Vector, leaned
from hangpost.parts.part import Part
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.solids import cylinder, located
from hangpost.parts.weld_ear import WeldEar

from .family import SHOP, design, fits, fouled, survey

LEANS = [(0.8, -1.3), (-1.5, 2.0)]  # degrees to the leaf, to the actuator


def leaning(fixing: str, lean: tuple[float, float], toward: str = "actuator") -> Design:
    table = f"{{ toward_leaf = {lean[0]}, toward_actuator = {lean[1]} }}"
    return design(survey("round_steel", toward, fixing=f'"{fixing}"', lean=table))


@pytest.mark.parametrize("lean", LEANS)
@pytest.mark.parametrize(
    ("fixing", "toward"), [("saddle", "actuator"), ("saddle", "away"), ("weld", "away")]
)
def test_brackets_on_a_leaning_round_post_fit_and_swing_free(
    fixing: str, toward: str, lean: tuple[float, float], shelf: Shelf
) -> None:
    made = leaning(fixing, lean, toward)

    assert fits(made) == []
    assert fouled(made.leaves[0], shelf) == []


@pytest.mark.parametrize("lean", LEANS)
def test_seats_on_a_leaning_round_post_are_plumb(lean: tuple[float, float], shelf: Shelf) -> None:
    """IN-05: lean in two directions is made up for. By the solids' own face normals where they stand: within 0.05 degrees, front and back."""
    made = leaning("saddle", lean)
    normals = []
    for placed in made.leaves[0].placed:
        if isinstance(placed.item, SaddleBlock):
            solid = located(shelf.solid(placed.item), placed.frame)
            flats = [face for face in solid.Faces() if face.geomType() == "PLANE"]
            way = 1.0 if placed.frame.w[1] > 0 else -1.0
            seat = max(flats, key=lambda face: way * face.Center().y)
            normals.append(degrees(acos(min(abs(seat.normalAt().y), 1.0))))

    assert len(normals) == 4 and max(normals) < 0.05


def test_saddles_and_bolts_of_a_plumb_post_are_all_alike() -> None:
    plumb, turned = leaning("saddle", (0.0, 0.0)), leaning("saddle", (0.0, 1.0))
    ids = [
        {p.id for p in made.leaves[0].made if isinstance(p, SaddleBlock)}
        for made in (plumb, turned)
    ]

    assert ids[0] == {"saddle"} and len(ids[1]) == 4


@pytest.mark.parametrize("lean", LEANS)
def test_wrap_sheet_shows_where_level_bolts_meet_the_leaning_skin(
    lean: tuple[float, float],
) -> None:
    """Put back on the skin of the post, every mark lies on the line of its bolt."""
    made = leaning("saddle", lean)
    (leaf,), hung = made.leaves, made.site.leaves[0]
    sheet = next(t for t in leaf.templates if t.id == "post-wrap")
    fixing = next(f for f in leaf.fixings if f.name == "post")
    radius, (cx, cy) = float(hung.post.width) / 2, hung.post_centre
    post = leaned(*lean, (cx, cy, hung.pin_height))
    mark = hung.pin_height + radius * tan(radians(lean[1]))  # of pin height on the leaning line
    bolts = {name: fixing.seat.point((h.u, h.v, 0.0)) for name, h in fixing.holes}

    def on_post(u: float, v: float) -> Vector:
        return post.point((cx - radius * sin(u / radius), cy + radius * cos(u / radius), mark + v))

    assert on_post(0.0, 0.0)[2] == pytest.approx(hung.pin_height, abs=0.01)
    assert len(sheet.holes) == 2 * len(bolts) and not sheet.through
    for hole in sheet.holes:
        x, y, z = on_post(hole.u, hole.v)
        bolt = bolts[hole.name.removesuffix("x")]
        assert (x, z) == pytest.approx((bolt[0], bolt[2]), abs=1e-6)
        assert (y < cy) == hole.name.endswith("x")


@pytest.mark.parametrize("lean", LEANS)
def test_welded_ears_stand_on_the_leaning_post_by_a_boolean(
    lean: tuple[float, float], shelf: Shelf
) -> None:
    """The kernel's post: nothing of an ear in it, and none of its root farther off than 1.6 mm."""
    made = leaning("weld", lean)
    (leaf,), hung = made.leaves, made.site.leaves[0]
    (cx, cy), radius = hung.post_centre, float(hung.post.width) / 2
    stands = leaned(*lean, (cx, cy, hung.pin_height))
    post, thicker = (
        located(cylinder((cx, cy, 0.0), (0.0, 0.0, 1.0), radius + more, 2000.0), stands)
        for more in (0.0, 1.6)
    )
    ears = [p for p in leaf.placed if isinstance(p.item, WeldEar)]

    assert {p.item.id for p in ears if isinstance(p.item, Part)} == {
        "post-ear-upper", "post-ear-lower"
    }  # fmt: skip
    for placed in ears:
        ear = located(shelf.solid(placed.item), placed.frame)
        assert ear.intersect(post).Volume() < 1e-3
        left = [f.Center().toTuple() for f in ear.cut(thicker).Faces() if f.Area() < 1.0]
        assert left == [] and ear.intersect(thicker).Volume() > 100.0


def test_clamps_refuse_a_lean_and_name_what_takes_it() -> None:
    with pytest.raises(NoHardware, match=r"0\.3 degrees.*saddle.*weld"):
        leaning("clamp", (0.0, 1.5))


def test_a_post_that_leaves_its_bolts_is_refused() -> None:
    site = survey("round_steel", "away", lean="{ toward_leaf = 4.5, toward_actuator = 0.0 }").site
    picks = replace(usual(SHOP), post_rows=3)
    with pytest.raises(NoHardware, match="beside its middle"):
        design_gate(site, SHOP, solve_gate(site, SHOP), [picks])


def test_long_saddles_come_in_pieces(shelf: Shelf) -> None:
    shop = SHOP.model_copy(update={"printer": Printer(bed=(120.0, 100.0, 200.0))})
    site = survey("round_steel", lean="{ toward_leaf = 0.0, toward_actuator = 1.0 }").site
    picks = replace(usual(shop), post_rows=3)
    made = design_gate(site, shop, solve_gate(site, shop), [picks])
    blocks = [p for p in made.leaves[0].made if isinstance(p, SaddleBlock)]

    assert fits(made) == [] and len(blocks) == 8
    assert all(sorted((b.width, b.length)) <= [100.0, 120.0] for b in blocks)
    assert fouled(made.leaves[0], shelf) == []


@pytest.mark.parametrize("fixing", ["saddle", "weld"])
def test_a_leaning_post_is_judged_like_a_plumb_one_each_check_once(fixing: str) -> None:
    """Parts that a lean makes unlike are neither judged twice nor passed over."""
    plumb, turned = (leaning(fixing, lean) for lean in ((0.0, 0.0), (0.8, -1.3)))
    before, after = ([c.id for c in reckoned(made)] for made in (plumb, turned))

    assert len(set(after)) == len(after)
    assert {name for name in before if name.startswith("strength")} <= set(after)
    assert not [name for name in after if "not judged" in name]


@pytest.mark.parametrize("lean", [(0.0, -2.4), (-2.4, 0.0), (-1.5, 2.0)])
def test_hinge_picture_shows_the_whole_post_however_it_leans(lean: tuple[float, float]) -> None:
    """Seen from above its foot stands tan 2.4 degrees of the pins' height beside its place."""
    made = leaning("weld", lean)
    (leaf,), hung = made.leaves, made.site.leaves[0]
    plan = Plan(leaf=leaf, parts=())
    drawn = hinge_picture(plan, hung, "mm").items
    rings = [each.diameter for each in drawn if isinstance(each, Circle)]
    posts = [mark for mark in plan.standing(("hanging post",)) if isinstance(mark, Circle)]

    assert posts and len(rings) == len(posts) + 1  # the hinge axis is one
    assert len({round(r / p.diameter, 6) for r, p in zip(rings, posts, strict=False)}) == 1
