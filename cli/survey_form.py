"""`hangpost survey-form -o FILE`: one page to take to the gate."""

from pathlib import Path
from typing import Literal

import click


@click.command("survey-form")
@click.option(
    "-o",
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    default=Path("survey-form.pdf"),
    show_default=True,
    help="The PDF to write; an existing one is left alone.",
)
@click.option("--units", type=click.Choice(["in", "mm"]), default="in", show_default=True)
@click.option(
    "--paper",
    type=click.Choice(["a4", "a3", "letter", "tabloid"]),
    help="Default: letter in inches, a4 in mm.",
)
def survey_form(out: Path, units: Literal["in", "mm"], paper: str | None) -> int:
    """Write the survey form: numbered boxes named as in the site file, and check measurements."""
    from importlib.metadata import version

    from hangpost.generators.writers import survey_form as form
    from hangpost.generators.writers.paper import PAPERS, pdf

    made_with = version("hangpost")
    sheet = form.survey_form(
        PAPERS[paper or ("letter" if units == "in" else "a4")], units, made_with
    )
    content = pdf(
        [sheet],
        title="Gate survey form",
        subject="Boxes are named as in the site file",
        maker=f"hangpost {made_with}",
    )
    with out.open("xb") as written:
        written.write(content)
    click.echo(f"{out}: print it, take it to the gate; then  hangpost new gate.toml")
    return 0
