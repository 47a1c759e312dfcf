"""When the CAD kernel fails for good: words, the site file kept for a report, no pack, no rubbish."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

SITE = Path(__file__).parents[2] / "cli" / "demo.toml"
# Read by every Python that is started below here, the second process of a build too.
FAILING_KERNEL = """
from OCP.StdFail import StdFail_NotDone
from hangpost.parts import solids
def folded_solid(*_, **__):
    raise StdFail_NotDone("BRep_API: command not done")
solids.folded_solid = folded_solid
"""


def build(place: Path, planted: Path) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "hangpost.cli", "build", str(SITE), "-o", str(place)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(planted), "HANGPOST_DEBUG": ""},
    )


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("planted")
    (folder / "sitecustomize.py").write_text(FAILING_KERNEL, encoding="utf-8")
    return folder


def test_a_failure_of_the_kernel_is_told_and_the_site_file_kept(
    tmp_path: Path, planted: Path
) -> None:
    place = tmp_path / "gate"
    done = build(place, planted)
    kept = tmp_path / "gate-fault.txt"
    text = kept.read_text(encoding="utf-8")

    assert done.returncode == 70
    assert done.stdout == "" and "Traceback" not in done.stderr
    assert "StdFail_NotDone: BRep_API: command not done" in done.stderr
    assert f"kept in {kept}" in done.stderr
    assert SITE.read_text(encoding="utf-8") in text
    assert "Traceback" in text and "folded_solid" in text and "hangpost 0" in text
    assert [path.name for path in tmp_path.iterdir()] == [kept.name]


def test_where_nothing_can_be_written_beside_the_place_another_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hangpost.cli import fault

    (tmp_path / "gate-fault.txt").mkdir()
    monkeypatch.setattr(fault.tempfile, "mkdtemp", lambda prefix: str(tmp_path))
    words = fault.kept(ValueError("odd"), tmp_path / "gate", {"site file": "units"})

    assert f"kept in {tmp_path / 'fault.txt'}" in words
    assert (tmp_path / "fault.txt").read_text(encoding="utf-8").endswith("---- site file\nunits")
