"""The committed examples are what the program makes of their site files today.

Numbers are compared with a tolerance, never bytes: the packs may have been made elsewhere.
"""

import json
from math import isclose
from pathlib import Path
from typing import Any

import pytest

from hangpost.generators.pack import make
from hangpost.generators.survey.reading import read_shop, read_survey
from hangpost.generators.verify import verify

EXAMPLES = Path(__file__).parents[2] / "outputs_example"
NAMES = ("orchard-lane", "mill-yard", "station-drive")
LOOSE = 1e-4  # mm, N, kg: far below anything that is made, far above float noise
ON_DISK = {"files"}  # hashes and sizes differ from machine to machine


@pytest.mark.parametrize("name", NAMES)
def test_committed_pack_verifies(name: str) -> None:
    verdict = verify(EXAMPLES / name / "pack")

    assert verdict.files > 20
    assert verdict.problems == ()


@pytest.mark.parametrize("name", NAMES)
def test_site_file_still_gives_the_committed_numbers(name: str) -> None:
    committed = json.loads((EXAMPLES / name / "pack" / "pack.json").read_text(encoding="utf-8"))
    survey = read_survey(EXAMPLES / name / "site.toml")
    pack = make(survey, read_shop(None, survey.site.units), lambda *_: None)
    remade = json.loads(pack.files["pack.json"])

    assert pack.passed
    assert list(_differences(committed, remade, "")) == []


def test_first_example_is_the_demo() -> None:
    shipped = EXAMPLES.parent / "cli" / "demo.toml"

    assert (EXAMPLES / NAMES[0] / "site.toml").read_bytes() == shipped.read_bytes()


def _differences(a: Any, b: Any, where: str) -> Any:
    if isinstance(a, dict) and isinstance(b, dict):
        for key in sorted(set(a) | set(b)):
            if key in ON_DISK:
                continue
            yield from _differences(a.get(key), b.get(key), f"{where}.{key}")
    elif isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        for number, (x, y) in enumerate(zip(a, b, strict=True)):
            yield from _differences(x, y, f"{where}[{number}]")
    elif isinstance(a, float | int) and isinstance(b, float | int):
        if not isclose(a, b, rel_tol=1e-6, abs_tol=LOOSE):
            yield f"{where}: {a} is now {b}"
    elif a != b:
        yield f"{where}: {a!r} is now {b!r}"
