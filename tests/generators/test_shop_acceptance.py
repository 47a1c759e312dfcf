"""What a fabricator asks of cut files and drawings before he accepts a job, point by point.

Each test states the point in words. They run over every part of three gates: bent and flat, both
hands, inches and millimetres. Read by ezdxf, GDAL (pyogrio) and pdfium.
"""

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pypdfium2
import pytest
from ezdxf import edgeminer, edgesmith

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.starter import starter
from hangpost.generators.survey.stock import Prices
from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.drawing_tables import inspection_table, size_words
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.ink import Circle, Text
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.lists import cut_rows
from hangpost.generators.writers.paper import pdf
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.wedge import WedgeShim

HERE = Path(__file__)
GATES = {
    "timber, lock, inches": (HERE.parents[2] / "cli" / "demo.toml", "in", "letter"),
    "round post welded, mm": ("round_steel", "mm", "a4"),
    "leaning timber, mm": ("timber", "mm", "a3"),
}


def text_of_site(source) -> str:
    if isinstance(source, Path):
        return source.read_text(encoding="utf-8")
    if source == "timber":
        upright = "lean = { toward_leaf = 0.0, toward_actuator = 0.0 }"
        leaning = "lean = { toward_leaf = 0.4, toward_actuator = 1.1 }"
        return starter(post="timber").replace(upright, leaning)
    return starter(post=source).replace('#fixing = "saddle"', 'fixing = "weld"')


@cache
def gate(name):
    source, units, paper = GATES[name]
    text = text_of_site(source)
    site, shop = site_from_bytes(text.encode()), read_shop(None)
    drawings = shop.drawings.model_copy(update={"units": units, "paper": (paper,)})
    shop = shop.model_copy(update={"drawings": drawings})
    solved = solve_gate(site, shop)
    return design_gate(site, shop, solved, [usual(shop)] * len(solved)), text, Shelf()


def flats(name):
    return [(p, p.flat_pattern()) for p, _ in gate(name)[0].parts if p.flat_pattern() is not None]


@cache
def drawn(name):
    """Every part with its sheets and the words on them."""
    design, text, shelf = gate(name)
    stamp = Stamp(
        job=design.site.job,
        site_sha256="7e" * 32,
        version="0.1.0",
        record=text,
        revision="C",
        units=design.shop.drawings.units,
    )
    found = []
    for part, quantity in design.parts:
        made = Drawn(part=part, quantity=quantity, look=shelf.look)
        sheets = part_sheets(made, design.shop, stamp)
        read = pypdfium2.PdfDocument(pdf(sheets, title="t", subject="s", maker="m"))
        words = " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in read)
        found.append((part, quantity, sheets, words))
    return found


every_gate = pytest.mark.parametrize("name", GATES)


@every_gate
@pytest.mark.parametrize("profile", ["cut", "full", "r12"])
def test_cut_lines_are_single_closed_loops_of_lines_and_arcs_at_height_nought(name, profile):
    """No open chain, nothing twice, no spline, ellipse, block or lettering; one outer loop."""
    for part, flat in flats(name):
        document = ezdxf.read(io.StringIO(flat_dxf(flat, profile).decode()))
        space = document.modelspace()
        cut = list(space.query('*[layer=="CUT"]'))
        assert not space.query("TEXT MTEXT DIMENSION SPLINE ELLIPSE INSERT HATCH POINT"), part.mark
        assert {e.dxftype() for e in cut} <= {"LWPOLYLINE", "POLYLINE", "CIRCLE"}
        assert len(cut) == 1 + len(flat.windows) + len(flat.holes)
        edges = []
        for entity in cut:
            if entity.dxftype() == "CIRCLE":
                assert entity.dxf.center.z == 0 and entity.dxf.extrusion == (0, 0, 1)
                continue
            assert entity.is_closed and entity.dxf.extrusion == (0, 0, 1)
            edges += list(entity.virtual_entities())
        lines = list(edgesmith.edges_from_entities_2d(edges))
        deposit = edgeminer.Deposit(lines, gap_tol=0.001)
        assert not list(deposit.find_leafs()), part.mark  # an end that joins nothing
        seen = {tuple(sorted((tuple(e.start.round(2)), tuple(e.end.round(2))))) for e in lines}
        arcs = sum(e.dxftype() == "ARC" for e in edges)
        assert len(seen) + arcs >= len(lines)  # a chord and its arc may share both ends


