"""Too little memory, for real: each case is a process under such a limit."""

import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest

from hangpost.cli.memory import ENOUGH, KERNEL, RECKONING

ROOT = Path(__file__).parents[2]
SITE = ROOT / "cli" / "demo.toml"
PACK = ROOT / "outputs_example" / "orchard-lane" / "pack"
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="limits that Linux holds one to")


def under(megabytes: int, *args: str | Path) -> "subprocess.CompletedProcess[str]":
    import resource

    size = megabytes * 1_000_000
    return subprocess.run(
        [sys.executable, *map(str, args)],
        capture_output=True,
        text=True,
        preexec_fn=partial(resource.setrlimit, resource.RLIMIT_AS, (size, size)),
    )


@pytest.mark.parametrize("most", [RECKONING - 1, 900, KERNEL - 1])
@pytest.mark.parametrize(
    "words", ["build {site} -o {out}", "verify {pack}", "batch {site} -o {out}"]
)
def test_what_needs_the_kernel_is_refused_before_the_work(
    tmp_path: Path, most: int, words: str
) -> None:
    out = tmp_path / "out"
    args = [word.format(site=SITE, pack=PACK, out=out) for word in words.split()]
    done = under(most, "-m", "hangpost.cli", *args)

    assert (done.returncode, done.stdout) == (2, "")
    assert f"may take {most} MB" in done.stderr and f"{KERNEL} MB" in done.stderr
    assert "damaged" not in done.stderr and "fault" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_pivots_are_found_in_as_little_as_is_said_and_refused_below() -> None:
    done, refused = (
        under(most, "-m", "hangpost.cli", "solve", SITE) for most in (RECKONING, RECKONING - 1)
    )

    assert done.returncode == 0, done.stderr
    assert (refused.returncode, refused.stdout) == (2, "")
    assert f"may take {RECKONING - 1} MB" in refused.stderr


def test_doctor_names_the_memory_and_not_a_package() -> None:
    done = under(900, "-m", "hangpost.cli", "doctor")

    assert done.returncode == 1
    (broken,) = [line for line in done.stdout.splitlines() if "BROKEN" in line]
    assert "CAD kernel: the program may take 900 MB" in broken


# A process that has taken what it may, and what the libraries make of it.
FULL = """
from hangpost.cli.messages import explain
from hangpost.generators.beside import KernelDied
try:
    bytes({size})
except MemoryError as error:
    full = error
for error in (full, KernelDied("solid", -6), ImportError("failed to map segment", name="OCP")):
    print(explain(error))
"""


def test_what_gives_out_under_such_a_limit_is_told_as_memory_and_elsewhere_is_not() -> None:
    tight, wide = (under(most, "-c", FULL.format(size=10**13)) for most in (ENOUGH - 1, ENOUGH + 9))

    assert tight.stdout.count(f"may take {ENOUGH - 1} MB") == 3, tight.stderr
    assert wide.stdout.count("is short of memory") == 1  # what Python itself was refused
    assert "None" in wide.stdout and "missing or damaged" in wide.stdout
