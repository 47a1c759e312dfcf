"""Shop drawings: numbers against the part, lines against the solid, boxes against each other.

Read back with pdfplumber and ezdxf. The bend rule is the one of every handbook: the blank is the
sum of the outside legs less one deduction a bend (memory).
"""

import io
from dataclasses import replace

import pdfplumber
import pytest

from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.drawing import field_of, part_sheets
from hangpost.generators.writers.drawing_tables import bend_table, deduction, k_of, outside_leg
from hangpost.generators.writers.flat_view import flat_block
from hangpost.generators.writers.formed_views import Sights, formed_block
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, pdf
from hangpost.generators.writers.sheet_dxf import sheet_dxf
from hangpost.generators.writers.views import FRONT, RIGHT, TOP, looking, view
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.loop import rectangle

from .drawings import CASES, LOOK, WHOLE, gate, sheets, solid, strays, text_of


@pytest.mark.parametrize("case", WHOLE)
def test_nothing_on_a_drawing_meets_or_runs_off(case):
    design, shop, stamp, _ = gate(case)
    whole = [s for _, drawn in sheets(case) for s in drawn]
    whole += [assembly_sheet(leaf, LOOK, shop, stamp) for leaf in design.leaves]
    for sheet in whole:
        assert overlaps(sheet.items) == [], sheet.title
        assert strays(sheet, field_of(PAPERS[shop.drawings.paper[0]])) == [], sheet.title


@pytest.mark.parametrize("case", CASES)
def test_text_gives_every_hole_in_both_units(case):
    for drawn, whole in sheets(case):
        text = text_of(whole)
        flat = drawn.part.flat_pattern()
        if flat is None:
            continue
        for hole in flat.at_corner().holes:
            for value in (hole.u, hole.v):
                assert f"{value / 25.4 + 1e-9:.3f}" in text
                assert f"{value + 1e-7:.2f}".rstrip("0").rstrip(".") in text
            assert f"{hole.diameter + 1e-7:.2f}".rstrip("0").rstrip(".") in text


def test_title_block_answers_what_a_shop_asks():
    for drawn, whole in sheets("left, pull, mm"):
        text = " ".join(text_of(whole).split())
        part = drawn.part
        for words in (
            part.mark,
            f"{part.mass:.2f} kg",
            "first angle",
            "rev",
            "5c5c5c5c5c5c",
            "not for drilling",
        ):
            assert words in text
        if part.process == "cut":
            for words in (
                "ASTM A36",
                "galvanised",
                "ream or mask",
                "Break all edges",
                "No tapped holes",
            ):
                assert words in text
        if part.handed:
            assert part.mark.endswith("-LH") and "LH as drawn" in text


@pytest.mark.parametrize("case", CASES)
def test_views_are_as_large_as_the_part(case):
    _, _, _, made = gate(case)
    for drawn in made:
        (u0, v0, w0), (u1, v1, w1) = drawn.part.box
        assert view(solid(drawn.part), FRONT).box == pytest.approx((u0, v0, u1, v1), abs=0.01)
        assert view(solid(drawn.part), TOP).box == pytest.approx((u0, -w1, u1, -w0), abs=0.01)
        assert view(solid(drawn.part), RIGHT).box == pytest.approx((-w1, v0, -w0, v1), abs=0.01)


