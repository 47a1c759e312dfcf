"""The report page in a real browser: Chromium, driven headless, with software 3D or with none."""

import json
import math
import os
import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pack import Pack
from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.problem import ActuatorPlan, Brackets, Eye, LeafPlan, PostPlan
from hangpost.generators.pivots.problem import Problem as Gate
from hangpost.generators.pivots.solve import solve
from hangpost.generators.report.moving import motion
from hangpost.generators.report.page import report_page
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.bodies import Body
from hangpost.parts.frame import Frame

CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no chromium is installed here")
sync_api = pytest.importorskip("playwright.sync_api")

QUIET = [  # a closed network is no reason for the browser to complain
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
]
SOFTWARE_3D = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"]
NO_3D = ["--disable-gpu", "--disable-3d-apis"]


@dataclass
class Seen:
    """A page that is open, and what it complained about or asked for."""

    page: Any
    complaints: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)


Open = Callable[..., Seen]


@pytest.fixture(scope="module")
def pack() -> Pack:
    """The example's pack, but for the choice of stock and the checks, which take their time."""
    text = files("hangpost.cli").joinpath("demo.toml").read_bytes()
    survey = survey_from_bytes(text, file="demo.toml")
    shop = read_shop(None)
    solved = solve_gate(survey.site, shop)
    design = design_gate(survey.site, shop, solved, [usual(shop)] * len(solved))
    checks = [
        Check(id=f"c{k}", what=f"invented {k}", value=k * 7.3 % 11, limit=9.0, unit="N", source="x")
        for k in range(40)
    ]
    clearances = [
        Clearance(pair=("a", f"b{k}"), least=k * 3.7, at_angle=k, overlap=0.0) for k in range(30)
    ]
    shelf, stamp = Shelf(), Stamp(job=survey.site.job, site_sha256=survey.sha256, version="0")
    written = pack_files.reckoned(design, shelf, stamp, lambda *_: None)
    pack_files.built(design, checks, clearances, shelf, stamp, lambda *_: None, written)
    data = manifest.manifest(
        design,
        site_sha256=survey.sha256,
        checks=checks,
        clearances=clearances,
        files=written.files,
        part_files=written.parts,
        template_files=written.templates,
    )
    page = report_page(design, data, written.files, shelf)
    whole = {**written.files, "report.html": page, "pack.json": manifest.as_bytes(data)}
    return Pack(design=design, checks=tuple(checks), files=whole, data=data)


