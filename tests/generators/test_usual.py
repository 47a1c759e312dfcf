"""What stands in for what a shop file leaves out follows the person's unit."""

import pytest

from hangpost.generators.survey.reading import read_shop, shop_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.shop_starter import shop_starter


def test_without_a_file_a_gate_in_inches_gets_the_defaults_of_the_records() -> None:
    assert read_shop(None, "in") == Shop()


def test_without_a_file_a_gate_in_mm_gets_metric_threads_plate_and_sheets_of_a4() -> None:
    """PDF-02: the paper and the unit are the reader's own. ISO 216 calls the paper of mm A4."""
    shop = read_shop(None, "mm")
    sizes = (*shop.fasteners.bolts, *shop.fasteners.lags, *shop.fasteners.u_bolts)
    whole = [
        *(plate.thickness for plate in shop.plate),
        *(side for bar in shop.flat_bar for side in (bar.width, bar.thickness)),
        *shop.fasteners.pins,
        *(shop.sheet.length, shop.sheet.width),
    ]

    assert (shop.drawings.units, shop.drawings.paper) == ("mm", ("a4",))
    assert shop.drawings.angle == "first"
    assert all(size.startswith("M") for size in sizes)
    assert [size for size in whole if size != round(size)] == []
    assert shop == shop_from_bytes(shop_starter("mm").encode())


@pytest.mark.parametrize(
    ("text", "site", "leads"),
    [
        ("", "mm", "mm"),  # the file does not say: the site leads
        ("", "in", "in"),
        ('units = "in"', "mm", "in"),  # the shop says
        ('units = "mm"', "in", "mm"),
        ('units = "mm"\n[drawings]\nunits = "in"', "mm", "in"),  # and most of all here
        ('[drawings]\nunits = "mm"', "in", "mm"),
    ],
)
def test_the_unit_of_the_drawings_is_the_sites_unless_the_shop_says(
    text: str, site: str, leads: str
) -> None:
    shop = shop_from_bytes(f'name = "the yard"\n{text}'.encode(), "mm" if site == "mm" else "in")

    assert shop.drawings.units == leads


def test_a_shop_in_mm_that_names_its_bolts_keeps_metric_pins_and_lags_beside_them() -> None:
    shop = shop_from_bytes(b'units = "mm"\n[fasteners]\nbolts = ["M24"]\n[drawings]\netch = true')

    assert shop.fasteners.bolts == ("M24",)
    assert shop.fasteners.lags == read_shop(None, "mm").fasteners.lags
    assert shop.fasteners.pins == read_shop(None, "mm").fasteners.pins
    assert shop.drawings.etch
    assert shop.drawings.paper == ("a4",)


def test_a_shop_in_inches_that_draws_in_mm_keeps_its_inch_plate() -> None:
    shop = shop_from_bytes(b'units = "in"\n[drawings]\nunits = "mm"', "mm")

    assert shop.plate == Shop().plate
    assert shop.drawings.paper == Shop().drawings.paper