@every_gate
def test_round_holes_are_circles_of_their_nominal_size_in_the_positive_quadrant(name):
    """No kerf is taken off; the diameter in the file is that of the hole table."""
    for part, flat in flats(name):
        document = ezdxf.read(io.StringIO(flat_dxf(flat).decode()))
        rings = sorted(round(2 * c.dxf.radius, 4) for c in document.modelspace().query("CIRCLE"))
        assert rings == sorted(round(h.diameter, 4) for h in flat.holes if not h.slot_length)
        low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
        assert low[:2] == pytest.approx((0, 0), abs=1e-6), part.mark
        assert high[:2] == pytest.approx((flat.length, flat.width), abs=0.01)


@every_gate
def test_bend_lines_end_on_the_outline_and_are_as_many_as_the_table_has(name):
    """By layer for up and down; the plain cut file has none."""
    for part, flat in flats(name):
        corner = flat.at_corner()
        full = ezdxf.read(io.StringIO(flat_dxf(flat, "full").decode())).modelspace()
        lines = full.query('LINE[layer ? "BEND_.*"]')
        assert len(lines) == len(flat.bends), part.mark
        for line in lines:
            for end in (line.dxf.start, line.dxf.end):
                assert min(e.distance(end.x, end.y) for e in corner.outline.edges) <= 0.01
        plain = ezdxf.read(io.StringIO(flat_dxf(flat).decode())).modelspace()
        assert not plain.query("LINE")


@every_gate
def test_another_reader_counts_the_same_entities_and_the_oldest_format_keeps_true_arcs(
    name, tmp_path
):
    for part, flat in flats(name):
        for profile in ("cut", "full", "r12"):
            path = tmp_path / f"{part.mark}-{profile}_mm.dxf"
            path.write_bytes(flat_dxf(flat, profile))
            count = len(ezdxf.readfile(path).modelspace())
            assert len(pyogrio.raw.read(path)[2]) == count
        old = ezdxf.readfile(tmp_path / f"{part.mark}-r12_mm.dxf")
        bulges = [v.dxf.bulge for p in old.modelspace().query("POLYLINE") for v in p.vertices]
        arcs = sum(bool(e.bulge) for e in flat.outline.edges)
        assert sum(abs(b) > 0 for b in bulges) >= arcs


@every_gate
def test_the_title_block_answers_everything(name):
    """Part, revision, date, quantity, grade, thickness, finish, mass, units, scale, projection."""
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
    for part, _, _, words in drawn(name):
        if part.process == "cut":
            for mm in (0.3, 0.2, 0.8):  # cut, hole, across a bend
                assert f"±{mm:g} mm" in words and f"±{mm / 25.4:.3f} in" in words, part.mark
            assert "bends ±0.5°" in words and "Break all edges" in words
        if any(h.use == "pin" for h in (b.hole for b in part.bores)):
            assert "pin, critical" in words


@every_gate
def test_every_hole_is_placed_from_one_datum_with_its_size_in_both_units_and_its_count(name):
    for part, _, _, words in drawn(name):
        flat = part.flat_pattern()
        if flat is None:
            continue
        holes = flat.at_corner().holes
        assert ("X right and Y up from the datum" in words) == bool(holes)
        for hole in holes:
            count = sum(size_words(h) == size_words(hole) for h in holes)
            assert f"{count}X" in words and "TYP" not in words
            for value in (hole.u, hole.v, hole.diameter, hole.slot_length + hole.diameter):
                assert f"{value / 25.4 + 1e-8:.3f}" in words, (part.mark, hole.name)
                assert f"{value + 1e-7:.2f}".rstrip("0").rstrip(".") in words


@every_gate
def test_the_bend_table_tells_way_both_angles_radius_deduction_line_and_leg(name):
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
    design = gate(name)[0]
    for part, _, _, words in drawn(name):
        table = inspection_table(part, design.shop, design.shop.drawings.units)
        assert 1 <= len(table.rows) <= 5
        for row in table.rows:
            assert all(" ".join(cell.split()) in words for cell in row[:3]), part.mark
            if "°" not in row[1]:
                low, high, other_low, other_high = map(float, re.findall(r"[\d.]+", row[2]))
                assert low < high and other_low < other_high
                assert max(high / other_high, other_high / high) == pytest.approx(25.4, rel=0.01)


