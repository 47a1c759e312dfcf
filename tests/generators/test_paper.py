"""The sheet toolkit: lines as the PDF has them, boxes, tables, symbols. Geometry by arithmetic."""

import io
import os
from math import cos, hypot, radians, sin

import pdfplumber
import pikepdf
import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.writers.block import Block
from hangpost.generators.writers.dimension import Dimension, fitted
from hangpost.generators.writers.ink import Circle, Place, Text, arc, line, outline
from hangpost.generators.writers.layout import crosses, free_place, inside, overlaps
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.paper import PAPERS, Printer, pdf
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.stamp import LEAST_MODULE, Stamp, site_symbol, symbol
from hangpost.generators.writers.table import Table, wrapped
from hangpost.generators.writers.tiles import clipped
from hangpost.parts.loop import Loop, Vertex, rectangle

from .drawings import strays

MM = 72 / 25.4
A4 = PAPERS["a4"]


def page(*items) -> bytes:
    sheet = Sheet(width=210.0, height=297.0, title="t", items=items)
    return pdf([sheet], title="t", subject="s", maker="m")


def curve_points(data: bytes):
    """Points on every cubic of the page, in mm, worked out from its four points."""
    found = []
    with pikepdf.open(io.BytesIO(data)) as read:
        at = (0.0, 0.0)
        for operands, operator in pikepdf.parse_content_stream(read.pages[0]):
            name = str(operator)
            if name in ("m", "l"):
                at = tuple(float(v) for v in operands)
            elif name == "c":
                n = [float(v) for v in operands]
                p = [at, (n[0], n[1]), (n[2], n[3]), (n[4], n[5])]
                for k in range(11):
                    t = k / 10
                    w = ((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3)
                    found.append(
                        tuple(sum(a * b[i] for a, b in zip(w, p, strict=True)) / MM for i in (0, 1))
                    )
                at = (n[4], n[5])
    return found


@pytest.mark.parametrize("radius", [3.0, 57.0])
def test_circles_are_round_to_a_micrometre(radius):
    for x, y in curve_points(page(Circle((100.0, 150.0), 2 * radius))):
        assert hypot(x - 100.0, y - 150.0) == pytest.approx(
            radius, abs=2e-3 if radius > 50 else 1e-3
        )


@given(start=st.floats(-360, 360), sweep=st.floats(1, 359), way=st.sampled_from((1, -1)))
def test_arcs_run_where_they_should(start, sweep, way):
    drawn = arc((80.0, 90.0), 30.0, start, way * sweep)
    points = [e.at(s) for e in drawn.edges for s in (0.0, 0.5, 1.0)]
    assert all(hypot(x - 80, y - 90) == pytest.approx(30.0) for x, y in points)
    turn = radians(start + way * sweep)
    assert points[-1] == pytest.approx((80 + 30 * cos(turn), 90 + 30 * sin(turn)))


def test_line_lands_where_it_is_told():
    with pdfplumber.open(io.BytesIO(page(line((20.0, 30.0), (120.5, 30.0))))) as read:
        (found,) = read.pages[0].lines
    assert found["x0"] / MM == pytest.approx(20.0, abs=1e-3)
    assert found["x1"] / MM == pytest.approx(120.5, abs=1e-3)
    assert (297 * MM - found["top"]) / MM == pytest.approx(30.0, abs=2e-3)


def test_lettering_is_in_the_files_own_font_and_reads_back():
    words = "Ø 13.5 ± 0.2, 90° - 5 1/2 in \u2190 \u2192"
    data = page(Text((30.0, 40.0), words, 4.0))
    with pikepdf.open(io.BytesIO(data)) as read:
        fonts = read.pages[0].Resources.Font
        used = [f for f in fonts.values() if "DejaVu" in str(f.BaseFont)]
        assert used and all("/FontFile2" in f.FontDescriptor for f in used)
    text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    assert words in text


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, -45.0])
@pytest.mark.parametrize("anchor", ["left", "centre", "right"])
def test_box_of_a_text_covers_its_ink(angle, anchor):
    text = Text((105.0, 150.0), "gauge Hxj 0123", 5.0, anchor, angle=angle)
    image = pypdfium2.PdfDocument(page(text))[0].render(scale=150 / 72, grayscale=True).to_numpy()
    image = image.reshape(image.shape[0], image.shape[1])
    rows, columns = (image < 128).nonzero()
    pixel = 25.4 / 150
    left, bottom, right, top = text.box
    assert left - 0.3 <= columns.min() * pixel and (columns.max() + 1) * pixel <= right + 0.3
    assert bottom - 0.3 <= 297 - (rows.max() + 1) * pixel and 297 - rows.min() * pixel <= top + 0.3
    # and is no larger than it must be
    assert columns.min() * pixel - left < 2.5 and right - columns.max() * pixel < 2.5


