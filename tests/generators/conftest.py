"""What the generator tests share: a shelf of solids, a folded plate, a report page, a pack."""

import math
import shutil
from pathlib import Path
from typing import Any

import pytest

from hangpost.generators.shelf import Shelf
from hangpost.parts.flat import Hole
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Vertex, rectangle, rounded


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """Solids and meshes, made once for all gates."""
    return Shelf()


@pytest.fixture
def plate() -> FoldedPlate:
    """An angle with nothing symmetrical about it: slots, a window, one flange up, one down."""
    lower = ((0, 0, 0), (90, 0, 0), (90, -6, 0), (130, -6, 9))
    base = rounded((*lower, (130, 70, 12), (110, 70, 0), (40, 70, 0), (0, 70, 5)))
    edges = base.edges
    top = next(i for i, e in enumerate(edges) if e.start == (110, 70) and e.end == (40, 70))
    return FoldedPlate(
        thickness=6.0,
        outline=base,
        windows=(rectangle(60, 20, 78, 31, 3),),
        holes=(
            Hole("A", 22, 30, 14, "post", 16.0),
            Hole("B", 108, 34, 11, "post", 12.0, 35.0),
            Hole("C", 24, 56, 9, "cable"),
        ),
        flanges=(
            Flange(
                name="ear",
                edge=0,
                path=(Vertex(0, -40, math.tan(math.pi / 8)), Vertex(25, -65), Vertex(90, -65)),
                radius=7.0,
                holes=(Hole("P", 26, -38, 13, "pin"),),
            ),
            Flange(
                name="lip", edge=top, path=(Vertex(110, 92), Vertex(40, 92)), radius=7.0, up=False
            ),
        ),
        k_factor=0.42,
    )


@pytest.fixture(scope="session")
def report() -> Any:
    """A report page with a job's name and an obstacle's that would break out of it."""
    from .report_made import EVIL, WALL, demo, made

    return made(demo(EVIL) + WALL)


@pytest.fixture(scope="session")
def read(report: Any) -> Any:
    """The same page as a browser would find it."""
    from .report_made import Reader

    return Reader(report.page)


@pytest.fixture(scope="session")
def built() -> Any:
    """A small gate's pack, made once for all who tamper with it."""
    from .tampered import Built

    return Built()


@pytest.fixture(scope="session")
def sound(built: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pack in its folder; not to be touched."""
    from hangpost.generators.writers.outbox import deliver

    out = tmp_path_factory.mktemp("packs") / "gate"
    deliver(out, built.files)
    return out


@pytest.fixture
def pack(sound: Path, tmp_path: Path) -> Path:
    """A copy to tamper with."""
    shutil.copytree(sound, tmp_path / "gate")
    return tmp_path / "gate"
