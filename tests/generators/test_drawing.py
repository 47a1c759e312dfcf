"""Shop drawings: numbers against the part, lines against the solid, boxes against each other.

Read back with pdfplumber and ezdxf. The bend rule is the one of every handbook: the blank is the
sum of the outside legs less one deduction a bend (memory).
"""

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import numpy as np
import pdfplumber
import pytest
import zxingcpp

from hangpost.generators import files
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.drawing import Drawn, field_of, part_sheets
from hangpost.generators.writers.drawing_tables import bend_table, deduction, k_of, outside_leg
from hangpost.generators.writers.flat_view import flat_block
from hangpost.generators.writers.formed_views import Sights, formed_block
from hangpost.generators.writers.ink import Modules, Text
from hangpost.generators.writers.layout import overlaps, strays
from hangpost.generators.writers.paper import PAPERS, pdf
from hangpost.generators.writers.sheet_dxf import sheet_dxf
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.views import FRONT, RIGHT, TOP, looking, view
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.loop import rectangle

GATE = Path(__file__).with_name("gate.toml").read_text(encoding="utf-8")
EXAMPLE = (Path(__file__).parents[2] / "cli" / "demo.toml").read_text(encoding="utf-8")
CASES = {
    "right, pull, inches": (GATE, "in", "letter"),
    "left, pull, mm": (GATE.replace('hand = "right"', 'hand = "left"'), "mm", "a4"),
    "right, push, mm on a3": (GATE.replace('toward = "actuator"', 'toward = "away"'), "mm", "a3"),
}
PUSH_IN_INCHES = {"push, inches": (CASES["right, push, mm on a3"][0], "in", "letter")}
WHOLE = {**CASES, **PUSH_IN_INCHES, "shipped example": (EXAMPLE, "in", "letter")}


@cache
def solid(part):
    """Each solid built once."""
    return part.solid()


LOOK = looking(solid)


@cache
def gate(case: str):
    """The design, the shop, the stamp and every part as it is drawn."""
    text, units, paper = WHOLE[case]
    site = site_from_bytes(text.encode())
    shop = read_shop(None)
    drawings = shop.drawings.model_copy(update={"units": units, "paper": (paper,)})
    shop = shop.model_copy(update={"drawings": drawings})
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    stamp = Stamp(
        job=site.job, site_sha256="5c" * 32, version="0.1.0", record=text, units=units, revision="B"
    )
    made = tuple(Drawn(part=p, quantity=n, look=LOOK) for p, n in design.parts)
    return design, shop, stamp, made


@cache
def sheets(case: str):
    """Every part's sheets."""
    _, shop, stamp, made = gate(case)
    return tuple((drawn, part_sheets(drawn, shop, stamp)) for drawn in made)


def text_of(drawn_sheets) -> str:
    data = pdf(drawn_sheets, title="t", subject="s", maker="m")
    with pdfplumber.open(io.BytesIO(data)) as read:
        return "\n".join(page.extract_text() for page in read.pages)


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
        text = text_of(whole)
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
            assert part.mark.endswith("-LH") and "left (LH)" in text


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


@pytest.mark.parametrize("case", CASES)
def test_dxf_drawing_is_sound_and_its_dimensions_measure_what_they_say(case):
    units = CASES[case][1]
    for drawn, whole in sheets(case):
        flat = drawn.part.flat_pattern()
        least = 2 if flat is not None and not flat.bends else 3  # length and width; depth
        for sheet in whole:
            document = ezdxf.read(io.StringIO(sheet_dxf(sheet).decode()))
            audit = document.audit()
            assert not audit.errors and not audit.fixes
            assert document.header["$INSUNITS"] == 4
            found = document.modelspace().query("DIMENSION")
            assert len(found) >= least
            for dimension in found:
                inch, metric = re.findall(r"[\d.]+", dimension.dxf.text)[
                    :: 1 if units == "in" else -1
                ]
                measured = dimension.get_measurement()
                assert measured == pytest.approx(float(metric), abs=0.006)
                assert measured / 25.4 == pytest.approx(float(inch), abs=0.0006)


def test_dxf_drawing_carries_the_symbol_that_the_pdf_carries():
    """The hatch is painted as squares and read by a decoder that knows nothing of us."""
    case = "right, pull, inches"
    sheet = sheets(case)[0][1][0]
    document = ezdxf.read(io.StringIO(sheet_dxf(sheet).decode()))
    (hatch,) = document.modelspace().query("HATCH")
    assert hatch.dxf.solid_fill == 1 and hatch.dxf.layer == "QR"
    boxes = [np.array([v[:2] for v in path.vertices]) for path in hatch.paths]
    low = np.min([b.min(axis=0) for b in boxes], axis=0)
    high = np.max([b.max(axis=0) for b in boxes], axis=0)
    (symbol,) = (i for i in sheet.items if isinstance(i, Modules))
    count, square = len(symbol.rows), symbol.size / sheet.scale
    assert high - low == pytest.approx([count * square] * 2, abs=0.01)  # at the drawing's size

    dots = np.full(((count + 8) * 4,) * 2, 255, dtype=np.uint8)
    for box in boxes:
        x0, y0 = np.rint((box.min(axis=0) - low) / square).astype(int)
        x1, y1 = np.rint((box.max(axis=0) - low) / square).astype(int)
        part = dots[(count + 4 - y1) * 4 : (count + 4 - y0) * 4, (x0 + 4) * 4 : (x1 + 4) * 4]
        assert (part == 255).all()  # no square is filled twice
        part[:] = 0
    assert zxingcpp.read_barcode(dots).text == gate(case)[2].plain_record


def test_a_drawing_of_two_sheets_has_a_dxf_for_each_and_the_gate_has_one_for_each_leaf(monkeypatch):
    """What would stand on a second sheet is stood there by hand: a table of holes."""
    design, _, stamp, _ = gate("right, pull, inches")

    def two(drawn, shop, stamp):
        (first,) = part_sheets(drawn, shop, stamp)
        return (first, replace(first, items=(Text((30.0, 30.0), "the second sheet"),)))

    monkeypatch.setattr(files, "part_sheets", two)
    written = files.Written()
    files._drawings(design, Shelf(), stamp, lambda *_: None, written)

    assert "fabricate/assembly-drawing_mm.dxf" in written.files
    for part, _ in design.parts:
        own = written.parts[part.mark]
        said = [
            {t.dxf.text for t in ezdxf.read(io.StringIO(data.decode())).modelspace().query("TEXT")}
            for data in (written.files[own[kind]] for kind in ("drawing_dxf", "drawing_dxf_2"))
        ]
        assert part.mark in said[0] and said[1] == {"the second sheet"}


def test_dxf_drawing_shows_the_flat_at_true_size():
    for drawn, whole in sheets("right, pull, inches"):
        flat = drawn.part.flat_pattern()
        if flat is None:
            continue
        document = ezdxf.read(io.StringIO(sheet_dxf(whole[0]).decode()))
        circles = [c.dxf.radius * 2 for c in document.modelspace().query("CIRCLE")]
        for hole in (h for h in flat.holes if not h.slot_length):
            assert any(abs(d - hole.diameter) < 1e-4 for d in circles)


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
    assert sheet_dxf(first[0]) == sheet_dxf(again[0])
