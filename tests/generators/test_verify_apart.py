"""Files read by a second process: the same problems, and one that takes it down is told."""

from contextlib import ExitStack
from importlib import import_module
from pathlib import Path

import pytest

from hangpost.generators.verify import apart, verify
from hangpost.generators.verify.apart import MOST, Readers
from hangpost.generators.verify.contents import LARGEST, Pack, read_pack
from hangpost.generators.verify.problem import Unreadable
from hangpost.generators.verify.step_reader import read_step

from .tampered import Built, path_of

DEADLY = """
import os, time

class Deadly(str):
    def __reduce__(self):
        return os.abort, ()

class Endless(str):
    def __reduce__(self):
        return time.sleep, (3600,)
"""


def test_a_second_process_finds_the_same(pack: Path, built: Built) -> None:
    for kind in ("step", "dxf"):
        path = pack / path_of(built, kind)
        path.write_bytes(path.read_bytes()[:-100])

    alone, beside = verify(pack), verify(pack, apart=True)
    assert alone == beside
    assert {problem.path for problem in beside.problems} >= {
        path_of(built, kind) for kind in ("step", "dxf")
    }


def test_a_file_that_takes_the_kernel_down_is_told_and_the_rest_is_read(
    sound: Path, built: Built, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a fault in the kernel's own code would: no exception, the process is gone."""
    (tmp_path / "deadly_readers.py").write_text(DEADLY)
    monkeypatch.syspath_prepend(tmp_path)
    deadly = import_module("deadly_readers").Deadly("fabricate/bad.step")
    found = read_pack(sound)
    assert isinstance(found, Pack)

    with ExitStack() as running:
        readers = Readers(running)
        readers.ask(found, [deadly, path_of(built, "step")])
        (told,) = readers.next()
        assert "went down" in told and "-6" in told
        assert readers.next() == ()


@pytest.fixture
def kinds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    (tmp_path / "deadly_readers.py").write_text(DEADLY)
    monkeypatch.syspath_prepend(tmp_path)
    return import_module("deadly_readers")


def test_a_sound_file_is_not_told_for_the_one_after_it(sound: Path, built: Built, kinds) -> None:
    found = read_pack(sound)
    assert isinstance(found, Pack)
    good = path_of(built, "step")

    with ExitStack() as running:
        readers = Readers(running)
        readers.ask(found, [good, kinds.Deadly("bad.step"), good])
        told = [readers.next() for _ in range(3)]
    assert told[0] == told[2] == () and "went down" in told[1][0]


def test_a_file_that_is_never_through_is_given_up(sound: Path, kinds) -> None:
    found = read_pack(sound)
    assert isinstance(found, Pack)

    with ExitStack() as running:
        readers = Readers(running, longest=0.2)
        readers.ask(found, [kinds.Endless("slow.step")])
        assert readers.next() == ("cannot be read: that takes more than 0.2 s",)


def test_a_file_that_wants_more_memory_than_there_is_is_told(
    sound: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def greedy(*_: object) -> None:
        raise MemoryError

    monkeypatch.setattr(apart, "file_faults", greedy)
    (told,) = apart.Reading(read_pack(sound), "install/templates.pdf").done()
    assert "takes more memory" in told


def test_after_so_many_the_rest_is_not_read(sound: Path, kinds) -> None:
    found = read_pack(sound)
    assert isinstance(found, Pack)

    with ExitStack() as running:
        readers = Readers(running)
        readers.ask(found, [kinds.Deadly(f"{k}.step") for k in range(MOST + 2)])
        told = [readers.next()[0] for _ in range(MOST + 2)]
    assert all("went down" in what for what in told[:MOST])
    assert all("is not read" in what for what in told[MOST:])


@pytest.mark.parametrize("body", ["#1=A('" + "''" * 60 + "x;", "#1=A('" + "'a'" * 99, "#1=" * 50])
def test_a_torn_step_file_does_not_take_for_ever(body: str) -> None:
    """A quote that is never closed, with doubled ones after it: each may be read in two ways."""
    with pytest.raises(Unreadable):
        read_step(f"ISO-10303-21;DATA;{body} END-ISO-10303-21".encode())
    with pytest.raises(Unreadable):
        read_step(f"ISO-10303-21;END-ISO-10303-21;DATA;{body}".encode())


def test_a_pack_larger_than_any_is_not_read_to_its_end(pack: Path) -> None:
    path = next(pack.rglob("*.csv"))
    with path.open("r+b") as file:
        file.truncate(LARGEST + 1)
    name = path.relative_to(pack).as_posix()

    (first, second) = [p.what for p in verify(pack).problems if p.path == name]
    assert "bytes, should be" in first and "is not read" in second


WHOLE = "ISO-10303-21;DATA;{}END-ISO-10303-21;"


@pytest.mark.parametrize(
    "body",
    [
        "#1=PRODUCT();",
        "#1=CYLINDRICAL_SURFACE('',#2);",
        "#1=CYLINDRICAL_SURFACE('',#2,1.);#2=AXIS2_PLACEMENT_3D('');",
        "#1=CYLINDRICAL_SURFACE('',#2,1.);#2=AXIS2_PLACEMENT_3D('',#3,$,$);#3=CARTESIAN_POINT();",
        "#1=CYLINDRICAL_SURFACE('',#\u00b2,1.);",
        f"#1=CYLINDRICAL_SURFACE('',#{'1' * 5000},1.);",
        "#1=CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#2);",
        "#1=CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#3,#2);#2=PRODUCT_DEFINITION_SHAPE('','',#4);"
        "#4=NEXT_ASSEMBLY_USAGE_OCCURRENCE();",
    ],
)
def test_entities_that_lack_something_are_told_in_words(body: str) -> None:
    file = read_step(WHOLE.format(body).encode("latin-1"))

    with pytest.raises(Unreadable):
        repr((file.products, file.cylinders, file.pieces))