def test_overlaps_finds_what_meets_and_only_that():
    apart = [Text((20, 20), "one"), Text((40, 20), "two"), line((10, 30), (90, 30))]
    assert overlaps(apart) == []
    assert overlaps([*apart, Text((21, 20.5), "three")]) == ['"one" meets "three"']
    assert overlaps([*apart, Text((50, 29.5), "four")]) == ['"four" is crossed by a line']
    slanted = [
        Text((50, 50), "beside its line", angle=30.0),
        line((50, 49), (80, 49 + 30 * 0.57735)),
    ]
    assert overlaps(slanted) == []


def test_strays_names_what_runs_off():
    sheet = Sheet(
        width=210, height=297, title="t", items=(Text((5, 50), "off"), Text((50, 50), "on"))
    )
    assert [w.split(" at ")[0] for w in strays(sheet, (10, 10, 200, 287))] == ["Text off"]


@given(st.tuples(*[st.floats(-50, 50)] * 4), st.floats(1, 30), st.floats(1, 30))
def test_crosses_agrees_with_sampling(piece, wide, high):
    a, b = piece[:2], piece[2:]
    box = (-wide, -high, wide, high)
    samples = [(a[0] + (b[0] - a[0]) * k / 400, a[1] + (b[1] - a[1]) * k / 400) for k in range(401)]
    if any(abs(x) < wide - 1e-6 and abs(y) < high - 1e-6 for x, y in samples):
        assert crosses((a, b), box)
    if not crosses((a, b), box):
        assert not any(abs(x) < wide - 1e-6 and abs(y) < high - 1e-6 for x, y in samples)


def test_free_place_takes_the_first_spot_that_is_free():
    taken = [line((0, 5), (100, 5)), Text((20, 20), "taken")]
    label = (Text((0, 0), "A"),)
    spots = [(50, 4.5), (20, 20), (60, 60)]
    assert free_place(label, spots, taken, (0, 0, 100, 100))[0].at == (60, 60)


@given(
    st.tuples(st.floats(-40, 10), st.floats(-40, 10), st.floats(20, 60), st.floats(20, 60)),
    st.floats(0, 9),
)
def test_clipping_keeps_what_is_inside_and_nothing_else(box, radius):
    whole = outline(rectangle(-20, -25, 30, 35, radius))
    parts = clipped(whole, box)
    kept = sum(e.length for p in parts for e in p.edges)
    inner = 0.0
    for edge in whole.edges:
        count = 4000
        inside_now = sum(
            box[0] <= x <= box[2] and box[1] <= y <= box[3]
            for x, y in (edge.at((k + 0.5) / count) for k in range(count))
        )
        inner += edge.length * inside_now / count
    assert kept == pytest.approx(inner, abs=0.2)
    assert all(inside(p.box, box, 1e-6) for p in parts)


def test_a_figure_stands_past_a_dimension_that_is_too_short():
    short = fitted((0, 0), (5, 0), (0, -8), "12.345 [313.56]")
    long = fitted((0, 0), (60, 0), (0, -8), "12.345 [313.56]")
    assert long.along == 0.0 and short.label.box[0] > 5.0
    for dimension in (short, long):
        assert overlaps([dimension]) == []


@given(st.floats(0, 360), st.floats(1, 80))
def test_dimension_line_is_as_long_as_what_it_measures(angle, apart):
    turn = radians(angle)
    second = (10 + apart * cos(turn), 20 + apart * sin(turn))
    a, b = Dimension((10, 20), second, (0, 0), "x", angle).ends
    assert hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(apart)


