"""Faults planted in STL and 3MF files are found."""

import io
import re
from pathlib import Path
from typing import Any

import pytest

from hangpost.generators.writers.mesh import meshed, on_bed, stl, three_mf

from .tampered import Built, part_of, path_of, problems, tamper


def mutated(built: Built) -> Any:
    """The mesh of a printed part with one bore moved by 1 mm."""
    from dataclasses import replace

    part = part_of(built, "print")
    (u, v), *rest = part.bores_at
    return part, on_bed(
        meshed(replace(part, bores_at=((u + 1, v), *rest)).solid()), part.print_frame
    )


@pytest.mark.parametrize("kind", ["stl", "3mf"])
def test_a_moved_bore_in_a_print_is_found(pack: Path, built: Built, kind: str) -> None:
    part, mesh = mutated(built)
    data = stl(mesh, part.mark) if kind == "stl" else three_mf(mesh, part.mark)
    path = path_of(built, kind, "print")
    tamper(pack, path, lambda _: data)

    assert "hole" in problems(pack, path)


def test_a_swapped_stl_is_found(pack: Path, built: Built) -> None:
    other = part_of(built, "cut")
    path = path_of(built, "stl", "print")
    tamper(pack, path, lambda _: stl(on_bed(built.shelf.mesh(other)), other.mark))

    assert re.search(r"volume [\d.]+ mm3, should be", problems(pack, path))


def test_a_damaged_or_scaled_mesh_is_found(pack: Path, built: Built) -> None:
    path = path_of(built, "stl", "print")
    part = part_of(built, "print")
    mesh = built.shelf.mesh(part)
    holed = type(mesh)(mesh.vertices, mesh.faces[1:])
    for data, words in (
        (stl(holed, "x"), "close"),
        (stl(type(mesh)(mesh.vertices / 25.4, mesh.faces), "x"), "mm3, should be"),
        (b"solid nothing", ""),
    ):
        tamper(pack, path, lambda _, new=data: new)  # type: ignore[misc]
        said = problems(pack, path)
        assert said and words in said


def test_a_3mf_in_inches_or_unzipped_is_found(pack: Path, built: Built) -> None:
    import zipfile

    path = path_of(built, "3mf", "print")

    def inches(data: bytes) -> bytes:
        stream = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w") as new:
            for name in old.namelist():
                new.writestr(name, old.read(name).replace(b'unit="millimeter"', b'unit="inch"'))
        return stream.getvalue()

    tamper(pack, path, inches)
    assert "inch" in problems(pack, path)
    tamper(pack, path, lambda _: b"PK nothing")
    assert "not a 3MF" in problems(pack, path)
