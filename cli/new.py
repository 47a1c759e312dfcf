"""`hangpost new FILE`: a commented site file to fill in, that builds as it is."""

from pathlib import Path
from typing import Literal

import click


@click.command("new")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--units", type=click.Choice(["in", "mm"]), default="in", show_default=True)
@click.option(
    "--post",
    type=click.Choice(["timber", "round_steel", "square_steel"]),
    default="timber",
    show_default=True,
    help="What the hanging post is.",
)
@click.option(
    "--toward",
    type=click.Choice(["actuator", "away"]),
    default="actuator",
    show_default=True,
    help="Opens towards the actuator (pull) or away from it (push).",
)
@click.option(
    "--leaves", type=click.Choice(["1", "2"]), default="1", show_default=True, help="Of the gate."
)
def new(
    file: Path,
    units: Literal["in", "mm"],
    post: Literal["timber", "round_steel", "square_steel"],
    toward: Literal["actuator", "away"],
    leaves: str,
) -> int:
    """Write a commented starter site FILE; an existing one is left alone."""
    from hangpost.generators.survey.starter import starter

    text = starter(units=units, post=post, toward=toward, leaves=2 if leaves == "2" else 1)
    with file.open("x", encoding="utf-8") as written:
        written.write(text)
    click.echo(f"{file}: fill it in, then run  hangpost solve {file}")
    return 0
