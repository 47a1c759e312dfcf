"""Builds killed at random moments: always one whole pack, and nothing that stays.

    python tests/trials/killed.py [RUNS] [SEED]

Each run is a process of its own that gets SIGKILL. Three of twenty are a whole `hangpost build`, cut
off at a moment spread over all of it. The others are killed while they hand the pack over; so that
200 do not take hours, those find it made already (pack.make is given the files of a build done
before) and everything else is as always. Half of all find an old pack that they are to replace.
After each one, what is there must be the whole old pack or the whole new one or, where there was
none, nothing; beside it there may lie only the folder of the run that was killed, which the next
run clears; and nothing of it runs on. Every tenth run is let through: it must end well and leave
nothing but its pack. Exit status 1: that was not so. Not part of the tests.
"""

import hashlib
import os
import random
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

DEMO = Path(__file__).parents[2] / "cli" / "demo.toml"
PATIENCE = 60  # seconds that a helper of a killed run may take to find out; loading goes on
HAND_OVER = 0.6  # seconds, about
LETTING = 10  # every so many runs one is let through
Files = dict[str, str]
# A build whose files are there already, as pack.make would give them.
HANDING_OVER = """
import sys
from pathlib import Path
from unittest.mock import MagicMock
from hangpost.generators import pack
from hangpost.generators.beside import Beside
made = Path(sys.argv.pop())
files = {p.relative_to(made).as_posix(): p.read_bytes() for p in made.rglob("*") if p.is_file()}
pack.make = lambda *_: MagicMock(files=files, checks=(), passed=True)
from hangpost.cli.main import main
main()
"""


class Trial:
    """A folder with two site files, what their packs are, and the place that is fought over."""

    def __init__(self, folder: Path) -> None:
        """Build both packs once, undisturbed."""
        self.folder = folder
        self.temporary = folder / "tmp"
        self.temporary.mkdir()
        self.sites = [folder / "one.toml", folder / "two.toml"]
        text = DEMO.read_text(encoding="utf-8")
        for number, site in enumerate(self.sites):
            site.write_text(text.replace("orchard lane", f"lane {number}"), encoding="utf-8")
        self.packs, taken = [], []
        for number in range(len(self.sites)):
            began = time.monotonic()
            self.start(number, folder / "packs" / f"{number}").wait()
            taken.append(time.monotonic() - began)
            self.packs.append(files(folder / "packs" / f"{number}"))
        self.seconds = max(taken)
        self.places = [folder / "fresh" / "pack", folder / "old" / "pack"]
        for place in self.places:
            place.parent.mkdir()

    def start(self, site: int, place: Path, *, made: bool = False) -> "subprocess.Popen[bytes]":
        """Start a build, as a shell would, or one whose pack is made already."""
        how = ["-c", HANDING_OVER] if made else ["-m", "hangpost.cli"]
        ready = [str(self.folder / "packs" / f"{site}")] if made else []
        build = ["build", str(self.sites[site]), "-o", str(place), "--force"]
        return subprocess.Popen(
            [sys.executable, *how, *build, *ready],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "TMPDIR": str(self.temporary)},
            start_new_session=True,
        )

    def faults(self, place: Path, before: Files, site: int, killed: bool) -> Iterator[str]:
        """What is not as it must be after a run."""
        now = files(place)
        allowed = [self.packs[site], *([before] if killed else [])]
        if now not in allowed:
            new = self.packs[site]
            odd = sorted(name for name in now | new if now.get(name) != new.get(name))
            yield f"neither the old pack nor the new one, in {', '.join(odd[:9])}"
        left = [path.name for path in place.parent.iterdir() if path != place]
        mine = [name for name in left if name.startswith(f".{place.name}.hangpost-")]
        if len(mine) > killed or len(left) > len(mine):
            yield f"left beside it: {', '.join(left)}"
        if any(self.temporary.iterdir()):
            yield f"left among temporary files: {[p.name for p in self.temporary.iterdir()]}"


def files(place: Path) -> Files:
    """Every file below with its hash."""
    found = (path for path in sorted(place.rglob("*")) if path.is_file())
    return {
        path.relative_to(place).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in found
    }


def hand_over_begins(run: "subprocess.Popen[bytes]", place: Path) -> None:
    """Wait until the run has its new folder beside the place, or is over."""
    while run.poll() is None and not list(place.parent.glob(f".{place.name}.hangpost-new-*")):
        time.sleep(0.001)


def running(session: int) -> list[int]:
    """Processes of a session that still are."""
    found = []
    for entry in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            state, _, _, own = entry.read_text().rpartition(")")[2].split()[:4]
            if int(own) == session and state != "Z":
                found.append(int(entry.parent.name))
    return found


def one(trial: Trial, dice: random.Random, number: int) -> tuple[str, list[str]]:
    """One run with its end; how it was done and what was wrong then."""
    fresh, late = dice.random() < 0.5, dice.random() < 0.85
    place = trial.places[0 if fresh else 1]
    if fresh:
        subprocess.run(["rm", "-rf", str(place)], check=True)
    before, site = files(place), number % 2
    run = trial.start(site, place, made=late)
    if number % LETTING == LETTING - 1:
        status, kind = run.wait(), "let through"
        wrong = [] if status == 0 else [f"status {status}"]
    else:
        if late:
            hand_over_begins(run, place)
        time.sleep(dice.uniform(0.0, HAND_OVER if late else trial.seconds))
        run.kill()
        ended = run.wait()
        kind = "was through before the kill" if ended == 0 else "killed"
        kind += (" in the hand-over" if late else " on the way") if ended else ""
        wrong = [] if ended in (0, -9) else [f"status {ended}"]
        until = time.monotonic() + PATIENCE
        while (left := running(run.pid)) and time.monotonic() < until:
            time.sleep(0.05)
        if left:
            wrong.append(f"processes {left} run on")
    wrong += trial.faults(place, before, site, "killed" in kind and "through" not in kind)
    return f"{'fresh' if fresh else 'replacing'}, {kind}", wrong


def main() -> None:
    """Run them all, counting."""
    runs, seed = (int(arg) for arg in [*sys.argv[1:], *["200", "1"][len(sys.argv) - 1 :]])
    dice, counts, faults = random.Random(seed), Counter[str](), 0
    with TemporaryDirectory(prefix="hangpost-trial-") as folder:
        trial = Trial(Path(folder))
        print(f"a build takes {trial.seconds:.1f} s here, {len(trial.packs[0])} files", flush=True)
        trial.start(0, trial.places[1]).wait()
        for number in range(runs):
            kind, wrong = one(trial, dice, number)
            counts[kind] += 1
            faults += bool(wrong)
            for words in wrong:
                print(f"run {number} ({kind}): {words}", flush=True)
    for kind, count in sorted(counts.items()):
        print(f"{count:4} {kind}")
    print(f"{faults} of {runs} runs left something wrong")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
