"""`hangpost solve SITE`: where the two pins sit, why, and what else was possible."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from hangpost.generators.pivots.mount import Mount
    from hangpost.generators.survey.units import Units


@click.command("solve")
@click.argument("site", type=click.Path(path_type=Path))
@click.option("--shop", type=click.Path(path_type=Path), help="Shop file; default: the house shop.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as data.")
def solve(site: Path, shop: Path | None, as_json: bool) -> int:
    """Find the two pivots for a SITE file; no CAD, seconds."""
    from hangpost.generators.pivots.gate import solve_gate
    from hangpost.generators.survey.reading import read_shop, read_survey

    survey, stock = read_survey(site), read_shop(shop)
    for note in survey.site.notes:
        click.echo(f"note: {note.key}: {note.words}", err=True)
    solved = solve_gate(survey.site, stock)
    leaves = _named(survey, solved)
    if as_json:
        leaves = [
            {"hand": hung.hand, "mount": mount.data()} for hung, mount in _named(survey, solved)
        ]
        data = {"job": survey.site.job, "site_sha256": survey.sha256, "leaves": leaves}
        click.echo(json.dumps(data, indent=1))
        return 0
    for number, (hung, mount) in enumerate(leaves, start=1):
        title = f"leaf {number}, {hung.hand} hand" if len(solved) > 1 else f"{hung.hand} hand"
        click.echo("\n".join(lines(mount, survey.site.units, f"{survey.site.job}: {title}")))
    return 0


def _named(survey, solved):  # type: ignore[no-untyped-def]
    return [(hung, mount) for hung, (_, mount) in zip(survey.site.leaves, solved, strict=True)]


def lines(mount: "Mount", units: "Units", title: str) -> Iterator[str]:
    """What a person reads, within 80 columns."""
    import textwrap

    from hangpost.generators.survey.display import both, inches

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
    yield f"  {'setback, behind it' if px < 0 else 'ahead of it, along the leaf':31} {size(abs(px))}"
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
    yield f"  {'least; needed':31} {mount.leverage_least:.1f} mm; {mount.required_leverage:.1f} mm"
    yield "Swing"
    yield f"  {'time':31} {mount.swing_time:.0f} s"
    yield f"  {'latch edge, at most':31} {mount.edge_speed:.0f} mm/s"
    yield ""
    yield "What has to be kept"
    for row in (*mount.rows, mount.leaf_to_post):
        mark = "ok  " if row.satisfied else "FAIL"
        yield from textwrap.wrap(
            row.sentence, 78, initial_indent=f"  {mark} ", subsequent_indent=" " * 7
        )
    yield ""
    yield from textwrap.wrap(mount.why, 79)
    if mount.runners_up:
        yield ""
        yield "Other usable pairs"
        for other in mount.runners_up:
            yield from textwrap.wrap(
                other.sentence, 78, initial_indent="  - ", subsequent_indent="    "
            )
