"""`hangpost solve SITE`: where the two pins sit, why, and what else was possible."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hangpost.cli.messages import filled

if TYPE_CHECKING:
    from hangpost.generators.pivots.gate import Solved
    from hangpost.generators.pivots.mount import Mount
    from hangpost.generators.pivots.ways_out import NoPivots
    from hangpost.generators.survey.units import Units


@click.command("solve")
@click.argument("site", type=click.Path(path_type=Path))
@click.option("--shop", type=click.Path(path_type=Path), help="Shop file; default: the house shop.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as data.")
@click.option(
    "--map",
    "picture",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write an SVG of where the post pivot may go; of two leaves, FILE-1 and FILE-2.",
)
def solve(site: Path, shop: Path | None, as_json: bool, picture: Path | None) -> int:
    """Find the two pivots for a SITE file; no CAD, seconds.

    By default the pair that stands errors of tape and drill best (choice.prefer = "robust";
    "leverage" and "light" are others); another rule's pair is shown beside it. Exit status 1:
    the leaf itself runs into its post; 3: no usable pair, the map is written all the same and shows
    what excludes what.
    """
    from hangpost.generators.pivots.gate import solve_gate
    from hangpost.generators.pivots.ways_out import NoPivots
    from hangpost.generators.survey.reading import read_shop, read_survey

    survey = read_survey(site)
    stock = read_shop(shop, survey.site.units)
    head = {"job": survey.site.job, "site_sha256": survey.sha256}
    for note in survey.site.notes:
        click.echo(filled(f"note: {note.key}: {note.words}"), err=True)
    try:
        solved = solve_gate(survey.site, stock)
    except NoPivots as hopeless:  # told by who called us; the map and the data are due before
        if picture is not None:
            _draw_hopeless(hopeless, picture, survey.site.job)
        if as_json:
            click.echo(json.dumps({**head, "no_pivots": hopeless.data()}, indent=1))
        raise
    if picture is not None:
        _draw(solved, picture, survey.site.job)
    leaves = list(zip(survey.site.leaves, (mount for _, mount in solved), strict=True))
    status = 0 if all(mount.leaf_to_post.satisfied for _, mount in leaves) else 1
    if as_json:
        found = [{"hand": hung.hand, "mount": mount.data()} for hung, mount in leaves]
        click.echo(json.dumps({**head, "leaves": found}, indent=1))
        return status
    for number, (hung, mount) in enumerate(leaves, start=1):
        title = f"leaf {number}, {hung.hand} hand" if len(solved) > 1 else f"{hung.hand} hand"
        click.echo("\n".join(lines(mount, survey.site.units, f"{survey.site.job}: {title}")))
    return status


def _draw(solved: "tuple[Solved, ...]", picture: Path, job: str) -> None:
    from hangpost.generators.pivots.map_svg import map_svg
    from hangpost.generators.pivots.pivot_map import pivot_map

    for number, (problem, mount) in enumerate(solved, start=1):
        off = mount.sure.sources if mount.sure else ()
        several = len(solved) > 1
        path = picture.with_stem(f"{picture.stem}-{number}") if several else picture
        title = f"{job}, leaf {number}" if several else job
        drawn = map_svg(pivot_map(problem, off, mount), problem, title)
        path.write_text(drawn, encoding="utf-8", newline="\n")


def _draw_hopeless(hopeless: "NoPivots", picture: Path, job: str) -> None:
    from hangpost.generators.pivots.map_svg import map_svg
    from hangpost.generators.pivots.pivot_map import pivot_map

    nearest = (hopeless.best[0], hopeless.best[1])
    found = pivot_map(hopeless.problem, nearest=nearest, excluding=hopeless.excluding)
    drawn = map_svg(found, hopeless.problem, f"{job}: no usable pair")
    picture.write_text(drawn, encoding="utf-8", newline="\n")


def lines(mount: "Mount", units: "Units", title: str) -> Iterator[str]:
    """What a person reads, within 80 columns."""
    from hangpost.generators.survey.display import both, inches, quantity, shop_first

    def size(mm: float) -> str:
        if units == "mm":
            return both(mm, units)
        shown = inches(abs(mm))
        sign = "-" if mm < 0 else ""
        off = f", {shown.error:+.2f} mm by rounding" if abs(shown.error) >= 0.005 else ""
        return f"{sign}{shown.text} in ({mm:.2f} mm{off})"

    (px, py), (gx, gy) = mount.post_pivot, mount.leaf_pivot
    opens = "towards the actuator" if mount.direction == "pull" else "away from the actuator"
    yield title
    yield f"opens {mount.opening:g} degrees {opens}"
    yield ""
    yield "Post pivot, from the hinge axis"
    along = "setback, behind it" if px < 0 else "ahead of it, along the leaf"
    yield f"  {along:31} {size(abs(px))}"
    yield f"  {'standoff, to the actuator side':31} {size(py)}"
    yield f"  {'reach, off the post face':31} {size(mount.reach)}"
    yield "Leaf pivot, leaf closed"
    yield f"  {'along the leaf':31} {size(gx)}"
    yield f"  {'off the hinge axis line':31} {size(gy)}"
    yield f"  {'off the leaf face':31} {size(mount.leaf_reach)}"
    yield "Pin to pin"
    yield f"  {'closed':31} {size(mount.closed_length)}"
    yield f"  {'open':31} {size(mount.open_length)}"
    yield f"  {'stroke used':31} {size(mount.stroke_used)}"
    yield f"  {'spare, retracted':31} {size(mount.margin_retracted)}"
    yield f"  {'spare, extended':31} {size(mount.margin_extended)}"
    yield "Leverage"
    yield f"  {'closed':31} {size(mount.leverage_closed)}"
    yield f"  {'open':31} {size(mount.leverage_open)}"
    yield f"  {'least':31} {size(mount.leverage_least)}"
    yield f"  {'needed':31} {size(mount.required_leverage)}"
    yield "Swing"
    yield f"  {'time':31} {mount.swing_time:.0f} s"
    yield f"  {'latch edge, at most':31} {' '.join(quantity(mount.edge_speed, 'mm/s', units))}"
    yield ""
    yield "What has to be kept"
    for row in (*mount.rows, mount.leaf_to_post):
        mark = "ok  " if row.satisfied else "FAIL"
        yield filled(shop_first(row.sentence, units), f"  {mark} ", " " * 7)
    yield ""
    yield filled(shop_first(mount.why, units))
    if mount.other is not None:
        yield filled(shop_first(mount.other.sentence, units))
    if mount.sure is not None:
        yield ""
        yield "How sure it is"
        for sentence in mount.sure.sentences():
            yield filled(shop_first(sentence, units), "  - ", "    ")
    if mount.runners_up:
        yield ""
        yield "Other usable pairs"
        for other in mount.runners_up:
            yield filled(shop_first(other.sentence, units), "  - ", "    ")
