"""Templates issued again for one printer, from a pack or from a site file.

From a pack nothing is solved anew: the sheets show the very holes that pack.json records.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Template
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.mistakes import Mistake, SurveyError
from hangpost.generators.survey.reading import Survey
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.template_record import template_from


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
        data = json.loads(file.read_text(encoding="utf-8"))
        return _issue(data)
    except (OSError, ValueError, KeyError, TypeError, IndexError) as error:
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
        job=str(data["job"]),
        site_sha256=str(data["site_sha256"]),
        version=str(data["hangpost"]),
        revision=str(first["drawn"]["revision"]),
        units=units,
    )
    papers = tuple(str(paper["paper"]) for paper in first["papers"])
    return Issue(templates=templates, stamp=stamp, papers=papers)


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
    )
    return Issue(templates=templates, stamp=stamp, papers=tuple(shop.drawings.paper))
