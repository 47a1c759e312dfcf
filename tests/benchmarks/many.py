"""Many gates: what more workers bring, and a thousand variants. For a machine with nothing else to do.

    python tests/benchmarks/many.py               8 packs, by one worker and by two: some 4 minutes
    python tests/benchmarks/many.py --thousand    1000 variants solved and judged: some 10 minutes

Told are gates a minute of `hangpost batch` and `hangpost catalogue` as a shell starts them, the
starting of the workers included. Nothing is checked here; the trials do that.
"""

import argparse
import subprocess
import sys
import time
from itertools import islice, product
from pathlib import Path
from tempfile import TemporaryDirectory

from hangpost.generators.many.engine import usable_cores
from hangpost.generators.survey.starter import starter

GATES = 8
VARIED = """
base = "gate.toml"
[vary.opening]
angle = { from = 86, to = 95, step = 1 }
[vary.hinge]
to_actuator_face = { from = "1 1/2", to = "2 5/8", step = "1/8" }
[vary.leaf]
width = { from = "114", to = "132", step = "2" }
"""


def timed(command: str, *args: str | Path) -> float:
    """Seconds that one command takes."""
    began = time.monotonic()
    run = [sys.executable, "-m", "hangpost.cli", command, *map(str, args)]
    subprocess.run(run, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.monotonic() - began


def packs(place: Path) -> None:
    """The same whole packs by one worker, by two, and by as many as there are processors."""
    sites = place / "sites"
    sites.mkdir()
    kinds = product(("timber", "round_steel", "square_steel"), ("actuator", "away"), ("in", "mm"))
    for post, toward, units in islice(kinds, GATES):
        text = starter(post=post, toward=toward, units=units)  # type: ignore[arg-type]
        (sites / f"{post}-{toward}-{units}.toml").write_text(text, encoding="utf-8")
    for jobs in sorted({1, 2, usable_cores()}):
        took = timed("batch", sites, "-o", place / f"{jobs}", "--jobs", f"{jobs}")
        print(f"{GATES} packs, {jobs} workers: {took:.0f} s, {60 * GATES / took:.1f} a minute")


def thousand(place: Path) -> None:
    """A thousand variants without solids, by all processors."""
    (place / "gate.toml").write_text(starter(), encoding="utf-8")
    (place / "ranges.toml").write_text(VARIED, encoding="utf-8")
    took = timed("catalogue", place / "ranges.toml", "-o", place / "out", "--solve-only")
    rows = (place / "out" / "results.csv").read_text(encoding="utf-8").count("\n") - 1
    print(
        f"{rows} variants, {usable_cores()} workers: {took:.0f} s, {60 * rows / took:.0f} a minute"
    )


def main() -> None:
    """One or the other."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--thousand", action="store_true")
    with TemporaryDirectory(prefix="hangpost-") as folder:
        (thousand if parser.parse_args().thousand else packs)(Path(folder))


if __name__ == "__main__":
    main()
