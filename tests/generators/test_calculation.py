"""The calculation sheet: every strength check is on it with its numbers, worst first."""

import re
from dataclasses import replace
from io import BytesIO

import pdfplumber
import pytest

from hangpost.generators.checks import Check
from hangpost.generators.judging.judge import judge_leaf
from hangpost.generators.judging.load_list import load_rows, wind_words
from hangpost.generators.strength.tables import table
from hangpost.generators.told import figures
from hangpost.generators.writers.calculation import LoadRow, Loads, calculation_sheets, from_memory
from hangpost.generators.writers.cautions import cautions
from hangpost.generators.writers.fonts import CAPITAL
from hangpost.generators.writers.ink import Text
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, TRUE, pdf
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.stamp import Stamp

from .drawings import strays
from .judged_gates import SHOP, demo, designed


@pytest.fixture(scope="module")
def checks() -> tuple[Check, ...]:
    return judge_leaf(demo(), SHOP, demo().leaves[0], designed().leaves[0])


@pytest.fixture(scope="module")
def sheets(checks: tuple[Check, ...]) -> tuple[Sheet, ...]:
    return reckoned_from(checks)


def reckoned_from(checks: tuple[Check, ...]) -> tuple[Sheet, ...]:
    hung, leaf = demo().leaves[0], designed().leaves[0]
    loads = Loads(
        rows=[LoadRow(*row) for row in load_rows(demo(), SHOP, hung, leaf)],
        words=wind_words(demo(), hung, leaf.mount),
    )
    stamp = Stamp(job="test", site_sha256="0" * 64, version="0")
    return calculation_sheets(designed(), checks, [loads], stamp)


def words(sheets: tuple[Sheet, ...]) -> str:
    made = pdf(sheets, title="t", subject="s", maker="m")
    with pdfplumber.open(BytesIO(made)) as book:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in book.pages)


def test_every_strength_check_is_told_with_its_source(
    checks: tuple[Check, ...], sheets: tuple[Sheet, ...]
) -> None:
    """GEO-10: with the formula and its numbers."""
    text = words(sheets)
    told = [check for check in checks if check.id.startswith("strength") and check.working]

    assert len(told) > 30
    for check in told:
        assert check.id.split(": ", 1)[1] in text
        assert check.source.split(";")[0].split(",")[0] in text


def test_what_would_do_stands_with_its_check(checks: tuple[Check, ...]) -> None:
    helped = (replace(checks[0], would_do="a post twice as stout"), *checks[1:])
    text = words(reckoned_from(helped))

    assert text.count("what would do: a post twice as stout") == 1


def test_worst_comes_first_and_cautions_stand_on_it(
    checks: tuple[Check, ...], sheets: tuple[Sheet, ...]
) -> None:
    text = words(sheets)
    told = [c for c in checks if c.id.startswith("strength") and c.working and not c.warning]
    told.sort(key=lambda check: (-check.utilisation, check.id))
    at = [text.index(f"{check.id.split(': ', 1)[1]} {figures(check, 'mm')}") for check in told[:6]]

    assert at == sorted(at)
    assert "not the work of a structural engineer" in text
    for caution in cautions("installing"):
        assert caution.id in text


def test_nothing_overlaps_or_leaves_the_sheet(sheets: tuple[Sheet, ...]) -> None:
    field = TRUE.field(PAPERS[SHOP.drawings.paper[0]])
    for sheet in sheets:
        assert overlaps(sheet.items) == []
        assert strays(sheet, field) == []


def test_what_was_recalled_is_on_the_sheet() -> None:
    words = from_memory()

    for row in table("remembered").values():
        assert row["value"][1:] in words and row["memory_of"] in words


def test_a_warning_over_its_limit_stands_among_the_first(
    checks: tuple[Check, ...], sheets: tuple[Sheet, ...]
) -> None:
    """One that keeps its limit stands after what decides."""
    told = [c for c in checks if c.id.startswith("strength") and c.working and c.utilisation < 9]
    over = next(c for c in told if c.status == "warn")
    kept = next(c for c in told if c.warning and c.status == "pass")
    used = max(
        (c for c in told if c.status == "pass" and not c.warning), key=lambda c: c.utilisation
    )
    least = min((c for c in told if not c.warning), key=lambda c: c.utilisation)
    text = words(sheets)
    at = [
        text.index(f"{c.id.split(': ', 1)[1]} {figures(c, 'mm')}")
        for c in (over, used, least, kept)
    ]

    assert over.utilisation > used.utilisation
    assert at == sorted(at)


def test_no_lettering_is_too_small_to_read(sheets: tuple[Sheet, ...]) -> None:
    """Capitals of 1.2 mm at the least: house; ISO 3098 has 1.8 mm for drawings on a wall."""
    texts = [i for sheet in sheets for i in sheet.items if isinstance(i, Text)]
    assert min(text.size for text in texts) * CAPITAL >= 1.2


def test_the_sheet_says_what_a_storm_does_to_an_open_leaf(sheets: tuple[Sheet, ...]) -> None:
    """ASCE 7-10 29.5 by hand: 1348 N on half of 134 in, over the leverage of the open leaf."""
    mount = designed().leaves[0].mount
    torque = 1348.0 * 134 * 25.4 / 2
    force, stalled = torque / mount.leverage_open, 650 * 4.4482216 * 1.25

    said = re.search(r"put (\d+) N on each pin, ([\d.]+) times", words(sheets))
    assert said is not None
    assert float(said[1]) == pytest.approx(force, rel=1e-3)
    assert float(said[2]) == pytest.approx(force / stalled, abs=0.06)


def test_the_wind_on_the_closed_leaf_is_told_in_its_units() -> None:
    """ASCE 7-10 29.5 by hand: q = 0.613 Kz V2, F over the half width of 134 in."""
    said = wind_words(demo(), demo().leaves[0], designed().leaves[0].mount)
    number = r"([\d.]+)"
    found = re.search(rf"{number} m/s.*q = 0.613 Kz V.2 = {number} Pa; force .* = {number} N with G "
                      rf"= {number}, Cf = {number} .* hinge {number} N m", said)  # fmt: skip
    assert found is not None
    speed, q, force, gust, cf, torque = (float(each) for each in found.groups())
    leaf = demo().leaves[0].leaf

    assert 0.8 < q / (0.613 * speed**2) < 0.9  # Kz below 15 ft: 0.57 (B), 0.85 (C) or 1.03 (D)
    area = float(leaf.width * leaf.height) / 1e6
    assert force == pytest.approx(q * gust * cf * area * float(leaf.fill), rel=0.01)
    assert torque == pytest.approx(force * 134 * 0.0254 / 2, rel=0.01)
