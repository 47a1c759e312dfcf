"""The catalogue: every combination of the ranges, by names that stay; ranges that cannot be are told."""

import tomllib
from pathlib import Path

import pytest

from hangpost.generators.catalogue import read_catalogue
from hangpost.generators.survey.mistakes import SurveyError

SITE = b'units = "in"\njob = "x"\n'
RANGES = """
base = "gate.toml"
[vary.hinge]
to_actuator_face = { from = "1 1/2", to = "3 1/2", step = "1/2" }
[vary.opening]
angle = { from = 80, to = 90, step = 5 }
[vary.post]
size = ["4x4", "6x6"]
"""


def catalogue(folder: Path, ranges: str, site: bytes = SITE) -> list[bytes]:
    (folder / "gate.toml").write_bytes(site)
    (folder / "ranges.toml").write_text(ranges, encoding="utf-8")
    return [variant.site for variant in read_catalogue(folder / "ranges.toml")]


def test_a_catalogue_holds_every_combination_with_both_ends(tmp_path: Path) -> None:
    sites = [tomllib.loads(site.decode()) for site in catalogue(tmp_path, RANGES)]
    picked = {
        (site["hinge"]["to_actuator_face"], site["opening"]["angle"], site["post"]["size"])
        for site in sites
    }

    # 1 1/2, 2, 2 1/2, 3 and 3 1/2 in, by the international inch of 25.4 mm
    lengths = {"38.1 mm", "50.8 mm", "63.5 mm", "76.2 mm", "88.9 mm"}
    assert len(sites) == 5 * 3 * 2
    assert picked == {(a, b, c) for a in lengths for b in (80, 85, 90) for c in ("4x4", "6x6")}


def test_a_name_of_the_catalogue_stays_when_the_ranges_grow(tmp_path: Path) -> None:
    small, large = tmp_path / "small", tmp_path / "large"
    small.mkdir(), large.mkdir()
    few = set(catalogue(small, RANGES))
    names = {variant.name for variant in read_catalogue(small / "ranges.toml")}

    many = set(catalogue(large, RANGES.replace("to = 90", "to = 100")))
    assert few < many
    assert names < {variant.name for variant in read_catalogue(large / "ranges.toml")}


@pytest.mark.parametrize(
    ("ranges", "words"),
    [
        ('base = "gate.toml"\n', "vary: is missing"),
        ("base = 3\n[vary.opening]\nangle = [1]\n", "base = 3: is no name of a file"),
        (
            'base = "gone.toml"\n[vary.opening]\nangle = [1]\n',
            'ranges.toml: base = "gone.toml": does not',
        ),
        ('base = ".."\n[vary.opening]\nangle = [1]\n', 'ranges.toml: base = "..": is not a file'),
        (
            'base = "a\\u0000b"\n[vary.opening]\nangle = [1]\n',
            ": cannot be read: its name cannot be used",
        ),
        ('base = "gate.toml"\n[vary.opning]\nangle = [1]\n', 'did you mean "opening"'),
        ('base = "gate.toml"\n[vary.opening]\nangle = []\n', "neither a list nor a range"),
        (
            'base = "gate.toml"\n[vary.opening]\nangle = { from = 1, to = 2, step = 0 }\n',
            "`step` more than 0",
        ),
        (
            'base = "gate.toml"\n[vary.opening]\nangle = { from = 1, to = 2, step = 1e-9 }\n',
            "at most 100000",
        ),
        (
            'base = "gate.toml"\n[vary.opening]\nangle = { from = -1e308, to = 1e308, step = 1 }\n',
            "has inf values; at most 100000",
        ),
        ('base = "gate.toml"\n[vary.job]\na = ["x"]\n', "vary.job: is no table of a site file"),
        ('base = "gate.toml"\n[vary.units]\na = ["x"]\n', "vary.units: is no table"),
        (
            'base = "gate.toml"\n[vary.opening]\n'
            "angle = { from = 1, to = 500, step = 1 }\n[vary.leaf]\nwidth = "
            "{ from = 1, to = 500, step = 1 }\n",
            "makes 250000 combinations",
        ),
    ],
)
def test_a_catalogue_that_cannot_be_is_told(tmp_path: Path, ranges: str, words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        catalogue(tmp_path, ranges)
    assert words in str(caught.value)


def test_a_catalogue_of_huge_site_files_is_refused(tmp_path: Path) -> None:
    lines = "".join(f'k{n} = "{"x" * 3000}"\n' for n in range(300))
    ranges = 'base = "gate.toml"\n[vary.opening]\nangle = { from = 0.001, to = 1, step = 0.001 }\n'
    with pytest.raises(SurveyError, match="makes site files of 9"):
        catalogue(tmp_path, ranges, SITE + lines.encode())
