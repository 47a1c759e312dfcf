"""`hangpost survey-check SITE CHECKS`: which measurement is probably wrong."""

from pathlib import Path

import click

from hangpost.cli.messages import filled

HELP = """Hold the survey's check measurements against its site file.

CHECKS is a TOML file with the last group of the survey form; every key is optional:

\b
  units = "in"                       # in | mm; default: as the site file
  leaf = 1                           # which leaf of a double gate
  hinge_to_far_post_face = "7 3/8"
  hinge_to_back_face = "2 7/8"
  hinge_to_near_corner = "3 1/4"
  hinge_to_far_corner = "7 7/8"
  post_diagonal = "7 3/4"
  post_circumference = "11"          # round posts
  hinge_to_latch_post = "136"
  ground_to_leaf_top = "54"
  leaf_diagonal = "143 1/8"
  actuator_extended = "46 1/2"

Exit status: 0 they agree; 1 one is probably wrong; 2 a file is wrong.
"""


@click.command("survey-check", help=HELP, short_help="Which measurement is probably wrong.")
@click.argument("site", type=click.Path(path_type=Path))
@click.argument("checks", type=click.Path(path_type=Path))
def survey_check(site: Path, checks: Path) -> int:
    """Adjust all readings together and name the one that the others speak against."""
    from hangpost.generators.survey.check_sizes import site_readings
    from hangpost.generators.survey.consistency import suspects, unchecked
    from hangpost.generators.survey.mistakes import Mistake, SurveyError
    from hangpost.generators.survey.reading import read_check_sizes, read_survey

    survey = read_survey(site)
    sizes = read_check_sizes(checks, survey.site.units)
    if sizes.leaf > len(survey.site.leaves):
        raise SurveyError(
            [Mistake(file=checks.name, key="leaf", value="2", wrong="is not there", allowed="1")]
        )
    hung = survey.site.leaves[sizes.leaf - 1]
    readings = {**site_readings(survey.site, hung), **sizes.readings}
    found = suspects(readings)
    for suspect in found:
        click.echo(filled(suspect.sentence, rest="  "))
    alone = unchecked(readings)
    if alone:
        said = f"nothing checks {', '.join(alone)}"
        click.echo(filled(said, rest="  "), err=True)
    if not found:
        click.echo(f"{len(readings) - len(alone)} readings agree")
    return 1 if found else 0
