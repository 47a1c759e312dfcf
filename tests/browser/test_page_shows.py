"""What the page shows in a browser with 3D, without it, without scripts and on paper."""

import re
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image

from hangpost.generators.pack import Pack

from .opened import Open


def test_page_loads_without_complaint_and_asks_for_nothing_else(visit: Open, folder: Path) -> None:
    seen = visit()
    seen.page.evaluate("hangpost.show(0.5)")
    seen.page.click("button[data-view=near]")
    seen.page.wait_for_timeout(300)
    outside = [url for url in seen.asked if not url.startswith("data:")]

    # A software renderer may say that it is one.
    assert not [said for said in seen.complaints if not re.search("GPU stall|swiftshader", said)]
    assert outside == [(folder / "report.html").as_uri()]


def colours(picture: bytes) -> np.ndarray:
    pixels = np.asarray(Image.open(BytesIO(picture)).convert("RGB"))
    return pixels.reshape(-1, 3)


def test_scene_shows_the_gate_and_changes_as_it_swings(visit: Open) -> None:
    page = visit().page
    page.wait_for_timeout(300)
    canvas = page.locator("#scene canvas")
    closed = canvas.screenshot()
    page.evaluate("hangpost.show(0.7)")
    page.wait_for_timeout(300)

    assert len(np.unique(colours(closed), axis=0)) > 50
    assert not page.locator(".stills").is_visible()
    assert (colours(closed) != colours(canvas.screenshot())).any(axis=1).mean() > 0.01


def test_without_3d_the_pictures_stand_in_and_the_plan_still_moves(visit: Open) -> None:
    seen = visit(solid=False)
    page = seen.page
    before = page.locator("svg.plan").first.screenshot()
    page.evaluate("hangpost.show(0.7)")

    assert page.evaluate("hangpost.scene") is None
    assert page.locator("#scene canvas").count() == 0
    assert not page.locator(".views").is_visible()
    for picture in page.locator(".stills img").all():
        assert picture.is_visible()
        assert picture.evaluate("image => image.complete && image.naturalWidth > 500")
    assert (colours(before) != colours(page.locator("svg.plan").first.screenshot())).any(
        axis=1
    ).mean() > 0.005
    assert not seen.complaints


def test_without_scripts_everything_that_does_not_move_is_there(visit: Open, pack: Pack) -> None:
    page = visit(script=False).page
    rows = page.locator("#check-table tbody tr")

    assert page.locator(".stills img").first.is_visible()
    assert not page.locator(".controls").is_visible()
    assert rows.count() == len(pack.checks)
    assert rows.last.is_visible()


def test_every_link_leads_to_a_file_that_is_there(visit: Open, folder: Path) -> None:
    page = visit(solid=False).page
    links = page.eval_on_selector_all("a[href]", "all => all.map(a => a.getAttribute('href'))")
    paths = {link for link in links if not link.startswith("#")}

    assert paths
    assert not [path for path in paths if not (folder / path).is_file()]


def test_on_paper_there_are_pictures_and_no_controls(visit: Open) -> None:
    page = visit().page
    page.emulate_media(media="print")

    assert not page.locator("#scene canvas").is_visible()
    assert page.locator(".stills img").first.is_visible()
    assert not page.locator(".controls").is_visible()
    assert page.locator("#first .cautions").is_visible()
    assert len(page.pdf(format="A4")) > 20_000
