"""The note beside the files to print: every printed part, how many, and what makes it last."""

import re
from dataclasses import replace
from math import cos, radians, sin

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.strength.plastics import plastic
from hangpost.generators.survey.reading import shop_from_bytes, survey_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import PostKind, starter
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.plain_note import WIDE
from hangpost.generators.writers.print_note import print_note
from hangpost.parts.part import PrintedPart
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig

from .noted_parts import BLOCK, WASHER


def test_note_names_what_is_printed_and_nothing_else() -> None:
    """MSH-07: material, walls, filling, how it lies, sun, sleeves, tightening again; not PLA."""
    note = print_note([(WASHER, 4), (BLOCK, 3)], Shop(), "a gate in Möhl")
    assert note is not None
    text = note.decode("utf-8")

    assert f"3 x {BLOCK.mark}: 2.362 x 3.543 x 0.472 [60 x 90 x 12]" in text  # 60 / 25.4
    assert f"{BLOCK.mark}_mm.3mf or {BLOCK.mark}_mm.stl, in mm" in text
    assert WASHER.mark not in text
    assert "a gate in Möhl" in text
    assert all(len(line) <= WIDE for line in text.splitlines())
    # outdoors and under load: common practice, no source
    for word in (
        *("ASA", "PETG second choice, never PLA", "5 walls", "40 %", "lying as in the file"),
        *("Dark plastic creeps in the sun", "steel sleeves", "Re-tighten after 1 week"),
    ):
        assert word in " ".join(text.split())


@pytest.mark.parametrize(
    ("material", "said"),
    [
        ("PETG", "Print PETG (outdoors ASA stands best; never PLA), at least 5 walls"),
        ("asa black", "Print asa black (PETG second choice, never PLA), at least 5 walls"),
        ("PLA+", "Print ASA (PETG second choice), never PLA+: it softens in the sun and creeps"),
    ],
)
def test_the_plastic_of_the_shop_file_is_named_and_pla_is_never_advised(
    material: str, said: str
) -> None:
    """MSH-07: outdoors and under load ASA, then PETG, not PLA (common practice, no source)."""
    shop = shop_from_bytes(f'[printer]\nmaterial = "{material}"'.encode())
    note = print_note([(replace(BLOCK, material=shop.printer.plastic), 1)], shop, "job")
    assert note is not None

    assert said in " ".join(note.decode("utf-8").split())


@pytest.mark.parametrize("post", ["round_steel", "timber"])
def test_every_block_of_a_gate_is_of_the_plastic_that_the_shop_prints(post: PostKind) -> None:
    text = starter(post=post).replace("toward_actuator = 0.0", "toward_actuator = 0.8")
    site = survey_from_bytes(text.encode(), file="site.toml").site
    shop = shop_from_bytes(b'[printer]\nmaterial = "PETG"')
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    printed = [part for part, _ in design.parts if isinstance(part, PrintedPart)]

    assert printed
    assert {part.material.name for part in printed} == {"PETG, printed (mass if solid)"}


def test_a_weld_jig_is_told_as_one_and_not_as_a_block_that_stays() -> None:
    ear = WeldEar(
        id="ear", plate_thickness=10.0, pin=17.0, pin_u=45.0, reach=90.0, tip=25.0,
        root=(-35.0, 42.0), outside=114.3,
    )  # fmt: skip
    jig = WeldJig.for_ear(ear, id="jig", gap=26.0, bore=16.4, nose=14.0)
    note = print_note([(jig, 1)], Shop(), "job")
    assert note is not None
    said = " ".join(note.decode("utf-8").split())

    assert "for tack welds only" in said and "no part of the gate" in said
    assert "in compression only; steel sleeves in its bores" not in said


def test_a_block_longer_than_the_bed_is_told_to_lie_across_its_corners() -> None:
    """MSH-02: 222 x 80 on 220 x 220 goes turned, by arithmetic: 222 cos t + 80 sin t = 220."""
    shop = Shop()
    assert tuple(float(side) for side in shop.printer.bed[:2]) == (220.0, 220.0)
    long = replace(BLOCK, width=222.0, length=80.0)
    said = " ".join(print_note([(long, 1), (BLOCK, 1)], shop, "job").decode("utf-8").split())
    turn = float(said.partition("turn it by ")[2].partition("°")[0])

    assert said.count("across the corners") == 1
    assert 222 * cos(radians(turn)) + 80 * sin(radians(turn)) == pytest.approx(220, abs=2.5)
    assert any("across the corners" in line for line in notes(long, shop))


def test_no_note_where_nothing_is_printed() -> None:
    assert print_note([(WASHER, 4)], Shop(), "job") is None


@pytest.mark.parametrize("post", ["timber", "round_steel"])
def test_each_sleeve_on_the_list_stands_in_a_bore_whose_drawing_gives_its_length(
    post: PostKind,
) -> None:
    """On a leaning post no two need be alike: the list counts them, the drawings say which where."""
    text = starter(post=post, units="mm").replace("actuator = 0.0", "actuator = 0.7")
    site = survey_from_bytes(text.encode(), file="site.toml").site
    shop = shop_from_bytes(b'units = "mm"')
    design = design_gate(site, shop, solve_gate(site, shop), [usual(shop)])
    listed = [
        float(said[1])
        for row in design.leaves[0].bought
        for said in re.findall(r"steel sleeve .*(wall), ([\d.]+) mm", row.name) * row.quantity
    ]
    drawn: list[float] = []
    for part in design.leaves[0].made:
        for said in notes(part, shop):
            if said.startswith("Steel sleeves, length: "):
                for names, long in re.findall(r"((?:\w+(?:, )?)+) ([\d.]+) \[", said):
                    drawn += [float(long)] * len(names.split(", "))

    assert listed and sorted(listed) == sorted(drawn)


def test_another_plastic_bears_and_weighs_what_it_is() -> None:
    """PETG softens some 20 degrees C before ASA (memory): it bears no more for good, nor weighs as it."""
    asa, petg, pla, odd = (plastic(words) for words in ("ASA", "petg black", "PLA+", "spare PAHT"))

    assert asa.lasting > petg.lasting > odd.lasting > pla.lasting > 0
    assert asa.short / asa.lasting == pytest.approx(petg.short / petg.lasting)
    assert petg.density == pytest.approx(1.27e-6) and odd.density == asa.density
    assert "for a block of PETG" in petg.source and "not listed" in odd.source
    assert "block" not in asa.source
