"""`hangpost batch SITES... -o DIR`: the packs of many site files in one run."""

import os
from collections import Counter
from pathlib import Path

import click

from hangpost.cli.many import options, run_all


@click.command("batch")
@click.argument(
    "sites",
    nargs=-1,
    required=True,
    type=click.Path(exists=True, path_type=Path),
    metavar="SITES...",
)
@options
def batch(
    sites: tuple[Path, ...],
    out: Path,
    shop: Path | None,
    solve_only: bool,
    jobs: int | None,
    scheduler: str | None,
) -> int:
    """Build the packs of many SITES, each a site file or a folder of them.

    A pack is named after its site file. One that cannot be built stops none of the others:
    results.csv says how each went. Run the same again after a kill and what is finished stays.
    Exit status 1: not every gate was built with all checks passed.
    """
    from hangpost.generators.many.order import Order
    from hangpost.generators.one_line import one_line
    from hangpost.generators.survey.fields import slug
    from hangpost.generators.survey.reading import file_bytes, read_shop

    files = [
        file
        for site in sites
        for file in (sorted(site.glob("*.toml")) if site.is_dir() else [site])
    ]
    files = list(dict.fromkeys(file.resolve() for file in files))
    if not files:
        raise click.UsageError("no site files: a folder is looked through for *.toml")
    read_shop(shop)  # its mistakes are told before the work starts
    stock = None if shop is None else file_bytes(shop)
    stems = Counter(slug(file.stem) for file in files)
    orders = []
    for file in files:
        name = slug(file.stem)
        if stems[name] > 1:
            import hashlib

            name += f"-{hashlib.sha256(os.fsencode(file)).hexdigest()[:8]}"
        orders.append(
            Order(
                name=name,
                site=file_bytes(file),
                file=file.name,
                shop=stock,
                pack=None if solve_only else out.resolve() / name,
                kept=None if scheduler else out.resolve() / ".kept",
                bring=scheduler is not None,
                varied={"file": one_line(file.name)},
            )
        )
    return run_all(orders, out, jobs, scheduler)