@pytest.fixture(scope="module")
def folder(pack: Pack, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("pack")
    for path, content in pack.files.items():
        (out / path).parent.mkdir(parents=True, exist_ok=True)
        (out / path).write_bytes(content)
    return out


@pytest.fixture(scope="module")
def browsers() -> Iterator[Callable[[bool], Any]]:
    """A browser with software 3D, and one with none; each is started once."""
    started: dict[bool, Any] = {}
    root = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_api.sync_playwright() as playwright:

        def browser(solid: bool) -> Any:
            if solid not in started:
                started[solid] = playwright.chromium.launch(
                    executable_path=CHROMIUM,
                    args=[*QUIET, *root, *(SOFTWARE_3D if solid else NO_3D)],
                )
            return started[solid]

        yield browser
        for one in started.values():
            one.close()


@pytest.fixture
def visit(browsers: Callable[[bool], Any], folder: Path) -> Iterator[Open]:
    contexts = []

    def opened(
        *,
        width: int = 1280,
        height: int = 900,
        scheme: str = "light",
        solid: bool = True,
        script: bool = True,
    ) -> Seen:
        context = browsers(solid).new_context(
            viewport={"width": width, "height": height},
            color_scheme=scheme,
            java_script_enabled=script,
            offline=True,
        )
        contexts.append(context)
        seen = Seen(context.new_page())
        seen.page.on(
            "console",
            lambda said: said.type in ("error", "warning") and seen.complaints.append(said.text),
        )
        seen.page.on("pageerror", lambda error: seen.complaints.append(str(error)))
        seen.page.on("request", lambda request: seen.asked.append(request.url))
        seen.page.goto((folder / "report.html").as_uri())
        return seen

    yield opened
    for context in contexts:
        context.close()


def test_page_loads_without_complaint_and_asks_for_nothing_else(visit: Open, folder: Path) -> None:
    seen = visit()
    seen.page.evaluate("hangpost.show(0.5)")
    seen.page.click("button[data-view=near]")
    seen.page.wait_for_timeout(300)
    outside = [url for url in seen.asked if not url.startswith("data:")]

    # A software renderer may say that it is one.
    assert not [said for said in seen.complaints if not re.search("GPU stall|swiftshader", said)]
    assert outside == [(folder / "report.html").as_uri()]


TURN = """name => {
    hangpost.scene.updateMatrixWorld(true);
    const found = hangpost.scene.getObjectByName(name).matrixWorld.elements;
    return [Math.atan2(found[1], found[0]) * 180 / Math.PI, found[12], found[13], found[14]];
}"""


@pytest.mark.parametrize("step", [0, 1, 77, 133, 200])
def test_slider_swings_the_leaf_to_the_angle_that_is_shown(
    visit: Open, pack: Pack, step: int
) -> None:
    page = visit().page
    page.evaluate(
        """step => {
            const slider = document.getElementById("opening");
            slider.value = step;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        }""",
        step,
    )
    told = float(page.inner_text("#opening-shown").rstrip("\u00b0"))
    turn, x, y, z = page.evaluate(TURN, "leaf")
    mount = pack.design.leaves[0].mount

    assert told == pytest.approx(mount.opening * step / 200, abs=0.051)
    assert turn == pytest.approx(mount.opening * step / 200, abs=1e-6)
    assert (x, y, z) == pytest.approx((0, 0, 0), abs=1e-9)
    assert f"{told:.1f}" in page.get_attribute("#opening", "aria-valuetext")


def test_slider_and_play_work_from_the_keyboard(visit: Open, pack: Pack) -> None:
    page = visit().page
    page.focus("#opening")
    page.keyboard.press("End")
    opened = page.evaluate(TURN, "leaf")[0]
    page.keyboard.press("ArrowLeft")
    less = page.evaluate(TURN, "leaf")[0]
    page.focus("#play")
    page.keyboard.press("Enter")
    page.wait_for_timeout(500)
    pressed = page.get_attribute("#play", "aria-pressed")
    page.keyboard.press("Enter")
    stopped = page.evaluate(TURN, "leaf")[0]
    page.wait_for_timeout(300)

    assert opened == pytest.approx(pack.design.leaves[0].mount.opening, abs=1e-6)
    assert less == pytest.approx(opened * 199 / 200, abs=1e-6)
    assert pressed == "true"
    assert stopped != pytest.approx(less, abs=0.5)
    assert page.get_attribute("#play", "aria-pressed") == "false"
    assert page.evaluate(TURN, "leaf")[0] == stopped


def test_everything_in_the_scene_stands_where_the_design_says(visit: Open, pack: Pack) -> None:
    page = visit().page
    leaf = pack.design.leaves[0]
    for share in (0.0, 0.123, 0.5, 0.875, 1.0):
        angle = leaf.mount.curve[-1].angle * share
        page.evaluate("share => hangpost.show(share)", share)
        for placed in leaf.placed:
            turn, x, y, z = page.evaluate(TURN, placed.name)
            frame = leaf.pose(placed.rides, angle)

            assert (x, y, z) == pytest.approx(frame.origin, abs=0.01)
            assert math.cos(math.radians(turn)) == pytest.approx(frame.u[0], abs=1e-6)
            assert math.sin(math.radians(turn)) == pytest.approx(frame.u[1], abs=1e-6)


def test_plan_moves_with_the_scene(visit: Open, pack: Pack) -> None:
    page = visit().page
    leaf = pack.design.leaves[0]
    page.evaluate("hangpost.show(0.6)")
    angle = leaf.mount.curve[-1].angle * 0.6
    found = page.evaluate(
        """() => [...document.querySelectorAll("#plan-scene > g[data-rides]")].map(group => {
            const m = group.transform.baseVal.consolidate().matrix;
            return [group.dataset.rides, m.a, m.b, m.e, m.f];
        })"""
    )

    assert {rides for rides, *_ in found} == {"ground", "leaf", "tube", "rod"}
    for rides, a, b, e, f in found:
        frame = leaf.pose(rides, angle)
        assert (a, -b) == pytest.approx(frame.u[:2], abs=1e-5)
        assert (e, -f) == pytest.approx(frame.origin[:2], abs=0.01)


def test_pins_stay_in_their_eyes_over_the_swing(visit: Open, pack: Pack) -> None:
    # Whatever the formulas: the rod's pin rides on the leaf, the tube points at it.
    page = visit().page
    found = page.evaluate(
        """() => Array.from({ length: 50 }, (_, k) => {
            const leaf = hangpost.gate.leaves[0], angle = leaf.open * k / 49;
            const [tube, rod, on] = ["tube", "rod", "leaf"].map(r => hangpost.standing(leaf, r, angle));
            return [tube.x, tube.y, tube.turn, rod.x, rod.y, rod.turn, on.turn];
        })"""
    )
    gx, gy = pack.design.leaves[0].mount.leaf_pivot
    for tx, ty, turn, rx, ry, rod_turn, leaf_turn in found:
        c, s = math.cos(math.radians(leaf_turn)), math.sin(math.radians(leaf_turn))
        assert (rx, ry) == pytest.approx((c * gx - s * gy, s * gx + c * gy), abs=1e-6)
        assert turn == pytest.approx(rod_turn)
        assert math.degrees(math.atan2(ry - ty, rx - tx)) == pytest.approx(turn, abs=1e-6)


def leaf_design(direction: Any, hand: Any, shift: float) -> LeafDesign:
    """An invented gate, pulled or pushed, left or right, with nothing on it."""
    eye = Eye(radius=18.0, thickness=20.0, to_body=46.0)
    problem = Gate(
        direction=direction,
        opening=90.0,
        post=PostPlan.square(to_leaf_face=40.0, to_actuator_face=66.0, width=140.0, depth=150.0),
        leaf=LeafPlan(width=3300.0, thickness=52.0, rail_from=0.0, rail_to=3300.0),
        actuator=ActuatorPlan(
            retracted=770.0,
            stroke=410.0,
            thrust=2600.0,
            speed=16.0,
            body_radius=36.0,
            rod_radius=14.0,
            post_eye=eye,
            leaf_eye=eye,
        ),
        torque=310e3,
        brackets=Brackets(max_reach=350.0, max_overhang=300.0, ear_tip=19.0, seat_half_width=19.0),
        height=660.0,
    )
    return LeafDesign(
        name="",
        hand=hand,
        problem=problem,
        mount=solve(problem),
        placed=(),
        templates=(),
        bought=(),
        shift=shift,
    )


@pytest.mark.parametrize("direction", ["pull", "push"])
@pytest.mark.parametrize(("hand", "shift"), [("right", 0.0), ("left", 6543.25)])
def test_motion_in_the_page_is_the_motion_in_python(
    visit: Open, direction: str, hand: str, shift: float
) -> None:
    leaf = leaf_design(direction, hand, shift)
    page = visit(solid=False).page
    count = 37
    angles = [leaf.mount.curve[-1].angle * k / (count - 1) for k in range(count)]
    found = page.evaluate(
        """([leaf, angles]) => angles.map(angle => ({
            state: hangpost.state(leaf, angle),
            places: ["ground", "leaf", "tube", "rod"].map(r => hangpost.standing(leaf, r, angle)),
        }))""",
        [motion(leaf), angles],
    )
    corner = (123.0, -45.0, 67.0)
    for angle, here in zip(angles, found, strict=True):
        for rides, place in zip(("ground", "leaf", "tube", "rod"), here["places"], strict=True):
            # A left-hand thing is given mirrored: its corner too has its x turned round.
            own = Placed(name="x", item=Body("x", ()), frame=Frame(corner), rides=rides)  # type: ignore[arg-type]
            wanted = leaf.standing(own, angle).origin
            u, v, w = corner if hand == "right" else (-corner[0], *corner[1:])
            c, s = math.cos(math.radians(place["turn"])), math.sin(math.radians(place["turn"]))
            stands = (c * u - s * v + place["x"], s * u + c * v + place["y"], w)
            assert stands == pytest.approx(wanted, abs=0.01)
        pivots = (*leaf.mount.post_pivot, *leaf.mount.leaf_pivot)
        assert here["state"]["length"] == pytest.approx(
            float(kinematics.length(*pivots, angle)), abs=1e-6
        )
        assert here["state"]["leverage"] == pytest.approx(
            float(kinematics.leverage(*pivots, angle)), abs=1e-6
        )


def test_figures_at_the_slider_are_those_of_pack_json(visit: Open, pack: Pack) -> None:
    page = visit(solid=False).page
    curve = json.loads(pack.files["pack.json"])["mount"]["curve"]
    for k in (0, len(curve) // 3, len(curve) - 1):
        page.evaluate("share => hangpost.show(share)", k / (len(curve) - 1))
        told = {
            key: float(page.inner_text(f"output[data-reading={key}]"))
            for key in ("angle", "length", "leverage", "edge_speed")
        }
        assert told["angle"] == pytest.approx(abs(curve[k]["angle"]), abs=0.051)
        assert told["length"] == pytest.approx(curve[k]["length"], abs=0.051)
        assert told["leverage"] == pytest.approx(curve[k]["leverage"], abs=0.051)
        assert told["edge_speed"] == pytest.approx(curve[k]["edge_speed"], abs=0.51)


def test_mark_on_each_curve_lies_on_its_line(visit: Open) -> None:
    page = visit(solid=False).page
    for share in (0.0, 0.37, 1.0):
        page.evaluate("share => hangpost.show(share)", share)
        off = page.evaluate(
            """() => [...document.querySelectorAll("figure[data-curve]")].map(figure => {
                const line = figure.querySelector(".line");
                const m = figure.querySelector(".cursor circle").transform.baseVal.consolidate().matrix;
                let least = 1e9;
                for (let k = 0; k <= 4000; k++) {
                    const p = line.getPointAtLength(line.getTotalLength() * k / 4000);
                    least = Math.min(least, Math.hypot(p.x - m.e, p.y - m.f));
                }
                return least;
            })"""
        )
        assert len(off) == 4
        assert max(off) < 0.2  # pixels of the drawing


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


SMALL_TEXT = """([least, leastDrawn]) => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), small = [];
    while (walker.nextNode()) {
        const node = walker.currentNode, element = node.parentElement;
        if (!node.textContent.trim() || !element.checkVisibility()) continue;
        if (["SCRIPT", "STYLE", "TITLE"].includes(element.tagName)) continue;
        if (element.closest("title")) continue;
        let size = parseFloat(getComputedStyle(element).fontSize);
        const drawing = element.closest("svg");
        if (drawing) size *= drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
        if (size < (drawing ? leastDrawn : least)) small.push([size, node.textContent.trim().slice(0, 40)]);
    }
    return small;
}"""


@pytest.mark.parametrize("width", [320, 360, 412])
def test_text_is_readable_on_a_telephone_without_scrolling_sideways(
    visit: Open, width: int
) -> None:
    page = visit(width=width, height=740, solid=False).page
    wide = page.evaluate(
        """() => [...document.querySelectorAll("body *")]
            .filter(e => e.checkVisibility() && !e.closest("svg, .map figure, .skip, thead, .controls label span"))
            .filter(e => e.getBoundingClientRect().right > innerWidth + 1)
            .map(e => e.tagName + "." + e.className)"""
    )

    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert not wide
    # Common practice, no source: 12 px for small print, a drawing gets by with less.
    assert not page.evaluate(SMALL_TEXT, [12.0, 8.5])
    for button in page.locator("button:visible").all():
        box = button.bounding_box()
        assert box and box["height"] >= 44 and box["width"] >= 44


CONTRAST = """() => {
    const parse = (text) => text.match(/[\\d.]+/g).map(Number);
    const light = ([r, g, b]) => [r, g, b].map(c => c / 255)
        .map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
        .reduce((sum, c, k) => sum + c * [0.2126, 0.7152, 0.0722][k], 0);
    const behind = (element) => {
        for (let e = element; e; e = e.parentElement) {
            const colour = parse(getComputedStyle(e).backgroundColor);
            if (colour.length < 4 || colour[3] > 0) return colour;
        }
        return [255, 255, 255];
    };
    const poor = [];
    for (const element of document.querySelectorAll("body *")) {
        const own = [...element.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
        if (!own || !element.checkVisibility() || ["SCRIPT", "STYLE", "TITLE"].includes(element.tagName)) continue;
        if (element.closest("title")) continue;
        const style = getComputedStyle(element);
        const [a, b] = [parse(element.closest("svg") ? style.fill : style.color), behind(element)].map(light);
        const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        if (ratio < 4.5) poor.push([ratio, element.tagName, element.className, element.textContent.slice(0, 30)]);
    }
    return poor;
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_what_is_behind_it(visit: Open, scheme: str) -> None:
    # WCAG 2.1, success criterion 1.4.3: at least 4.5 to 1.
    page = visit(scheme=scheme, solid=False).page
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    brightness = sum(map(int, re.findall(r"\d+", paper)[:3])) / 3

    assert (brightness < 60) == (scheme == "dark")
    assert not page.evaluate(CONTRAST)


def test_checks_sort_by_any_column_and_open_up(visit: Open, pack: Pack) -> None:
    page = visit(solid=False).page
    rows = page.locator("#check-table tbody tr")
    shown = [row for row in rows.all() if row.is_visible()]
    page.click("button.more[aria-controls=check-table]")
    page.click("#check-table th:nth-child(5) button")
    used = page.eval_on_selector_all(
        "#check-table tbody td:nth-child(5)", "cells => cells.map(c => Number(c.dataset.sort))"
    )
    first = page.get_attribute("#check-table th:nth-child(5)", "aria-sort")
    page.click("#check-table th:nth-child(5) button")
    back = page.eval_on_selector_all(
        "#check-table tbody td:nth-child(5)", "cells => cells.map(c => Number(c.dataset.sort))"
    )

    assert len(shown) == 12
    assert len(used) == len(pack.checks)
    assert all(row.is_visible() for row in rows.all())
    assert used == sorted(used) and back == sorted(used, reverse=True)
    assert first == "ascending"
    assert page.locator("#check-table th[aria-sort]").count() == 1


def test_on_paper_there_are_pictures_and_no_controls(visit: Open) -> None:
    page = visit().page
    page.emulate_media(media="print")

    assert not page.locator("#scene canvas").is_visible()
    assert page.locator(".stills img").first.is_visible()
    assert not page.locator(".controls").is_visible()
    assert page.locator("#first .cautions").is_visible()
    assert len(page.pdf(format="A4")) > 20_000


def test_every_link_leads_to_a_file_that_is_there(visit: Open, folder: Path) -> None:
    page = visit(solid=False).page
    links = page.eval_on_selector_all("a[href]", "all => all.map(a => a.getAttribute('href'))")
    paths = {link for link in links if not link.startswith("#")}

    assert paths
    assert not [path for path in paths if not (folder / path).is_file()]


def test_every_control_is_reached_by_tab_and_has_a_name(visit: Open) -> None:
    page = visit().page
    names = page.eval_on_selector_all(
        "a[href], button, input, canvas, [tabindex='0']",
        """all => all.filter(e => e.checkVisibility()).map(e =>
            [e.tagName, e.tabIndex, e.getAttribute("aria-label") || e.textContent.trim()
                || (e.labels && e.labels[0] && e.labels[0].textContent.trim()) || ""])""",
    )

    assert len(names) > 30
    assert not [row for row in names if row[1] < 0 or not row[2]]
