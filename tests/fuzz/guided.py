"""Coverage-guided fuzzing of the parsers.

Run it as: python tests/fuzz/guided.py PARSER,PARSER,... [FOLDER] [libFuzzer options]

PARSER is a name in parsers.py; FOLDER holds what was found to be worth trying. Needs the package
atheris. What it finds goes into `test_fuzz.py` as a case with a name that says what was wrong,
after the fault is mended: every case is fed to every parser.
"""

import sys
from pathlib import Path

import atheris

OURS = ("survey", "many", "catalogue", "compare", "figures", "reissue", "pack_json", "verify")
with atheris.instrument_imports(
    include=["tomllib", *(f"hangpost.generators.{name}" for name in OURS)]
):
    sys.path.insert(0, str(Path(__file__).parent))
    from parsers import PARSERS, fed

NAMES = sys.argv.pop(1).split(",")


def once(data: bytes) -> None:
    if data:
        fed(PARSERS[NAMES[data[0] % len(NAMES)]], data[1:])


atheris.Setup(sys.argv, once)
atheris.Fuzz()