def test_place_turns_and_scales_a_loop_without_mirroring_it():
    loop = Loop((Vertex(0, 0), Vertex(30, 0, 0.4), Vertex(30, 20), Vertex(0, 20)))
    moved = outline(loop).placed(Place(5, 6, 0.5, 90.0))
    assert Loop(moved.vertices).area == pytest.approx(loop.area * 0.25)


def test_compensated_field_keeps_the_margin_on_paper_and_in_the_file():
    for x, y in ((0.98, 1.03), (1.02, 0.97)):
        printer = Printer(x=x, y=y)
        left, bottom, right, top = printer.field(A4)
        for corner in ((left, bottom), (right, top)):
            sent = printer.given(corner, A4)
            for px, py in (corner, sent):
                assert 10 - 1e-9 <= px <= 200 + 1e-9 and 10 - 1e-9 <= py <= 287 + 1e-9


def test_table_pieces_hold_every_row_and_fit():
    table = Table(head=("a", "b"), rows=tuple((str(k), "x" * k) for k in range(50)), title="t")
    pieces = table.cut(60.0)
    assert sum((p.rows for p in pieces), ()) == table.rows
    assert all(p.height <= 60.0 for p in pieces)
    assert table.narrowed(20.0).width <= 20.0
    assert overlaps(table.items((20, 280))) == []


@given(st.text("abc defg", max_size=120), st.floats(12, 60))
def test_wrapped_lines_fit_and_lose_no_word(text, room):
    lines = wrapped(text, room, 2.5)
    assert " ".join(lines).split() == text.split()
    assert all(Text((0, 0), words, 2.5).width <= room or " " not in words for words in lines)


def test_symbol_is_left_out_when_it_would_be_too_fine():
    assert symbol("x" * 2000, (0, 0), 30.0) is None
    small = symbol("x" * 50, (0, 0), 30.0)
    assert small is not None and small.size >= LEAST_MODULE
    stamp = Stamp(job="j", site_sha256="ab" * 32, version="1", record="a = 1\n" * 600)
    code, holds = site_symbol(stamp, "sheet", (0, 0), 30.0)
    assert holds == "input hash" and code.size >= LEAST_MODULE
    image = (
        pypdfium2.PdfDocument(page(code.placed(Place(50, 50))))[0].render(scale=300 / 72).to_pil()
    )
    assert [c.text for c in zxingcpp.read_barcodes(image)] == [stamp.line_for("sheet")]


@given(st.lists(st.lists(st.booleans(), min_size=5, max_size=5), min_size=5, max_size=5))
def test_blocks_of_a_symbol_cover_each_black_square_once_and_no_white_one(rows):
    field = Modules((3.0, 7.0), 0.5, tuple(tuple(row) for row in rows))
    for down, row in enumerate(rows):
        for along, black in enumerate(row):
            x, y = 3.0 + 0.5 * (along + 0.5), 7.0 + 0.5 * (4.5 - down)
            over = sum(b[0] < x < b[2] and b[1] < y < b[3] for b in field.blocks)
            assert over == black


def test_record_keeps_a_hash_sign_inside_quotes():
    stamp = Stamp(job="j", site_sha256="ab" * 32, version="1", record='a = "x # y"  # note\nb = 1')
    assert stamp.plain_record == 'a = "x # y"\nb = 1'


def test_blocks_are_put_where_they_are_told():
    block = Block((line((3, 4), (13, 4)), Text((5, 6), "x")))
    left, bottom, *_ = block.at(20, 30).box
    assert (left, bottom) == pytest.approx((20, 30))
    _, _, _, top = block.hung(20, 90).box
    assert top == pytest.approx(90)


@pytest.mark.parametrize("day", ["1", "2000000000", "no day"])
def test_no_day_from_outside_gets_into_a_file(day: str, monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = Sheet(width=210.0, height=297.0, title="t", items=())
    without = pdf([sheet], title="t", subject="s", maker="m")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", day)

    assert pdf([sheet], title="t", subject="s", maker="m") == without
    assert os.environ["SOURCE_DATE_EPOCH"] == day
