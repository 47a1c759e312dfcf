"""Reading files: every mistake at once, in the person's words, and never anything but words."""

import itertools
import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from hangpost.generators.survey import schema
from hangpost.generators.survey.mistakes import MOST_LISTED, SurveyError
from hangpost.generators.survey.reading import (
    LARGEST,
    read_survey,
    site_from_bytes,
)
from hangpost.generators.survey.starter import starter

from .sample_site import SAMPLE

STARTERS = [
    dict(zip(("units", "post", "toward", "leaves"), each, strict=True))
    for each in itertools.product(
        ("in", "mm"), ("timber", "round_steel", "square_steel"), ("actuator", "away"), (1, 2)
    )
]


def told(text: str | bytes, *, file: str = "site.toml") -> list[str]:
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(SurveyError) as refused:
        site_from_bytes(data, file=file)
    return str(refused.value).splitlines()


def switched_on(text: str) -> str:
    """The starter with every choice switched on."""
    return re.sub(r"(?m)^#(?=[a-z\[])", "", text)


def test_the_sample_reads_in_mm_and_newtons(tmp_path: Path) -> None:
    path = tmp_path / "gate.toml"
    path.write_text(SAMPLE)
    survey = read_survey(path)
    site = survey.site

    assert site.leaf[0].width == pytest.approx(3657.6)
    assert site.leaf[0].mass == pytest.approx(81.6466266)
    assert site.actuator.thrust == pytest.approx(2491.004, abs=1e-3)
    assert site.wind.operating_m_s == pytest.approx(11.176)
    assert site.fixed.post_pivot == pytest.approx((-161.925, 209.55))
    assert site.fixed.post_pivot[1].plus_minus == pytest.approx(1.5875)  # type: ignore[union-attr]
    assert site.obstacle[0].box == pytest.approx((-1219.2, 1524.0, -914.4, 4876.8))
    assert len(survey.sha256) == 64
    assert survey.file == "gate.toml"


@pytest.mark.parametrize("options", STARTERS, ids=lambda o: "-".join(map(str, o.values())))
def test_every_starter_reads_with_and_without_its_choices(options: dict[str, Any]) -> None:
    text = starter(**options)

    for each in (text, switched_on(text)):
        site = site_from_bytes(each.encode())
        jsonschema.validate(tomllib.loads(each), schema.site_schema())
        assert site.post.kind == options["post"]
        assert len(site.leaves) == options["leaves"]
        assert all(len(line) <= 110 for line in each.splitlines())


def test_a_round_starter_asks_for_the_circumference_first() -> None:
    text = starter(post="round_steel")

    assert text.index("\ncircumference") < text.index("measured = ")


def test_every_mistake_is_told_at_once_with_its_slip() -> None:
    """CLI-01: an unknown key gets the nearest one."""
    text = SAMPLE
    for right, wrong in (
        ('size = "6x6"\nsurface', 'size = "6x7"\nsurface'),
        ('hand = "right"', 'hand = "rihgt"'),
        ('"10", "26", "44"', '"10", "26", "60"'),
        ("angle = 95", "angle = 950"),
        ('thrust = "560 lbf"', 'thrusst = "560 lbf"'),
        ('operating = "25 mph"', 'operating = "25 lb"'),
        ('job = "sample"', 'job = "sample"\nfill = 0.4'),
    ):
        assert right in text
        text = text.replace(right, wrong)
    lines = told(text)

    for words in (
        'site.toml: post.size = "6x7": nominal 7 is not listed',
        'site.toml: hinge.hand = "rihgt": is not one of the words known here; allowed: right, left; did you mean "right"?',
        'site.toml: leaf.rails[3] = "60": is outside the leaf; allowed: centre lines from 4 7/8 in (124 mm) to 51 1/8 in',
        "site.toml: opening.angle = 950: is too large; allowed: 10 deg to 170 deg",
        "site.toml: actuator.thrust: is missing; allowed: Greatest push",
        'site.toml: actuator.thrusst = "560 lbf": is not a key known here; did you mean "thrust"?',
        'site.toml: wind.operating = "25 lb": has "lb" where a unit of wind speed is wanted',
        "site.toml: fill = 0.4: is not a key known here, it belongs under [leaf]",
    ):
        assert any(line.startswith(words) for line in lines), words
    assert len(lines) == 8


def test_rules_between_sound_tables_are_told_beside_other_mistakes() -> None:
    text = SAMPLE.replace('bolt_height = "26"', 'bolt_height = "90"').replace(
        "angle = 95", "angle = 0"
    )
    lines = told(text)

    assert any("lock.bolt_height" in line and "above or below the leaf" in line for line in lines)
    assert any("opening.angle" in line for line in lines)


