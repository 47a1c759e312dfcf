"""The report page: its numbers, its links, its words and what it never asks for."""

import json
import re

import pytest

from hangpost.generators.gaps import body_parts
from hangpost.generators.report.figures import Figures, shown
from hangpost.generators.report.page import embedded
from hangpost.generators.writers.cautions import cautions

from .report_made import CHECKS, CLEARANCES, EVIL, WALL, Made, Reader, at, demo, made


def test_whatever_a_job_or_an_obstacle_is_called_it_is_text(report: Made, read: Reader) -> None:
    kinds = [attributes.get("type") for tag, attributes in read.tags if tag == "script"]

    assert kinds == ["application/json", None, None]
    assert not [name for _, found in read.tags for name in found if name.startswith("on")]
    assert not [f for tag, f in read.tags if tag == "img" and not str(f["src"]).startswith("data:")]
    assert read.text.count(EVIL) >= 4  # title, heading, check, source, obstacle
    assert read.text.count("alert(1)") == read.text.count(EVIL)


def test_data_in_the_page_cannot_end_the_script_it_stands_in() -> None:
    text = embedded({"name": EVIL})

    assert json.loads(text) == {"name": EVIL}
    assert not re.search("[<>&]", text)


# What a number in a spoken unit is in the pack's: N, mm, MPa, N mm. Factors of NIST SP 811
# (2008), appendix B.8.
SPOKEN = {
    "in": 25.4, "lb": 0.45359237, "lbf": 4.4482216, "lbf ft": 1355.8179, "psi": 6.8947573e-3,
    "ksi": 6.8947573, "lbf/in": 0.17512684, "lbf in/in": 4.4482216, "in3": 16387.064,
    "in/s": 25.4, "N m": 1e3, "kN m": 1e6, "kN": 1e3,
}  # fmt: skip


def test_every_number_on_the_page_is_the_number_in_pack_json(report: Made, read: Reader) -> None:
    assert len(read.data) > 150
    for attributes, text in read.data:
        value = at(report.pack, str(attributes["data-at"]))
        if value is None:
            assert attributes["value"] == "" and text == "\u2013"
            continue
        read_as = float(text.replace("\u2212", "-"))
        places = len(text.partition(".")[2])
        if str(attributes["data-at"]).endswith(("utilisation", "kept", "absorbed")):
            read_as /= 100
            places += 2
        if attributes.get("data-unit") in SPOKEN:
            read_as, step = (
                SPOKEN[str(attributes["data-unit"])] * size for size in (read_as, 10.0**-places)
            )
            assert abs(read_as) == pytest.approx(abs(value), abs=0.5 * step * 1.000001)
            continue

        assert json.loads(str(attributes["value"])) == value
        # An angle is told as how far open, whichever way the leaf swings. Up to ten figures are
        # written out in full; trailing noughts are cut, so a text may be one place short.
        assert abs(read_as) == pytest.approx(abs(value), abs=0.5 * 10.0**-places * 1.000001)


def test_every_figure_of_the_mount_and_every_check_is_on_the_page(read: Reader) -> None:
    there = {str(attributes["data-at"]) for attributes, _ in read.data}
    wanted = {f"checks.{k}.{key}" for k in range(len(CHECKS)) for key in ("value", "limit")}
    wanted |= {f"clearances.{k}.at_angle" for k in range(len(CLEARANCES))}
    wanted |= {f"leaves.0.mount.{key}" for key in ("closed_length", "open_length", "stroke_used")}
    wanted |= {"leaves.0.mount.leverage.least", "leaves.0.mount.margin.extended", "parts.0.mass"}

    assert not wanted - there


def test_share_is_never_rounded_up_to_all(report: Made, read: Reader) -> None:
    found = {a["data-at"]: text for a, text in read.data}

    assert found["checks.4.utilisation"] == "99.96"
    assert found["checks.0.utilisation"] == "12" or found["checks.0.utilisation"] == "13"


def test_page_asks_the_network_for_nothing(report: Made, read: Reader) -> None:
    text = report.page.decode()
    addresses = set(re.findall(r"(?:https?:)?//[\w-]+\.[\w./-]+", text))
    outward = {a for a in addresses if "w3.org" not in a}  # names of vocabularies
    links = [str(f["href"]) for tag, f in read.tags if tag == "a" and "href" in f]
    policy = next(f for _, f in read.tags if f.get("http-equiv") == "Content-Security-Policy")

    assert not {a for a in outward if not a.startswith("//") or ".com" in a or ".org" in a}
    assert not re.search(r"@import|url\(\s*['\"]?(?!#|data:)", text.split("</style>")[0])
    assert not [tag for tag, _ in read.tags if tag in {"link", "iframe", "object", "embed", "base"}]
    assert str(policy["content"]).startswith("default-src 'none'; script-src 'sha256-")
    assert all(not re.match(r"[a-z]+:|/", link) for link in links)


