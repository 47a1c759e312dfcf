"""Lists and layouts on the sheet, held against hand arithmetic, csv and shapely."""

import csv
import io
from functools import cache
from math import pi
from pathlib import Path

import ezdxf
import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.shop import Sheet as StockSheet
from hangpost.generators.survey.stock import Prices
from hangpost.generators.writers.drawing import field_of
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.lists import (
    bought_csv,
    buy_rows,
    cut_csv,
    cut_length,
    cut_rows,
    safe,
)
from hangpost.generators.writers.nesting import TooLargeError, nest_dxf, nests
from hangpost.generators.writers.paper import PAPERS, pdf
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.flat import FlatPattern, Hole
from hangpost.parts.loop import rectangle

from .drawings import strays

GATE = Path(__file__).with_name("gate.toml").read_text(encoding="utf-8")
PRICES = Prices(currency="EUR", steel=2.5, cut=1.2, bend=4.0, hole=0.5, fastener=1.1, finish=0.9)


@cache
def design(priced: bool = False):
    site = site_from_bytes(GATE.encode())
    shop = read_shop(None)
    if priced:
        shop = shop.model_copy(update={"prices": PRICES})
    solved = solve_gate(site, shop)
    return design_gate(site, shop, solved, [usual(shop)] * len(solved))


def test_cut_length_counts_every_edge():
    flat = FlatPattern(
        thickness=6.0,
        outline=rectangle(0, 0, 120, 70, 10),
        windows=(rectangle(50, 20, 80, 50),),
        holes=(Hole("A", 20, 20, 11.0, "post"), Hole("B", 100, 20, 9.0, "post", 14.0)),
    )
    around = 2 * (100 + 50) + 2 * pi * 10
    assert cut_length(flat) == pytest.approx(around + 4 * 30 + pi * 11 + pi * 9 + 2 * 14)


def test_cut_list_reads_back_and_adds_up():
    """BOM-01: mass, cut length, blank."""
    rows = list(csv.DictReader(io.StringIO(cut_csv(design()).decode())))
    assert [r["mark"] for r in rows] == [p.mark for p, _ in design().parts]
    for row, (part, count) in zip(rows, design().parts, strict=True):
        assert int(row["quantity"]) == count
        assert float(row["mass_kg_all"]) == pytest.approx(part.mass * count, abs=0.001)
        flat = part.flat_pattern()
        if flat is not None:
            assert float(row["blank_length_mm"]) == pytest.approx(flat.length, abs=0.006)
            assert float(row["blank_width_mm"]) == pytest.approx(flat.width, abs=0.006)
            assert (int(row["holes_each"]), int(row["bends_each"])) == (
                len(flat.holes),
                len(flat.bends),
            )


def test_bought_list_counts_what_the_design_asks_for():
    """BOM-03: washers and sleeves counted."""
    rows = list(csv.DictReader(io.StringIO(bought_csv(design()).decode())))
    wanted = sum(b.quantity for leaf in design().leaves for b in leaf.bought)
    assert sum(int(r["quantity"]) for r in rows) == wanted
    assert any("washer" in r["name"] for r in rows) and any("sleeve" in r["name"] for r in rows)


def test_prices_are_reckoned_from_the_shop_file():
    """BOM-01: cost."""
    row = next(r for r in cut_rows(design(True)) if r.bends)
    part = next(p for p, _ in design(True).parts if p.mark == row.mark)
    blank = row.blank[0] * row.blank[1] * row.thickness * 7850e-9  # EN 1991-1-1 Table A.4
    each = (
        2.5 * blank
        + 1.2 * row.cut_length / 1000
        + 0.5 * row.holes
        + 4.0 * row.bends
        + 0.9 * part.mass
    )
    assert row.price == pytest.approx(row.quantity * each)
    bought = {r.name: r for r in buy_rows(design(True))}
    for name, r in bought.items():
        if name.startswith(("lag screw", "hex bolt", "clevis pin")):
            assert r.price == pytest.approx(1.1 * r.quantity)
        if name.startswith(("washer", "self-locking", "steel sleeve")):
            assert r.price is None
    assert all(r.price is None for r in cut_rows(design()))


@given(
    st.sampled_from(["", *"=+-@\t\r"]).flatmap(lambda c: st.text(max_size=9).map(lambda t: c + t))
)
def test_no_cell_starts_a_formula(text):
    # what spreadsheets take for a formula: OWASP, CSV injection
    assert not safe(text).startswith(("=", "+", "-", "@", "\t", "\r"))


def test_lists_on_paper_hold_every_row_and_nothing_meets():
    stamp = Stamp(job="Invented gate", site_sha256="77" * 32, version="0.1.0")
    sheets = list_sheets(design(True), stamp)
    with pdfplumber.open(io.BytesIO(pdf(sheets, title="t", subject="s", maker="m"))) as read:
        text = "\n".join(page.extract_text() for page in read.pages)
    for row in (*cut_rows(design(True)), *buy_rows(design(True))):
        assert (row.mark if hasattr(row, "mark") else row.name) in text
        if row.price is not None:
            assert f"{row.price:.2f}" in text
    field = field_of(PAPERS[design(True).shop.drawings.paper[0]])
    for sheet in sheets:
        assert overlaps(sheet.items) == []
        assert strays(sheet, field) == []


def on_sheet(**sizes: float):
    return design().shop.model_copy(update={"sheet": StockSheet(**sizes)})


@pytest.mark.parametrize(("length", "width"), [(1219.2, 609.6), (270.0, 260.0)])
def test_pieces_lie_on_the_sheet_and_apart(length, width):
    shop = on_sheet(length=length, width=width, spacing=8.0)
    parts = [(part, count + 1) for part, count in design().parts]
    for nest in nests(parts, shop):
        assert len(nest.laid) == sum(
            n for p, n in parts if p.flat_pattern() and p.thickness == nest.thickness
        )
        shapes = [(p.sheet, Polygon(p.loops[0].points(0.01))) for p in nest.laid]
        for k, (sheet, shape) in enumerate(shapes):
            left, bottom, right, top = shape.bounds
            assert left >= 8.0 - 0.02 and bottom >= 8.0 - 0.02
            assert right <= length - 8.0 + 0.02 and top <= width - 8.0 + 0.02
            for other, neighbour in shapes[k + 1 :]:
                assert sheet != other or shape.distance(neighbour) >= 8.0 - 0.03
        for piece, (_, shape) in zip(nest.laid, shapes, strict=True):
            assert shape.area == pytest.approx(piece.flat.outline.area, rel=1e-3)


def test_nest_file_holds_every_cut_once():
    found = nests(design().parts, design().shop)
    assert found
    for nest in found:
        document = ezdxf.read(io.StringIO(nest_dxf(nest).decode()))
        assert not document.audit().errors
        space = document.modelspace()
        loops = sum(len(p.loops) for p in nest.laid)
        assert len(space.query('*[layer=="CUT"]')) == loops
        assert len(space.query('LWPOLYLINE[layer=="STOCK_DO_NOT_CUT"]')) == nest.sheets
        assert {e.dxftype() for e in space} <= {"LWPOLYLINE", "CIRCLE"}


def test_a_flat_larger_than_the_sheet_is_named():
    with pytest.raises(TooLargeError, match=r"larger than a sheet of 100 x 90 mm"):
        nests(design().parts, on_sheet(length=100.0, width=90.0))
