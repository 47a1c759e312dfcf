"""A report page for the tests of it: made without a sweep, and read as a browser would."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from html.parser import HTMLParser
from importlib.resources import files
from typing import Any

from hangpost.generators import manifest
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.report.page import report_page
from hangpost.generators.report.pictures import part_picture, pivot_maps, portraits
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes

EVIL = '</script><script>alert(1)</script><img src=x onerror=alert(2)> "O\'Neil" & ampersand; {{ 7*7 }}'
CHECKS = (
    Check(id="a", what="little used", value=1.25, limit=10.0, unit="mm", source="first source"),
    Check(id="b", what=EVIL, value=12345.678, limit=10000.0, unit="N", source=EVIL),
    Check(
        id="c",
        what="warns",
        value=3.5,
        limit=4.0,
        unit="mm",
        source="x",
        at_least=True,
        warning=True,
    ),
    Check(
        id="d",
        what="nothing to stand on",
        value=5.0,
        limit=0.0,
        unit="N mm",
        source="x",
        would_do="a post <of> 8x8",
    ),
    Check(id="e", what="almost", value=9.996, limit=10.0, unit="mm", source="x"),
)
CLEARANCES = (
    Clearance(pair=("held", "holder"), least=0.0, at_angle=0.0, overlap=0.0, touching=True),
    Clearance(pair=("one", "another"), least=23.456, at_angle=-45.0, overlap=0.0),
    Clearance(pair=("one", "third"), least=0.0, at_angle=12.0, overlap=812.0),
    Clearance(pair=("one", "fourth"), least=4.0, at_angle=0.0, overlap=0.0),
)


@dataclass(frozen=True)
class Made:
    """A page and what it was made from."""

    design: Design
    shelf: Shelf
    files: Mapping[str, bytes]
    page: bytes
    pack: Any  # pack.json as another program reads it


def made(text: str) -> Made:
    """A page as the pack has it, but for the checks, which would need a whole sweep."""
    survey = survey_from_bytes(text.encode(), file="site.toml")
    shop = read_shop(None)
    solved = solve_gate(survey.site, shop)
    design = design_gate(survey.site, shop, solved, [usual(shop)] * len(solved))
    shelf = Shelf()
    pictures = {each.path: each.painted(shelf.mesh) for each in portraits(design)}
    pictures |= pivot_maps(design)
    own: dict[str, dict[str, str]] = {}
    for part, _ in design.parts:
        path = f"pictures/{part.mark}.png"
        pictures[path] = part_picture(part, shelf.mesh)
        own[part.mark] = {"picture": path}
    data = manifest.manifest(
        design,
        site_sha256=survey.sha256,
        checks=CHECKS,
        clearances=CLEARANCES,
        files=pictures,
        part_files=own,
        template_files={},
    )
    page = report_page(design, data, pictures, shelf)
    return Made(design, shelf, pictures, page, json.loads(manifest.as_bytes(data)))


def demo(job: str = "an invented gate") -> str:
    text = files("hangpost.cli").joinpath("demo.toml").read_text(encoding="utf-8")
    return re.sub(r"(?m)^job = .*$", lambda _: f"job = {json.dumps(job)}", text)


WALL = f"""
[[obstacle]]
name = {json.dumps(EVIL)}
from = ["14 ft", "-6 ft"]
to = ["16 ft", "-4 ft"]
"""


class Reader(HTMLParser):
    """What a browser would find: tags with attributes, text of each element by its start tag."""

    def __init__(self, page: bytes) -> None:
        """Read a page to its end."""
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.data: list[tuple[dict[str, str | None], str]] = []
        self.text = ""
        self.scripts: list[str] = []
        self.open: list[str] = []
        self.feed(page.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag and what it carries."""
        self.tags.append((tag, dict(attrs)))
        self.open.append(tag)
        if tag == "data":
            self.data.append((dict(attrs), ""))
        if tag == "script":
            self.scripts.append("")

    def handle_endtag(self, tag: str) -> None:
        """Leave an element, and those in it that have no end tag."""
        while self.open and self.open.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        """Note text where it belongs."""
        inside = self.open[-1] if self.open else ""
        if inside == "script":
            self.scripts[-1] += data
        elif inside != "style":
            self.text += data
        if inside == "data":
            self.data[-1] = (self.data[-1][0], self.data[-1][1] + data)


def at(pack: Any, path: str) -> Any:
    for step in path.split("."):
        pack = pack[int(step) if isinstance(pack, list) else step]
    return pack
