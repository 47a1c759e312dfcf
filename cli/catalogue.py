"""`hangpost catalogue RANGES -o DIR`: every combination of some values over one site file."""

from pathlib import Path

import click

from hangpost.cli.many import options, run_all

HELP = """Build every combination of the values in a RANGES file over one site file.

RANGES is a TOML file: the site file that everything else comes from, and what is varied, by the
tables and keys of that file:

\b
  base = "gate.toml"
  [vary.post]
  size = ["4x4", "6x6"]                                             # one after the other
  [vary.hinge]
  to_actuator_face = { from = "1 1/2", to = "3 1/2", step = "1/2" } # both ends too
  [vary.opening]
  angle = { from = 80, to = 100, step = 5 }
  [[vary.actuator]]                                                 # whole tables
  retracted = "30 3/4"
  ...

Each combination has its own site file in DIR/sites and, without --solve-only, its pack in
DIR/packs; results.csv (and results.parquet) has a row for each leaf. Run the same again after a
kill, or with more values, and what is finished stays.

Exit status 1: not every combination was built with all checks passed; 2: the file is wrong.
"""


@click.command("catalogue", help=HELP, short_help="Build every combination of some values.")
@click.argument("ranges", type=click.Path(path_type=Path))
@options
def catalogue(
    ranges: Path,
    out: Path,
    shop: Path | None,
    solve_only: bool,
    jobs: int | None,
    scheduler: str | None,
) -> int:
    """Read the ranges, write the site files, run them all."""
    from hangpost.generators.catalogue import read_catalogue
    from hangpost.generators.many.order import Order
    from hangpost.generators.survey.reading import file_bytes, read_shop

    variants = read_catalogue(ranges)
    read_shop(shop)
    stock = None if shop is None else file_bytes(shop)
    place = out.resolve()
    (place / "sites").mkdir(parents=True, exist_ok=True)
    orders = []
    for variant in variants:
        path = place / "sites" / f"{variant.name}.toml"
        if not path.exists() or path.read_bytes() != variant.site:
            path.write_bytes(variant.site)
        orders.append(
            Order(
                name=variant.name,
                site=variant.site,
                file=path.name,
                shop=stock,
                pack=None if solve_only else place / "packs" / variant.name,
                kept=None if scheduler else place / ".kept",
                bring=scheduler is not None,
                varied=variant.varied,
            )
        )
    click.echo(f"{len(orders)} combinations", err=True)
    return run_all(orders, out, jobs, scheduler)
