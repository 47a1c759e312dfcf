"""The kernel in a process of its own: the same answers, and nothing left running."""

import multiprocessing
import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from importlib import import_module
from importlib.resources import files

import pytest

from hangpost.cli.messages import explain
from hangpost.generators.beside import Beside, KernelDied, _serve
from hangpost.generators.errands import Coarse, Looking, Meshing, Stepping, assembling, errands
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes


@pytest.fixture(scope="module")
def design():
    data = files("hangpost.cli").joinpath("demo.toml").read_bytes()
    site, shop = survey_from_bytes(data, file="demo.toml").site, read_shop(None)
    solved = solve_gate(site, shop)
    return design_gate(site, shop, solved, [usual(shop)] * len(solved))


def test_the_other_process_gives_the_same_answers(design) -> None:
    part = design.parts[0][0]
    asked = [
        next(e for e in errands(design) if isinstance(e, kind))
        for kind in (Meshing, Looking, Coarse, Stepping)
    ]
    here = Shelf()
    with Beside() as beside:
        there = Shelf(beside=beside)
        there.expect(asked)
        assert there.get(Stepping(part)) == here.get(Stepping(part))
        for errand in asked:
            one, two = here.get(errand), there.get(errand)
            if isinstance(errand, Looking):
                assert one == two
            elif not isinstance(errand, Stepping):
                assert one.vertices.tobytes() == two.vertices.tobytes()
                assert one.faces.tobytes() == two.faces.tobytes()


def test_what_was_not_foreseen_is_made_here(design) -> None:
    with Beside() as beside:
        shelf = Shelf(beside=beside)
        shelf.expect([])
        errand = assembling(design, 0.0)
        assert shelf.get(errand) == Shelf().get(errand)


def test_more_may_be_asked_for_while_the_first_is_still_being_done(design) -> None:
    first, second = (Stepping(part) for part, _ in design.parts[:2])
    with Beside() as beside:
        beside.ask([first])
        beside.ask([second])
        one, two = beside.answer(), beside.answer()
        assert beside.answer() is None
    assert one == (first, Shelf().get(first))
    assert two == (second, Shelf().get(second))


@dataclass(frozen=True)
class Strange:
    """An errand that the other process knows nothing of: it cannot import this file."""

    def done(self, shelf: Shelf) -> int:
        """Which process did it."""
        return os.getpid()


def test_what_the_other_process_cannot_read_is_made_here(design) -> None:
    with Beside() as beside:
        shelf = Shelf(beside=beside)
        shelf.expect([Strange()])
        assert shelf.get(Strange()) == os.getpid()


ALONE = """
import os, resource
from threading import Thread
from hangpost.cli.messages import explain
os.setuid(54321)
resource.setrlimit(resource.RLIMIT_NPROC, (1, 1))
try:
    Thread(target=print).start()
except RuntimeError as error:
    print(explain(error))
"""


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="wants to be root")
def test_a_thread_that_the_system_does_not_give_is_no_fault_of_ours() -> None:
    run = subprocess.run([sys.executable, "-c", ALONE], capture_output=True, text=True, check=False)
    assert "no more processes (`ulimit -u`)" in run.stdout and "status=2" in run.stdout, run


def test_a_process_that_gets_no_threads_leaves_the_work_to_the_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def none(self: threading.Thread) -> None:
        raise RuntimeError("can't start new thread")

    with monkeypatch.context() as short:
        short.setattr(threading.Thread, "start", none)
        ours, theirs = multiprocessing.Pipe()
        assert _serve(theirs) is None
    ours.close()
    theirs.close()


LIMIT = """
import resource
from dataclasses import dataclass

@dataclass(frozen=True)
class Limit:
    def done(self, shelf):
        try:
            bytearray(5_000_000_000)
        except MemoryError:
            return resource.getrlimit(resource.RLIMIT_AS)[0]
"""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows knows no such limits")
def test_the_other_process_takes_no_more_memory_than_it_may(
    tmp_path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "limit_errand.py").write_text(LIMIT)
    monkeypatch.syspath_prepend(tmp_path)
    limit = import_module("limit_errand").Limit()
    with Beside(4_000_000_000) as beside:
        beside.ask([limit])
        assert beside.answer() == (limit, 4_000_000_000)


CHANCE = """
import os
from dataclasses import dataclass

@dataclass(frozen=True)
class Chance:
    def done(self, shelf):
        return os.urandom(16)

@dataclass(frozen=True)
class Again:
    def done(self, shelf):
        return shelf.get(Chance())
"""


def test_what_one_errand_has_made_over_there_the_next_one_finds(
    tmp_path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A picture needs the mesh that was asked for before it: no mesh is made twice."""
    (tmp_path / "chance_errands.py").write_text(CHANCE)
    monkeypatch.syspath_prepend(tmp_path)
    chance = import_module("chance_errands")
    with Beside() as beside:
        shelf = Shelf(beside=beside)
        shelf.expect([chance.Chance(), chance.Again()])
        assert shelf.get(chance.Again()) == shelf.get(chance.Chance())


DEADLY = """
import os, signal
from dataclasses import dataclass

@dataclass(frozen=True)
class Deadly:
    sender: int
    by: int = signal.SIGSEGV

    def done(self, shelf):
        assert os.getpid() != self.sender
        os.kill(os.getpid(), self.by)
        signal.pause()
"""


def test_a_kernel_that_goes_down_is_told_apart_from_one_that_refuses(
    tmp_path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An errand that takes its process down, as a fault in the kernel does, and never ours."""
    (tmp_path / "deadly.py").write_text(DEADLY)
    monkeypatch.syspath_prepend(tmp_path)
    deadly = import_module("deadly").Deadly(os.getpid())
    with Beside() as beside:
        shelf = Shelf(beside=beside)
        shelf.expect([deadly])
        with pytest.raises(KernelDied, match="Deadly") as told:
            shelf.get(deadly)
    assert explain(told.value) is None  # a fault of ours


def test_a_kernel_that_somebody_ends_is_no_fault_of_ours(
    tmp_path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "deadly.py").write_text(DEADLY)
    monkeypatch.syspath_prepend(tmp_path)
    deadly = import_module("deadly").Deadly(os.getpid(), signal.SIGKILL)
    with Beside() as beside:
        shelf = Shelf(beside=beside)
        shelf.expect([deadly])
        with pytest.raises(KernelDied) as told:
            shelf.get(deadly)
    message = explain(told.value)
    assert message is not None and message.status == 2
    assert "ended from outside (signal 9)" in message.text and "memory" in message.text


LEFT_ALONE = """
import os, signal, sys
from hangpost.cli.messages import explain
from hangpost.generators.beside import Beside
if __name__ == "__main__":
    beside = Beside()
    print(beside._process.pid, flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
"""


def test_the_other_process_ends_when_ours_is_killed(tmp_path) -> None:
    script = tmp_path / "killed.py"
    script.write_text(LEFT_ALONE)
    run = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=False)
    pid = int(run.stdout)
    for _ in range(600):
        if not alive(pid):
            return
        time.sleep(0.1)
    pytest.fail("still there a minute later")


def alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True
