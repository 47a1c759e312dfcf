"""A pack is read back: a sound one is found sound, and every planted fault is found.

The tamperer here also mends the checksums in pack.json, so that only the geometry can tell.
"""

import copy
import io
import json
import re
import shutil
from collections.abc import Callable
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pikepdf
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.verify import verify
from hangpost.generators.writers.mesh import meshed, on_bed, stl, three_mf
from hangpost.generators.writers.outbox import deliver
from hangpost.generators.writers.paper import PAPERS, Printer
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.step import part_step
from hangpost.generators.writers.template import template_book

HAND = "left"  # so that nothing may forget to be mirrored


class Built:
    """A small gate's pack: what it was made from, and its files."""

    def __init__(self) -> None:
        """Everything but the sweep and the checks, which verifying does not read."""
        text = files("hangpost.cli").joinpath("demo.toml").read_text(encoding="utf-8")
        survey = survey_from_bytes(
            text.replace('hand = "right"', f'hand = "{HAND}"').encode(), file="site.toml"
        )
        shop = read_shop(None)
        solved = solve_gate(survey.site, shop)
        self.design: Design = design_gate(survey.site, shop, solved, [usual(shop)] * len(solved))
        self.shelf = Shelf()
        self.stamp = Stamp(
            job=survey.site.job,
            site_sha256=survey.sha256,
            version="0",
            record=survey.text,
            revision="A",
            units="in",
        )
        given = (self.shelf, self.stamp, lambda *_: None)
        written = pack_files.reckoned(self.design, *given)
        pack_files.built(self.design, (), (), *given, written)
        self.data = manifest.manifest(
            self.design,
            site_sha256=survey.sha256,
            checks=(),
            clearances=(),
            files=written.files,
            part_files=written.parts,
            template_files=written.templates,
        )
        self.files = {**written.files, "pack.json": manifest.as_bytes(self.data)}


@pytest.fixture(scope="session")
def built() -> Built:
    return Built()


