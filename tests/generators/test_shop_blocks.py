"""What a shop asks beyond flat parts: printed blocks, welded ears, lists, notes of the finish."""

from dataclasses import replace

import numpy as np
import pytest

from hangpost.generators.survey.stock import Prices
from hangpost.generators.writers.assembly_sheet import assembly_sheet
from hangpost.generators.writers.ink import Circle, Text
from hangpost.generators.writers.list_sheets import list_sheets
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.wedge import WedgeShim

from .shop_gates import drawn, every_gate, gate


@every_gate
def test_a_block_shows_its_datum_and_the_names_of_its_holes(name):
    blocks = [(p, sheets) for p, _, sheets, _ in drawn(name) if p.process == "print"]
    for part, (sheet, *_) in blocks:
        words = [i.text for i in sheet.items if isinstance(i, Text)]
        assert words.count("datum") == 1
        seen = [b.hole.name for b in part.bores if abs(b.axis[2]) > 0.999]
        assert all(words.count(hole) >= 2 for hole in seen), part.mark  # view and table
        dot = next(i for i in sheet.items if isinstance(i, Circle) and i.filled)
        label = next(i for i in sheet.items if isinstance(i, Text) and i.text == "datum")
        assert np.hypot(dot.centre[0] - label.at[0], dot.centre[1] - label.at[1]) < 10.0


def test_a_wedge_tells_its_taper_and_both_ends():
    found = [(p, w) for p, _, _, w in drawn("leaning timber, mm") if isinstance(p, WedgeShim)]
    assert found
    for part, words in found:
        thin, thick = part.ends
        assert abs(part.tilt_v) == pytest.approx(1.1, abs=0.05)
        assert f"{round(abs(part.tilt_v), 2):g}° up and down" in words
        assert f"{thin / 25.4:.3f}" in words and f"{thick / 25.4:.3f}" in words
        assert "a vee marks each thick side" in words


def test_a_welded_ear_tells_its_seam_and_keeps_the_zinc_off_it():
    found = [(p, w) for p, _, _, w in drawn("round post welded, mm") if p.kind == "ear to weld"]
    assert found
    for part, words in found:
        assert "fillet along the whole back edge" in words and f"{part.weld_leg:.1f} mm" in words
        assert "no zinc within 25 mm [0.984 in] of the seam" in words


def test_a_receiver_tells_its_bevel_and_the_face_it_is_on():
    (found,) = [
        (p, w) for p, _, _, w in drawn("timber, lock, inches") if isinstance(p, LockReceiver)
    ]
    part, words = found
    said = f"on the marked face, {part.bevel / 25.4:.3f} [{part.bevel:g}] x 45°"
    assert f"Bevel the rim of opening {part.opening.name} all round {said}" in words
    # metal beside the opening on the back, none where the bevel is, on the face that bends turn to
    beside = part.opening.u + (part.opening.diameter + part.bevel) / 2
    solid, v, t = part.solid(), part.opening.v, part.plate_thickness
    assert part.flat_pattern().bends[0].up
    assert solid.isInside((beside, v, 0.2)) and not solid.isInside((beside, v, t - 0.2))


def test_sheets_of_a_gate_are_counted_and_lists_have_a_price_column_only_with_prices():
    design, text, shelf = gate("timber, lock, inches")
    stamp = Stamp(job="j", site_sha256="7e" * 32, version="0.1.0", record=text)
    sheet = assembly_sheet(design.leaves[0], shelf.look, design.shop, stamp, "2 of 3")
    assert "2 of 3" in [i.text for i in sheet.items if isinstance(i, Text)]

    for prices in (None, Prices(currency="EUR", steel=2.5, fastener=1.0)):
        priced = replace(design, shop=design.shop.model_copy(update={"prices": prices}))
        heads = [i.text for s in list_sheets(priced, stamp) for i in s.items if isinstance(i, Text)]
        assert heads.count("price") == (2 if prices else 0)
