"""Templates at true size: read back from the PDF by readers that did not write it.

pdfplumber and pikepdf read the path data, pdfium renders it: three programs with nothing in
common with the writer. Limits: 0.05 mm on path data, 0.1 mm on an image at 600 dpi (issue 5).
"""

import io
import itertools
from math import hypot

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2
import pytest

from hangpost.generators.writers.paper import PAPERS, Printer
from hangpost.generators.writers.template import template_book

from .template_faces import ALL, LATCH, MM, POST, STAMP, circles_by_pdfplumber, circles_by_pikepdf


@pytest.fixture(scope="module", params=PAPERS)
def book(request):
    return template_book(ALL, STAMP, PAPERS[request.param])


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
    """PDF-03: hole to hole as drawn in the file."""
    for template in ALL:
        of = {h.name: (h.u, h.v) for h in template.holes}
        for page in book.pages_of(template.id):
            for a, b in itertools.combinations(page.marks, 2):
                true = hypot(of[a.hole][0] - of[b.hole][0], of[a.hole][1] - of[b.hole][1])
                assert hypot(a.x - b.x, a.y - b.y) == pytest.approx(true, abs=1e-4)


def test_page_boxes_are_the_paper_and_the_viewer_is_told_not_to_scale(book):
    """PDF-01, PDF-02: exact boxes, no scaling by the viewer, no unit of its own, no raster."""
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
    """PDF-07, PDF-11: no factor but 1, no mirrored lettering."""
    with pikepdf.open(io.BytesIO(book.pdf())) as pdf:
        for page in pdf.pages:
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) in ("cm", "Tm"):
                    a, b, c, d = (float(n) for n in operands[:4])
                    assert a * d - b * c == pytest.approx(1.0, abs=1e-6)
                    assert a * a + b * b == pytest.approx(1.0, abs=1e-6)


def test_nothing_is_drawn_in_the_margin(book):
    """PDF-03: nothing outside a margin of 10 mm."""
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        for page in pdf.pages:
            for kind in ("lines", "curves", "rects", "chars"):
                for o in getattr(page, kind):
                    assert o["x0"] >= 10.0 * MM - 0.3 and o["top"] >= 10.0 * MM - 0.3
                    assert o["x1"] <= float(page.width) - 10.0 * MM + 0.3
                    assert o["bottom"] <= float(page.height) - 10.0 * MM + 0.3


def test_every_page_carries_both_bars_the_square_and_the_inch_mark(book):
    """PDF-04: bars of 150 and 200 mm, square with diagonals, 4 in mark, limits, how to print."""
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


@pytest.mark.parametrize(("x", "y"), [(0.993, 1.004), (1.012, 0.985)])
@pytest.mark.parametrize("name", ["letter", "a3"])
def test_a_printer_that_stretches_prints_the_compensated_sheet_true(name, x, y):
    """PDF-09: compensated in X and Y apart, with its banner."""
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


def test_the_left_hand_is_the_mirror_image_on_paper():
    right = template_book([LATCH], STAMP, PAPERS["letter"]).pages[0].marks
    left = template_book([LATCH.mirrored()], STAMP, PAPERS["letter"]).pages[0].marks
    middle = PAPERS["letter"].width
    sums = {round(a.x + b.x, 3) for a, b in zip(right, left, strict=True)}
    assert len(sums) == 1
    assert abs(sums.pop() - middle) < 12.0
    assert [a.y for a in right] == pytest.approx([b.y for b in left])


def test_each_centre_has_hairlines_of_ten_millimetres_a_small_dot_and_the_circle_of_its_drill(book):
    """PDF-05: the mark of a centre."""
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        for page in book.pages:
            read = pdf.pages[page.page - 1]
            rings = circles_by_pdfplumber(read)
            high = float(read.height)
            lines = [
                (
                    ((o["x0"] + o["x1"]) / 2 / MM, (high - (o["top"] + o["bottom"]) / 2) / MM),
                    (o["x1"] - o["x0"]) / MM,
                    (o["bottom"] - o["top"]) / MM,
                )
                for o in read.lines
            ]
            for mark in page.marks:
                here = (mark.x, mark.y)
                own = [d for x, y, d in rings if hypot(x - here[0], y - here[1]) < 0.05]
                assert min(own) <= 1.0 and any(abs(d - mark.diameter) < 0.01 for d in own)
                crossing = [
                    (w, h) for at, w, h in lines if hypot(at[0] - here[0], at[1] - here[1]) < 0.05
                ]
                assert any(w >= 10.0 and h < 0.01 for w, h in crossing)
                assert any(h >= 10.0 and w < 0.01 for w, h in crossing)


def test_every_page_names_revision_input_tool_and_its_number(book):
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            text = page.extract_text()
            for words in ("rev -", f"input {'3f' * 6}", "hangpost 0.1.0", "date and initials"):
                assert words in text
            assert f"sheet {number} of {len(pdf.pages)}" in text
