"""A pack read back, file by file, and held against its pack.json.

Each file is read by something else than what wrote it, where there is such a thing: cut files
and STEP text by plain readers of our own, solids by the CAD kernel's importer, STL by trimesh,
paper by PDFium. A file that was changed together with its checksum is still found out, because
its geometry is compared too. Units: mm.
"""

from contextlib import ExitStack
from pathlib import Path

from hangpost.generators.progress import Report
from hangpost.generators.verify.apart import BY_KERNEL, Faults, Readers
from hangpost.generators.verify.contents import Pack, file_faults, read_pack
from hangpost.generators.verify.problem import Problem, Unreadable, Verdict

__all__ = ["Problem", "Unreadable", "Verdict", "verify"]


def verify(folder: Path, report: Report | None = None, *, apart: bool = False) -> Verdict:
    """Everything in the folder that is not as its pack.json says; OSError if it is no folder.

    With `apart` a second process reads what needs the CAD kernel: in two thirds of the time.
    """
    with ExitStack() as running:
        readers = Readers(running) if apart else None
        found = read_pack(folder)
        if not isinstance(found, Pack):
            return Verdict(0, found)
        there = [path for path in sorted(found.files) if readers and path.endswith(BY_KERNEL)]
        here = [path for path in sorted(found.files) if path not in there]
        if readers:
            readers.ask(found, there)
        faults: dict[str, Faults] = {}
        for number, path in enumerate((*here, *there)):
            if report is not None:
                report("reading the pack back", number, len(found.files))
            away = readers if number >= len(here) else None
            faults[path] = away.next() if away else tuple(file_faults(found, path))
    inside = [Problem(path, what) for path in sorted(faults) for what in faults[path]]
    return Verdict(len(found.files) + 1, (*found.problems, *inside))
