"""What a fabricator asks of drawings before he accepts a job, point by point: DRW-01 to DRW-08.

Each test states the point in words; the number of the point stands in its first line. They run
over every part of three gates: bent and flat, both hands, inches and millimetres. Read by pdfium.
"""

import re
from dataclasses import replace

import pytest

from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.dimension import Dimension
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.drawing_tables import (
    both_sizes,
    hole_table,
    inspection_table,
)
from hangpost.generators.writers.flat_view import flat_block
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.lists import cut_rows
from hangpost.generators.writers.shop_words import length_words
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.flat import FlatPattern, Hole
from hangpost.parts.loop import Loop, Vertex

from .shop_gates import drawn, every_gate, gate, words_of


@every_gate
def test_the_title_block_answers_everything(name):
    """DRW-01: part, revision, date, quantity, grade, thickness, finish, mass, units, scale, projection."""
    design = gate(name)[0]
    units = design.shop.drawings.units
    rows = {row.mark: row for row in cut_rows(design)}
    for part, quantity, sheets, words in drawn(name):
        assert rows[part.mark].quantity == quantity  # as the list has it
        inch, metric = f"{part.thickness / 25.4 + 1e-8:.3f}", f"{part.thickness + 1e-7:.2f}"
        for said in (
            *(part.mark, f"quantity {quantity} ", "revision", "date, drawn by", "C "),
            *(inch, metric.rstrip("0").rstrip("."), f"{part.mass:.2f} kg", "lb"),
            "numbers in inches [millimetres]" if units == "in" else "numbers in millimetres",
            "third angle" if units == "in" else "first angle",
            f"1:{1 / sheets[0].scale:.4g}" if sheets[0].scale < 1 else "1:1",
            f"1 of {len(sheets)}",
            "hangpost 0.1.0",
        ):
            assert said in words, (part.mark, said)
        if part.process == "cut":
            assert design.shop.steel.grade in words and design.shop.finish in words


@every_gate
def test_general_tolerances_and_edge_break_are_stated_in_both_units(name):
    """DRW-02: and the pivots are called out as critical."""
    for part, _, _, words in drawn(name):
        if part.process == "cut":
            for mm in (0.3, 0.2, 0.8):  # cut, hole, across a bend
                assert f"±{mm:g} mm" in words and f"±{mm / 25.4:.3f} in" in words, part.mark
            assert "bends ±0.5°" in words and "Break all edges" in words
        if any(h.use == "pin" for h in (b.hole for b in part.bores)):
            assert "pin, critical" in words


def same_size(a: Hole, b: Hole) -> bool:
    sizes = ((h.diameter, h.slot_length, h.slot_angle % 180) for h in (a, b))
    return next(sizes) == pytest.approx(next(sizes), abs=0.01)


@every_gate
def test_every_hole_is_placed_from_one_datum_with_its_size_in_both_units_and_its_count(name):
    """DRW-06: X, Y, size and use; counts as "4X", never TYP, and each once: not on every row."""
    for part, _, _, words in drawn(name):
        flat = part.flat_pattern()
        if flat is None:
            continue
        holes = flat.at_corner().holes
        assert ("X right and Y up from the datum" in words) == bool(holes)
        for hole in holes:
            alike = [h for h in holes if same_size(h, hole)]
            size = both_sizes(hole, gate(name)[0].shop.drawings.units)
            said = f"{len(alike)}X {size}: {', '.join(h.name for h in alike)}"
            assert words.count(said) == 1 and "TYP" not in words, (part.mark, hole.name)
            rows = hole_table(holes, gate(name)[0].shop.drawings.units).rows
            assert [row[3] for row in rows].count(size) == len(alike)
            for value in (hole.u, hole.v, hole.diameter, hole.slot_length + hole.diameter):
                assert f"{value / 25.4 + 1e-8:.3f}" in words, (part.mark, hole.name)
                assert f"{value + 1e-7:.2f}".rstrip("0").rstrip(".") in words


@every_gate
def test_the_bend_table_tells_way_both_angles_radius_deduction_line_and_leg(name):
    """DRW-04: in the order of bending, each line from a named edge."""
    for part, _, _, words in drawn(name):
        flat = part.flat_pattern()
        if flat is None or not flat.bends:
            continue
        for k, bend in enumerate(flat.at_corner().bends, 1):
            way = "UP" if bend.up else "DOWN"
            assert f"B{k} {way} {bend.angle:g}° / {180 - bend.angle:g}°" in words
            assert f"{bend.radius / 25.4 + 1e-8:.3f}" in words
            level = abs(bend.start[1] - bend.end[1]) < 1e-6
            at, edge = (bend.start[1], "lower edge") if level else (bend.start[0], "left edge")
            inch, metric = f"{(at + 1e-7) / 25.4:.3f}", f"{at + 1e-7:.2f}".rstrip("0").rstrip(".")
            pair = (inch, metric) if "numbers in inches" in words else (metric, inch)
            assert f"{pair[0]} [{pair[1]}] {edge}" in words, part.mark
        assert "marked face up" in words and re.search(r"K 0\.\d{3}", words)


