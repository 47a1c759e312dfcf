"""`hangpost doctor`: what is missing or broken is said and counts; licences name all that is used."""

import csv
import re
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

import pytest

from hangpost.cli import doctor
from hangpost.cli.main import run

ROOT = Path(__file__).parents[2]
BINARIES = {".ttf", ".js", ".woff", ".woff2", ".otf"}  # made by others, when there are any


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()  # PEP 503


@pytest.fixture(scope="module")
def listed() -> list[dict[str, str]]:
    text = (ROOT / "cli" / "licences.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()[1:]))


def test_all_is_well_here(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["doctor"]) == 0
    told = capsys.readouterr().out
    assert "All that is needed is there and works." in told
    assert "MISSING" not in told and "BROKEN" not in told


def test_a_broken_part_is_named_and_decides(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """CLI-03: doctor names what is broken."""

    def trial() -> str:
        raise OSError("no kernel\nhere")

    monkeypatch.setattr(doctor, "TRIALS", (("CAD kernel", trial),))
    assert run(["doctor"]) == 1
    assert "  BROKEN   CAD kernel: no kernel here\n" in capsys.readouterr().out


@pytest.mark.parametrize(("needed", "status", "word"), [(True, 1, "MISSING"), (False, 0, "absent")])
def test_a_package_that_is_not_there_is_named(
    needed: bool,
    status: int,
    word: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(doctor, "TRIALS", ())
    monkeypatch.setattr(doctor, "PACKAGES", (("no-such-package", "nothing at all", needed),))
    assert run(["doctor"]) == status
    told = capsys.readouterr().out
    assert f"{word:8} no-such-package: nothing at all" in told
    assert "pip install no-such-package" in told


def test_licences_name_every_package_of_the_lock_and_no_other(
    listed: list[dict[str, str]],
) -> None:
    lock = (ROOT / ".ci" / "requirements-use.lock").read_text(encoding="utf-8")
    locked = {plain(name) for name in re.findall(r"^([\w.-]+)==", lock, re.MULTILINE)}

    assert {plain(row["name"]) for row in listed if row["kind"] == "package"} == locked


def test_licences_name_every_file_made_by_others_and_its_terms_lie_beside_it(
    listed: list[dict[str, str]],
) -> None:
    named = {row["name"]: row["note"] for row in listed if row["kind"] == "file"}
    there = {
        path.relative_to(ROOT).as_posix()
        for folder in ("parts", "generators", "cli")
        for path in (ROOT / folder).rglob("*")
        if path.suffix in BINARIES
    }
    ours = {"generators/report/page.js"}

    assert set(named) == there - ours
    for note in named.values():
        terms = (ROOT / note.partition(":")[0]).read_text(encoding="utf-8")
        assert "Permission is hereby granted, free of charge" in terms


# What a package says of itself in its own metadata, where it says it in a word.
WORDS = {
    "MIT License": "MIT",
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD",
    "Python Software Foundation License": "PSF-2.0",
}


def test_licences_agree_with_what_installed_packages_say(listed: list[dict[str, str]]) -> None:
    looked_at = 0
    for row in listed:
        try:
            own = metadata(row["name"])
        except PackageNotFoundError:
            continue
        says = [own["License-Expression"]] if own["License-Expression"] else []
        ends = [each.rpartition(" :: ")[2] for each in own.get_all("Classifier") or []]
        says += [WORDS[end] for end in ends if end in WORDS]
        if says:
            looked_at += 1
            known = set(re.findall(r"[A-Za-z0-9.-]+", " ".join(says)))
            first = row["licence"].split()[0]
            assert any(first.startswith(word) or word in first for word in known), row

    assert looked_at > 30


def test_licences_are_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["doctor", "--licences"]) == 0
    told = capsys.readouterr().out
    assert "generators/writers/fonts/DejaVuSans.ttf: Bitstream-Vera" in told
    assert "cadquery-ocp: Apache-2.0 (carries the Open CASCADE kernel: LGPL-2.1" in told
