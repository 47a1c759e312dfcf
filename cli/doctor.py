"""`hangpost doctor`: what is installed, which optional parts work, and a short self-test."""

import platform
import sys
from collections.abc import Callable
from pathlib import Path

import click

from hangpost.cli.memory import KERNEL, want

# What each package is for, in the words of who misses it; True: nothing is built without it.
PACKAGES: tuple[tuple[str, str, bool], ...] = (
    ("click", "the command line", True),
    ("pydantic", "reading site files", True),
    ("numpy", "finding the pivots", True),
    ("cadquery", "solids and STEP files", True),
    ("ezdxf", "cut files and drawings as DXF", True),
    ("reportlab", "sheets on paper", True),
    ("trimesh", "meshes", True),
    ("python-fcl", "distances over the swing", True),
    ("manifold3d", "things that are in one another", True),
    ("jinja2", "the report page", True),
    ("segno", "the symbol on every sheet", True),
    ("rectpack", "flats laid out on the shop's sheet", True),
    ("pypdfium2", "reading sheets back in verify", True),
    ("pyarrow", "results.parquet of batch and catalogue", False),
    ("distributed", "batch and catalogue with --scheduler", False),
)

Trial = Callable[[], str]


@click.command("doctor")
@click.option("--licences", is_flag=True, help="List the licences of all that is used, and stop.")
def doctor(licences: bool) -> int:
    """Say what is installed, which optional parts work, and whether the program does.

    Exit status: 0 everything needed is there and works; 1 something is missing or broken.
    """
    if licences:
        return _licences()
    click.echo(f"hangpost {_version('hangpost')}, Python {platform.python_version()}")
    click.echo(f"{platform.system()} {platform.machine()}, {_cores()} processors to use")
    click.echo("")
    fine = True
    for name, what, needed in PACKAGES:
        found = _version(name)
        if found:
            click.echo(f"  ok       {name} {found}: {what}")
        elif needed:
            fine = False
            click.echo(f"  MISSING  {name}: {what}; pip install {name}")
        else:
            click.echo(f"  absent   {name}: {what}; optional, pip install {name}")
    click.echo("")
    for words, trial in TRIALS:
        try:
            click.echo(f"  works    {words}: {trial()}")
        except Exception as error:
            fine = False
            first = " ".join(str(error).split()) or type(error).__name__
            click.echo(f"  BROKEN   {words}: {first}")
    click.echo("")
    good, bad = "All that is needed is there and works.", "Something is wrong: see above."
    click.echo(good if fine else bad)
    return 0 if fine else 1


def _licences() -> int:
    """What is carried inside, what it needs, and under which terms."""
    import csv
    from importlib.resources import files

    text = files("hangpost.cli").joinpath("licences.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines()[1:])
    click.echo(
        "hangpost: Apache-2.0. A pack is its maker's own; its report carries three.js (MIT)."
    )
    heads = {
        "file": "Carried inside",
        "package": "Needed, installed beside it",
        "optional": "Optional",
    }
    last = ""
    for row in rows:
        if row["kind"] != last:
            last = row["kind"]
            click.echo(f"\n{heads[last]}")
        note = f" ({row['note']})" if row["note"] else ""
        click.echo(f"  {row['name']}: {row['licence']}{note}")
    return 0


def _version(package: str) -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version(package)
    except PackageNotFoundError:
        return ""


def _cores() -> int:
    from hangpost.generators.many.engine import usable_cores

    return usable_cores()


def _pivots() -> str:
    """The pivots of the shipped example."""
    from importlib.resources import files

    from hangpost.generators.pivots.gate import solve_gate
    from hangpost.generators.survey.reading import read_shop, survey_from_bytes

    data = files("hangpost.cli").joinpath("demo.toml").read_bytes()
    ((_, mount),) = solve_gate(survey_from_bytes(data, file="demo.toml").site, read_shop(None))
    x, y = mount.post_pivot
    return f"the example's post pin is at {x:.1f}, {y:.1f} mm"


def _kernel() -> str:
    """A drilled plate through the CAD kernel, its volume known by hand, and out as STEP."""
    from math import pi

    from hangpost.generators.writers.step import part_step
    from hangpost.parts.backing_plate import BackingPlate

    want(KERNEL)
    plate = BackingPlate(
        id="test",
        plate_thickness=6.0,
        centre=(0.0, 0.0),
        width=100.0,
        length=120.0,
        corner=0.0,
        bolts=((20.0, 30.0),),
        hole=13.0,
    )
    solid = plate.solid()
    by_hand = (100.0 * 120.0 - pi / 4 * 13.0**2) * 6.0
    if not abs(solid.Volume() - by_hand) < 1e-3:
        raise ValueError(f"a plate has {solid.Volume():.3f} mm3 and should have {by_hand:.3f}")
    size = len(part_step("test", solid))
    return f"a drilled plate of {by_hand / 1000:.1f} cm3, {size} bytes STEP"


def _paper() -> str:
    """One empty sheet with its lettering."""
    from hangpost.generators.writers.ink import Text
    from hangpost.generators.writers.paper import pdf
    from hangpost.generators.writers.sheet import Sheet

    sheet = Sheet(width=210.0, height=297.0, title="test", items=(Text((20.0, 20.0), "test"),))
    return f"a sheet of {len(pdf([sheet], title='test', subject='test', maker='hangpost'))} bytes"


def _place() -> str:
    """A file written where temporary things go."""
    import tempfile

    with tempfile.TemporaryDirectory(prefix="hangpost-") as folder:
        path = Path(folder) / "test"
        path.write_bytes(b"test")
        if path.read_bytes() != b"test":
            raise OSError("what was written does not come back")
        return str(Path(folder).parent)


def _words() -> str:
    """What the terminal takes."""
    encoding = sys.stdout.encoding or "unknown"
    return f"{encoding}; what it cannot show is shown as ?"


TRIALS: tuple[tuple[str, Trial], ...] = (
    ("pivots", _pivots),
    ("CAD kernel", _kernel),
    ("paper", _paper),
    ("room for temporary files", _place),
    ("terminal", _words),
)