@pytest.mark.parametrize("scale", [1 / 4, 1 / 10, 1 / 20])
def test_names_of_crowded_holes_stand_clear_at_the_end_of_lines(scale):
    holes = tuple(
        Hole(f"H{k}", 150.0 + k % 3 * 30.0, 60.0 + k // 3 * 30.0, 11.0, "post") for k in range(9)
    )
    bend = Bend((20.0, 40.0), (60.0, 40.0), 90.0, 6.0, 13.0, True)
    flat = FlatPattern(
        thickness=6.0, outline=rectangle(0, 0, 400, 220, 6), holes=holes, bends=(bend,)
    )
    assert overlaps(flat_block(flat, scale, "in").items) == []


def test_round_things_are_seen_by_their_outline():
    import cadquery as cq

    ball = cq.Solid.makeSphere(20.0, cq.Vector(5, 6, 7), angleDegrees1=-90)
    for eye, at in ((FRONT, (5, 6)), (TOP, (5, -7)), (RIGHT, (-7, 6))):
        box = (at[0] - 20, at[1] - 20, at[0] + 20, at[1] + 20)
        assert view(ball, eye).box == pytest.approx(box, abs=0.05)


def test_pin_holes_are_seen_where_the_part_has_them():
    _, _, _, made = gate("right, pull, inches")
    bracket = next(d for d in made if d.part.kind == "post bracket angle")
    (bore,) = (b for b in bracket.part.bores if b.hole.use == "pin")
    seen = view(solid(bracket.part), TOP)
    boxes = [s.box for s in seen.visible if any(v.bulge for v in s.vertices)]
    x, y = bore.origin[0], -bore.origin[2]
    r = bore.hole.diameter / 2
    assert any(b == pytest.approx((x - r, y - r, x + r, y + r), abs=0.01) for b in boxes)


def test_third_angle_puts_the_view_from_above_above():
    _, _, _, made = gate("right, pull, inches")
    bracket = next(d for d in made if d.part.kind == "post bracket angle")
    sights = Sights.of(bracket.part, LOOK)
    third = formed_block(sights, 0.5, "mm", "third")
    first = formed_block(sights, 0.5, "mm", "first")

    # ISO 5456-2: third angle above and right of the front view, first angle below and left of it
    assert (
        third.box[3] > sights.front.box[3] * 0.5 + 40
        and third.box[2] > sights.front.box[2] * 0.5 + 40
    )
    assert (
        first.box[1] < sights.front.box[1] * 0.5 - 40
        and first.box[0] < sights.front.box[0] * 0.5 - 40
    )


@pytest.mark.parametrize("case", CASES)
def test_bend_table_agrees_with_the_folded_part(case):
    for drawn, _ in sheets(case):
        flat = drawn.part.flat_pattern()
        if flat is None or not flat.bends:
            continue
        depth = drawn.part.box[1][2] - drawn.part.box[0][2]
        taken = [deduction(b, flat.thickness) for b in flat.bends]
        legs = [outside_leg(flat, b) for b in flat.bends]
        for bend, leg in zip(flat.bends, legs, strict=True):
            assert leg == pytest.approx(depth, abs=0.01)  # as the solid stands
            neutral = bend.radius + k_of(bend, flat.thickness) * flat.thickness
            assert neutral * 3.14159265 * bend.angle / 180 == pytest.approx(bend.allowance)
        # the blank is the sum of the outside sizes less a deduction for each bend
        base = drawn.part.box[1][1] - drawn.part.box[0][1]
        assert sum(legs) + base - sum(taken) == pytest.approx(flat.width, abs=0.01)
        assert len(bend_table(flat.at_corner(), "mm").rows) == len(flat.bends)


def test_overall_dimensions_are_drawn_at_the_scale_the_sheet_names():
    drawn, (sheet, *_) = sheets("right, pull, inches")[0]
    flat = drawn.part.flat_pattern()
    data = pdf([sheet], title="t", subject="s", maker="m")
    with pdfplumber.open(io.BytesIO(data)) as read:
        page = read.pages[0]
        wide = [(o["x1"] - o["x0"]) * 25.4 / 72 for o in page.lines]
        high = [(o["bottom"] - o["top"]) * 25.4 / 72 for o in page.lines]
        text = page.extract_text()
    assert min(abs(length - flat.length * sheet.scale) for length in wide) < 0.05
    assert min(abs(length - flat.width * sheet.scale) for length in high) < 0.05
    assert f"1:{1 / sheet.scale:.4g}" in text


def test_assembly_sheet_gives_the_pivots_from_the_hinge_axis():
    design, shop, stamp, _ = gate("left, pull, mm")
    (leaf,) = design.leaves
    text = text_of([assembly_sheet(leaf, LOOK, shop, stamp)])
    mount = leaf.mount
    for value in (
        *(mount.setback, mount.standoff, *mount.leaf_pivot),
        *(mount.closed_length, mount.open_length, mount.stroke_used, leaf.problem.height),
    ):
        assert f"{value + 1e-7:.2f}".rstrip("0").rstrip(".") in text


def test_left_hand_drawing_is_the_mirror_image():
    right = next(d for d in gate("right, pull, inches")[3] if d.part.handed).part
    left = next(d for d in gate("left, pull, mm")[3] if d.part.handed).part
    a, b = right.flat_pattern().at_corner(), left.flat_pattern().at_corner()
    assert sorted((round(a.length - h.u, 6), round(h.v, 6)) for h in a.holes) == sorted(
        (round(h.u, 6), round(h.v, 6)) for h in b.holes
    )


def test_the_same_part_gives_the_same_sheet():
    _, shop, stamp, made = gate("right, pull, inches")
    look = looking(lambda p: p.solid())
    again = part_sheets(replace(made[0], look=look), shop, stamp)
    first = sheets("right, pull, inches")[0][1]
    one, two = (pdf(s, title="t", subject="s", maker="m") for s in (first, again))
    assert one == two
    assert sheet_dxf(first[0], "") == sheet_dxf(again[0], "")
