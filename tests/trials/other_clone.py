"""The same pack from a fresh clone in another folder, to the byte.

    python tests/trials/other_clone.py [SITE ...]     default: the shipped example and all starters

What is committed here is cloned to a folder with a strange name and built from there, with another
hash seed, time zone, locale, number of threads, home and working folder, on a clock that goes
backwards where there is libfaketime; then every file is compared with what this checkout builds.
That nothing of another place matters in one checkout is a test (tests/cli/test_same_pack.py). Exit
status 1: a byte differs. Not part of the tests: two builds for each site.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory

from hangpost.generators.survey.starter import starter

ROOT = Path(__file__).parents[2]
ODD = {
    "PYTHONHASHSEED": "4242",
    "TZ": "Pacific/Chatham",
    "LC_ALL": "C",
    "LANG": "tr_TR.UTF-8",
    "PYTHONUTF8": "0",
    "OMP_NUM_THREADS": "1",
    "FONTCONFIG_FILE": "/nonexistent",
    "DONT_FAKE_MONOTONIC": "1",  # waiting goes on as ever
}
BACKWARDS = ["faketime", "-f", "@2031-05-06 07:08:09 x-3"]


def built(tree: Path, site: Path, out: Path, odd: dict[str, str]) -> dict[str, str]:
    """The hashes of a pack built by a tree of sources, which must be the one that is imported."""
    environment = {**os.environ, "PYTHONPATH": str(tree / "tests" / "typing"), **odd}
    clock = BACKWARDS if odd and shutil.which("faketime") else []
    seen = "import hangpost.parts; print(hangpost.parts.__path__[0])"
    where = subprocess.check_output([sys.executable, "-c", seen], env=environment, text=True)
    if not Path(where.strip()).resolve().is_relative_to(tree.resolve()):
        raise RuntimeError(f"{where.strip()} is built from, not {tree}")
    subprocess.run(
        [*clock, sys.executable, "-m", "hangpost.cli", "build", str(site), "-o", str(out)],
        env=environment,
        cwd=out.parent,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,  # 1: a check failed, and it is a pack all the same
    )
    return {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(out.rglob("*"))
        if path.is_file()
    }


def main() -> None:
    """Clone, build both, compare."""
    sites = [Path(name).resolve() for name in sys.argv[1:]]
    with TemporaryDirectory(prefix="hangpost-trial-") as folder:
        place, wrong = Path(folder), 0
        home = place / "another place \u00fc"
        home.mkdir()
        clone = home / "clone"
        subprocess.run(["git", "clone", "-q", str(ROOT), str(clone)], check=True)
        if not sites:
            sites = [ROOT / "cli" / "demo.toml"]
            for post, way in product(
                ("timber", "round_steel", "square_steel"), ("actuator", "away")
            ):
                sites.append(place / f"{post}-{way}.toml")
                sites[-1].write_text(starter(post=post, toward=way), encoding="utf-8")  # type: ignore[arg-type]
        for site in sites:
            odd = {**ODD, "HOME": str(home), "TMPDIR": str(home)}
            here = built(ROOT, site, place / f"{site.stem}-here", {})
            there = built(clone, site, home / f"{site.stem} there", odd)
            differ = sorted(name for name in here | there if here.get(name) != there.get(name))
            wrong += bool(differ) or not here
            print(f"{site.name}: {len(here)} files, {len(differ)} differ {differ[:5]}", flush=True)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
