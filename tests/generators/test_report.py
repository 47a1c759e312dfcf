"""The report page without a browser: what it says, what it must never hold, what it looks like."""

import json
import re
from base64 import b64decode
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from html.parser import HTMLParser
from importlib.resources import files
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from hangpost.generators import manifest
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.gaps import body_parts
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.solve import solve
from hangpost.generators.report.curves import Curve, curves
from hangpost.generators.report.figures import shown
from hangpost.generators.report.moving import moving
from hangpost.generators.report.page import embedded, report_page
from hangpost.generators.report.painter import Camera, Thing, paint
from hangpost.generators.report.pictures import gate_pictures, part_picture, pivot_maps
from hangpost.generators.report.plan import plan_view
from hangpost.generators.report.png import png
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.writers.cautions import cautions
from hangpost.parts.solids import block, cylinder

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
    Check(id="d", what="nothing to stand on", value=5.0, limit=0.0, unit="N mm", source="x"),
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
    pictures = dict(gate_pictures(design, shelf.mesh)) | pivot_maps(design)
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


@pytest.fixture(scope="module")
def report() -> Made:
    return made(demo(EVIL) + WALL)


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


@pytest.fixture(scope="module")
def read(report: Made) -> Reader:
    return Reader(report.page)


def at(pack: Any, path: str) -> Any:
    for step in path.split("."):
        pack = pack[int(step) if isinstance(pack, list) else step]
    return pack


def test_whatever_a_job_or_an_obstacle_is_called_it_is_text(report: Made, read: Reader) -> None:
    kinds = [attributes.get("type") for tag, attributes in read.tags if tag == "script"]

    assert kinds == ["application/json", None, None]
    assert not [name for _, found in read.tags for name in found if name.startswith("on")]
    assert not [f for tag, f in read.tags if tag == "img" and not str(f["src"]).startswith("data:")]
    assert read.text.count(EVIL) >= 4  # title, heading, check, source, obstacle
    assert read.text.count("alert(1)") == read.text.count(EVIL)


def test_data_in_the_page_cannot_end_the_script_it_stands_in() -> None:
    text = embedded({"name": EVIL})

    assert json.loads(text) == {"name": EVIL}
    assert not re.search("[<>&]", text)


def test_every_number_on_the_page_is_the_number_in_pack_json(report: Made, read: Reader) -> None:
    assert len(read.data) > 150
    for attributes, text in read.data:
        value = at(report.pack, str(attributes["data-at"]))
        if value is None:
            assert attributes["value"] == "" and text == "\u2013"
            continue
        read_as = float(text.replace("\u2212", "-"))
        places = len(text.partition(".")[2])
        if str(attributes["data-at"]).endswith(("utilisation", "kept")):
            read_as /= 100
            places += 2

        assert json.loads(str(attributes["value"])) == value
        # An angle is told as how far open, whichever way the leaf swings. Up to ten figures are
        # written out in full; trailing noughts are cut, so a text may be one place short.
        assert abs(read_as) == pytest.approx(abs(value), abs=0.5 * 10.0**-places * 1.000001)


def test_every_figure_of_the_mount_and_every_check_is_on_the_page(read: Reader) -> None:
    there = {str(attributes["data-at"]) for attributes, _ in read.data}
    wanted = {f"checks.{k}.{key}" for k in range(len(CHECKS)) for key in ("value", "limit")}
    wanted |= {f"clearances.{k}.at_angle" for k in range(len(CLEARANCES))}
    wanted |= {f"leaves.0.mount.{key}" for key in ("closed_length", "open_length", "stroke_used")}
    wanted |= {"leaves.0.mount.leverage.least", "leaves.0.mount.margin.extended", "parts.0.mass"}

    assert not wanted - there


def test_share_is_never_rounded_up_to_all(report: Made, read: Reader) -> None:
    found = {a["data-at"]: text for a, text in read.data}

    assert found["checks.4.utilisation"] == "99.96"
    assert found["checks.0.utilisation"] == "12" or found["checks.0.utilisation"] == "13"


