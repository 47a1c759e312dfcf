"""`hangpost templates PACK_OR_SITE --printed XxY`: sheets that come out true on one printer."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from hangpost.generators.writers.paper import Printer

LENGTH = r"\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*"
FARTHEST = 0.10  # a bar that is more than a tenth off was not printed at actual size


@click.command("templates")
@click.argument("source", metavar="PACK_OR_SITE", type=click.Path(exists=True, path_type=Path))
@click.option(
    "--printed",
    help="Measured length of the two check bars in mm, across and along: 149.2x199.1",
)
@click.option(
    "--paper", type=click.Choice(["a4", "a3", "letter", "tabloid"]), help="Default: as the shop's."
)
@click.option("--shop", type=click.Path(path_type=Path), help="Shop file, for a SITE.")
@click.option(
    "-o",
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    required=True,
    help="The PDF to write; an existing one is left alone.",
)
def templates(
    source: Path, printed: str | None, paper: str | None, shop: Path | None, out: Path
) -> int:
    """Issue the drilling templates of a pack or a site file again, made for one printer.

    Print any template sheet at 100 %, measure both bars, and give what you read. The new sheets
    come out true on that printer, and say that they are for it alone.
    """
    from hangpost.generators.reissue import book, from_pack, from_survey
    from hangpost.generators.survey.reading import read_shop, read_survey
    from hangpost.generators.writers.paper import TRUE

    printer = TRUE if printed is None else _printer(printed)
    if source.is_dir():
        issue = from_pack(source)
    else:
        survey = read_survey(source)
        issue = from_survey(survey, read_shop(shop, survey.site.units))
    sheets = book(issue, paper or issue.papers[0], printer)
    content = sheets.pdf()
    with out.open("xb") as written:
        written.write(content)
    click.echo(
        f"{out}: {len(sheets.pages)} sheets, {sheets.paper.name}; print at 100 %, measure again"
    )
    return 0


def _printer(text: str) -> "Printer":
    """The printer whose bars measured so; a usage error for what no printer does."""
    from hangpost.generators.writers.paper import BAR_X, BAR_Y, Printer

    found = re.fullmatch(rf"{LENGTH}[xX*]{LENGTH}", text)
    if not found:
        raise click.BadParameter(
            f"{text[:40]!r} is not two lengths in mm, as in 149.2x199.1", param_hint="--printed"
        )
    across, along = (float(part.replace(",", ".")) for part in found.groups())
    for name, measured, nominal in (("X", across, BAR_X), ("Y", along, BAR_Y)):
        if abs(measured / nominal - 1) > FARTHEST:
            raise click.BadParameter(
                f"bar {name} is {nominal:g} mm; {measured:g} mm is no printer's error: was it "
                "printed at 100 %, and are the two in the order across x along?",
                param_hint="--printed",
            )
    return Printer.measured(across, along)
