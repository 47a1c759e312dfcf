"""Shop drawings as DXF: sound, at true size, with real dimensions and the symbol of the paper."""

import io
import re
from dataclasses import replace

import ezdxf
import numpy as np
import pdfplumber
import pytest
import zxingcpp

from hangpost.generators import files
from hangpost.generators.shelf import Shelf
from hangpost.generators.writers.drawing import part_sheets
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.modules import Modules
from hangpost.generators.writers.sheet_dxf import sheet_dxf
from hangpost.generators.writers.stamp import LEAST_MODULE

from .drawings import CASES, gate, sheets


@pytest.mark.parametrize("case", CASES)
def test_dxf_drawing_is_sound_and_its_dimensions_measure_what_they_say(case):
    units = CASES[case][1]
    for drawn, whole in sheets(case):
        flat = drawn.part.flat_pattern()
        least = 2 if flat is not None and not flat.bends else 3  # length and width; depth
        for sheet in whole:
            document = ezdxf.read(io.StringIO(sheet_dxf(sheet, "").decode()))
            audit = document.audit()
            assert not audit.errors and not audit.fixes
            assert document.header["$INSUNITS"] == 4
            found = document.modelspace().query("DIMENSION")
            assert len(found) >= least
            for dimension in found:
                inch, metric = re.findall(r"[\d.]+", dimension.dxf.text)[
                    :: 1 if units == "in" else -1
                ]
                measured = dimension.get_measurement()
                assert measured == pytest.approx(float(metric), abs=0.006)
                assert measured / 25.4 == pytest.approx(float(inch), abs=0.0006)


def test_dxf_drawing_carries_a_symbol_that_names_the_input_where_the_pdf_has_its_own():
    """The hatch is painted as squares and read by a decoder that knows nothing of us."""
    case = "right, pull, inches"
    sheet, stamp = sheets(case)[0][1][0], gate(case)[2]
    mark = stamp.mark_for(sheet.title)
    document = ezdxf.read(io.StringIO(sheet_dxf(sheet, mark).decode()))
    (hatch,) = document.modelspace().query("HATCH")
    assert hatch.dxf.solid_fill == 1 and hatch.dxf.layer == "QR"
    boxes = [np.array([v[:2] for v in path.vertices]) for path in hatch.paths]
    low = np.min([b.min(axis=0) for b in boxes], axis=0)
    high = np.max([b.max(axis=0) for b in boxes], axis=0)
    (symbol,) = (i for i in sheet.items if isinstance(i, Modules))
    left, bottom, right, top = (edge / sheet.scale for edge in symbol.box)
    assert left - 0.01 <= low[0] < high[0] <= right + 0.01  # at the drawing's size
    assert bottom - 0.01 <= low[1] < high[1] <= top + 0.01
    square = min(float(np.ptp(box, axis=0).min()) for box in boxes)
    count = round((high[0] - low[0]) / square)
    assert count % 4 == 1 and count <= 37  # ISO/IEC 18004: 17 + 4 versions
    assert square * sheet.scale >= LEAST_MODULE - 1e-4

    dots = np.full(((count + 8) * 4,) * 2, 255, dtype=np.uint8)
    for box in boxes:
        x0, y0 = np.rint((box.min(axis=0) - low) / square).astype(int)
        x1, y1 = np.rint((box.max(axis=0) - low) / square).astype(int)
        part = dots[(count + 4 - y1) * 4 : (count + 4 - y0) * 4, (x0 + 4) * 4 : (x1 + 4) * 4]
        assert (part == 255).all()  # no square is filled twice
        part[:] = 0
    assert zxingcpp.read_barcode(dots).text == mark
    for named in ("hangpost", stamp.site_sha256[:16], stamp.revision, sheet.title):
        assert named in mark


def test_a_drawing_of_two_sheets_has_a_dxf_for_each_and_the_gate_has_one_for_each_leaf(monkeypatch):
    """What would stand on a second sheet is stood there by hand: a table of holes."""
    design, _, stamp, _ = gate("right, pull, inches")

    def two(drawn, shop, stamp):
        (first,) = part_sheets(drawn, shop, stamp)
        return (first, replace(first, items=(Text((30.0, 30.0), "the second sheet"),)))

    monkeypatch.setattr(files, "part_sheets", two)
    written, shelf = files.Written(), Shelf()
    files.drawn(design, shelf, stamp, lambda *_: None, written)
    drawings = files.drawings(design, stamp, written)
    written.files.update({draft.path: shelf.get(draft) for draft in drawings})

    assert "fabricate/assembly-drawing_mm.dxf" in written.files
    for part, _ in design.parts:
        own = written.parts[part.mark]
        said = [
            {t.dxf.text for t in ezdxf.read(io.StringIO(data.decode())).modelspace().query("TEXT")}
            for data in (written.files[own[kind]] for kind in ("drawing_dxf", "drawing_dxf_2"))
        ]
        assert part.mark in said[0] and said[1] == {"the second sheet"}


def test_drawings_of_a_pack_with_a_failed_check_say_so_on_paper_and_as_dxf():
    design, _, stamp, _ = gate("right, pull, inches")
    written, shelf = files.Written(), Shelf()
    files.drawn(design, shelf, stamp, lambda *_: None, written)
    for failed, loud in ((0, False), (2, True)):
        drawings = files.drawings(design, replace(stamp, failed=failed), written)
        written.files.update({draft.path: draft.done(shelf) for draft in drawings})
        shown = {path: data for path, data in written.files.items() if "-drawing" in path}
        drafts = [data.decode() for path, data in shown.items() if path.endswith(".dxf")]
        assert len(drafts) > len(design.parts)
        for draft in drafts:
            said = {text.dxf.text for text in ezdxf.read(io.StringIO(draft)).query("TEXT")}
            assert ("2 CHECKS FAIL: DO NOT MAKE, DRILL OR FIT" in said) == loud
        for path, data in shown.items():
            if path.endswith(".dxf"):
                continue
            with pdfplumber.open(io.BytesIO(data)) as paper:
                for page in paper.pages:
                    assert ("DO NOT MAKE" in page.extract_text()) == loud, path


def test_dxf_drawing_shows_the_flat_at_true_size():
    for drawn, whole in sheets("right, pull, inches"):
        flat = drawn.part.flat_pattern()
        if flat is None:
            continue
        document = ezdxf.read(io.StringIO(sheet_dxf(whole[0], "").decode()))
        circles = [c.dxf.radius * 2 for c in document.modelspace().query("CIRCLE")]
        for hole in (h for h in flat.holes if not h.slot_length):
            assert any(abs(d - hole.diameter) < 1e-4 for d in circles)
