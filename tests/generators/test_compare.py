"""Two packs compared: silent for itself and for noise, one plain line for each thing that moved."""

import json
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from hangpost.cli.main import run
from hangpost.generators.checks import Check
from hangpost.generators.clearance import Clearance
from hangpost.generators.compare import compare, read_pack
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.manifest import as_bytes, manifest
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import starter

CHECKS = (
    Check(id="pin", what="bends", value=80.0, limit=100.0, unit="MPa", source="house"),
    Check(id="ear", what="bends", value=70.0, limit=90.0, unit="MPa", source="house"),
)
NEAR = (
    Clearance(
        pair=("leaf", "hanging post"), least=21.0, at_angle=90.0, overlap=0.0, touching=False
    ),
)


@cache
def _pack(text: str) -> bytes:
    site, shop = site_from_bytes(text.encode()), Shop()
    solved = solve_gate(site, shop)
    data = manifest(
        design_gate(site, shop, solved, [usual(shop)] * len(solved)),
        site_sha256="0" * 64,
        checks=CHECKS,
        clearances=NEAR,
        files={},
        part_files={},
        template_files={},
    )
    return as_bytes(data)


def pack(text: str = "") -> dict[str, Any]:
    data: dict[str, Any] = json.loads(_pack(text or starter(units="mm")))
    return data


def said(old: dict[str, Any], new: dict[str, Any]) -> list[str]:
    return [str(change) for change in compare(old, new)]


def first_part(data: dict[str, Any]) -> dict[str, Any]:
    part: dict[str, Any] = data["parts"][0]
    return part


@pytest.mark.parametrize("leaves", [1, 2])
def test_pack_against_itself_is_silent(leaves: int) -> None:
    data = pack(starter(units="mm", leaves=leaves))

    assert said(data, deepcopy(data)) == []


def test_hole_that_moved_is_told_with_its_way() -> None:
    old, new = pack(), pack()
    hole = first_part(new)["holes"][0]
    hole["at"][1] += 3.0

    (line,) = said(old, new)
    assert line == f"part {first_part(old)['id']}: hole {hole['name']} moved 3 mm up"
    (back,) = said(new, old)
    assert back.endswith("moved 3 mm down")
    hole["at"][0] -= 2.5
    (line,) = said(old, new)
    assert line.endswith("moved 2.5 mm left and 3 mm up")


def test_plate_and_leverage_are_told_from_to() -> None:
    old, new = pack(), pack()
    first_part(old)["thickness"], first_part(new)["thickness"] = 6.0, 8.0
    for data, arm in ((old, 140.0), (new, 152.0)):
        data["leaves"][0]["mount"]["leverage"]["least"] = arm

    assert said(old, new) == [
        "gate: least leverage 140 to 152 mm",
        f"part {first_part(old)['id']}: plate 6 to 8 mm",
    ]


def test_all_holes_of_a_sheet_that_move_together_are_one_line() -> None:
    old, new = pack(), pack()
    for hole in new["templates"][0]["holes"]:
        hole["at"][0] += 4.0

    (line,) = said(old, new)
    assert line == f"sheet {old['templates'][0]['id']}: all holes moved 4 mm right"


def shaken(value: Any, share: float) -> Any:
    """The same data with every length off by a little, up and down in turn."""
    if isinstance(value, dict):
        return {key: shaken(item, share) for key, item in value.items()}
    if isinstance(value, list):
        return [shaken(item, -share if i % 2 else share) for i, item in enumerate(value)]
    return value + share if isinstance(value, float) and abs(value) > 1e-6 else value


def test_noise_is_not_told() -> None:
    old = pack()
    new = shaken(old, 0.002)
    new["job"] = old["job"]

    assert said(old, new) == []


def test_words_with_rounded_numbers_do_not_tell_noise() -> None:
    old, new = pack(), pack()
    for data, number in ((old, "967.2"), (new, "967.3")):
        data["templates"][1]["datum"] = f"rail centre line, {number} mm along the leaf"

    assert said(old, new) == []


