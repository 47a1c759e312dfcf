"""Cut files and prints made to upset whoever reads them: words, and no error of the program."""

import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest

from hangpost.generators.verify.dxf_reader import read_dxf
from hangpost.generators.verify.mesh_files import LARGEST

from .tampered import Built, path_of, problems, tamper

MODEL = "3D/3dmodel.model"


def repacked(data: bytes, model: Callable[[bytes], bytes] = bytes, method: int = 0) -> bytes:
    """The same 3MF with its model changed."""
    with zipfile.ZipFile(BytesIO(data)) as package:
        text = model(package.read(MODEL))
    stream = BytesIO()
    with zipfile.ZipFile(stream, "w", method) as package:
        package.writestr(MODEL, text)
    return stream.getvalue()


def encrypted(data: bytes) -> bytes:
    found = bytearray(repacked(data))
    for start in (6, found.rfind(b"PK\x01\x02") + 8):  # APPNOTE of PKZIP, 4.4.4: bit 0
        found[start] |= 1
    return bytes(found)


def spoiled(method: int) -> Callable[[bytes], bytes]:
    def spoil(data: bytes) -> bytes:
        found = repacked(data, method=method)
        return found[:60] + b"\xff" * 40 + found[100:]

    return spoil


THREE_MF: dict[str, Callable[[bytes], bytes]] = {
    "encrypted": encrypted,
    "spoiled": spoiled(zipfile.ZIP_DEFLATED),
    "spoiled, bzip2": spoiled(zipfile.ZIP_BZIP2),
    "spoiled, lzma": spoiled(zipfile.ZIP_LZMA),
    "a bomb": lambda d: repacked(d, lambda _: b"\0" * (LARGEST + 1), zipfile.ZIP_DEFLATED),
    "an entity": lambda d: repacked(d, lambda _: b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'),
    "in another tongue": lambda d: repacked(d, lambda _: b"<?xml version='1.0' encoding='x'?><a/>"),
    "numbers without end": lambda d: repacked(d, lambda m: m.replace(b'v1="', b'v1="9' * 5000)),
    "not a number": lambda d: repacked(d, lambda m: m.replace(b' x="', b' x="nan" y="')),
}


@pytest.mark.parametrize("bomb", THREE_MF)
def test_a_3mf_made_to_upset_its_reader_is_told(pack: Path, built: Built, bomb: str) -> None:
    path = path_of(built, "3mf", "print")
    tamper(pack, path, THREE_MF[bomb])

    assert problems(pack, path)


def drawn(*groups: object) -> bytes:
    """A DXF with these groups as its entities."""
    words = (0, "SECTION", 2, "ENTITIES", *groups, 0, "ENDSEC", 0, "EOF")
    return "\n".join(map(str, words)).encode()


LOOP = (0, "LWPOLYLINE", 8, "CUT", 70, 1)
DXF = {
    "far": drawn(*LOOP, *(10, 1e308, 20, -1e308, 42, 1, 10, -1e308, 20, 1e308, 42, 1e-320)),
    "bulging": drawn(*LOOP, *(10, 1, 20, 2, 42, 1e200, 10, 5, 20, 9, 42, -1e200)),
    "in one point": drawn(*LOOP, *(10, 1, 20, 1, 42, 1) * 4),
    "a hair": drawn(*LOOP, *(10, 0, 20, 0, 42, 1e-320, 10, 1, 20, 0, 42, 1e-320)),
    "a strange flag": drawn(0, "LWPOLYLINE", 8, "CUT", 70, 1e300, 10, 1, 20, 1),
    "a long code": drawn(*LOOP, "1" * 5000, 7),
}


@pytest.mark.parametrize("bomb", DXF)
def test_a_cut_file_made_to_upset_its_reader_is_told(pack: Path, built: Built, bomb: str) -> None:
    path = path_of(built, "dxf")
    tamper(pack, path, lambda _: DXF[bomb])

    assert problems(pack, path)


def test_of_a_header_no_more_is_kept_than_a_point_has() -> None:
    head = ["0", "SECTION", "2", "HEADER", "9", "$EXTMAX", *("10", "7") * 40_000]
    data = "\n".join([*head, "0", "ENDSEC", "0", "EOF"]).encode()

    assert read_dxf(data).header["$EXTMAX"] == ("7", "7", "7")
