"""`hangpost verify DIR`: read every file of a pack back and hold it against pack.json."""

from pathlib import Path

import click

from hangpost.cli.memory import KERNEL, want
from hangpost.cli.progress import Progress

NOT_VERIFIED = 4


@click.command("verify")
@click.argument(
    "folder", metavar="DIR", type=click.Path(exists=True, file_okay=False, path_type=Path)
)
def verify(folder: Path) -> int:
    """Read every file of the pack in DIR back and hold it against its pack.json.

    Every problem is one line. Exit status 4 if there is any.
    """
    from hangpost.generators.verify import verify as read_back

    want(KERNEL)
    with Progress() as progress:
        verdict = read_back(folder, progress, apart=True)
    for problem in verdict.problems:
        click.echo(str(problem))
    if not verdict.good:
        count = len(verdict.problems)
        click.echo(
            f"{folder} is not what its pack.json says: {count} problem{'s' * (count > 1)}", err=True
        )
        return NOT_VERIFIED
    click.echo(f"verified: {verdict.files} files")
    return 0
