"""Every post x direction x hand x leaf frame as a whole pack: built, read back, nothing fouls.

Run by hand; it takes minutes. `python tests/trials/every_combination.py [-o DIR]` keeps the packs
there. The cheap form of the same is tests/generators/test_family.py, a handful of whole packs
tests/generators/test_family_packs.py. Exit status 1 when anything is not as it should be.
"""

import argparse
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from itertools import product
from math import hypot
from pathlib import Path

from hangpost.generators.fitting.pins import IN_LINE, pin_lines
from hangpost.generators.pack import Pack, make
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.survey.starter import starter
from hangpost.generators.verify import verify
from hangpost.generators.writers.outbox import deliver

POSTS = ("timber", "round_steel", "square_steel")
TOWARD = ("actuator", "away")
HANDS = ("right", "left")
MEMBERS = {"square_tube": "2x2x1/8", "round_tube": "1.66x0.14", "timber": "2x4"}
ENDS = (("post", "actuator post eye"), ("leaf", "actuator leaf eye"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of one gate."""

    built: bool = False
    verifies: bool = False
    free: bool = False
    coaxial: bool = False
    passes: bool = False
    words: tuple[str, ...] = ()


def site_of(post: str, toward: str, hand: str, frame: str) -> bytes:
    """The starter's gate on this post with this leaf."""
    lines = {"hand": hand, "frame": frame, "member": MEMBERS[frame]}
    made = []
    for line in starter(post=post, toward=toward).splitlines():  # type: ignore[arg-type]
        key = line.partition("=")[0].strip()
        if key == "rails" and frame == "timber":
            made.append('rails = ["6", "25", "47"]')
        else:
            made.append(f'{key} = "{lines[key]}"' if key in lines else line)
    return "\n".join([*made, ""]).encode()


def tried(text: bytes, out: Path) -> Outcome:
    """Build, read back, and look at swing and pins."""
    try:
        pack = make(survey_from_bytes(text, file="site.toml"), read_shop(None), lambda *_: None)
    except Exception as error:  # whatever it is, the next gate is tried all the same
        return Outcome(words=(f"{type(error).__name__}: {str(error).splitlines()[0]}",))
    deliver(out, dict(pack.files))
    problems = [str(problem) for problem in verify(out).problems]
    failed = [check for check in pack.checks if check.status == "fail"]
    fouls = [c.id for c in failed if c.id.startswith(("clearance", "parts lie"))]
    off = worst_pin(pack)
    return Outcome(
        built=True,
        verifies=not problems,
        free=not fouls,
        coaxial=off < IN_LINE,
        passes=not failed,
        words=(*problems[:2], *(f"{c.id} at {c.utilisation:.2f}" for c in failed)),
    )


def worst_pin(pack: Pack) -> float:
    """The farthest that any bore of a pin is off the actuator's eye, closed and open."""
    found = [0.0]
    for leaf in pack.design.leaves:
        for (end, eye), angle in product(ENDS, (0.0, leaf.mount.curve[-1].angle)):
            names = [name for name, _ in pin_lines(leaf, end)]
            held = next(p for p in leaf.placed if p.name == eye)
            x, y, _ = leaf.standing(held, angle).origin
            for placed in (p for p in leaf.placed if p.name in names):
                for bore in placed.for_hand(leaf.hand).item.bores:  # type: ignore[union-attr]
                    if bore.hole.use == "pin":
                        u, v, _ = leaf.standing(placed, angle).point(bore.origin)
                        found.append(hypot(u - x, v - y))
    return max(found)


def main() -> int:
    """Try them all and count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("-o", "--out", type=Path, help="keep the packs in this folder")
    wanted = parser.parse_args().out
    counts: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as scratch:
        for names in product(POSTS, TOWARD, HANDS, MEMBERS):
            started, name = time.perf_counter(), "-".join(names)
            outcome = tried(site_of(*names), (wanted or Path(scratch)) / name)
            good = {k: getattr(outcome, k) for k in Outcome.__slots__ if k != "words"}
            counts.update(["gates", *(key for key, yes in good.items() if yes)])
            missed = ", ".join(f"not {key}" for key, yes in good.items() if not yes) or "good"
            took = time.perf_counter() - started
            print(f"{name}: {missed} ({took:.0f} s) {'; '.join(outcome.words)}", flush=True)
    print(", ".join(f"{key} {counts[key]}" for key in ("gates", *good)))
    return 0 if all(counts[key] == counts["gates"] for key in good) else 1


if __name__ == "__main__":
    sys.exit(main())
