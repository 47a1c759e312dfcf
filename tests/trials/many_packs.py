"""A batch of whole packs killed in the middle, on this machine and on a real Dask scheduler.

    python tests/trials/many_packs.py [GATES]      4 gates take some minutes

Of the site files one is no site at all and one has no pivots; the others are the starter's gates.
Each way of working is killed (SIGKILL, the one who ordered) when its first pack is in place, and
started again. Then there must be: every pack, each verified; a row for every gate; what was there
before the kill untouched; no process that runs on; and both ways have made the same bytes. Exit
status 1: that was not so. Not part of the tests. Timing of one worker against several:

    for n in 1 2; do hangpost batch SITES -o out-$n --jobs $n; done    tells gates a minute
"""

import csv
import hashlib
import json
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from itertools import islice, product
from pathlib import Path
from tempfile import TemporaryDirectory

from distributed import LocalCluster

from hangpost.generators.survey.starter import starter
from hangpost.generators.verify import verify

PATIENCE = 120  # seconds that a worker may take to find out; a kernel at work does not listen
BAD = {"broken": "units = ", "hopeless": starter().replace('stroke = "15 3/4"', 'stroke = "4"')}


def sites(folder: Path, count: int) -> list[str]:
    """Write the site files; the names of those that can be built."""
    kinds = islice(product(("timber", "round_steel", "square_steel"), ("actuator", "away")), count)
    good = {f"{post}-{way}": starter(post=post, toward=way) for post, way in kinds}  # type: ignore[arg-type]
    folder.mkdir()
    for name, text in {**good, **BAD}.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return [name.replace("_", "-") for name in good]


def start(folder: Path, out: Path, more: list[str]) -> "subprocess.Popen[bytes]":
    """One batch, as a shell starts it."""
    command = [sys.executable, "-m", "hangpost.cli", "batch", str(folder), "-o", str(out), *more]
    quiet = subprocess.DEVNULL
    return subprocess.Popen(command, stdout=quiet, stderr=quiet, start_new_session=True)


def session(number: int) -> list[str]:
    """Processes of a session that still are."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            state, _, _, own = stat.read_text().rpartition(")")[2].split()[:4]
            if int(own) == number and state != "Z":
                found.append(stat.parent.name)
    return found


def finished(out: Path) -> list[Path]:
    """What is noted down as made; a pack that the kill found between its place and its line is not."""
    with suppress(OSError, ValueError):
        lines = map(json.loads, (out / "finished.jsonl").read_text(encoding="utf-8").splitlines())
        return [out / e["name"] / "pack.json" for e in lines if e["status"] in ("pass", "fail")]
    return []


def hashes(out: Path) -> dict[str, str]:
    """Every file of every pack."""
    return {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for pack in out.iterdir()
        if (pack / "pack.json").is_file()
        for path in sorted(pack.rglob("*"))
        if path.is_file()
    }


def faults(folder: Path, out: Path, good: list[str], more: list[str]) -> Iterator[str]:
    """Run it, kill it, run it again; what is not as it must be."""
    began = time.monotonic()
    run = start(folder, out, more)
    while run.poll() is None and not finished(out):
        time.sleep(0.05)
    run.send_signal(signal.SIGKILL)
    if run.wait() != -signal.SIGKILL:
        yield "was through before the kill"
    early = {path: path.stat().st_mtime_ns for path in finished(out)}
    until = time.monotonic() + PATIENCE
    while (left := session(run.pid)) and time.monotonic() < until:
        time.sleep(0.1)
    if left:
        yield f"processes {left} run on"
    print(f"  killed after {time.monotonic() - began:.0f} s with {len(early)} packs", flush=True)
    if (status := start(folder, out, more).wait()) != 1:
        yield f"status {status}, for two gates that cannot be made it is 1"
    for path, changed in early.items():
        if path.stat().st_mtime_ns != changed:
            yield f"{path.parent.name} was built twice"
    for name in good:
        for problem in verify(out / name).problems:
            yield f"{name}: {problem}"
    with (out / "results.csv").open(encoding="utf-8", newline="") as stream:
        told = {row["name"]: row["status"] for row in csv.DictReader(stream)}
    made = {name: told.get(name) for name in good}
    if not set(made.values()) <= {"pass", "fail"}:
        yield f"not made: {made}"
    if {name: told.get(name) for name in BAD} != {"broken": "wrong input", "hopeless": "no pivots"}:
        yield f"the table says {told}"
    hidden = [p.name for p in out.iterdir() if p.name.startswith(".") and p.name != ".kept"]
    if hidden:
        yield f"left in the folder: {hidden}"
    print(f"  ended after {time.monotonic() - began:.0f} s", flush=True)


def main() -> None:
    """Both ways, then one against the other."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 4
    with TemporaryDirectory(prefix="hangpost-trial-") as place:
        folder, ways = Path(place) / "sites", {}
        good, wrong = sites(folder, count), 0
        with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
            ways = {
                "here": ["--jobs", "2"],
                "scheduler": ["--scheduler", cluster.scheduler_address],
            }
            for way, more in ways.items():
                print(way, flush=True)
                for words in faults(folder, Path(place) / way, good, more):
                    wrong += 1
                    print(f"  {words}", flush=True)
        here, there = (hashes(Path(place) / way) for way in ways)
        odd = sorted(name for name in here | there if here.get(name) != there.get(name))
        print(f"{len(here)} files of {count} packs, {len(odd)} differ {odd[:5]}; {wrong} faults")
    sys.exit(1 if wrong or odd else 0)


if __name__ == "__main__":
    main()
