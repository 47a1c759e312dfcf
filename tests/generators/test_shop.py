"""The shop record: complete without a file, overridable table by table."""

import pytest

from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import read_shop, shop_from_bytes
from hangpost.generators.survey.shop import Shop

INCH = 25.4


def test_the_shop_is_complete_without_a_file() -> None:
    assert read_shop(None) == Shop()
    thicknesses = [plate.thickness / INCH for plate in Shop().plates]
    assert thicknesses == pytest.approx([0.1875, 0.25, 0.3125, 0.375, 0.5])


# Common practice, no source: 4 to 4 1/2 in at the folded end.
def test_the_folded_clearance_is_four_and_a_quarter_inches() -> None:
    assert Shop().clearances.folded == pytest.approx(4.25 * INCH)


# Fabricators' guides: laser about one thickness; trade practice for plasma one and a half.
@pytest.mark.parametrize(("process", "least"), [("laser", 10.0), ("plasma", 15.0), ("hand", 1.0)])
def test_the_smallest_hole_follows_the_process(process: str, least: float) -> None:
    shop = shop_from_bytes(f'units = "mm"\n[cutting]\nprocess = "{process}"'.encode())

    assert shop.cutting.least_hole(10.0) == pytest.approx(least)


# ASME B18.2.8 normal series: 9/16 in for a 1/2 in bolt (memory); zinc 1/16 in: common practice.
def test_zinc_opens_the_holes_of_bolts_and_no_pin_is_loose_by_it() -> None:
    """GEO-12. Close series of ASME B18.2.8, 17/32 in for 1/2 in (memory): what a reamer leaves."""
    plain = shop_from_bytes(b'finish = "plain"')

    assert plain.bolt_hole("1/2") == pytest.approx(9 / 16 * INCH)
    assert Shop().bolt_hole("1/2") == pytest.approx(9 / 16 * INCH + 1.6)
    assert Shop().pin_hole(12.7) == pytest.approx(17 / 32 * INCH)
    assert plain.pin_hole(12.7) == pytest.approx(17 / 32 * INCH)


def test_projection_follows_the_unit_unless_told() -> None:
    assert Shop().drawings.angle == "third"
    assert shop_from_bytes(b'[drawings]\nunits = "mm"').drawings.angle == "first"
    assert shop_from_bytes(b'[drawings]\nprojection = "first"').drawings.angle == "first"


def test_a_shop_file_overrides_only_what_it_says() -> None:
    text = 'units = "mm"\nname = "the yard"\n[[plate]]\nthickness = 8\nbend_radius = 10\n[[plate]]\nthickness = 5\n[sheet]\nlength = 2000\nwidth = 1000'
    shop = shop_from_bytes(text.encode())

    assert [plate.thickness for plate in shop.plates] == [5.0, 8.0]
    assert (shop.plates[0].radius, shop.plates[1].radius) == (5.0, 10.0)
    assert shop.plate_near(5.5).thickness == 8.0
    assert shop.plate_near(20.0).thickness == 8.0
    assert shop.fasteners == read_shop(None, "mm").fasteners


def test_every_mistake_of_a_shop_file_is_told() -> None:
    text = 'finsh = "plain"\n[cutting]\nprocess = "lazer"\n[fasteners]\nbolts = ["M7"]\n[[plate]]\nthickness = 0\n[sheet]\nlength = "4 ft"\nwidth = "8 ft"\n[drawings]\npaper = ["a5"]'
    with pytest.raises(SurveyError) as refused:
        shop_from_bytes(text.encode(), file="yard.toml")

    told = str(refused.value)
    for words in (
        'yard.toml: finsh = "plain": is not a key known here; did you mean "finish"?',
        'yard.toml: cutting.process = "lazer"',
        'did you mean "laser"?',
        'yard.toml: fasteners.bolts[1] = "M7": is not a listed size',
        "yard.toml: plate[1].thickness = 0: is too small",
        'yard.toml: drawings.paper[1] = "a5"',
    ):
        assert words in told


def test_a_shorter_side_longer_than_the_longer_is_refused() -> None:
    with pytest.raises(SurveyError, match=r'sheet\.width = "8 ft": is more than length'):
        shop_from_bytes(b'[sheet]\nlength = "4 ft"\nwidth = "8 ft"')


def test_every_default_says_whether_it_is_a_standard_or_the_house() -> None:
    for table in ("cutting", "bending", "limits", "clearances", "fits", "sheet"):
        record = type(getattr(Shop(), table))
        for field in record.model_fields.values():
            words = field.description or ""

            assert any(mark in words for mark in ("house", "common practice", "standard"))
