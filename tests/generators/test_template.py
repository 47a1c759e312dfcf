"""Drilling templates read back from the PDF by readers that did not write it.

pdfplumber and pikepdf read the path data, pdfium renders it: three programs with nothing in
common with the writer. Limits: 0.05 mm on path data, 0.1 mm on an image at 600 dpi (issue 5).
"""

import io
import itertools
from dataclasses import replace
from math import hypot

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.face import exit_face, flat_face
from hangpost.generators.writers.layout import overlaps, strays
from hangpost.generators.writers.paper import PAPERS, TRUE, Printer
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.template_layout import facing_words
from hangpost.generators.writers.tiles import DoesNotFitError, seams, tiling
from hangpost.parts.loop import rectangle

MM = 72 / 25.4
STAMP = Stamp(
    job="Invented orchard gate",
    site_sha256="3f" * 32,
    version="0.1.0",
    record='units = "in"\njob = "Invented orchard gate"  # a note\n# another\n[post]\nsize = "6x6"\n',
)


def drilling(name: str, u: float, v: float, diameter: float = 11.1, **more: float) -> Drilling:
    return Drilling(name=name, u=u, v=v, diameter=diameter, pilot=8.0, **more)


POST = Template(
    id="post",
    part_id="post-bracket",
    face="hanging post, face towards the actuator",
    datum="the post's leaf-side edge at pin height",
    holes=tuple(
        drilling(n, u, v, slot_length=12.0)
        for n, u, v in (
            ("A", 43.0, 47.0),
            ("B", 97.0, 47.0),
            ("C", 43.0, -47.0),
            ("D", 97.0, -47.0),
            ("E", 43.0, 88.0),
            ("F", 97.0, -88.0),
        )
    ),
    outline=rectangle(20, -103, 121, 103, 6),
    edges=(0.0, 139.7),
    edge_names=("post edge, leaf side", "post edge, far side"),
    height=660.4,
    right_side="away from the leaf",
    left_side="leaf",
    facing="yard side",
    through=True,
    depth=139.7,
)
LATCH = Template(
    id="latch",
    part_id="receiver",
    face="latch post, face towards the leaf",
    datum="middle of the face at bolt height",
    holes=tuple(
        drilling(n, u, v, 9.0) for n, u, v in (("A", -41, 30), ("B", 39, 31), ("C", 2, -33))
    ),
    outline=rectangle(-60, -50, 61, 52, 6),
    edges=(-69.85, 69.85),
    edge_names=("post edge", "post edge"),
    height=711.2,
)
TALL = Template(
    id="tall",
    part_id="long-plate",
    face="a long face",
    datum="the left edge",
    holes=tuple(drilling(f"H{k}", 31.0 + k % 2 * 67.0, -249.0 + k // 2 * 56.0) for k in range(18)),
    outline=rectangle(10, -270, 125, 220, 6),
    edges=(0.0, 139.7),
    edge_names=("left edge", "right edge"),
    height=900.0,
)
WIDE = Template(
    id="wide",
    part_id="leaf-bracket",
    face="leaf, rail",
    datum="the rail's centre line at the leaf pivot",
    holes=tuple(drilling(n, u, 0.0, 10.5) for n, u in (("A", -93.0), ("B", -66), ("C", 94.0))),
    outline=rectangle(-100, -25, 101, 25, 6),
    height=660.4,
    facing="road side",
)
ALL = (POST, LATCH, TALL, WIDE)
PAPER_NAMES = tuple(PAPERS)


@pytest.fixture(scope="module", params=PAPER_NAMES)
def book(request):
    return template_book(ALL, STAMP, PAPERS[request.param])


def circles_by_pdfplumber(page):
    """Centre and diameter, in mm, of every closed curve that is as wide as it is high."""
    found = []
    for curve in page.curves:
        wide, high = curve["x1"] - curve["x0"], curve["bottom"] - curve["top"]
        if abs(wide - high) < 0.02 and len(curve["pts"]) >= 8:
            x, y = (curve["x0"] + curve["x1"]) / 2, (curve["top"] + curve["bottom"]) / 2
            found.append((x / MM, (float(page.height) - y) / MM, wide / MM))
    return found


def circles_by_pikepdf(page):
    """The same from the page's own operators: paths of nothing but eight curves."""
    found, nodes = [], []
    for operands, operator in pikepdf.parse_content_stream(page):
        name, numbers = (
            str(operator),
            [
                float(n)
                for n in operands
                if not isinstance(n, (pikepdf.Name, pikepdf.Array, pikepdf.String))
            ],
        )
        if name == "m":
            nodes = []
        elif name == "c":
            nodes.append(numbers[4:])
        elif name == "l":
            nodes = [None] * 99
        elif name in ("S", "s", "b", "B", "f", "n") and len(nodes) == 8:
            xs, ys = zip(*nodes, strict=True)
            found.append(
                (
                    (max(xs) + min(xs)) / 2 / MM,
                    (max(ys) + min(ys)) / 2 / MM,
                    (max(xs) - min(xs)) / MM,
                )
            )
            nodes = []
    return found


def nearest(circles, mark):
    return min(
        hypot(x - mark.x, y - mark.y) for x, y, d in circles if abs(d - mark.diameter) < 0.01
    )


def test_two_readers_find_every_hole_where_the_manifest_says(book):
    data = book.pdf()
    with pdfplumber.open(io.BytesIO(data)) as plumber, pikepdf.open(io.BytesIO(data)) as pike:
        assert len(plumber.pages) == len(pike.pages) == len(book.pages)
        for page in book.pages:
            one = circles_by_pdfplumber(plumber.pages[page.page - 1])
            two = circles_by_pikepdf(pike.pages[page.page - 1])
            for mark in page.marks:
                assert nearest(one, mark) < 0.05
                assert nearest(two, mark) < 0.05


def test_distances_on_paper_are_those_of_the_face(book):
    for template in ALL:
        of = {h.name: (h.u, h.v) for h in template.holes}
        for page in book.pages_of(template.id):
            for a, b in itertools.combinations(page.marks, 2):
                true = hypot(of[a.hole][0] - of[b.hole][0], of[a.hole][1] - of[b.hole][1])
                assert hypot(a.x - b.x, a.y - b.y) == pytest.approx(true, abs=1e-4)


def test_every_hole_is_drawn_exactly_once_on_each_face(book):
    for template in ALL:
        for kind in ("entry", "exit") if template.through else ("entry",):
            names = [m.hole for p in book.pages_of(template.id) if p.kind == kind for m in p.marks]
            assert sorted(names) == sorted(h.name for h in template.holes)


def test_page_boxes_are_the_paper_and_the_viewer_is_told_not_to_scale(book):
    # ISO 216: A4 210 x 297, A3 297 x 420; ASME Y14.1: letter 8 1/2 x 11 in, tabloid 11 x 17 in
    sizes = {
        "a4": (210, 297),
        "a3": (297, 420),
        "letter": (215.9, 279.4),
        "tabloid": (279.4, 431.8),
    }
    wide, high = sizes[book.paper.name]
    with pikepdf.open(io.BytesIO(book.pdf())) as pdf:
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        for page in pdf.pages:
            assert [float(v) for v in page.MediaBox] == pytest.approx(
                [0, 0, wide * MM, high * MM], abs=0.01
            )
            assert [float(v) for v in page.CropBox] == [float(v) for v in page.MediaBox]
            assert "/UserUnit" not in page
            assert not page.get_images()


def test_no_matrix_scales_anything_and_no_lettering_is_mirrored(book):
    with pikepdf.open(io.BytesIO(book.pdf())) as pdf:
        for page in pdf.pages:
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) in ("cm", "Tm"):
                    a, b, c, d = (float(n) for n in operands[:4])
                    assert a * d - b * c == pytest.approx(1.0, abs=1e-6)
                    assert a * a + b * b == pytest.approx(1.0, abs=1e-6)


def test_nothing_is_drawn_in_the_margin(book):
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        for page in pdf.pages:
            for kind in ("lines", "curves", "rects", "chars"):
                for o in getattr(page, kind):
                    assert o["x0"] >= 10.0 * MM - 0.3 and o["top"] >= 10.0 * MM - 0.3
                    assert o["x1"] <= float(page.width) - 10.0 * MM + 0.3
                    assert o["bottom"] <= float(page.height) - 10.0 * MM + 0.3


def test_every_page_carries_both_bars_the_square_and_the_inch_mark(book):
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        for page in pdf.pages:
            level = [
                (o["x1"] - o["x0"]) / MM for o in page.lines if abs(o["top"] - o["bottom"]) < 0.01
            ]
            upright = [
                (o["bottom"] - o["top"]) / MM for o in page.lines if abs(o["x0"] - o["x1"]) < 0.01
            ]
            slanted = [hypot(o["x1"] - o["x0"], o["bottom"] - o["top"]) / MM for o in page.lines]
            text = " ".join(page.extract_text().split())

            assert min(abs(length - 150) for length in level) < 0.01
            assert min(abs(length - 200) for length in upright) < 0.01
            assert min(abs(length - 101.6) for length in (*level, *upright)) < 0.01  # 4 in
            assert sum(abs(length - 25 * 2**0.5) < 0.01 for length in slanted) == 2
            for word in ("ACTUAL", "SIZE", "100", "browser", "borderless", "250", "149.5"):
                assert word in text


def test_a_rendering_at_600_dpi_measures_true():
    book = template_book([POST], STAMP, PAPERS["a4"])
    page = pypdfium2.PdfDocument(book.pdf())[0]
    image = page.render(scale=600 / 72, grayscale=True).to_numpy()
    image = 255 - image.reshape(image.shape[0], image.shape[1]).astype(float)
    pixel = 25.4 / 600

    def centre(mark):
        """Where the two hair lines of a mark lie, from their ends outside every circle."""
        row, column = image.shape[0] - mark.y / pixel, mark.x / pixel
        end = (mark.diameter / 2 + 1.2) / pixel
        across = image[
            int(row - end) - 10 : int(row - end) + 10, int(column) - 30 : int(column) + 30
        ]
        down = image[int(row) - 30 : int(row) + 30, int(column - end) - 10 : int(column - end) + 10]
        x = int(column) - 30 + np.average(np.arange(60) + 0.5, weights=across.sum(0))
        y = int(row) - 30 + np.average(np.arange(60) + 0.5, weights=down.sum(1))
        return x * pixel, (image.shape[0] - y) * pixel

    of = {h.name: (h.u, h.v) for h in POST.holes}
    seen = {m.hole: centre(m) for m in book.pages[0].marks}
    for (a, at), (b, to) in itertools.combinations(seen.items(), 2):
        true = hypot(of[a][0] - of[b][0], of[a][1] - of[b][1])
        assert hypot(at[0] - to[0], at[1] - to[1]) == pytest.approx(true, abs=0.1)
    for mark in book.pages[0].marks:
        assert seen[mark.hole] == pytest.approx((mark.x, mark.y), abs=0.1)


def test_text_holds_every_number_of_the_hole_table(book):
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for template in ALL:
        for hole in template.holes:
            for number in (hole.u, hole.v, hole.diameter, hole.pilot):
                assert f"{number:g}" in text
    # 11.1 mm against 7/16 in = 11.1125 mm; 8 mm against 5/16 in = 7.9375 mm
    assert "7/16 in +0.01" in text and "5/16 in -0.06" in text
    # C - D of the post, and the diagonal C - B by Pythagoras
    assert "54 2 1/8" in text and f"{hypot(54, 94):.2f}" in text
    reader = pypdfium2.PdfDocument(book.pdf())  # keeps lettering together that stands upright
    text = "\n".join(page.get_textpage().get_text_range() for page in reader)
    for words in ("UP", "YARD SIDE", "ROAD SIDE", "level line", "post edge, leaf side", "3f" * 6):
        assert words in text


def test_cautions_for_drilling_are_in_the_file(book):
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for caution in cautions("drilling", "timber"):
        assert caution.id in text


def test_exit_face_is_the_mirror_image_and_its_words_are_not():
    front, back = flat_face(POST, "in"), exit_face(POST, "in")
    for a, b in zip(front.marks, back.marks, strict=True):
        assert (a.hole.name, a.at[0], a.at[1]) == (b.hole.name, -b.at[0], b.at[1])
    assert (front.facing, back.facing) == ("yard side", "road side")
    # somebody who walks round the post finds the leaf on the other hand
    words = {n.text.text: n.spots[0][0] for n in back.notes}
    assert words["leaf \u2192"] > 0 > words["\u2190 away from the leaf"]


def test_one_bracket_is_one_page_when_it_fits():
    pages = template_book([POST, LATCH], STAMP, PAPERS["a4"]).pages
    assert [(p.kind, p.tile) for p in pages[:3]] == [
        ("entry", "1/1"),
        ("exit", "1/1"),
        ("entry", "1/1"),
    ]
    wide = template_book([WIDE], STAMP, PAPERS["a4"]).pages[0]
    assert (wide.tile, wide.turned) == ("1/1", True)  # on its side rather than in two pieces


def test_first_sheet_of_a_face_says_what_lies_left_and_right(book):
    reader = pypdfium2.PdfDocument(book.pdf())
    for page in book.pages_of("post"):
        text = " ".join(reader[page.page - 1].get_textpage().get_text_range().split())
        assert "away from the leaf" in text
        assert "YARD SIDE" in text if page.kind == "entry" else "ROAD SIDE" in text


@pytest.mark.parametrize(
    ("facing", "front", "behind"),
    [
        ("yard side", "YARD SIDE", "ROAD SIDE"),
        ("actuator side", "ACTUATOR SIDE", "AWAY FROM THE ACTUATOR"),
        ("the leaf", "FACES THE LEAF", "AWAY FROM THE LEAF"),
    ],
)
def test_header_names_the_side_in_the_trades_words(facing, front, behind):
    template = replace(POST, facing=facing)
    assert facing_words(flat_face(template, "in")) == front
    assert facing_words(exit_face(template, "in")) == behind


@pytest.mark.parametrize("name", ["letter", "a4"])
def test_a_bracket_as_tall_as_the_paper_is_still_one_page(name):
    tall = replace(
        POST,
        holes=tuple(
            drilling(n, u, v, 8.6)
            for n, u, v in (("A", 51.0, 113.0), ("B", 89.0, 113.0), ("C", 51.0, -113.0))
        ),
        outline=rectangle(3, -133, 139, 133, 6),
    )
    pages = template_book([tall], STAMP, PAPERS[name]).pages
    assert [(p.kind, p.tile) for p in pages[:2]] == [("entry", "1/1"), ("exit", "1/1")]


def test_tiles_overlap_and_carry_two_marks_a_seam():
    face = flat_face(TALL, "in")
    cut = tiling(face, 181.0, 214.0)
    assert len(cut.windows) == 3
    tops = sorted(w.box[1] for w in cut.windows)
    ends = sorted(w.box[3] for w in cut.windows)
    for end, start in zip(ends[:-1], tops[1:], strict=True):
        assert end - start >= 15.0
    for seam in cut.seams_v:
        assert sum(abs(spot[1] - seam) < 1e-9 for _, spot in cut.registration()) >= 2
        assert min(abs(m.at[1] - seam) for m in face.marks) >= 10.0


def test_registration_marks_of_neighbouring_tiles_fall_on_each_other():
    book = template_book([TALL], STAMP, PAPERS["a4"])
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        rings = [
            [(x, y) for x, y, d in circles_by_pdfplumber(page) if abs(d - 5.0) < 0.01]
            for page in pdf.pages[:3]
        ]
    of = {h.name: (h.u, h.v) for h in TALL.holes}
    face_rings = []
    for page, found in zip(book.pages[:3], rings, strict=True):
        mark = page.marks[0]
        shift = (of[mark.hole][0] - mark.x, of[mark.hole][1] - mark.y)
        face_rings.append({(round(x + shift[0], 2), round(y + shift[1], 2)) for x, y in found})
    assert len(face_rings[0] & face_rings[1]) >= 2
    assert len(face_rings[1] & face_rings[2]) >= 2


@given(
    high=st.floats(100, 2000),
    room=st.floats(120, 400),
    holes=st.lists(st.floats(0, 2000), max_size=8),
)
def test_seams_keep_off_the_holes_and_no_sheet_shows_too_much(high, room, holes):
    keep = [(h, 12.0) for h in holes]
    try:
        cuts = seams(0.0, high, room, keep)
    except DoesNotFitError:
        return
    starts, ends = [0.0, *(c - 10 for c in cuts)], [*(c + 10 for c in cuts), high]
    assert all(e - s <= room + 1e-6 for s, e in zip(starts, ends, strict=True))
    assert all(abs(c - h) >= 12.0 for c in cuts for h in holes)


@pytest.mark.parametrize(("x", "y"), [(0.993, 1.004), (1.012, 0.985)])
@pytest.mark.parametrize("name", ["letter", "a3"])
def test_a_printer_that_stretches_prints_the_compensated_sheet_true(name, x, y):
    printer = Printer.measured(150 * x, 200 * y)
    book = template_book(ALL, STAMP, PAPERS[name], printer)
    data = book.pdf()
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page, read in zip(book.pages, pdf.pages, strict=True):
            of = {h.name: (h.u, h.v) for t in ALL if t.id == page.template for h in t.holes}
            printed = {}
            for mark in page.marks:  # where ink lands: the printer stretches what the file says
                spots = [
                    (
                        (c["x0"] + c["x1"]) / 2 / MM * x,
                        (float(read.height) - (c["top"] + c["bottom"]) / 2) / MM * y,
                    )
                    for c in read.curves
                ]
                here = (mark.x * x, mark.y * y)
                printed[mark.hole] = min(
                    spots, key=lambda s, h=here: hypot(s[0] - h[0], s[1] - h[1])
                )
                assert printed[mark.hole] == pytest.approx(here, abs=0.05)
            for (a, p), (b, q) in itertools.combinations(printed.items(), 2):
                true = hypot(of[a][0] - of[b][0], of[a][1] - of[b][1])
                assert hypot(p[0] - q[0], p[1] - q[1]) == pytest.approx(true, abs=0.05)
            level = [
                (o["x1"] - o["x0"]) / MM * x
                for o in read.lines
                if abs(o["top"] - o["bottom"]) < 0.01
            ]
            assert min(abs(length - 150) for length in level) < 0.02
            assert "COMPENSATED FOR PRINTER" in read.extract_text()
            for o in (*read.lines, *read.curves, *read.chars):
                assert o["x0"] >= 10.0 * MM - 0.8 and o["x1"] <= float(read.width) - 10.0 * MM + 0.8


def test_nothing_meets_and_nothing_runs_off(book):
    for sheet in book.sheets:
        assert overlaps(sheet.items) == []
        assert strays(sheet, TRUE.field(book.paper)) == []


def test_the_same_input_gives_the_same_bytes():
    first, second = (template_book(ALL, STAMP, PAPERS["letter"]).pdf() for _ in range(2))
    assert first == second


def test_the_left_hand_is_the_mirror_image_on_paper():
    right = template_book([LATCH], STAMP, PAPERS["letter"]).pages[0].marks
    left = template_book([LATCH.mirrored()], STAMP, PAPERS["letter"]).pages[0].marks
    middle = PAPERS["letter"].width
    sums = {round(a.x + b.x, 3) for a, b in zip(right, left, strict=True)}
    assert len(sums) == 1
    assert abs(sums.pop() - middle) < 12.0
    assert [a.y for a in right] == pytest.approx([b.y for b in left])


def test_site_symbol_holds_the_site_file_without_its_comments():
    assert STAMP.plain_record == (
        'units = "in"\njob = "Invented orchard gate"\n[post]\nsize = "6x6"'
    )
    book = template_book([LATCH], STAMP, PAPERS["a4"])
    page = pypdfium2.PdfDocument(book.pdf())[len(book.pages) - 1]
    codes = zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil())

    assert [c.text for c in codes] == [STAMP.plain_record]
