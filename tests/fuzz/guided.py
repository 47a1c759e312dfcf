"""Coverage-guided fuzzing of the parsers.

Run it as: python tests/fuzz/guided.py [FOLDER] [libFuzzer options]

Needs the package atheris. What it finds goes into tests/fuzz/cases with a name that says what was
wrong, after the fault is mended: `test_fuzz.py` feeds every case to every parser.
"""

import sys
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["tomllib", "hangpost.generators.survey"]):
    sys.path.insert(0, str(Path(__file__).parent))
    from parsers import PARSERS, fed


def once(data: bytes) -> None:
    if data:
        names = list(PARSERS)
        fed(PARSERS[names[data[0] % len(names)]], data[1:])


atheris.Setup(sys.argv, once)
atheris.Fuzz()
