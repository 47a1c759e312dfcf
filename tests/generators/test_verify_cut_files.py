"""Faults planted in cut files and the DXF of templates are found, whatever pack.json says of their sums.

PKG-01: every export is read again and held against the record.
"""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from hangpost.generators.verify import verify

from .tampered import Built, path_of, problems, tamper


def circle_moved(data: bytes) -> bytes:
    """The first circle of a DXF, half a millimetre to the right."""
    text = data.decode()
    start = text.index("\nCIRCLE\n")
    group = re.compile(r"(\n 10\n)([-0-9.e]+)")
    match = group.search(text, start)
    assert match is not None
    return (text[: match.start(2)] + str(float(match[2]) + 0.5) + text[match.end(2) :]).encode()


@pytest.mark.parametrize("kind", ["dxf", "dxf_full", "dxf_r12"])
def test_a_moved_hole_in_a_cut_file_is_found(pack: Path, built: Built, kind: str) -> None:
    path = path_of(built, kind)
    tamper(pack, path, circle_moved)

    assert "hole" in problems(pack, path)


DXF_FAULTS: dict[str, tuple[str, Callable[[bytes], bytes], str]] = {
    "inches": (
        "dxf",
        lambda d: d.replace(b"$INSUNITS\n 70\n4", b"$INSUNITS\n 70\n1"),
        "millimetres",
    ),
    "open loop": (
        "dxf",
        lambda d: re.sub(rb"(AcDbPolyline\n 90\n\d+\n 70\n)1", rb"\g<1>0", d, count=1),
        "close",
    ),
    "broken off": ("dxf", lambda d: d[: len(d) // 2], "breaks off"),
    "bend turned over": (
        "dxf_full",
        lambda d: d.replace(b"  8\nBEND_UP\n", b"  8\nBEND_DOWN\n"),
        "bend",
    ),
    "no longer a DXF": ("dxf", lambda d: b"solid\nbody", "DXF"),
    "spline": ("dxf", lambda d: d.replace(b"\nCIRCLE\n", b"\nSPLINE\n", 1), "SPLINE"),
}


@pytest.mark.parametrize("fault", DXF_FAULTS)
def test_a_fault_in_a_cut_file_is_found(pack: Path, built: Built, fault: str) -> None:
    kind, change, words = DXF_FAULTS[fault]
    if kind == "dxf_full":
        path = next(
            p["files"][kind]
            for p in built.data["parts"]
            if p["flat"] and any(b["up"] for b in p["flat"]["bends"])
        )
    else:
        path = path_of(built, kind)
    tamper(pack, path, change)

    assert words in problems(pack, path)


def test_a_moved_hole_in_the_template_dxf_is_found(pack: Path, built: Built) -> None:
    path = built.data["templates"][0]["dxf"]
    tamper(pack, path, circle_moved)

    assert "hole" in problems(pack, path)


def test_cut_files_that_changed_places_are_found(pack: Path, built: Built) -> None:
    one, two, *_ = (p["files"]["dxf"] for p in built.data["parts"] if p["flat"])
    tamper(pack, one, lambda _: built.files[two])

    assert {p.path for p in verify(pack).problems} == {one}
