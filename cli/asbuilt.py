"""`hangpost asbuilt SITE MEASURED`: what to do when holes and pins are not where they should be."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hangpost.cli.messages import filled

if TYPE_CHECKING:
    from hangpost.generators.slipped import AsBuilt

HELP = """Say what to do when pins or holes are not where they were drawn.

MEASURED is a TOML file; every key is optional, what is not said is as drawn:

\b
  units = "in"                       # in | mm; default: as the site file
  leaf = 1                           # which leaf of a double gate
  post_pivot = ["-7 1/8", "7 1/16"]  # the pin from the hinge axis, as in [fixed]
  post_pivot_moved = ["1/8", 0]      # or: how far from its drawn place
  leaf_pivot = ["38 1/8", "4 3/8"]   # leaf closed; only if the leaf is drilled
  leaf_pivot_moved = ["1/8", 0]
  [post_holes]                       # or hole by hole, by the name on the
  UA = ["1/8", 0]                    # template: how far [right, up] of its mark
  [leaf_holes]
  A = ["-1/16", 0]

Exit status: 0 it works with the parts in hand; 1 it does not, the remedies are
told; 2 a file is wrong; 3 the site itself has no usable pair of pivots.
"""


@click.command("asbuilt", help=HELP, short_help="What to do when the holes slipped.")
@click.argument("site", type=click.Path(path_type=Path))
@click.argument("measured", type=click.Path(path_type=Path))
@click.option("--shop", type=click.Path(path_type=Path), help="Shop file; default: the house shop.")
@click.option(
    "--stock", multiple=True, metavar="SIZE", help="As the pack was built, if it was limited."
)
@click.option("--json", "as_json", is_flag=True, help="Print the same as data.")
def asbuilt(
    site: Path, measured: Path, shop: Path | None, stock: tuple[str, ...], as_json: bool
) -> int:
    """Hold what was measured against what was drawn."""
    from hangpost.generators.asbuilt import as_built, drawn_leaf
    from hangpost.generators.shelf import Shelf
    from hangpost.generators.standing import rejudged
    from hangpost.generators.survey.display import both, shop_first
    from hangpost.generators.survey.reading import read_measured, read_shop, read_survey

    survey = read_survey(site)
    tools = read_shop(shop, survey.site.units)
    found = read_measured(measured, survey.site.units)
    hung, design = drawn_leaf(survey.site, tools, found, measured.name, stock)
    shelf = Shelf()
    built = as_built(
        found,
        design,
        tools,
        joint_tilt=float(hung.actuator.joint_tilt),
        file=measured.name,
        units=survey.site.units,
        judge=lambda leaf: rejudged(survey.site, tools, hung, leaf, shelf),
    )
    if as_json:
        data = {"job": survey.site.job, "site_sha256": survey.sha256, **built.data()}
        click.echo(json.dumps(data, indent=1))
        return 0 if built.works else 1
    click.echo(f"{survey.site.job}: as built")
    for sentence in built.sentences():
        click.echo(filled(shop_first(sentence, built.units)))
    if not built.is_as_drawn:
        click.echo("\nLengths and stops: drawn, now")
        for name, was, now in built.lengths(float(hung.actuator.retracted)):
            units = survey.site.units
            click.echo(f"  {name:27} {both(was, units)}, {both(now, units)}")
        click.echo("\nParts in hand")
        for verdict in built.verdicts:
            word = "serves" if verdict.serves else "AGAIN "
            click.echo(f"  {word} {verdict.part}: {verdict.why}")
        click.echo("\nSwing and strength, as it stands")
        for line in _judged(built):
            click.echo(line)
        click.echo("\nWhat has to be kept")
        for row in built.checks:
            mark = "ok  " if row.satisfied else "FAIL"
            click.echo(filled(shop_first(row.sentence, built.units), f"  {mark} ", " " * 7))
    return 0 if built.works else 1


def _judged(built: "AsBuilt") -> Iterator[str]:
    """What fails or is warned of with the pins where they are, and how many checks hold."""
    from hangpost.generators.told import told

    if not built.again:
        yield "  not judged: the actuator does not reach"
        return
    bad = [check for check in built.again if check.status != "pass"]
    for check in bad:
        mark = "FAIL" if check.status == "fail" else "warn"
        yield filled(f"{told(check, built.units)}.", f"  {mark} ", " " * 7)
    others = "other " if bad else ""
    yield f"  ok   {len(built.again) - len(bad)} {others}checks of swing and strength hold"
