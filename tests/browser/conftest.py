"""What the tests in a browser share: a pack in a folder, and pages of it that are open."""

import os
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pack import Pack
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.report.page import report_page
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.writers.stamp import Stamp

from .opened import CHROMIUM, NO_3D, QUIET, SOFTWARE_3D, Open, Seen


@pytest.fixture(scope="session")
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
    written = pack_files.reckoned(design, shelf, lambda *_: None)
    pack_files.drawn(design, shelf, stamp, lambda *_: None, written)
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


@pytest.fixture(scope="session")
def folder(pack: Pack, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("pack")
    for path, content in pack.files.items():
        (out / path).parent.mkdir(parents=True, exist_ok=True)
        (out / path).write_bytes(content)
    return out


@pytest.fixture(scope="session")
def browsers() -> Iterator[Callable[[bool], Any]]:
    """A browser with software 3D, and one with none; each is started once."""
    if CHROMIUM is None:
        pytest.skip("no chromium is installed here")
    sync_api = pytest.importorskip("playwright.sync_api")
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
