"""From a survey to a whole pack: the flow of the program, one step a line.

survey -> pivots -> hardware -> swing and strength -> files -> report -> pack.json
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from typing import Any

from hangpost.generators import files, manifest
from hangpost.generators.checks import Check
from hangpost.generators.errands import errands
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.judged import judged
from hangpost.generators.judging.choose import choose, with_reasons
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.progress import Report
from hangpost.generators.report.page import report_page
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import Survey
from hangpost.generators.survey.shop import Shop
from hangpost.generators.would_do import with_ways
from hangpost.generators.writers.stamp import Stamp


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """Everything that is handed over: the files by path, and what they say."""

    design: Design
    checks: tuple[Check, ...]
    files: Mapping[str, bytes]
    data: Mapping[str, Any]  # pack.json
    short: tuple[str, ...] = ()  # where the stock does not do: what fails, and what more of it does

    @property
    def passed(self) -> bool:
        """Whether no check failed."""
        return all(check.status != "fail" for check in self.checks)


def make(
    survey: Survey,
    shop: Shop,
    report: Report,
    stock: Sequence[str] = (),
    shelf: Shelf | None = None,
) -> Pack:
    """The whole pack of a gate, in memory; NoPivots and NoHardware say why there is none.

    `stock` limits what it may be made from, as "1/4 in plate" does; a `shelf` may hold what was
    built for other gates, or have another process build it.
    """
    shelf = shelf or Shelf()
    report("finding the pivots", 0, 0)
    solved = solve_gate(survey.site, shop)
    report("choosing the hardware", 0, 0)
    chosen = choose(survey.site, shop, solved, stock)
    design = design_gate(survey.site, shop, solved, [each.picks for each in chosen])
    design = with_reasons(design, chosen)
    shelf.expect(errands(design))
    stamp = _stamp(survey, shop)
    written = files.reckoned(design, shelf, report)
    files.drawn(design, shelf, stamp, report, written)
    checks, clearances = judged(design, shelf, report)
    checks = with_ways(design, [each.picks for each in chosen], checks, stock, report)
    stamp = replace(stamp, failed=sum(check.status == "fail" for check in checks))
    files.built(design, checks, clearances, shelf, stamp, report, written)
    data = manifest.manifest(
        design,
        site_sha256=survey.sha256,
        checks=checks,
        clearances=clearances,
        files=written.files,
        part_files=written.parts,
        template_files=written.templates,
    )
    report("writing the report", 0, 0)
    shown = {**written.files, "report.html": report_page(design, data, written.files, shelf)}
    data = manifest.with_files(data, shown)
    whole = {**shown, "pack.json": manifest.as_bytes(data)}
    short = tuple(words for each in chosen for words in each.short)
    return Pack(design=design, checks=checks, files=whole, data=data, short=short)


def _stamp(survey: Survey, shop: Shop) -> Stamp:
    return Stamp(
        job=survey.site.job,
        site_sha256=survey.sha256,
        version=version("hangpost"),
        record=survey.text,
        revision=shop.revision,
        units=shop.drawings.units,
    )