@every_gate
def test_every_step_of_the_outline_has_its_own_ordinate(name):
    """Whoever lays the flat out by hand finds each straight edge from the datum."""
    for part, _, _, words in drawn(name):
        flat = part.flat_pattern()
        if flat is None:
            continue
        for edge in (e for e in flat.at_corner().outline.edges if not e.bulge and e.chord > 2.0):
            (ax, ay), (bx, by) = edge.start, edge.end
            for a, b in ((ax, bx), (ay, by)):
                if abs(a - b) < 1e-6:
                    near = {f"{(a + d) / 25.4:.3f}" for d in (-0.05, 0.0, 1e-7, 0.05)}
                    assert any(said in words for said in near), (part.mark, a)


@every_gate
def test_a_block_shows_its_datum_and_the_names_of_its_holes(name):
    blocks = [(p, sheets) for p, _, sheets, _ in drawn(name) if p.process == "print"]
    for part, (sheet, *_) in blocks:
        words = [i.text for i in sheet.items if isinstance(i, Text)]
        assert words.count("datum") == 1
        seen = [b.hole.name for b in part.bores if abs(b.axis[2]) > 0.999]
        assert all(words.count(hole) >= 2 for hole in seen), part.mark  # view and table
        dot = next(i for i in sheet.items if isinstance(i, Circle) and i.filled)
        label = next(i for i in sheet.items if isinstance(i, Text) and i.text == "datum")
        assert np.hypot(dot.centre[0] - label.at[0], dot.centre[1] - label.at[1]) < 10.0


def test_a_wedge_tells_its_taper_and_both_ends():
    found = [(p, w) for p, _, _, w in drawn("leaning timber, mm") if isinstance(p, WedgeShim)]
    assert found
    for part, words in found:
        thin, thick = part.ends
        assert abs(part.tilt_v) == pytest.approx(1.1, abs=0.05)
        assert f"{round(abs(part.tilt_v), 2):g}° up and down" in words
        assert f"{thin / 25.4:.3f}" in words and f"{thick / 25.4:.3f}" in words
        assert "a vee marks each thick side" in words


def test_a_welded_ear_tells_its_seam_and_keeps_the_zinc_off_it():
    found = [(p, w) for p, _, _, w in drawn("round post welded, mm") if p.kind == "ear to weld"]
    assert found
    for part, words in found:
        assert "fillet along the whole back edge" in words and f"{part.weld_leg:.1f} mm" in words
        assert "no zinc within 25 mm of the seam" in words


def test_sheets_of_a_gate_are_counted_and_lists_have_a_price_column_only_with_prices():
    design, text, shelf = gate("timber, lock, inches")
    stamp = Stamp(job="j", site_sha256="7e" * 32, version="0.1.0", record=text)
    sheet = assembly_sheet(design.leaves[0], shelf.look, design.shop, stamp, "2 of 3")
    assert "2 of 3" in [i.text for i in sheet.items if isinstance(i, Text)]

    for prices in (None, Prices(currency="EUR", steel=2.5, fastener=1.0)):
        priced = replace(design, shop=design.shop.model_copy(update={"prices": prices}))
        heads = [i.text for s in list_sheets(priced, stamp) for i in s.items if isinstance(i, Text)]
        assert heads.count("price") == (2 if prices else 0)


def test_notes_follow_the_finish():
    """Zinc: holes after zinc, pins reamed or masked, vents. Paint: masked. None: says so."""
    from hangpost.generators.writers.drawing_notes import notes

    design = gate("timber, lock, inches")[0]
    part = next(p for p, _ in design.parts if p.kind == "post bracket angle")
    for finish, words in {
        "galvanised": ("for the zinc", "ream or mask", "Vent"),
        "painted": ("mask pin holes",),
        "stainless": ("passivate",),
        "plain": ("bare steel rusts",),
    }.items():
        said = " ".join(notes(part, design.shop.model_copy(update={"finish": finish})))
        assert all(word in said for word in words)
        assert ("for the zinc" in said) == (finish == "galvanised")
