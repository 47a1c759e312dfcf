"""Etched marks on flats: on the plate, off everything, and nothing else changes for them.

Places are held against shapely; the files are read by GDAL and by ezdxf. Etching at all, and the
least height, are the shop's own choice (house).
"""

import csv
import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import pyogrio
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Polygon

from hangpost.generators import files
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.verify.cut_files import cut_faults
from hangpost.generators.verify.listed import ListedPart
from hangpost.generators.writers.cut_name import cut_name
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.etching import CLEAR, HEIGHTS, etching
from hangpost.generators.writers.flat_view import flat_block
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.lettering import etched
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.lists import cut_csv
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.loop import rectangle

GATE = Path(__file__).with_name("gate.toml").read_text(encoding="utf-8")
EXAMPLES = Path(__file__).parents[2] / "outputs_example"
SITES = {
    "left": GATE.replace('hand = "right"', 'hand = "left"'),
    "push": GATE.replace('toward = "actuator"', 'toward = "away"'),
    "round post": (EXAMPLES / "mill-yard" / "site.toml").read_text(encoding="utf-8"),
    "two leaves": (EXAMPLES / "station-drive" / "site.toml").read_text(encoding="utf-8"),
}


@cache
def design(name: str):
    site = site_from_bytes(SITES[name].encode())
    shop = read_shop(None)
    drawings = shop.drawings.model_copy(update={"etch": True})
    shop = shop.model_copy(update={"drawings": drawings})
    solved = solve_gate(site, shop)
    return design_gate(site, shop, solved, [usual(shop)] * len(solved))


def strokes_of(flat: FlatPattern, mark: str) -> MultiLineString:
    found = etching(flat, mark)
    assert found is not None
    return MultiLineString([list(stroke) for stroke in found.strokes])


def holds_clear(flat: FlatPattern, drawn: MultiLineString) -> None:
    """The strokes are on the plate and off its edges, openings, washers and bends."""
    assert Polygon(flat.outline.points(0.01)).buffer(-CLEAR).contains(drawn)
    for window in flat.windows:
        assert Polygon(window.points(0.01)).distance(drawn) >= CLEAR
    for hole in flat.holes:
        assert Polygon(hole.loop.points(0.01)).distance(drawn) >= max(CLEAR, hole.diameter / 2)
    for bend in flat.bends:
        zone = bend.allowance / 2  # the punch rolls this much on either side of its line
        assert LineString([bend.start, bend.end]).distance(drawn) >= zone + CLEAR


@pytest.mark.parametrize("name", SITES)
def test_every_part_is_marked_clear_of_edges_holes_and_bends_or_says_that_it_is_not(name):
    made = design(name)
    told = {r["mark"]: r["part_mark"] for r in csv.DictReader(io.StringIO(cut_csv(made).decode()))}
    marked = 0
    for part, _ in made.parts:
        flat = part.flat_pattern()
        if flat is None:
            assert told[part.mark] == ""
            continue
        found, said = etching(flat, part.mark), " ".join(notes(part, made.shop))
        if found is None:
            assert told[part.mark] == "by hand: no place to etch it" and "Not etched" in said
            assert "etched side up" not in said.lower()
            continue
        marked += 1
        holds_clear(flat, strokes_of(flat, part.mark))
        assert "".join(found.lines) == part.mark
        assert told[part.mark] == f"etched {found.height:g} mm high"
        assert "Etched side up" in said and "layer ETCH of the -bends_mm.dxf file" in said
    assert marked >= 3


@settings(max_examples=40, deadline=None)
@given(
    size=st.tuples(st.floats(30, 260), st.floats(30, 260)),
    share=st.tuples(st.floats(0.2, 0.8), st.floats(0.2, 0.8)),
    line=st.floats(0.3, 0.7),
    mark=st.sampled_from(["post-bracket-upper-RH", "ear", "latch-saddle-behind", "A"]),
)
def test_any_plate_is_marked_clear_or_not_at_all(size, share, line, mark):
    hole = Hole("A", share[0] * size[0], share[1] * size[1], 9.0, "post", 6.0, 30.0)
    bend = Bend((0.0, line * size[1]), (size[0], line * size[1]), 90.0, 6.0, 13.0, True)
    flat = FlatPattern(
        thickness=6.0, outline=rectangle(0, 0, *size, 5), holes=(hole,), bends=(bend,)
    )
    found = etching(flat, mark)

    if found is not None:
        holds_clear(flat, strokes_of(flat, mark))
        assert found.height in HEIGHTS


def test_the_mark_is_as_large_as_it_may_be_and_turns_where_the_plate_is_narrow():
    wide = FlatPattern(thickness=6.0, outline=rectangle(0, 0, 240, 30))
    tall = FlatPattern(thickness=6.0, outline=rectangle(0, 0, 18, 240))
    small = FlatPattern(thickness=6.0, outline=rectangle(0, 0, 30, 9))

    level, upright = etching(wide, "leaf-bracket"), etching(tall, "leaf-bracket")
    assert level is not None and (level.height, level.upright) == (max(HEIGHTS), False)
    assert upright is not None and (upright.height, upright.upright) == (max(HEIGHTS), True)
    holds_clear(tall, strokes_of(tall, "leaf-bracket"))
    assert etching(small, "leaf-bracket") is None
    left, _, right, _ = strokes_of(tall, "leaf-bracket").bounds
    assert right - left <= 8.0 + 1e-9 and left > 0  # one line of letters, lying on its side