def test_links_lead_to_files_of_the_pack_or_to_places_on_the_page(
    report: Made, read: Reader
) -> None:
    ids = {f["id"] for _, f in read.tags if "id" in f}
    links = {str(f["href"]) for tag, f in read.tags if tag == "a" and "href" in f}
    inside = {link[1:] for link in links if link.startswith("#")}
    outside = {link for link in links if not link.startswith("#")}

    assert inside <= ids
    assert outside <= {*report.files, "pack.json"}
    assert {p for p in report.files if p.endswith(".svg")} <= outside
    assert len([f["id"] for _, f in read.tags if "id" in f]) == len(ids)


def test_same_survey_gives_the_same_bytes_and_a_page_of_reasonable_size(report: Made) -> None:
    again = made(demo(EVIL) + WALL)

    assert again.page == report.page
    assert again.files == report.files
    assert len(report.page) < 2_000_000  # house: a page for a telephone and a memory stick


def test_all_cautions_stand_on_the_page_the_first_ones_before_everything(read: Reader) -> None:
    ids = [str(f["id"]) for _, f in read.tags if str(f.get("id", "")).startswith("SAF-")]
    order = [str(f["id"]) for tag, f in read.tags if tag == "section"]

    assert ids == [c.id for c in cautions("installing", "drilling", "zinc", "timber", "printed")]
    assert order[0] == "first"
    assert all(c.text in read.text for c in cautions("installing", "drilling", "timber"))


def test_checks_come_worst_first_and_are_told_in_words_and_signs(report: Made) -> None:
    text = report.page.decode()
    body = text[text.index('id="check-table"') :]
    results = re.findall(r'<td data-sort="\d+">([^<]+)</td>', body[: body.index("</table>")])
    places = re.findall(r'data-at="checks\.(\d)\.value"', body)

    # The one that holds on nothing has no share: it is the worst of all.
    assert places == ["3", "1", "2", "4", "0"]
    assert results == ["\u2715 fail", "\u2715 fail", "! warn", "\u2713 pass", "\u2713 pass"]
    assert "2 of 5 checks fail." in text
    assert re.findall(r"What would do: ([^<]+)<", text) == ["a post &lt;of&gt; 8x8"]
    assert [c.get("would_do") for c in report.pack["checks"]][2:4] == [None, "a post <of> 8x8"]
    assert 'class="verdict fail"' in text


def test_what_is_in_one_another_comes_first_among_the_clearances(report: Made) -> None:
    places = re.findall(r'data-at="clearances\.(\d)\.at_angle"', report.page.decode())

    assert places == ["2", "0", "3", "1"]
    assert "in one another" in report.page.decode()


def test_gaps_that_close_are_listed_with_what_they_can_catch(report: Made, read: Reader) -> None:
    gaps = report.pack["leaves"][0]["gaps"]

    assert gaps
    assert {part.name for part in body_parts()} >= {p["name"] for g in gaps for p in g["parts"]}
    assert all(g["name"] in read.text for g in gaps)
    assert "no statement that any gap is safe" in read.text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (0.0, None, "0"),
        (-0.0, 1, "0"),
        (1234567.0, None, "1234567"),
        (0.00123456, None, "0.0012"),
        (-12.345, 1, "\u221212.3"),
        (99.999, None, "100"),
        (10.0, 1, "10"),
    ],
)
def test_numbers_are_written_without_exponents(value: float, places: int | None, text: str) -> None:
    assert shown(value, places) == text


def test_who_works_in_inches_reads_inches_first_in_every_sentence_and_table(read: Reader) -> None:
    """The example is in inches: bare millimetres stand in workings and file names alone."""
    units = {str(a["data-at"]): a.get("data-unit") for a, _ in read.data}
    outcomes = [at for at in units if ".outcomes." in at and at.endswith("nominal")]
    lengths = [at for at in outcomes if units[at] == "in"]

    assert lengths and units["leaves.0.mount.edge_speed"] == "in/s"
    assert not re.search(r"[\d.]+ mm \([\d /]+ in\)", read.text)
    assert re.search(r"least leverage is [\d /]+ in \([\d.]+ mm\)", read.text)


def test_a_pivot_ahead_of_the_hinge_axis_is_told_without_a_minus() -> None:
    told = Figures({"setback": -220.7}, "in").size("setback")

    assert "8\u00a011/16" in told and "220.7" in told
    assert "\u2212" not in told and ">-" not in told
