"""What a template says: every number, sides and directions, cautions, the site record."""

import io
from dataclasses import replace
from math import hypot

import pdfplumber
import pypdfium2
import pytest
import zxingcpp

from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.face import exit_face, flat_face
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, TRUE
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.template_layout import facing_words

from .drawings import strays
from .template_faces import ALL, LATCH, POST, STAMP


@pytest.fixture(scope="module", params=PAPERS)
def book(request):
    return template_book(ALL, STAMP, PAPERS[request.param])


def test_every_hole_is_drawn_exactly_once_on_each_face(book):
    for template in ALL:
        for kind in ("entry", "exit") if template.through else ("entry",):
            names = [m.hole for p in book.pages_of(template.id) if p.kind == kind for m in p.marks]
            assert sorted(names) == sorted(h.name for h in template.holes)


def test_text_holds_every_number_of_the_hole_table(book):
    """PDF-06, PDF-08, PDF-13: lines named, true distances with diagonals, drills in mm and fractions."""
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for template in ALL:
        for hole in template.holes:
            for number in (hole.u, hole.v, hole.diameter, hole.pilot):
                assert f"{abs(number):g}" in text
    # 11.1 mm against 7/16 in = 11.1125 mm; 8 mm against 5/16 in = 7.9375 mm
    assert "7/16 in = Ø11.1 mm" in text and "5/16 in = Ø8 mm" in text
    assert "7/16 (+0.01)" in text and "5/16 (-0.06)" in text
    # which way from the datum is said in words: a minus sign is lost on a poor copy
    for row in ("A 1 39/64 (41) left 1 3/16 (30) up", "C 5/64 (2) right 1 19/64 (33) down"):
        assert row in " ".join(text.split())
    # C - D of the post, and the diagonal C - B by Pythagoras
    assert "2 1/8 54" in text and f"{hypot(54, 94):.2f}" in text
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
    """PDF-07, PDF-13: the exit face has the mirrored pattern and words as they are read."""
    front, back = flat_face(POST, "in"), exit_face(POST, "in")
    for a, b in zip(front.marks, back.marks, strict=True):
        assert (a.hole.name, a.at[0], a.at[1]) == (b.hole.name, -b.at[0], b.at[1])
    assert (front.facing, back.facing) == ("yard side", "road side")
    # somebody who walks round the post finds the leaf on the other hand
    words = {n.text.text: n.spots[0][0] for n in back.notes}
    assert words["leaf \u2192"] > 0 > words["\u2190 away from the leaf"]


def test_first_sheet_of_a_face_says_what_lies_left_and_right(book):
    """PDF-07: sides of the sheet are named."""
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
    """PDF-07: road side, yard side, what the face looks at."""
    template = replace(POST, facing=facing)
    assert facing_words(flat_face(template, "in")) == front
    assert facing_words(exit_face(template, "in")) == behind


def test_nothing_meets_and_nothing_runs_off(book):
    for sheet in book.sheets:
        assert overlaps(sheet.items) == []
        assert strays(sheet, TRUE.field(book.paper)) == []


def test_the_same_input_gives_the_same_bytes():
    first, second = (template_book(ALL, STAMP, PAPERS["letter"]).pdf() for _ in range(2))
    assert first == second


def test_site_symbol_holds_the_site_file_without_its_comments():
    assert STAMP.plain_record == (
        'units = "in"\njob = "Invented orchard gate"\n[post]\nsize = "6x6"'
    )
    book = template_book([LATCH], STAMP, PAPERS["a4"])
    page = pypdfium2.PdfDocument(book.pdf())[len(book.pages) - 1]
    codes = {c.text for c in zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil())}

    assert STAMP.plain_record in codes


def test_the_foot_of_every_sheet_names_its_input_and_its_symbol_does_so_too(book):
    """PDF-15: part, revision, input, tool; the symbol is read by another library."""
    for sheet, page in zip(book.sheets, pypdfium2.PdfDocument(book.pdf()), strict=True):
        words = " ".join(i.text for i in sheet.items if isinstance(i, Text))
        codes = zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil())
        told = [c.text for c in codes if c.text.startswith("hangpost")]

        assert told == [f"hangpost 0.1.0;{'3f' * 8};rev -;{sheet.title}"]
        assert f"{STAMP.job} - {sheet.title}" in words
        assert f"rev - - input {'3f' * 6} - hangpost 0.1.0" in words


def test_a_pack_with_a_failed_check_says_so_on_every_sheet():
    """No hole is drilled for what does not hold: the foot of each sheet says it."""
    for failed, words in ((1, "1 CHECK FAILS"), (3, "3 CHECKS FAIL")):
        sheets = template_book(ALL, replace(STAMP, failed=failed), PAPERS["letter"]).sheets
        for sheet in sheets:
            said = [i.text for i in sheet.items if isinstance(i, Text)]
            assert f"{words}: DO NOT MAKE, DRILL OR FIT" in said
            assert overlaps(sheet.items) == []
    good = template_book(ALL, STAMP, PAPERS["letter"]).sheets
    assert not any("DO NOT MAKE" in i.text for s in good for i in s.items if isinstance(i, Text))


def test_no_lettering_stands_on_its_head(book):
    turned = {p.page for p in book.pages if p.turned}
    assert turned or book.paper.name in ("a3", "tabloid")  # large paper takes all upright
    for sheet in book.sheets:
        for text in (i for i in sheet.items if isinstance(i, Text)):
            assert -90.0 <= text.angle <= 90.0, text.text


def test_the_name_of_a_hole_stands_nearest_to_its_own_hole(book):
    for page in book.pages:
        names = {m.hole: m for m in page.marks}
        texts = [i for i in book.sheets[page.page - 1].items if isinstance(i, Text)]
        for text in (t for t in texts if t.text in names and t.bold):
            left, bottom, right, top = text.box
            away = {
                m.hole: hypot(max(left - m.x, 0, m.x - right), max(bottom - m.y, 0, m.y - top))
                for m in page.marks
            }
            assert min(away, key=away.get) == text.text
            assert away[text.text] <= names[text.text].diameter / 2 + 14.0


def test_a_sheet_without_holes_is_for_marking_and_has_no_empty_tables():
    ears = replace(POST, holes=(), wrap_diameter=114.3, edges=(), edge_names=(), through=False)
    book = template_book([ears], STAMP, PAPERS["letter"])
    words = [i.text for s in book.sheets for i in s.items if isinstance(i, Text)]

    assert any("MARKING TEMPLATE" in w for w in words)
    assert not any("DRILLING TEMPLATE" in w or w.startswith("Holes, mm") for w in words)
    assert words.count("BUTT LINE, behind") >= 2  # the sheet begins where the post's back is
    for sheet in book.sheets:
        assert overlaps(sheet.items) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_a_hole_table_wider_than_the_paper_is_set_smaller(paper):
    """The table of a round latch post that a long name makes wider than A4."""
    faces = tuple(
        replace(each, id=f"right-hand-{each.id}-of-the-lower-yard-{each.id}") for each in ALL
    )
    made = template_book(faces, STAMP, PAPERS[paper])

    for sheet in made.sheets:
        assert strays(sheet, TRUE.field(made.paper)) == []
