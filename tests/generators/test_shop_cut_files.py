"""What a fabricator asks of cut files before he accepts a job, point by point: DXF-01 to DXF-15.

Each test states the point in words; the number of the point stands in its first line. They run
over every part of three gates: bent and flat, both hands, inches and millimetres. Read by ezdxf
and GDAL (pyogrio); shapes by shapely. The thresholds are those of fabricators' guides (common
practice, no source): two thicknesses from a hole to a bend, four for a flange, and so on.
"""

import csv
import io
import re
from itertools import combinations

import ezdxf
import pyogrio
import pytest
from ezdxf import bbox, edgeminer, edgesmith
from shapely import LineString, Point, Polygon

from hangpost.generators.writers.cut_name import cut_name
from hangpost.generators.writers.cut_note import cut_note
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.lists import cut_csv

from .shop_gates import PROFILES, document, every_gate, every_profile, flats, gate


def xy(point):
    return (point.x, point.y)


def edges_on_cut(space):
    """Every line and arc that a cutter follows."""
    found = []
    for entity in space.query('*[layer=="CUT"]'):
        pieces = [entity] if entity.dxftype() == "CIRCLE" else list(entity.virtual_entities())
        found += pieces
    return found


@every_gate
@every_profile
def test_dxf_says_millimetres_inside_and_where_it_cannot_in_its_name_and_beside(name, profile):
    """DXF-01: header, measuring system and block records agree; R12 by name and by the note."""
    design = gate(name)[0]
    said = cut_note(design.parts, design.shop, "job").decode()
    for part, count in design.parts:
        flat = part.flat_pattern()
        if flat is None:
            continue
        file = document(flat, profile)
        if profile == "r12":
            assert file.dxfversion == "AC1009" and "$INSUNITS" not in file.header
        else:
            assert (file.header["$INSUNITS"], file.header["$MEASUREMENT"]) == (4, 1)
            assert file.modelspace().block_record.dxf.units == 4
        assert f"{cut_name(part, count, design.shop)}_mm.dxf" in said
    assert "Every DXF is in millimetres, also the one for old machines (-r12)" in " ".join(
        said.split()
    )


@every_gate
def test_cut_lines_are_as_large_as_the_flat(name):
    """DXF-02: extents of layer CUT are the flat's length and width, and the header says so."""
    for part, flat in flats(name):
        for profile in PROFILES:
            file = document(flat, profile)
            found = bbox.extents(file.modelspace().query('*[layer=="CUT"]'), fast=False)
            assert xy(found.extmin) == pytest.approx((0, 0), abs=0.01), part.mark
            assert xy(found.extmax) == pytest.approx((flat.length, flat.width), abs=0.01)
            assert file.header["$EXTMIN"][:2] == pytest.approx((0, 0), abs=1e-6)
            assert file.header["$EXTMAX"][:2] == pytest.approx(xy(found.extmax), abs=0.01)


@every_gate
def test_names_of_cut_files_hold_mark_hand_revision_thickness_grade_and_the_list_s_quantity(name):
    """DXF-03: and the cut list has the same file, quantity and thickness."""
    design = gate(name)[0]
    shop = design.shop.model_copy(update={"revision": "C/2"})
    rows = {r["mark"]: r for r in csv.DictReader(io.StringIO(cut_csv(design).decode()))}
    for part, count in design.parts:
        if part.flat_pattern() is None:
            continue
        file = rows[part.mark]["file"]
        found = re.fullmatch(
            r"fabricate/(.+?)(-RH|-LH)?-revA-([\d.]+)mm-ASTM-A36-(\d+)off_mm\.dxf", file
        )
        assert found, file
        assert found[1] + (found[2] or "") == part.mark and bool(found[2]) == part.handed
        assert float(found[3]) == pytest.approx(float(rows[part.mark]["thickness_mm"]))
        assert float(found[3]) == pytest.approx(part.thickness, abs=0.006)
        assert int(found[4]) == count == int(rows[part.mark]["quantity"])
        assert "-revC-2-" in cut_name(part, count, shop)


@every_gate
@every_profile
def test_an_audit_finds_nothing_and_mends_nothing(name, profile):
    """DXF-04."""
    for part, flat in flats(name):
        audit = document(flat, profile).audit()
        assert (audit.errors, audit.fixes) == ([], []), part.mark


