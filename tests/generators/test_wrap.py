"""Wrap-around sheets rolled on a cylinder in code: every hole lands on its axis.

The axis of a hole is known from the seat: straight, square to it, at its own offset; the sheet is
rolled with its middle half a paper thickness outside the post.
"""

import io
from math import asin, cos, pi, sin

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, TRUE
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.wrap import Wrap
from hangpost.parts.loop import rectangle

from .drawings import strays

STAMP = Stamp(job="Invented tube gate", site_sha256="a1" * 32, version="0.1.0")
OUTSIDE = 88.9  # NPS 3: 3.500 in, ASME B36.10M


def wrap_template(outside: float, offsets: tuple[float, ...], *, through: bool = True) -> Template:
    """Holes whose axes pass the post's middle at the given sideways offsets, at two heights."""
    return Template(
        id="round",
        part_id="saddle-bracket",
        face="hanging post, round",
        datum="the line nearest to the actuator, at pin height",
        holes=tuple(
            Drilling(
                name=f"{'AB'[k]}{i}",
                u=outside / 2 * asin(x / (outside / 2)),
                v=v,
                diameter=13.0,
                pilot=6.0,
            )
            for k, v in enumerate((41.0, -37.0))
            for i, x in enumerate(offsets)
        ),
        outline=rectangle(-30, -60, 30, 60, 5),
        wrap_diameter=outside,
        height=700.0,
        facing="yard side",
        through=through,
        depth=outside,
    )


def rolled(u: float, outside: float, paper: float) -> tuple[float, float]:
    """A place on the sheet, u from the datum line along the paper, laid around the post."""
    angle = u / ((outside + paper) / 2)
    return (outside / 2 * sin(angle), outside / 2 * cos(angle))


@given(
    outside=st.floats(60.0, 170.0),
    share=st.floats(-0.8, 0.8),
    paper=st.floats(0.05, 0.3),
)
def test_rolled_sheet_puts_entry_and_exit_on_the_axis(outside, share, paper):
    """PDF-12: spacing on the arc."""
    offset = share * outside / 2
    wrap = Wrap(wrap_template(outside, (offset,)), paper)
    for hole in wrap.holes:
        x, out = rolled(wrap.on_paper(hole.u), outside, paper)
        assert x == pytest.approx(offset, abs=0.1)
        assert (out > 0) == (not hole.name.endswith("x"))  # entries face the actuator


def test_sheet_length_is_pi_times_outside_diameter_and_paper():
    """PDF-12: length of the wrap with the allowance for the paper."""
    wrap = Wrap(wrap_template(OUTSIDE, (-20.0, 20.0)), 0.1)
    assert wrap.length == pytest.approx(pi * 89.0)
    # 100 sheets of 80 g/m2 paper stand 10 mm high (common practice, no source): 0.3 mm in length
    assert wrap.length - pi * OUTSIDE == pytest.approx(0.314, abs=0.001)


def test_butt_line_keeps_off_every_hole():
    wrap = Wrap(wrap_template(OUTSIDE, (-20.0, 20.0)))
    whole = pi * OUTSIDE
    for hole in wrap.holes:
        apart = (hole.u - wrap.butt) % whole
        assert min(apart, whole - apart) > 25.0


@pytest.mark.parametrize("name", list(PAPERS))
def test_wrap_on_paper_rolls_true_across_tiles(name):
    template = wrap_template(OUTSIDE, (-20.0, 20.0))
    book = template_book([template], STAMP, PAPERS[name])
    offsets = {h.name: OUTSIDE / 2 * sin(h.u / (OUTSIDE / 2)) for h in template.holes}
    for page in book.pages_of("round"):
        marks = {m.hole: (m.y if page.turned else m.x) for m in page.marks}
        entries = [n for n in marks if not n.endswith("x")]
        for a in entries:
            for b in entries:
                apart = marks[b] - marks[a]
                turn = apart / ((OUTSIDE + 0.1) / 2)
                true = asin(offsets[b] / (OUTSIDE / 2)) - asin(offsets[a] / (OUTSIDE / 2))
                assert OUTSIDE / 2 * (turn - true) == pytest.approx(0.0, abs=0.05)
    names = [m.hole for p in book.pages_of("round") for m in p.marks]
    assert sorted(names) == sorted(h.name for h in Wrap(template).holes)


@pytest.mark.parametrize("name", list(PAPERS))
def test_wrap_says_what_post_it_was_made_for_and_nothing_meets(name):
    """PDF-12: circumference, butt line, tab and quarter lines."""
    book = template_book([wrap_template(OUTSIDE, (-20.0, 20.0))], STAMP, PAPERS[name])
    with pdfplumber.open(io.BytesIO(book.pdf())) as pdf:
        text = pdf.pages[0].extract_text()
    assert "circumference of 11 in (279.3 mm)" in text and "88.9 mm" in text
    assert "within 1 mm" in text
    words = [i.text for sheet in book.sheets for i in sheet.items if hasattr(i, "text")]
    for line in ("BUTT LINE", "DATUM LINE", "quarter, right", "quarter, left", "behind"):
        assert any(line in said for said in words), line
    assert "overlap tab, goes under" in words
    for sheet in book.sheets:
        assert overlaps(sheet.items) == []
        assert strays(sheet, TRUE.field(book.paper)) == []