def test_page_asks_the_network_for_nothing(report: Made, read: Reader) -> None:
    text = report.page.decode()
    addresses = set(re.findall(r"(?:https?:)?//[\w-]+\.[\w./-]+", text))
    outward = {a for a in addresses if "w3.org" not in a}  # names of vocabularies
    links = [str(f["href"]) for tag, f in read.tags if tag == "a" and "href" in f]
    policy = next(f for _, f in read.tags if f.get("http-equiv") == "Content-Security-Policy")

    assert not {a for a in outward if not a.startswith("//") or ".com" in a or ".org" in a}
    assert not re.search(r"@import|url\(\s*['\"]?(?!#|data:)", text.split("</style>")[0])
    assert not [tag for tag, _ in read.tags if tag in {"link", "iframe", "object", "embed", "base"}]
    assert str(policy["content"]).startswith("default-src 'none'; script-src 'sha256-")
    assert all(not re.match(r"[a-z]+:|/", link) for link in links)


def test_links_lead_to_files_of_the_pack_or_to_places_on_the_page(
    report: Made, read: Reader
) -> None:
    ids = {f["id"] for _, f in read.tags if "id" in f}
    links = {str(f["href"]) for tag, f in read.tags if tag == "a" and "href" in f}
    inside = {link[1:] for link in links if link.startswith("#")}
    outside = {link for link in links if not link.startswith("#")}

    assert inside <= ids
    assert outside <= {*report.files, "pack.json"}
    assert {p for p in report.files if p.endswith(".svg")} <= outside
    assert len([f["id"] for _, f in read.tags if "id" in f]) == len(ids)


def test_same_survey_gives_the_same_bytes_and_a_page_of_reasonable_size(report: Made) -> None:
    again = made(demo(EVIL) + WALL)

    assert again.page == report.page
    assert again.files == report.files
    assert len(report.page) < 2_000_000  # house: a page for a telephone and a memory stick


def test_all_cautions_stand_on_the_page_the_first_ones_before_everything(read: Reader) -> None:
    ids = [str(f["id"]) for _, f in read.tags if str(f.get("id", "")).startswith("SAF-")]
    order = [str(f["id"]) for tag, f in read.tags if tag == "section"]

    assert ids == [c.id for c in cautions("installing", "drilling", "zinc", "timber", "printed")]
    assert order[0] == "first"
    assert all(c.text in read.text for c in cautions("installing", "drilling", "timber"))


def test_checks_come_worst_first_and_are_told_in_words_and_signs(report: Made) -> None:
    text = report.page.decode()
    body = text[text.index('id="check-table"') :]
    results = re.findall(r'<td data-sort="\d+">([^<]+)</td>', body[: body.index("</table>")])
    places = re.findall(r'data-at="checks\.(\d)\.value"', body)

    # The one that holds on nothing has no share: it is the worst of all.
    assert places == ["3", "1", "2", "4", "0"]
    assert results == ["\u2715 fail", "\u2715 fail", "! warn", "\u2713 pass", "\u2713 pass"]
    assert "2 of 5 checks fail." in text
    assert 'class="verdict fail"' in text


def test_what_is_in_one_another_comes_first_among_the_clearances(report: Made) -> None:
    places = re.findall(r'data-at="clearances\.(\d)\.at_angle"', report.page.decode())

    assert places == ["2", "0", "3", "1"]
    assert "in one another" in report.page.decode()


def test_gaps_that_close_are_listed_with_what_they_can_catch(report: Made, read: Reader) -> None:
    gaps = report.pack["leaves"][0]["gaps"]

    assert gaps
    assert {part.name for part in body_parts()} >= {p["name"] for g in gaps for p in g["parts"]}
    assert all(g["name"] in read.text for g in gaps)
    assert "no statement that any gap is safe" in read.text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (0.0, None, "0"),
        (-0.0, 1, "0"),
        (1234567.0, None, "1234567"),
        (0.00123456, None, "0.0012"),
        (-12.345, 1, "\u221212.3"),
        (99.999, None, "100"),
        (10.0, 1, "10"),
    ],
)
def test_numbers_are_written_without_exponents(value: float, places: int | None, text: str) -> None:
    assert shown(value, places) == text


# ---- the gate that the page swings ----