@pytest.fixture(scope="session")
def sound(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("packs") / "gate"
    deliver(out, built.files)
    return out


@pytest.fixture
def pack(sound: Path, tmp_path: Path) -> Path:
    """A copy to tamper with."""
    shutil.copytree(sound, tmp_path / "gate")
    return tmp_path / "gate"


def tamper(pack: Path, path: str, change: Callable[[bytes], bytes]) -> None:
    """Change a file and mend its entry in pack.json."""
    before = (pack / path).read_bytes()
    after = change(before)
    assert after != before
    (pack / path).write_bytes(after)
    data = json.loads((pack / "pack.json").read_bytes())
    entry = next(e for e in data["files"] if e["path"] == path)
    entry |= {"sha256": sha256(after).hexdigest(), "bytes": len(after)}
    (pack / "pack.json").write_text(json.dumps(data))


def problems(pack: Path, path: str) -> str:
    """What is said of that file; nothing may be said of the others that are kept.

    To save time the pack is cut down to the file and the STEP file of its part.
    """
    data = json.loads((pack / "pack.json").read_bytes())
    owners = [p["files"] for p in data["parts"] if path in p["files"].values()]
    keep = {path, *(own["step"] for own in owners)}
    for entry in data["files"]:
        if entry["path"] not in keep:
            (pack / entry["path"]).unlink(missing_ok=True)
    data["files"] = [e for e in data["files"] if e["path"] in keep]
    (pack / "pack.json").write_text(json.dumps(data))
    verdict = verify(pack)
    assert {p.path for p in verdict.problems} <= {path}, verdict.problems
    return "\n".join(map(str, verdict.problems))


def part_of(built: Built, process: str) -> Any:
    return next(p for p, _ in built.design.parts if p.process == process)


def path_of(built: Built, kind: str, process: str = "cut") -> str:
    entry = next(p for p in built.data["parts"] if p["process"] == process and kind in p["files"])
    return str(entry["files"][kind])


def test_a_sound_pack_is_found_sound(built: Built, sound: Path) -> None:
    verdict = verify(sound)

    assert verdict.problems == ()
    assert verdict.files == len(built.files)


def test_pack_json_is_as_its_schema_says(built: Built) -> None:
    data = json.loads(built.files["pack.json"])

    validator = jsonschema.Draft202012Validator(manifest.schema())
    assert list(validator.iter_errors(data)) == []
    for key in ("hangpost", "mount", "parts", "files", "opening"):
        assert list(validator.iter_errors({k: v for k, v in data.items() if k != key}))
    wrong = copy.deepcopy(data)
    wrong["files"][0]["path"] = "../elsewhere"
    assert list(validator.iter_errors(wrong))


def test_pack_json_has_the_keys_of_the_design_and_plain_numbers(built: Built) -> None:
    data = json.loads(built.files["pack.json"])

    assert list(data)[:6] == ["hangpost", "job", "site_sha256", "hand", "opening", "mount"]
    assert data["hand"] == HAND and data["leaves"][0]["mount"] == data["mount"]
    assert re.fullmatch(rb"[\x00-\x7f]+", built.files["pack.json"])
    assert b"-0.0," not in built.files["pack.json"] and b"NaN" not in built.files["pack.json"]
    for entry in data["files"]:
        assert sha256(built.files[entry["path"]]).hexdigest() == entry["sha256"]


def test_a_changed_byte_is_found(pack: Path) -> None:
    path = next((pack / "fabricate").glob("*.csv"), pack / "fabricate/assembly.step")
    path.write_bytes(path.read_bytes() + b" ")

    said = [str(p) for p in verify(pack).problems]
    assert any("SHA-256" in p for p in said) and any("bytes, should be" in p for p in said)


def test_missing_strange_and_linked_files_are_found(
    pack: Path, built: Built, tmp_path: Path
) -> None:
    gone, linked = path_of(built, "dxf"), path_of(built, "dxf_r12")
    (pack / gone).unlink()
    (tmp_path / "elsewhere.dxf").write_bytes(built.files[linked])
    (pack / linked).unlink()
    (pack / linked).symlink_to(tmp_path / "elsewhere.dxf")
    (pack / "print" / "extra.stl").write_bytes(b"")

    said = {p.path: p.what for p in verify(pack).problems}
    assert said[gone] == "is missing"
    assert "link" in said[linked]
    assert said["print/extra.stl"] == "does not belong to the pack"


@pytest.mark.parametrize(
    "words", [b"", b"{}", b"[]", b"7", b"not json", b"\xff\xfe", b"[" * 100_000, b'{"files": [{}]}']
)
def test_a_damaged_pack_json_is_a_problem_and_no_crash(pack: Path, words: bytes) -> None:
    (pack / "pack.json").write_bytes(words)

    verdict = verify(pack)
    assert verdict.problems and {p.path for p in verdict.problems} == {"pack.json"}


def test_a_folder_without_pack_json_is_no_pack(tmp_path: Path) -> None:
    (problem,) = verify(tmp_path).problems

    assert "no pack" in str(problem)


# Cut files


def circle_moved(data: bytes) -> bytes:
    """The first circle of a DXF, half a millimetre to the right."""
    text = data.decode()
    start = text.index("\nCIRCLE\n")
    group = re.compile(r"(\n 10\n)([-0-9.e]+)")
    match = group.search(text, start)
    assert match is not None
    return (text[: match.start(2)] + str(float(match[2]) + 0.5) + text[match.end(2) :]).encode()


@pytest.mark.parametrize("kind", ["dxf", "dxf_full", "dxf_r12"])
def test_a_moved_hole_in_a_cut_file_is_found(pack: Path, built: Built, kind: str) -> None:
    path = path_of(built, kind)
    tamper(pack, path, circle_moved)

    assert "hole" in problems(pack, path)


DXF_FAULTS: dict[str, tuple[str, Callable[[bytes], bytes], str]] = {
    "inches": (
        "dxf",
        lambda d: d.replace(b"$INSUNITS\n 70\n4", b"$INSUNITS\n 70\n1"),
        "millimetres",
    ),
    "open loop": (
        "dxf",
        lambda d: re.sub(rb"(AcDbPolyline\n 90\n\d+\n 70\n)1", rb"\g<1>0", d, count=1),
        "close",
    ),
    "broken off": ("dxf", lambda d: d[: len(d) // 2], "breaks off"),
    "bend turned over": (
        "dxf_full",
        lambda d: d.replace(b"  8\nBEND_UP\n", b"  8\nBEND_DOWN\n"),
        "bend",
    ),
    "no longer a DXF": ("dxf", lambda d: b"solid\nbody", "DXF"),
    "spline": ("dxf", lambda d: d.replace(b"\nCIRCLE\n", b"\nSPLINE\n", 1), "SPLINE"),
}


@pytest.mark.parametrize("fault", DXF_FAULTS)
def test_a_fault_in_a_cut_file_is_found(pack: Path, built: Built, fault: str) -> None:
    kind, change, words = DXF_FAULTS[fault]
    if kind == "dxf_full":
        path = next(
            p["files"][kind]
            for p in built.data["parts"]
            if p["flat"] and any(b["up"] for b in p["flat"]["bends"])
        )
    else:
        path = path_of(built, kind)
    tamper(pack, path, change)

    assert words in problems(pack, path)


def test_a_moved_hole_in_the_template_dxf_is_found(pack: Path, built: Built) -> None:
    path = built.data["templates"][0]["dxf"]
    tamper(pack, path, circle_moved)

    assert "hole" in problems(pack, path)


def test_cut_files_that_changed_places_are_found(pack: Path, built: Built) -> None:
    one, two, *_ = (p["files"]["dxf"] for p in built.data["parts"] if p["flat"])
    tamper(pack, one, lambda _: built.files[two])

    assert {p.path for p in verify(pack).problems} == {one}


# STEP


def test_the_other_hand_is_found(pack: Path, built: Built) -> None:
    part = next(p for p, _ in built.design.parts if p.handed)
    path = next(p["files"]["step"] for p in built.data["parts"] if p["id"] == part.mark)
    tamper(pack, path, lambda _: part_step(part.mark, part.mirrored().solid()))

    assert "hole" in problems(pack, path)


STEP_FAULTS: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "larger hole": (lambda d: re.sub(rb"(CYLINDRICAL_SURFACE\('',#\d+,)([0-9.]+)\)", lambda m: m[1] + b"%f)" % (float(m[2]) + 0.1), d), "no round face"),
    "renamed": (lambda d: d.replace(b"PRODUCT('", b"PRODUCT('X-"), "names the product"),
    "inches": (lambda d: d.replace(b"SI_UNIT(.MILLI.,.METRE.)", b"SI_UNIT($,.METRE.)"), "millimetres"),
    "broken off": (lambda d: d[: len(d) // 2], "STEP"),
}  # fmt: skip


@pytest.mark.parametrize("fault", STEP_FAULTS)
def test_a_fault_in_a_step_file_is_found(pack: Path, built: Built, fault: str) -> None:
    change, words = STEP_FAULTS[fault]
    path = path_of(built, "step")
    tamper(pack, path, change)

    assert words in problems(pack, path)


def test_a_piece_out_of_place_or_missing_in_the_assembly_is_found(pack: Path, built: Built) -> None:
    path = "fabricate/assembly.step"
    tamper(pack, path, lambda _: built.files["fabricate/assembly-open.step"])

    said = problems(pack, path)
    assert "leaf stands at" in said and "hanging post" not in said
    tamper(pack, path, lambda d: built.files[path].replace(b"'leaf pin'", b"'no pin'"))
    said = problems(pack, path)
    assert "leaf pin is missing" in said and "no pin does not belong" in said


# Printed parts


def mutated(built: Built) -> Any:
    """The mesh of a printed part with one bore moved by 1 mm."""
    from dataclasses import replace

    part = part_of(built, "print")
    (u, v), *rest = part.bores_at
    return part, on_bed(
        meshed(replace(part, bores_at=((u + 1, v), *rest)).solid()), part.print_frame
    )


@pytest.mark.parametrize("kind", ["stl", "3mf"])
def test_a_moved_bore_in_a_print_is_found(pack: Path, built: Built, kind: str) -> None:
    part, mesh = mutated(built)
    data = stl(mesh, part.mark) if kind == "stl" else three_mf(mesh, part.mark)
    path = path_of(built, kind, "print")
    tamper(pack, path, lambda _: data)

    assert "hole" in problems(pack, path)


def test_a_swapped_stl_is_found(pack: Path, built: Built) -> None:
    other = part_of(built, "cut")
    path = path_of(built, "stl", "print")
    tamper(pack, path, lambda _: stl(on_bed(built.shelf.mesh(other)), other.mark))

    assert re.search(r"volume [\d.]+ mm3, should be", problems(pack, path))


def test_a_damaged_or_scaled_mesh_is_found(pack: Path, built: Built) -> None:
    path = path_of(built, "stl", "print")
    part = part_of(built, "print")
    mesh = built.shelf.mesh(part)
    holed = type(mesh)(mesh.vertices, mesh.faces[1:])
    for data, words in (
        (stl(holed, "x"), "close"),
        (stl(type(mesh)(mesh.vertices / 25.4, mesh.faces), "x"), "mm3, should be"),
        (b"solid nothing", ""),
    ):
        tamper(pack, path, lambda _, new=data: new)  # type: ignore[misc]
        said = problems(pack, path)
        assert said and words in said


def test_a_3mf_in_inches_or_unzipped_is_found(pack: Path, built: Built) -> None:
    import zipfile

    path = path_of(built, "3mf", "print")

    def inches(data: bytes) -> bytes:
        stream = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w") as new:
            for name in old.namelist():
                new.writestr(name, old.read(name).replace(b'unit="millimeter"', b'unit="inch"'))
        return stream.getvalue()

    tamper(pack, path, inches)
    assert "inch" in problems(pack, path)
    tamper(pack, path, lambda _: b"PK nothing")
    assert "not a 3MF" in problems(pack, path)


# Paper


def pdf_changed(change: Callable[[pikepdf.Pdf], None]) -> Callable[[bytes], bytes]:
    def changed(data: bytes) -> bytes:
        stream = io.BytesIO()
        with pikepdf.open(io.BytesIO(data)) as pdf:
            change(pdf)
            pdf.save(stream)
        return stream.getvalue()

    return changed


def scaled(pdf: pikepdf.Pdf) -> None:
    """What "fit to page" does, but in the file."""
    for page in pdf.pages:
        page.contents_add(pikepdf.Stream(pdf, b"q 0.97 0 0 0.97 9 12 cm"), prepend=True)
        page.contents_add(pikepdf.Stream(pdf, b"Q"))


def hidden_scale(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.UserUnit = 1.03


def let_scale(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.ViewerPreferences


def cropped(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.CropBox = pikepdf.Array([0, 0, 500, 700])


def turned(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.Rotate = 180


def page_lost(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]


PDF_FAULTS = {
    "scaled": (scaled, "check bar"),
    "hidden scale": (hidden_scale, "scaled"),
    "lets the printer scale": (let_scale, "PrintScaling"),
    "cropped": (cropped, "sheet"),
    "turned": (turned, "turned"),
    "page lost": (page_lost, "hole"),
}


@pytest.mark.parametrize("fault", PDF_FAULTS)
def test_a_template_that_would_print_wrong_is_found(pack: Path, built: Built, fault: str) -> None:
    change, words = PDF_FAULTS[fault]
    path = built.data["templates"][0]["file"]
    tamper(pack, path, pdf_changed(change))

    assert words in problems(pack, path)


def moved_template(built: Built, printer: Printer | None = None, by: float = 0.3) -> bytes:
    """The template file of the first paper, drawn anew with one hole moved."""
    from dataclasses import replace

    sheets = [s for leaf in built.design.leaves for s in pack_files.for_hand(leaf)]
    first = sheets[0].holes[0]
    sheets[0] = replace(sheets[0], holes=(replace(first, u=first.u + by), *sheets[0].holes[1:]))
    paper = PAPERS[built.data["templates"][0]["papers"][0]["paper"]]
    book = (
        template_book(sheets, built.stamp, paper)
        if printer is None
        else template_book(sheets, built.stamp, paper, printer)
    )
    return book.pdf()


def test_a_moved_hole_on_paper_is_found(pack: Path, built: Built) -> None:
    path = built.data["templates"][0]["file"]
    tamper(pack, path, lambda _: moved_template(built))

    said = problems(pack, path)
    assert "is not drawn" in said and "the row of hole" in said


def test_a_moved_hole_is_found_although_pack_json_was_moved_with_it(
    pack: Path, built: Built
) -> None:
    path = built.data["templates"][0]["file"]
    tamper(pack, path, lambda _: moved_template(built))
    data = json.loads((pack / "pack.json").read_bytes())
    name = data["templates"][0]["holes"][0]["name"]
    for page in data["templates"][0]["papers"][0]["pages"]:
        for mark in page["marks"]:
            if mark["hole"] == name:
                mark["x" if not page["turned"] else "y"] += 0.3 * (
                    -1 if page["kind"] == "exit" else 1
                )
    (pack / "pack.json").write_text(json.dumps(data))

    assert "do not lie to each other" in problems(pack, path)


def test_sheets_made_for_a_printer_are_judged_as_it_prints_them(pack: Path, built: Built) -> None:
    """Compensated sheets are true when printed (issue 5): 0.993 across, 1.004 along."""
    printer = Printer(x=0.993, y=1.004)
    sheets = [s for leaf in built.design.leaves for s in pack_files.for_hand(leaf)]
    paper = built.data["templates"][0]["papers"][0]
    book = template_book(sheets, built.stamp, PAPERS[paper["paper"]], printer)
    tamper(pack, paper["file"], lambda _: book.pdf())
    data = json.loads((pack / "pack.json").read_bytes())
    for template in data["templates"]:
        template["papers"][0]["printer"] = [0.993, 1.004]
        template["papers"][0]["pages"] = [page.data() for page in book.pages_of(template["id"])]
    (pack / "pack.json").write_text(json.dumps(data))

    assert problems(pack, paper["file"]) == ""
    tamper(pack, paper["file"], lambda _: moved_template(built, printer))
    assert "is not drawn" in problems(pack, paper["file"])


# The list itself


def test_a_hole_moved_in_pack_json_alone_is_found(pack: Path) -> None:
    data = json.loads((pack / "pack.json").read_bytes())
    hole = data["parts"][0]["holes"][0]
    for key in ("origin", "flat_at"):
        hole[key][0] += 0.5
    (pack / "pack.json").write_text(json.dumps(data))

    said = verify(pack).problems
    assert len({p.path for p in said}) == 4  # STEP and three cut files


@pytest.mark.parametrize(
    ("way", "value", "words"),
    [
        (
            ("parts", 0, "holes", 0, "axis"),
            [0, 0, 0],
            "parts.0.holes.0.axis: value error, should be a direction",
        ),
        (
            ("assembly", "pieces", 0, "open", "v"),
            [1, 0, 0],
            "assembly.pieces.0.open: value error, u and v",
        ),
        (("parts", 0, "volume"), "much", "parts.0.volume: "),
    ],
)
def test_what_is_wrong_in_pack_json_is_told_by_name(
    pack: Path, way: tuple[Any, ...], value: Any, words: str
) -> None:
    data = json.loads((pack / "pack.json").read_bytes())
    holder = data
    for key in way[:-1]:
        holder = holder[key]
    holder[way[-1]] = value
    (pack / "pack.json").write_text(json.dumps(data))

    (problem,) = verify(pack).problems
    assert problem.path == "pack.json" and problem.what.startswith(words)


@pytest.mark.parametrize(
    ("key", "row"),
    [
        ("checks", {"id": "clearance: leaf / hanging post"}),
        ("clearances", {"pair": ["leaf", "hanging post"], "least": 20.0, "at_angle": 0.0}),
    ],
)
def test_a_check_or_a_distance_listed_twice_is_told(
    pack: Path, key: str, row: dict[str, Any]
) -> None:
    data = json.loads((pack / "pack.json").read_text())
    data[key] = [row, row]
    (pack / "pack.json").write_text(json.dumps(data))

    (problem,) = verify(pack).problems
    assert problem.path == "pack.json" and "twice" in problem.what and "hanging" in problem.what


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The way to everything in nested data."""
    inner = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [path, *(p for key, item in inner for p in places(item, (*path, key)))]


@settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.generate),  # shrinking would read the pack a thousand times
)
@given(data=st.data())
def test_whatever_pack_json_says_there_is_no_crash(
    pack: Path, built: Built, data: st.DataObject
) -> None:
    wrong = json.loads(built.files["pack.json"])
    for key in ("mount", "leaves", "checks", "clearances", "bought"):
        wrong.pop(key)  # nothing is read from them
    wrong["files"] = [
        e for e in wrong["files"] if not e["path"].endswith((".pdf", "assembly-open.step"))
    ]
    ways = [w for w in places(wrong) if w]
    for _ in range(data.draw(st.integers(1, 3))):
        *way, last = data.draw(st.sampled_from(ways))
        new = data.draw(st.sampled_from([None, -1, 0.5, "x", [], {}, [1, 2], {"a": 1}, 1e400]))
        holder = wrong
        try:
            for key in way:
                holder = holder[key]
            holder[last] = new
        except (LookupError, TypeError):
            continue
    (pack / "pack.json").write_text(json.dumps(wrong))

    for problem in verify(pack).problems:
        assert "\n" not in str(problem)
