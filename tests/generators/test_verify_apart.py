"""Files read by a second process: the same problems, and one that takes it down is told."""

from contextlib import ExitStack
from importlib import import_module
from pathlib import Path

import pytest

from hangpost.generators.verify import verify
from hangpost.generators.verify.apart import Readers
from hangpost.generators.verify.contents import Pack, read_pack

from .tampered import Built, path_of

DEADLY = """
import os

class Deadly(str):
    def __reduce__(self):
        return os.abort, ()
"""


def test_a_second_process_finds_the_same(pack: Path, built: Built) -> None:
    for kind in ("step", "dxf"):
        path = pack / path_of(built, kind)
        path.write_bytes(path.read_bytes()[:-100])

    alone, apart = verify(pack), verify(pack, apart=True)
    assert alone == apart
    assert {problem.path for problem in apart.problems} >= {
        path_of(built, kind) for kind in ("step", "dxf")
    }


def test_a_file_that_takes_the_kernel_down_is_told_and_the_rest_is_read(
    sound: Path, built: Built, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a fault in the kernel's own code would: no exception, the process is gone."""
    (tmp_path / "deadly.py").write_text(DEADLY)
    monkeypatch.syspath_prepend(tmp_path)
    deadly = import_module("deadly").Deadly("fabricate/bad.step")
    found = read_pack(sound)
    assert isinstance(found, Pack)

    with ExitStack() as running:
        readers = Readers(running)
        readers.ask(found, [deadly, path_of(built, "step")])
        (told,) = readers.next()
        assert "kernel went down" in told and "-6" in told
        assert readers.next() == ()