@every_gate
def test_the_first_piece_card_has_at_most_five_sizes_with_limits_in_both_units(name):
    """DRW-08: and the caution stands on every sheet's notes."""
    design = gate(name)[0]
    for part, _, _, words in drawn(name):
        table = inspection_table(part, design.shop, design.shop.drawings.units)
        assert 1 <= len(table.rows) <= 5
        assert cautions("always")[0].text in words, part.mark
        for row in table.rows:
            assert all(" ".join(cell.split()) in words for cell in row[:3]), part.mark
            if "°" not in row[1]:
                low, high, other_low, other_high = map(float, re.findall(r"[\d.]+", row[2]))
                assert low < high and other_low < other_high
                assert max(high / other_high, other_high / high) == pytest.approx(25.4, rel=0.01)


@every_gate
def test_every_step_of_the_outline_has_its_own_ordinate(name):
    """DRW-08: each straight edge stands from the datum; the far ones are the overall sizes, once."""
    units = gate(name)[0].shop.drawings.units
    for part, _, sheets, words in drawn(name):
        flat = part.flat_pattern()
        if flat is None:
            continue
        blank = flat_block(flat.at_corner(), 0.25, units)
        level = {i.text for i in blank.items if isinstance(i, Text)}
        overall = {i.text for s in sheets for i in s.items if isinstance(i, Dimension)}
        for size in (flat.length, flat.width):
            assert length_words(size, units) in overall - level, part.mark
        for edge in (e for e in flat.at_corner().outline.edges if not e.bulge and e.chord > 2.0):
            (ax, ay), (bx, by) = edge.start, edge.end
            for a, b in ((ax, bx), (ay, by)):
                if abs(a - b) < 1e-6:
                    near = {f"{(a + d) / 25.4:.3f}" for d in (-0.05, 0.0, 1e-7, 0.05)}
                    assert any(said in words for said in near), (part.mark, a)


def test_a_slant_that_no_arc_ends_is_laid_out_from_its_corners():
    """DRW-08: an arm that slopes away from the seat's edge starts somewhere; the sheet says where."""
    corners = ((0.0, 90.0), (130.0, 61.0), (130.0, 210.0), (0.0, 210.0))
    flat = FlatPattern(
        thickness=8.0, outline=Loop(tuple(Vertex(x, y) for x, y in corners)), holes=()
    )
    said = {i.text for i in flat_block(flat.at_corner(), 0.25, "mm").items if isinstance(i, Text)}

    assert length_words(90.0 - 61.0, "mm") in said


@pytest.mark.parametrize("mirrored", [0, 3])
def test_the_other_hand_is_named_and_where_its_sheet_is(mirrored):
    """DRW-05: both hands stand on the sheet of either; the flat is seen on its marked face."""
    design, text, shelf = gate("timber, lock, inches")
    stamp = Stamp(job="j", site_sha256="7e" * 32, version="0.1.0", record=text)
    part = next(p for p, _ in design.parts if p.handed and p.process == "cut")
    for each, this, other in ((part, "RH", "LH"), (part.mirrored(), "LH", "RH")):
        made = Drawn(part=each, quantity=2, look=shelf.look, mirrored=mirrored)
        words = words_of(part_sheets(made, design.shop, stamp))
        where = f"{mirrored}, own sheet" if mirrored else "none here"
        assert f"{this} as drawn; {other} mirrored: {where}" in words
        assert "flat pattern, seen on the marked face" in words
    for part, _, _, words in drawn("timber, lock, inches"):
        assert ("one for both hands" in words) == (not part.handed)


def test_a_tight_radius_is_bent_across_the_grain():
    """DRW-05: a note where the inside radius is under one thickness, and none where it is not."""
    design = gate("timber, lock, inches")[0]
    part = next(p for p, _ in design.parts if p.flat_pattern() and p.flat_pattern().bends)
    tight = replace(part, bend_radius=0.8 * part.thickness)

    assert not any("across the grain" in said for said in notes(part, design.shop))
    assert any("across the grain" in said for said in notes(tight, design.shop))


@pytest.mark.parametrize(
    ("finish", "words"),
    [
        ("galvanised", ("for the zinc", "ream or mask", "Vent")),
        ("painted", ("mask pin holes",)),
        ("stainless", ("passivate",)),
        ("plain", ("bare steel rusts",)),
    ],
)
def test_notes_follow_the_finish(finish, words):
    """DRW-03: holes after zinc, pins reamed or masked, vents, spatter; paint: masked."""
    design = gate("timber, lock, inches")[0]
    part = next(p for p, _ in design.parts if p.kind == "post bracket angle")
    said = " ".join(notes(part, design.shop.model_copy(update={"finish": finish})))
    assert all(word in said for word in (*words, "Remove spatter", "Break all edges"))
    assert ("for the zinc" in said) == (finish == "galvanised")


def test_a_length_reads_the_same_in_the_views_and_in_the_tables():
    """DRW-07: 1 5/16 in by half a thousandth; a projected view gives it to a micrometre or so."""
    for told in (33.3375, 33.3375 - 3e-6, 33.3375 + 3e-6):
        assert length_words(told, "in") == "1.313 [33.34]"
        assert length_words(told, "mm") == "33.34 [1.313]"