def test_meshes_of_the_page_hold_the_volume_of_their_solids(report: Made) -> None:
    leaf = report.design.leaves[0]
    data = moving(report.design, report.shelf.mesh)
    own = {placed.name: placed.for_hand(leaf.hand).item for placed in leaf.placed}

    assert len(data["pieces"]) == len(leaf.placed)
    for piece in data["pieces"]:
        kind = "<u4" if piece["wide"] else "<u2"
        counted = np.frombuffer(b64decode(piece["corners"]), "<u2").reshape(-1, 3)
        points = np.array(piece["low"]) + np.array(piece["span"]) * counted / 65535
        faces = np.frombuffer(b64decode(piece["triangles"]), kind).reshape(-1, 3)
        a, b, c = (points[faces[:, k]] for k in range(3))
        volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6

        # Corners are rounded to 1/65535 of the box.
        assert volume == pytest.approx(report.shelf.solid(own[piece["name"]]).Volume(), rel=5e-3)


def test_area_swept_in_plan_is_what_shapely_finds(report: Made) -> None:
    leaf = report.design.leaves[0]
    view = plan_view(report.design, report.shelf.mesh)
    path = re.search(r'class="ps swept-leaf" d="([^"]+)"', view.scene)
    assert path
    rings = [
        [tuple(map(float, pair.split())) for pair in ring.split("L")]
        for ring in re.findall(r"M([^Z]+)Z", path[1])
    ]
    drawn = sum(signed(ring) for ring in rings)
    box = report.shelf.solid(next(p for p in leaf.placed if p.name == "leaf").item).BoundingBox()
    closed = Polygon(
        [(box.xmin, box.ymin), (box.xmax, box.ymin), (box.xmax, box.ymax), (box.xmin, box.ymax)]
    )
    angles = np.linspace(0, leaf.mount.opening, 400)
    swept = unary_union([affinity.rotate(closed, a, origin=(0, 0)) for a in angles])

    # The brackets on the leaf sweep a little beside it.
    assert abs(drawn) == pytest.approx(swept.area, rel=0.01)
    assert abs(drawn) >= swept.area * 0.999


