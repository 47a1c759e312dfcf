"""The note beside the cut files: every cut part, how many, which plate, how large, which file."""

from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.cut_note import cut_note
from hangpost.generators.writers.plain_note import WIDE

from .noted_parts import BLOCK, WASHER


def test_note_names_plate_number_size_and_file_of_what_is_cut_and_says_the_unit() -> None:
    """PKG-02, and the sidecar of DXF-01 and DXF-13: overall sizes in both units, no kerf."""
    note = cut_note([(WASHER, 4), (BLOCK, 3)], Shop(), "a gate in Möhl")
    assert note is not None
    text = note.decode("utf-8")
    flat = WASHER.flat_pattern()
    inch = f"{flat.length / 25.4:.3f} x {flat.width / 25.4:.3f}"

    assert "4 x plate: ASTM A36, 0.197 [5] thick" in text
    assert f"blank {inch} [{flat.length:g} x {flat.width:g}]" in text
    assert "plate-revA-5mm-ASTM-A36-4off_mm.dxf" in text
    assert BLOCK.mark not in text and "a gate in Möhl" in text
    assert all(len(line) <= WIDE for line in text.splitlines())
    for words in (
        "Sizes here are in inches [millimetres]",
        "Every DXF is in millimetres",
        "no kerf",
    ):
        assert words in " ".join(text.split())


def test_holes_to_drill_are_named_with_their_part() -> None:
    shop = Shop.model_validate({"cutting": {"process": "plasma", "smallest_hole": "12 mm"}})
    note = cut_note([(WASHER, 4)], shop, "job")
    assert note is not None

    assert "plate: DRILL A Ø0.433 [11]: plasma cuts no hole under 0.472 [12]" in " ".join(
        note.decode("utf-8").split()
    )


def test_no_note_where_nothing_is_cut() -> None:
    assert cut_note([(BLOCK, 4)], Shop(), "job") is None
