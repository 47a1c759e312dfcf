"""A pack read back, file by file, and held against its pack.json.

Each file is read by something else than what wrote it, where there is such a thing: cut files
and STEP text by plain readers of our own, solids by the CAD kernel's importer, STL by trimesh,
paper by PDFium. A file that was changed together with its checksum is still found out, because
its geometry is compared too. Units: mm.
"""

from pathlib import Path

from hangpost.generators.progress import Report
from hangpost.generators.verify.contents import Pack, file_faults, read_pack
from hangpost.generators.verify.problem import Problem, Unreadable, Verdict

__all__ = ["Problem", "Unreadable", "Verdict", "verify"]


def verify(folder: Path, report: Report | None = None) -> Verdict:
    """Everything in the folder that is not as its pack.json says; OSError if it is no folder."""
    found = read_pack(folder)
    if not isinstance(found, Pack):
        return Verdict(0, found)
    problems = list(found.problems)
    for number, path in enumerate(sorted(found.files)):
        if report is not None:
            report("reading the pack back", number, len(found.files))
        problems += [Problem(path, what) for what in file_faults(found, path)]
    return Verdict(len(found.files) + 1, tuple(problems))
