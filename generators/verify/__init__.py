"""A pack read back, file by file, and held against its pack.json.

Each file is read by something else than what wrote it, where there is such a thing: cut files
and STEP text by plain readers of our own, solids by the CAD kernel's importer, STL by trimesh,
paper by PDFium. A file that was changed together with its checksum is still found out, because
its geometry is compared too. Units: mm.
"""

from contextlib import ExitStack
from pathlib import Path

from hangpost.generators.progress import Report
from hangpost.generators.verify.apart import Faults, Readers, shared_out
from hangpost.generators.verify.contents import Pack, file_faults, read_pack
from hangpost.generators.verify.problem import Problem, Unreadable, Verdict

__all__ = ["Problem", "Unreadable", "Verdict", "verify"]


def verify(folder: Path, report: Report | None = None, *, apart: bool = False) -> Verdict:
    """Everything in the folder that is not as its pack.json says; OSError if it is no folder.

    With `apart` two other processes read the files, one of them what needs the CAD kernel: in two
    thirds of the time, and whatever a file does to its reader is done to them.
    """
    with ExitStack() as running:
        readers = [Readers(running.enter_context(ExitStack())) for _ in range(2 if apart else 0)]
        found = read_pack(folder)
        if not isinstance(found, Pack):
            return Verdict(0, found)
        shares = shared_out(sorted(found.files))
        for reader, share in zip(readers, shares, strict=False):
            reader.ask(found, share)
        faults: dict[str, Faults] = {}
        for number, path in enumerate(path for share in shares for path in share):
            if report is not None:
                report("reading the pack back", number, len(found.files))
            away = readers[path in shares[1]] if readers else None
            faults[path] = away.next() if away else tuple(file_faults(found, path))
    inside = [Problem(path, what) for path in sorted(faults) for what in faults[path]]
    return Verdict(len(found.files) + 1, (*found.problems, *inside))
