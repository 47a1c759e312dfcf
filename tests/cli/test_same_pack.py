"""One site file, one pack: the same bytes whatever surrounds the program.

Two whole builds, the second under odd conditions all at once: another hash seed, time zone,
locale, working folder, number of threads, mask for new files, home, user and place of temporary
files, and no list of fonts. Where there is libfaketime the second runs years later, on a clock that
goes backwards.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from hangpost.generators.survey.starter import starter

BACKWARDS = ["faketime", "-f", "@2031-05-06 07:08:09 x-3"]  # three seconds back every second


def built(site: Path, place: Path, folder: Path, odd: dict[str, str], mask: int = -1) -> None:
    clock = BACKWARDS if odd.get("DONT_FAKE_MONOTONIC") and shutil.which("faketime") else []
    done = subprocess.run(
        [*clock, sys.executable, "-m", "hangpost.cli", "build", str(site), "-o", str(place)],
        capture_output=True,
        text=True,
        check=False,
        cwd=folder,
        env={**os.environ, **odd},
        umask=mask,
    )
    assert done.returncode in (0, 1), done.stderr


def hashes(place: Path) -> dict[str, str]:
    return {
        path.relative_to(place).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in place.rglob("*")
        if path.is_file()
    }


def test_a_pack_is_the_same_to_the_byte_under_odd_conditions(tmp_path: Path) -> None:
    """PKG-03."""
    site, home = tmp_path / "gate.toml", tmp_path / "elsewhere"
    home.mkdir()
    site.write_text(starter(post="square_steel"), encoding="utf-8")
    other = home / "another name.toml"  # the file's name is no part of a pack
    other.write_bytes(site.read_bytes())
    built(site, tmp_path / "usual", tmp_path, {"PYTHONHASHSEED": "1", "TZ": "UTC"})
    odd = {
        "PYTHONHASHSEED": "7",  # gives the sets of the DXF library another order than 1
        "TZ": "Pacific/Chatham",
        "LC_ALL": "C",
        "LANG": "tr_TR.UTF-8",
        "PYTHONUTF8": "0",
        "OMP_NUM_THREADS": "1",
        "CSF_DrawPluginDefaults": "/nonexistent",
        "HOME": str(home),
        "USER": "somebody",
        "LOGNAME": "somebody",
        "TMPDIR": str(home),
        "SOURCE_DATE_EPOCH": "1",
        "FONTCONFIG_FILE": "/nonexistent",
        "FONTCONFIG_PATH": "/nonexistent",
        "DONT_FAKE_MONOTONIC": "1",  # waiting goes on as ever
        "PYTHONDONTWRITEBYTECODE": "1",
    }
    built(other, home / "odd", home, odd, 0o077)

    usual, odd_one = hashes(tmp_path / "usual"), hashes(home / "odd")
    assert len(usual) > 20
    assert {name for name in usual | odd_one if usual.get(name) != odd_one.get(name)} == set()
    assert {path.name for path in home.iterdir()} == {"another name.toml", "odd"}
