"""`hangpost build SITE -o DIR` and `hangpost demo -o DIR`: the whole pack."""

import gc
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hangpost.cli.memory import KERNEL, want
from hangpost.cli.messages import explain, filled, shown
from hangpost.cli.progress import Progress

if TYPE_CHECKING:
    from hangpost.generators.beside import Beside
    from hangpost.generators.checks import Check
    from hangpost.generators.pack import Pack
    from hangpost.generators.survey.reading import Survey
    from hangpost.generators.survey.units import Units

SHOWN = 12  # failed or worst checks that are listed
SCREENING = (
    "This is a screening by rules, not a structural engineer; local code and a competent person "
    "decide."
)

out_option = click.option(
    "-o", "--out", type=click.Path(path_type=Path), required=True, help="Folder for the pack."
)
shop_option = click.option(
    "--shop", type=click.Path(path_type=Path), help="Shop file; default: the house shop."
)
stock_option = click.option(
    "--stock",
    multiple=True,
    metavar="SIZE",
    help='Make it from this only: "1/4 in plate", "1/2 lag screws", "M12 bolts". May be repeated.',
)
force_option = click.option("--force", is_flag=True, help="Replace a pack that is there already.")


@click.command("build")
@click.argument("site", type=click.Path(path_type=Path))
@out_option
@shop_option
@stock_option
@force_option
def build(site: Path, out: Path, shop: Path | None, stock: tuple[str, ...], force: bool) -> int:
    """Build the whole pack for a SITE file."""
    from hangpost.generators.beside import Beside

    want(KERNEL)
    with Beside() as beside:  # it loads while the rest is imported here
        from hangpost.generators.survey.reading import read_survey

        return _deliver(read_survey(site), out, shop, stock, force, beside)


@click.command("demo")
@out_option
@force_option
def demo(out: Path, force: bool) -> int:
    """Build the shipped example, an invented gate on a 6x6 timber post."""
    from hangpost.generators.beside import Beside

    want(KERNEL)
    data = files("hangpost.cli").joinpath("demo.toml").read_bytes()
    with Beside() as beside:
        from hangpost.generators.survey.reading import survey_from_bytes

        survey = survey_from_bytes(data, file="demo.toml")
        return _deliver(survey, out, None, (), force, beside)


def _deliver(
    survey: "Survey",
    out: Path,
    shop: Path | None,
    limits: tuple[str, ...],
    force: bool,
    beside: "Beside",
) -> int:
    from hangpost.generators.pack import make
    from hangpost.generators.shelf import Shelf
    from hangpost.generators.survey.reading import file_bytes, read_shop
    from hangpost.generators.writers.outbox import deliver, ready

    gc.disable()  # a pack is a million records that stay; the process ends with it
    stock = read_shop(shop, survey.site.units)
    ready(out, force=force)
    for note in survey.site.notes:
        click.echo(filled(f"note: {note.key}: {note.words}", rest="  "), err=True)
    try:
        with Progress() as progress:
            pack = make(survey, stock, progress, limits, Shelf(beside=beside))
            deliver(out, pack.files, force=force)
        gc.freeze()  # the interpreter would look through them all before it ends
    except Exception as error:
        if explain(error) is None:
            from hangpost.cli.fault import kept

            told = {f"site file {survey.file}": survey.text, "stock": ", ".join(limits)}
            if shop is not None:
                told[f"shop file {shop.name}"] = file_bytes(shop).decode("utf-8", "replace")
            error.add_note(kept(error, out, told))
        raise
    _tell(pack, out)
    return 0 if pack.passed else 1


def _tell(pack: "Pack", out: Path) -> None:
    counts = {word: 0 for word in ("pass", "warn", "fail")}
    for check in pack.checks:
        counts[check.status] += 1
    click.echo(
        f"{shown(out)}: {len(pack.files)} files; {counts['pass']} checks pass, "
        f"{counts['warn']} warn, {counts['fail']} fail"
    )
    doubtful = [check for check in pack.checks if check.status != "pass"]
    for check in doubtful[:SHOWN]:
        click.echo(_line(check, pack.design.site.units), err=True)
    if len(doubtful) > SHOWN:
        click.echo(f"  and {len(doubtful) - SHOWN} more, in pack.json", err=True)
    for words in pack.short:
        click.echo(filled(words, "  STOCK ", " " * 8), err=True)
    click.echo(filled(SCREENING), err=True)


def _line(check: "Check", units: "Units") -> str:
    """A check that does not pass: its name and figures in the first line, then what and why."""
    from hangpost.generators.survey.display import shop_first
    from hangpost.generators.told import named

    mark = f"{check.status.upper():4}"
    helps = f"what would do: {check.would_do}" if check.would_do else ""
    more = filter(None, (shop_first(check.what, units), f"by: {check.source}", helps))
    lines = (filled(words, " " * 8, " " * 8) for words in more)
    return "\n".join((filled(named(check, units), f"  {mark}  ", " " * 8), *lines))