def test_checks_tell_when_their_judgement_changes_and_not_before() -> None:
    old, new = pack(), pack()
    new["checks"][0]["value"] = 95.0
    assert said(old, new) == []

    new["checks"][0] |= {"value": 120.0, "status": "fail"}
    assert said(old, new) == ["check pin: pass to fail, 80 MPa to 120 MPa, limit 100 MPa"]


def test_clearances_tell_what_came_near() -> None:
    old, new = pack(), pack()
    new["clearances"][0]["least"] = 20.5
    assert said(old, new) == []

    new["clearances"][0]["least"] = 12.0
    assert said(old, new) == ["clearance leaf to hanging post: 21 to 12 mm"]


def test_parts_holes_and_bought_things_come_and_go() -> None:
    old, new = pack(), pack()
    gone = new["parts"].pop()["id"]
    hole = first_part(new)["holes"].pop()
    new["bought"][0]["quantity"] += 2
    lines = said(old, new)

    assert f"part {gone}: is gone" in lines
    assert any(f"hole {hole['name']} " in line and line.endswith("is gone") for line in lines)
    assert any(line.startswith("to buy ") and "quantity" in line for line in lines)
    assert f"part {gone}: is new" in said(new, old)


def test_wider_opening_tells_pivots_and_lengths() -> None:
    old = pack()
    new = pack(starter(units="mm").replace("angle = 90", "angle = 94"))
    lines = said(old, new)

    assert "gate: opens 90 to 94 degrees" in lines
    assert any("pin to pin, closed" in line for line in lines)
    was, now = (d["leaves"][0]["mount"]["post_pivot"] for d in (old, new))
    assert any("post pivot moved" in line for line in lines) is (was != now)


def test_second_leaf_that_is_new_is_said() -> None:
    lines = said(pack(), pack(starter(units="mm", leaves=2)))

    assert "gate: is gone" in lines
    assert any("leaf: is new" in line for line in lines)


def test_command_reads_folders_and_answers_with_its_status(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changed = pack()
    first_part(changed)["thickness"] += 2.0
    for name, data in (("a", pack()), ("b", changed)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "pack.json").write_bytes(as_bytes(data))
    a, b = str(tmp_path / "a"), str(tmp_path / "b")

    assert run(["compare", a, a, "--exit-code"]) == 0
    assert capsys.readouterr().out == ""
    assert run(["compare", a, b]) == 0
    assert "plate 6.35 to 8.35 mm" in capsys.readouterr().out
    assert run(["compare", a, b, "--exit-code"]) == 1
    capsys.readouterr()
    assert run(["compare", a, f"{b}/pack.json", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["changes"][0]["what"].startswith("plate")


def test_numbers_and_words_of_any_kind_stay_readable() -> None:
    wild = pack()
    first_part(wild)["thickness"] = 1e308
    wild["job"] = "a\x1b[2Jb\n" + "x" * 100_000
    told = said(pack(), wild)

    assert any("plate 6.35 to 1.000e+308 mm" in line for line in told)
    assert all(line.isprintable() and len(line) < 2100 for line in told)


@pytest.mark.parametrize("content", ["", "[]", "{}", '{"parts": 3}', "\x00", '{"leaves": [{}]}'])
def test_what_is_no_pack_is_refused_in_words(tmp_path: Path, content: str) -> None:
    (tmp_path / "pack.json").write_text(content, encoding="utf-8")

    with pytest.raises(SurveyError, match="not a pack"):
        read_pack(tmp_path)
    with pytest.raises(SurveyError, match="holds no pack"):
        read_pack(tmp_path.parent / "..")
    with pytest.raises(SurveyError, match="does not exist"):
        read_pack(tmp_path / "nothing")
    assert run(["compare", str(tmp_path), str(tmp_path)]) == 2
