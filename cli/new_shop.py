"""`hangpost new-shop FILE`: a commented shop file to fill in, that can be used as it is."""

from pathlib import Path
from typing import Literal

import click


@click.command("new-shop")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--units", type=click.Choice(["in", "mm"]), default="in", show_default=True)
def new_shop(file: Path, units: Literal["in", "mm"]) -> int:
    """Write a commented starter shop FILE; an existing one is left alone."""
    from hangpost.generators.survey.shop_starter import shop_starter

    with file.open("x", encoding="utf-8") as written:
        written.write(shop_starter(units))
    click.echo(f"{file}: fill it in, then run  hangpost build SITE -o DIR --shop {file}")
    return 0
