"""Whole-process times of the commands: `python tests/benchmarks/run.py`. Reported, never asserted."""

import resource
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

DEMO = Path(__file__).parents[2] / "cli" / "demo.toml"


def main() -> None:
    """Print wall time and the greatest memory so far, a line for each command."""
    with TemporaryDirectory(prefix="hangpost-") as folder:
        pack = str(Path(folder) / "pack")
        hangpost = [sys.executable, "-m", "hangpost.cli"]
        runs = {
            "python -c pass": [sys.executable, "-c", "pass"],
            "hangpost --help": [*hangpost, "--help"],
            "hangpost solve": [*hangpost, "solve", str(DEMO)],
            "hangpost demo": [*hangpost, "demo", "-o", pack],
            "hangpost verify": [*hangpost, "verify", pack],
        }
        for name, command in runs.items():
            began = time.perf_counter()
            subprocess.run(command, check=False, capture_output=True)
            spent = time.perf_counter() - began
            memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
            print(f"{name:20} {spent:7.2f} s   at most {memory:5.0f} MB so far")


if __name__ == "__main__":
    main()