@every_gate
@every_profile
def test_cut_lines_are_single_closed_loops_of_lines_and_arcs_at_height_nought(name, profile):
    """DXF-05, DXF-07, DXF-08: no open chain, no spline, ellipse, block or lettering."""
    for part, flat in flats(name):
        space = document(flat, profile).modelspace()
        cut = list(space.query('*[layer=="CUT"]'))
        assert not space.query("TEXT MTEXT DIMENSION SPLINE ELLIPSE INSERT HATCH POINT"), part.mark
        assert {e.dxftype() for e in cut} <= {"LWPOLYLINE", "POLYLINE", "CIRCLE"}
        assert len(cut) == 1 + len(flat.windows) + len(flat.holes)
        edges = []
        for entity in cut:
            assert entity.dxf.extrusion == (0, 0, 1)
            if entity.dxftype() == "CIRCLE":
                assert entity.dxf.center.z == 0
                continue
            assert entity.is_closed
            edges += list(entity.virtual_entities())
        lines = list(edgesmith.edges_from_entities_2d(edges))
        assert all(p.z == 0 for e in lines for p in (e.start, e.end))
        deposit = edgeminer.Deposit(lines, gap_tol=0.001)
        assert not list(deposit.find_leafs()), part.mark  # an end that joins nothing


def repeated(edges):
    """Pairs that a cutter would follow twice, wholly or in part, and lines of no length."""
    found, straight, round_ = [], [], []
    for e in edges:
        if e.dxftype() == "LINE":
            straight.append(LineString([xy(e.dxf.start), xy(e.dxf.end)]))
        else:
            ends = sorted([xy(e.start_point), xy(e.end_point)]) if e.dxftype() == "ARC" else []
            where = [*xy(e.dxf.center), e.dxf.radius, *(c for p in ends for c in p)]
            round_.append(tuple(round(c, 2) for c in where))
    found += [line for line in straight if line.length <= 0.01]
    found += [(a, b) for a, b in combinations(round_, 2) if a == b]
    for a, b in combinations(straight, 2):
        if a.distance(b) <= 0.01 and a.buffer(0.01).intersection(b).length > 0.05:
            found.append((a, b))
    return found


@every_gate
def test_nothing_is_cut_twice(name):
    """DXF-06: no line or arc twice, in whole or in part, either way round; none of no length."""
    for part, flat in flats(name):
        edges = edges_on_cut(document(flat).modelspace())
        assert repeated(edges) == [], part.mark
        assert repeated([*edges, edges[-1]])  # the question can be answered with no


@every_gate
def test_round_holes_are_circles_inside_one_outline_in_the_positive_quadrant(name):
    """DXF-09, DXF-13: of the hole table's diameter, no kerf taken off; none crosses another."""
    for part, flat in flats(name):
        space = document(flat).modelspace()
        rings = sorted(round(2 * c.dxf.radius, 4) for c in space.query("CIRCLE"))
        assert rings == sorted(round(h.diameter, 4) for h in flat.holes if not h.slot_length)
        shapes = [Point(xy(c.dxf.center)).buffer(c.dxf.radius) for c in space.query("CIRCLE")]
        for loop in space.query("LWPOLYLINE"):
            points = [
                p for e in loop.virtual_entities() for p in ezdxf.path.make_path(e).flattening(0.01)
            ]
            shapes.append(Polygon([xy(p) for p in points]))
        outer = max(shapes, key=lambda s: s.area)
        inner = [s for s in shapes if s is not outer]
        assert all(outer.buffer(0.02).contains(s) for s in inner), part.mark
        assert all(a.disjoint(b) for a, b in combinations(inner, 2)), part.mark
        assert min(outer.bounds) >= -0.01
        shop = gate(name)[0].shop
        assert "no kerf" in " ".join(notes(part, shop))


@every_gate
def test_bend_lines_end_on_the_outline_and_are_as_many_as_the_table_has(name):
    """DXF-10: by layer, colour and linetype for up and down; the plain cut file has none."""
    for part, flat in flats(name):
        corner = flat.at_corner()
        file = document(flat, "full")
        lines = file.modelspace().query('LINE[layer ? "BEND_.*"]')
        assert len(lines) == len(flat.bends), part.mark
        for line in lines:
            for end in (line.dxf.start, line.dxf.end):
                assert min(e.distance(end.x, end.y) for e in corner.outline.edges) <= 0.01
        up, down, cut = (file.layers.get(n).dxf for n in ("BEND_UP", "BEND_DOWN", "CUT"))
        assert len({up.color, down.color, cut.color}) == 3
        assert len({up.linetype, down.linetype, cut.linetype}) == 3
        assert not document(flat).modelspace().query("LINE")


@every_gate
def test_another_reader_counts_the_same_entities_and_the_oldest_format_keeps_true_arcs(
    name, tmp_path
):
    """DXF-15."""
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
