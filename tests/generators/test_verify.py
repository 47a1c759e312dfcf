"""A pack is read back: a sound one is found sound, and what is wrong in pack.json is told."""

import copy
import json
import re
from hashlib import sha256
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from hangpost.generators import manifest
from hangpost.generators.verify import verify

from .tampered import HAND, Built, path_of, problems, tamper

SCHEMA = Path(manifest.__file__).with_name(manifest.SCHEMA)


def test_a_sound_pack_is_found_sound(built: Built, sound: Path) -> None:
    """PKG-01: every export is read again and agrees with the record."""
    verdict = verify(sound)

    assert verdict.problems == ()
    assert verdict.files == len(built.files)


def test_pack_json_is_as_its_schema_says(built: Built) -> None:
    data = json.loads(built.files["pack.json"])

    validator = jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
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
    """PKG-04: by the hash in the manifest."""
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


@pytest.mark.parametrize(
    ("ending", "data", "words"),
    [
        ("assembly-drawing_mm.dxf", b"", "dxf"),
        ("assembly-drawing_mm.dxf", bytes(range(256)), "dxf"),
        (
            "assembly-drawing_mm.dxf",
            b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n",
            "draws nothing",
        ),
        ("cut_list.csv", bytes(range(256)), "not UTF-8"),
        ("cut_list.csv", b"a,b\0", "no table"),
    ],
)
def test_a_file_that_is_not_what_its_name_says_is_found(
    pack: Path, built: Built, ending: str, data: bytes, words: str
) -> None:
    """Also one of which pack.json knows nothing but its checksum."""
    path = next(name for name in built.files if name.endswith(ending))
    tamper(pack, path, lambda _: data)

    assert words.lower() in problems(pack, path).lower()


def test_a_hole_moved_in_pack_json_alone_is_found(pack: Path) -> None:
    data = json.loads((pack / "pack.json").read_bytes())
    hole = data["parts"][0]["holes"][0]
    for key in ("origin", "flat_at"):
        hole[key][0] += 0.5
    (pack / "pack.json").write_text(json.dumps(data))

    said = verify(pack).problems
    assert len({p.path for p in said}) == 4  # STEP and three cut files


HOLE: dict[str, Any] = {}  # told of by their number, long before it is looked at


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
        (("job",), ["a list"], "job: "),
        (("parts", 0, "mass"), 1e308, "parts.0.mass: "),
        (("parts", 0, "mass"), 40.0, "parts.0: value error, a mass of 40 kg is none for "),
        (("parts", 0, "quantity"), -5, "parts.0.quantity: "),
        (("parts", 0, "quantity"), True, "parts.0.quantity: "),
        (("parts", 0, "holes"), [HOLE] * 200_000, "parts.0.holes: value error, has 200000 entries"),
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


def test_a_file_listed_twice_is_told(pack: Path) -> None:
    data = json.loads((pack / "pack.json").read_text())
    data["files"].append(data["files"][0])
    (pack / "pack.json").write_text(json.dumps(data))

    (problem,) = verify(pack).problems
    assert problem.path == "pack.json" and "twice" in problem.what


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
