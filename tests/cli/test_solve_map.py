"""`hangpost solve`: both rules shown, the map written, also when there is no usable pair."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from hangpost.cli.main import run
from hangpost.generators.survey.starter import starter

Captured = pytest.CaptureFixture[str]


def site(folder: Path, leaves: int = 1, more: str = "", angle: str = "90") -> str:
    text = starter(units="mm", leaves=leaves).replace("angle = 90", f"angle = {angle}") + more
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return str(folder / "site.toml")


def test_both_rules_are_shown_and_the_site_chooses(tmp_path: Path, capsys: Captured) -> None:
    posts = {}
    for rule, other in (("robust", "leverage"), ("leverage", "robust")):
        path = site(tmp_path, more=f'\n[choice]\nprefer = "{rule}"\n')
        assert run(["solve", path, "--json"]) == 0
        mount = json.loads(capsys.readouterr().out)["leaves"][0]["mount"]
        posts[rule] = mount["post_pivot"][:2]
        assert mount["rule"] == rule
        assert mount["other_rule"]["rule"] == other
        posts[f"other of {other}"] = mount["other_rule"]["post_pivot"]
        assert mount["uncertainty"]["gates"] >= 100_000
        assert run(["solve", path]) == 0
        out = capsys.readouterr().out
        assert "Chosen by" in out and "How sure it is" in out

    assert posts["robust"] == posts["other of robust"]
    assert posts["leverage"] == posts["other of leverage"]


def test_a_leaf_that_runs_into_its_post_is_a_failed_check(tmp_path: Path, capsys: Captured) -> None:
    """The starter's leaf, 25 mm to either side of its pin, meets the corner 45 and 60 mm off past 107."""
    for angle, status in (("100", 0), ("108", 1)):
        for options in ([], ["--json"]):
            assert run(["solve", site(tmp_path, angle=angle), *options]) == status
            told = capsys.readouterr().out
            assert options or ("FAIL" in told) == bool(status)


def test_robust_is_the_default(tmp_path: Path, capsys: Captured) -> None:
    assert run(["solve", site(tmp_path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["leaves"][0]["mount"]["rule"] == "robust"


@pytest.mark.parametrize(("leaves", "files"), [(1, ["map.svg"]), (2, ["map-1.svg", "map-2.svg"])])
def test_map_is_written_for_every_leaf(tmp_path: Path, leaves: int, files: list[str]) -> None:
    assert run(["solve", site(tmp_path, leaves), "--map", str(tmp_path / "map.svg")]) == 0
    assert sorted(path.name for path in tmp_path.glob("*.svg")) == files
    for name in files:
        assert ElementTree.parse(tmp_path / name).getroot().tag.endswith("svg")


def test_gate_without_pivots_still_gets_its_map_and_its_data(
    tmp_path: Path, capsys: Captured
) -> None:
    path = site(tmp_path, angle="125")

    assert run(["solve", path, "--map", str(tmp_path / "map.svg"), "--json"]) == 3
    told = capsys.readouterr()
    assert "No usable pair" in told.err
    assert json.loads(told.out)["no_pivots"]["excluding"]
    assert "kept together" in (tmp_path / "map.svg").read_text(encoding="utf-8")


def test_map_that_cannot_be_written_is_told(tmp_path: Path, capsys: Captured) -> None:
    assert run(["solve", site(tmp_path), "--map", str(tmp_path / "no" / "map.svg")]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_figures_stand_in_the_unit_of_the_site_file(tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "gate.toml"
    path.write_text(starter(units="in"), encoding="utf-8")
    assert run(["solve", str(path), "--json"]) == 0
    mount = json.loads(capsys.readouterr().out)["leaves"][0]["mount"]
    assert run(["solve", str(path)]) == 0
    told = capsys.readouterr().out.split("What has")[0].splitlines()
    figures = {line[:33].strip(): line[34:].strip() for line in told if len(line) > 34}
    needed = mount["leverage"]["required"]

    assert figures["needed"].startswith(f"{int(needed / 25.4)} ")
    assert f" in ({needed:.2f} mm" in figures["needed"]
    assert figures["latch edge, at most"] == f"{mount['edge_speed'] / 25.4:.4g} in/s"