def signed(ring: list[tuple[float, ...]]) -> float:
    return sum(
        (x0 * y1 - x1 * y0) / 2
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def drawn(curve: Curve) -> list[tuple[float, float]]:
    """The line of a curve read back from its drawing: opening angle and value."""
    path = re.search(r'class="line" d="([^"]+)"', curve.svg)
    assert path
    (x0, x1), (y0, y1) = curve.frame["x"], curve.frame["y"]
    points = [tuple(map(float, p.split())) for p in re.split("[ML]", path[1])[1:]]
    return [
        (
            (x - x0) / (x1 - x0) * curve.frame["opening"],
            (y - y0) / (y1 - y0) * curve.frame["top"],
        )
        for x, y in points
    ]


def bare(problem: Problem, hand: str = "right") -> LeafDesign:
    """A leaf with its pivots and nothing on it."""
    return LeafDesign(
        name="",
        hand="left" if hand == "left" else "right",
        problem=problem,
        mount=solve(problem),
        placed=(),
        templates=(),
        bought=(),
    )


@pytest.mark.parametrize("direction", ["pull", "push"])
def test_curves_agree_with_each_other_by_virtual_work(
    gate: Callable[..., Problem], direction: str
) -> None:
    # Power in = power out at every angle: thrust x pin speed = edge force x edge speed, and the
    # pin force times the leverage is the torque, which is the same at every angle.
    leaf = bare(gate(direction=direction, opening=90.0))
    found = {curve.key: drawn(curve) for curve in curves(leaf)}
    actuator, width = leaf.problem.actuator, leaf.problem.leaf.width
    work = [f * r for (_, f), (_, r) in zip(found["pin_force"], found["leverage"], strict=True)]
    power = [
        force * np.radians(speed) * width
        for (_, force), (_, speed) in zip(found["edge_force"], found["leaf_speed"], strict=True)
    ]

    assert [a for a, _ in found["leverage"]] == pytest.approx(
        np.linspace(0, 90, len(work)), abs=0.05
    )
    # A tenth of a pixel on a drawing 174 pixels high.
    assert work == pytest.approx([leaf.problem.torque] * len(work), rel=5e-3)
    assert power == pytest.approx([actuator.thrust * actuator.speed] * len(power), rel=5e-3)


def test_curve_says_its_ends_in_words(gate: Callable[..., Problem]) -> None:
    leverage, *_ = curves(bare(gate()))

    assert shown(leverage.values[0]) in leverage.summary
    assert "needed to move the leaf" in leverage.svg
    assert "<script" not in replace(leverage, title=EVIL).svg


# ---- the painter ----


def thing(solid: Any, colour: tuple[float, float, float]) -> Thing:
    corners, triangles = solid.tessellate(0.01, 0.05)
    points = np.array([c.toTuple() for c in corners])
    return Thing(points, np.array(triangles), colour)


OUTLINE = 0.02  # the line around a thing adds a pixel to it
RED, BLUE = (0.9, 0.1, 0.1), (0.1, 0.1, 0.9)


def inked(picture: np.ndarray) -> np.ndarray:
    return (picture < 250).any(axis=2)


def test_silhouette_of_a_block_is_its_rectangle() -> None:
    picture = paint([thing(block((0, 0, 0), (120, 50, 70)), RED)], Camera(turn=0, rise=0), 400, 300)
    rows, columns = np.nonzero(inked(picture))

    # 120 x 70 straight on, the longer way filling 92 % of 400 pixels.
    assert np.ptp(columns) + 1 == pytest.approx(368, abs=2)
    assert np.ptp(rows) + 1 == pytest.approx(368 * 70 / 120, abs=2)
    assert inked(picture).sum() == pytest.approx(368 * 368 * 70 / 120, rel=OUTLINE)


def test_silhouette_of_a_tube_from_above_is_its_ring() -> None:
    tube = cylinder((0, 0, 0), (0, 0, 1), 50, 30).cut(cylinder((0, 0, 0), (0, 0, 1), 30, 30))
    picture = paint([thing(tube, RED)], Camera(turn=0, rise=90), 600, 600)
    scale = 0.92 * 600 / 100

    assert inked(picture).sum() == pytest.approx(np.pi * (50**2 - 30**2) * scale**2, rel=OUTLINE)


def test_what_is_nearer_hides_what_is_behind_whatever_the_order() -> None:
    near = thing(block((0, -100, 0), (40, -60, 40)), RED)
    far = thing(block((-40, 60, -40), (80, 100, 80)), BLUE)
    one = paint([near, far], Camera(turn=0, rise=0), 200, 200)
    two = paint([far, near], Camera(turn=0, rise=0), 200, 200)

    assert (one == two).all()
    assert one[100, 100, 0] > 2 * one[100, 100, 2]  # red in the middle
    assert one[20, 20, 2] > 2 * one[20, 20, 0]  # blue around it


@pytest.mark.parametrize(("turn", "rise"), [(0, 0), (90, 0), (35, 20), (208, 25), (300, 90)])
def test_camera_looks_along_square_axes(turn: float, rise: float) -> None:
    right, up, toward = Camera(turn=turn, rise=rise).axes
    a, b = np.radians([turn, rise])

    assert np.cross(right, up) == pytest.approx(toward, abs=1e-12)
    assert right @ right == pytest.approx(1) and right @ up == pytest.approx(0, abs=1e-12)
    assert up[2] >= 0 and right[2] == 0
    # Straight on the eye stands at -y; it goes round with the clock reversed, and up.
    assert toward == pytest.approx(
        [np.sin(a) * np.cos(b), -np.cos(a) * np.cos(b), np.sin(b)], abs=1e-12
    )


def test_turning_the_camera_is_turning_the_thing_the_other_way() -> None:
    a = thing(block((0, 0, 0), (120, 50, 70)), RED)
    back = np.column_stack([-a.vertices[:, 0], -a.vertices[:, 1], a.vertices[:, 2]])
    one = paint([a], Camera(turn=215, rise=30), 200, 150)
    two = paint([Thing(back, a.faces, RED)], Camera(turn=35, rise=30), 200, 150)

    assert np.abs(one.astype(int) - two).max() <= 2


def test_picture_file_is_read_by_another_reader_pixel_for_pixel() -> None:
    pixels = np.random.default_rng(7).integers(0, 256, (37, 53, 3), dtype=np.uint8)
    pixels[10:20] = 255

    assert (np.asarray(Image.open(BytesIO(png(pixels)))) == pixels).all()


def test_every_picture_of_the_pack_shows_something(report: Made) -> None:
    pictures = {path: data for path, data in report.files.items() if path.endswith(".png")}

    assert len(pictures) == 3 + len(report.design.parts)
    for data in pictures.values():
        share = inked(np.asarray(Image.open(BytesIO(data)).convert("RGB"))).mean()
        assert 0.01 < share < 0.9