@pytest.mark.parametrize("profile", ["full", "r12"])
def test_gdal_and_ezdxf_find_the_strokes_where_they_were_put(profile, tmp_path):
    part = next(p for p, _ in design("left").parts if p.kind == "post bracket angle")
    flat = part.flat_pattern()
    drawn = strokes_of(flat, part.mark)
    left, bottom, _, _ = flat.outline.bounds
    wanted = [(x - left, y - bottom) for line in drawn.geoms for x, y in line.coords]
    path = tmp_path / "plate_mm.dxf"
    path.write_bytes(flat_dxf(flat, profile, etched=etching(flat, part.mark).strokes))

    _, _, _, fields = pyogrio.raw.read(path)
    layers = list(fields[0])
    assert layers.count("ETCH") == len(drawn.geoms)
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    found = []
    for line in document.modelspace().query('*[layer=="ETCH"]'):
        if line.dxftype() == "LWPOLYLINE":
            found += [(x, y) for x, y, *_ in line.get_points()]
        else:
            found += [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]
    assert len(found) == len(wanted)
    assert all(a == pytest.approx(b, abs=1e-5) for a, b in zip(found, wanted, strict=True))


def test_the_shop_key_changes_cut_files_with_marks_drawings_and_the_list_and_nothing_else():
    etched = design("left")
    drawings = etched.shop.drawings.model_copy(update={"etch": False})
    plain = replace(etched, shop=etched.shop.model_copy(update={"drawings": drawings}))
    stamp = Stamp(job="j", site_sha256="5c" * 32, version="0.1.0", record="x = 1")
    made = []
    for each in (etched, plain):
        shelf = Shelf()  # a sheet is known on it by its path alone
        written = files.reckoned(each, shelf, lambda *_: None)
        files.drawn(each, shelf, stamp, lambda *_: None, written)
        files.built(each, (), (), shelf, stamp, lambda *_: None, written)
        made.append(written.files)
    one, two = made
    changed = {path for path in one if one[path] != two[path]}

    assert one.keys() == two.keys()
    plates = [p for p, _ in etched.parts if p.flat_pattern() is not None]
    counts = {p.mark: n for p, n in etched.parts}
    marked = {
        cut_name(p, counts[p.mark], etched.shop)
        for p in plates
        if etching(p.flat_pattern(), p.mark) is not None
    }
    assert 0 < len(marked) < len(plates)  # plate washers are too small
    wanted = {f"fabricate/{m}{end}_mm.dxf" for m in marked for end in ("-bends", "-r12")}
    for part in plates:
        stem = f"fabricate/{part.mark}-drawing"
        wanted |= {p for p in one if p.startswith(stem)}
    assert changed == {*wanted, "fabricate/cut_list.csv", "fabricate/lists.pdf"}


def test_the_name_of_a_hole_makes_way_for_a_mark_beside_it():
    hole = Hole("A", 60.0, 50.0, 12.0, "post")
    flat = FlatPattern(thickness=6.0, outline=rectangle(0, 0, 200, 100), holes=(hole,))
    beside = etched("XXXX", (65.0, 53.0), 8.0)
    assert overlaps(flat_block(flat, 1.0, "in", beside).items) == []


def test_the_list_on_paper_names_what_is_too_small_to_be_etched():
    made = design("two leaves")
    small = [
        p.mark for p, _ in made.parts if p.flat_pattern() and not etching(p.flat_pattern(), p.mark)
    ]
    stamp = Stamp(job="j", site_sha256="5c" * 32, version="0.1.0", record="x = 1")
    words = " ".join(
        i.text for s in list_sheets(made, stamp) for i in s.items if isinstance(i, Text)
    )

    assert small and all(mark in words.split("mark by hand:")[1] for mark in small)


def test_reading_back_tells_a_stroke_beside_the_plate_and_a_mark_in_the_plain_cut_file():
    from hangpost.generators.manifest_part import part_data

    part = next(p for p, _ in design("left").parts if p.kind == "post bracket angle")
    flat = part.flat_pattern()
    told = ListedPart.model_validate(part_data(part, 1, {}))
    strokes = etching(flat, part.mark).strokes
    left, *_ = flat.outline.bounds
    stray = [tuple((x - left - 500, y) for x, y in strokes[0])]

    for kind, profile in (("dxf_full", "full"), ("dxf_r12", "r12")):
        assert list(cut_faults(flat_dxf(flat, profile, etched=strokes), told, kind)) == []
        found = list(cut_faults(flat_dxf(flat, profile, etched=stray), told, kind))
        assert found == ["on layer ETCH: a stroke beside the plate"]
    with_mark = flat_dxf(flat, "r12", etched=strokes)
    assert "something else than the cut lines is drawn" in list(cut_faults(with_mark, told, "dxf"))