def test_a_mistake_in_the_second_leaf_names_the_second_leaf() -> None:
    text = starter(leaves=2)
    head, _, tail = text.rpartition('thickness = "2"')
    lines = told(f'{head}thickness = "2 yards"{tail}')

    assert len(lines) == 1
    assert lines[0].startswith('site.toml: leaf[2].thickness = "2 yards"')


def test_a_shared_mistake_is_told_once_where_it_was_written() -> None:
    text = starter(leaves=2).replace('stroke = "15 3/4"', 'stroke = "long"')
    head, _, tail = text.rpartition("[[leaf]]")
    own = "[leaf.actuator]\nheight = 24\n[opening]"
    text = f"{head}[[leaf]]{tail.replace('[opening]', own, 1)}"

    assert [line for line in told(text) if "stroke" in line] == [
        line for line in told(text) if line.startswith('site.toml: actuator.stroke = "long"')
    ]
    assert len(told(text)) == 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b"   \n", "is empty"),
        (b"\xff\xfe\x00", "is not UTF-8 text"),
        (b"\x00\x01\x02", "is not a TOML file"),
        (b"a = ", "is not a TOML file"),
        (b"a = 1\na = 2", r"a: is there already \(line 2\); allowed: once$"),
        (b"[post]\nsize = 1\n# [leaf]\nsize = 2\n", r"post.size: is there already \(line 4\)"),
        (b"[leaf]\nfill = 0\n[[leaf]]", r"leaf: is there already \(line 3\).*two leaves.*\[\[leaf"),
        (b"[[leaf]]\nfill = 0\n[leaf] # x\n", r"leaf: is there already \(line 3\).*two leaves"),
        (
            b'[leaf]\r\nwidth = 5 1/2\r\njob = "x"',
            r"leaf.width = 5 1/2: cannot be read \(line 2\).*quotes",
        ),
        (b"[leaf]\nwidth = 12 ft\n", r"leaf.width = 12 ft: cannot be read \(line 2\).*quotes"),
        (b'units = "in\n', r"is not a TOML file: line 1: Illegal character"),
        ("[x\u202e]\nw\u0007 = 1 2".encode(), r"is not a TOML file: line 1: Expected"),
        (b"x = " + b"[" * 3000, "nested too deeply"),
        (b"x = " + b"9" * 3900, "is missing|cannot be read"),
        (b"x" * 5000, "characters; at most"),
        (b"job = '" + b"n" * 10_000 + b"'", "job: line 1 has"),
        (b"a." * 1000 + b"b = 1", "more than 40 dots"),
        (b"# " + b"a" * LARGEST, "larger than"),
        (b"units = 3", "units = 3: is not one of the words"),
        (b'units = "in"\njob = "a\\u0000b"', "control or invisible"),
        (b'units = "in"\njob = "' + b"n" * 300 + b'"', "has 300 characters"),
        (b"leaf = 5", "is not a list|is not a table"),
        (b"leaf = [1, 2, 3]", "has 3 leaves"),
        (b"[[leaf]]\n[[leaf]]\n[[leaf]]", "has 3 leaves; allowed: one, or two"),
        (b"leaf = [1, 2]", "is not a table"),
        (b"[leaf]\nrails = [" + b"1,\n" * 9000 + b"]", "leaf.rails.*has 9000 entries"),
        (b"'a b'." * 600 + b"c = 1", "more than 40 dots"),
        (b"d = 1979-05-27", "is not a key known here"),
        (b"[opening]\nangle = inf", "not a finite number"),
        (b"[opening]\nangle = nan", "not a finite number"),
        (b"[opening]\nangle = true", "is not an angle"),
        (b"[hinge]\ntether = 1", "neither yes nor no"),
    ],
)
def test_bad_bytes_make_words(data: bytes, words: str) -> None:
    lines = told(data)

    assert any(re.search(words, line) for line in lines), lines
    assert all(line.startswith("site.toml") for line in lines)
    assert all(line.isprintable() for line in lines)


def test_a_flood_of_mistakes_is_cut_to_what_can_be_read() -> None:
    lines = told("".join(f"k{number} = 1\n" for number in range(5000)))

    assert len(lines) == MOST_LISTED + 1
    assert lines[-1].endswith("more mistakes")


@pytest.mark.parametrize("name", ["missing.toml", ".", "a\0b", "x" * 5000])
def test_a_file_that_cannot_be_read_is_named(tmp_path: Path, name: str) -> None:
    with pytest.raises(SurveyError, match=r"does not exist|is not a file|cannot be read"):
        read_survey(tmp_path / name)


def test_no_file_is_read_further_than_the_limit(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * (LARGEST + 10))

    with pytest.raises(SurveyError, match="larger than"):
        read_survey(path)
