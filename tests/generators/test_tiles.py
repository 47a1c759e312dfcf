"""Faces larger than the paper: as few sheets as may be, that overlap and keep off the holes."""

import io
from dataclasses import replace

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.writers.face import flat_face
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.paper import PAPERS
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.tiles import DoesNotFitError, seams, tiling
from hangpost.parts.loop import rectangle

from .template_faces import LATCH, POST, STAMP, TALL, WIDE, circles_by_pdfplumber, drilling


def test_one_bracket_is_one_page_when_it_fits():
    """PDF-10: no tiling without need."""
    pages = template_book([POST, LATCH], STAMP, PAPERS["a4"]).pages
    assert [(p.kind, p.tile) for p in pages[:3]] == [
        ("entry", "1/1"),
        ("exit", "1/1"),
        ("entry", "1/1"),
    ]
    wide = template_book([WIDE], STAMP, PAPERS["a4"]).pages[0]
    assert (wide.tile, wide.turned) == ("1/1", True)  # on its side rather than in two pieces


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
    """PDF-10: overlap and registration marks."""
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
    """PDF-10, PDF-11: no hole near a seam; tiled, never shrunk."""
    keep = [(h, 12.0) for h in holes]
    try:
        cuts = seams(0.0, high, room, keep)
    except DoesNotFitError:
        return
    starts, ends = [0.0, *(c - 10 for c in cuts)], [*(c + 10 for c in cuts), high]
    assert all(e - s <= room + 1e-6 for s, e in zip(starts, ends, strict=True))
    assert all(abs(c - h) >= 12.0 for c in cuts for h in holes)


@pytest.mark.parametrize("name", PAPERS)
def test_a_narrow_sheet_round_a_post_takes_the_fewest_pages(name):
    """359 mm round: lying along the paper it is one large sheet or two small ones."""
    ears = replace(POST, holes=(), wrap_diameter=114.3, edges=(), edge_names=(), through=False)
    ears = replace(ears, outline=rectangle(-40, -20, 40, 20))
    pages = template_book([ears], STAMP, PAPERS[name]).pages_of("post")
    assert len(pages) == (1 if name in ("a3", "tabloid") else 2)


def test_every_sheet_of_a_tiled_face_has_the_map_with_itself_framed():
    """PDF-10: the page map."""
    book = template_book([TALL], STAMP, PAPERS["letter"])
    tiled = [p for p in book.pages_of("tall") if p.tile != "1/1"]
    assert len(tiled) >= 3
    for k, page in enumerate(tiled, 1):
        texts = [i for i in book.sheets[page.page - 1].items if isinstance(i, Text)]
        numbers = [t for t in texts if t.text in {str(n) for n in range(1, len(tiled) + 1)}]
        mapped = [t for t in numbers if t.anchor == "centre"]
        assert sorted(t.text for t in mapped) == [str(n) for n in range(1, len(tiled) + 1)]
        assert [t.text for t in mapped if t.bold] == [str(k)]
