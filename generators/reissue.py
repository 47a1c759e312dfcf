"""Templates issued again for one printer, from a pack or from a site file.

From a pack nothing is solved anew: the sheets show the very holes that pack.json records.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Template
from hangpost.generators.judged import reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.pack_json import read_json
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.mistakes import Mistake, SurveyError
from hangpost.generators.survey.reading import Survey
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.paper import PAPERS, Printer
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.template import TemplateBook, template_book
from hangpost.generators.writers.template_record import template_from

FARTHEST: Final = 5000.0  # mm from a datum: no sheet of ours shows more
MOST: Final = 1000  # in a list, and characters in a text


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """The templates of a job, what their feet say, and the papers they were issued on."""

    templates: tuple[Template, ...]
    stamp: Stamp
    papers: tuple[str, ...]


def from_pack(folder: Path) -> Issue:
    """What a pack's manifest says; SurveyError when it cannot be read."""
    file = folder / "pack.json"
    try:
        return _issue(read_json(file))
    except (
        *(OSError, ValueError, LookupError, TypeError, AttributeError),
        *(OverflowError, RecursionError),
    ) as error:
        words = f"cannot be used: {type(error).__name__}: {str(error)[:100]}"
        mistake = Mistake(file=str(file), key="", wrong=words, allowed="a pack of this version")
        raise SurveyError([mistake]) from None


def _issue(data: Mapping[str, Any]) -> Issue:
    templates = tuple(template_from(each) for each in data["templates"])
    first = data["templates"][0]
    units = first["drawn"]["units"]
    if units not in ("in", "mm"):
        raise ValueError(f"units {units!r}")
    stamp = Stamp(
        job=_words(data["job"], 120),
        site_sha256=_words(data["site_sha256"], 64),
        version=_words(data["hangpost"], 20),
        revision=_words(first["drawn"]["revision"], 120),
        units=units,
        failed=sum(check["status"] == "fail" for check in data.get("checks", ())),
    )
    papers = tuple(str(paper["paper"]) for paper in first["papers"])
    if not templates or not papers or not all(paper in PAPERS for paper in papers):
        raise ValueError("there is no template on a paper known here")
    _bounded(data["templates"])
    return Issue(templates=templates, stamp=stamp, papers=papers)


def _words(data: Any, most: int) -> str:
    """A word of the foot, as long as ours are, in letters that can be set."""
    return "".join(letter for letter in str(data)[:most] if letter.isprintable())


def _bounded(data: Any) -> None:
    """Raise ValueError for figures and words that no template of ours has."""
    if isinstance(data, Mapping):
        _bounded(list(data.values()))
    elif isinstance(data, list):
        if len(data) > MOST:
            raise ValueError(f"a list of {len(data)}")
        for each in data:
            _bounded(each)
    elif isinstance(data, str) and len(data) > MOST:
        raise ValueError(f"a text of {len(data)} characters")
    elif isinstance(data, int | float) and not abs(data) <= FARTHEST:
        raise ValueError(f"{str(data)[:20]} where at most {FARTHEST:g} mm can be drawn")


def book(issue: Issue, paper: str, printer: Printer) -> TemplateBook:
    """The sheets of an issue; SurveyError when what a pack says cannot be drawn."""
    try:
        return template_book(issue.templates, issue.stamp, PAPERS[paper], printer)
    except (ValueError, ArithmeticError, LookupError) as error:
        words = f"holds templates that cannot be drawn ({str(error)[:100]})"
        raise SurveyError([Mistake(file="pack.json", key="templates", wrong=words)]) from None


def from_survey(survey: Survey, shop: Shop) -> Issue:
    """The templates of a survey, solved and designed as a build does."""
    solved = solve_gate(survey.site, shop)
    chosen = choose(survey.site, shop, solved)
    design = design_gate(survey.site, shop, solved, [each.picks for each in chosen])
    templates = tuple(
        template if leaf.hand == "right" else template.mirrored()
        for leaf in design.leaves
        for template in leaf.templates
    )
    stamp = Stamp(
        job=survey.site.job,
        site_sha256=survey.sha256,
        version=version("hangpost"),
        record=survey.text,
        revision=shop.revision,
        units=shop.drawings.units,
        failed=sum(check.status == "fail" for check in reckoned(design)),
    )
    return Issue(templates=templates, stamp=stamp, papers=tuple(shop.drawings.paper))
