"""`hangpost compare PACK_A PACK_B`: what changed between two packs, in words."""

import json
from pathlib import Path

import click


@click.command("compare")
@click.argument("pack_a", type=click.Path(path_type=Path))
@click.argument("pack_b", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the changes as data.")
@click.option("--exit-code", is_flag=True, help="Exit with 1 when something changed.")
def compare(pack_a: Path, pack_b: Path, as_json: bool, exit_code: bool) -> int:
    """Say what changed from PACK_A to PACK_B, one line each; nothing when nothing did.

    A pack is its folder or its pack.json. Noise is not told: lengths under 0.05 mm, angles under
    0.05 degrees, masses, moments and speeds under 1 %, clearances under 1 mm.

    Exit status: 0 compared, changed or not; 2 one of them is no pack. With --exit-code: 1 when
    something changed.
    """
    from hangpost.generators import compare as packs

    changes = packs.compare(packs.read_pack(pack_a), packs.read_pack(pack_b))
    if as_json:
        told = [{"where": change.where, "what": change.what} for change in changes]
        click.echo(json.dumps({"changes": told}, indent=1))
    else:
        for change in changes:
            click.echo(str(change))
        if not changes:
            click.echo("nothing changed that anybody could measure", err=True)
    return 1 if exit_code and changes else 0
