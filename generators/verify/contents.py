"""What a pack holds: the list in pack.json against the folder, and which file is which.

No path in pack.json leads out of the folder, and whatever it lacks is told and no crash.
"""

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path, PurePosixPath
from typing import Any, Final

from hangpost.generators.pack_json import NotRead, read_json
from hangpost.generators.plain_file import plain_bytes
from hangpost.generators.verify.listed import Listed, ListedAssembly, ListedPart, listed
from hangpost.generators.verify.problem import Problem, Unreadable

LIST: Final = "pack.json"
LARGEST: Final = 100_000_000  # bytes of all files of a pack together; ours have some 20 million


@dataclass(frozen=True, slots=True, eq=False)
class Pack:
    """What pack.json says, the files that are there, and what is wrong with the list."""

    data: Listed
    files: dict[str, bytes]
    problems: tuple[Problem, ...]


def read_pack(folder: Path) -> Pack | tuple[Problem, ...]:
    """The pack in a folder, or why there is none."""
    names = set(_names(folder))
    if LIST not in names:
        return (Problem(LIST, "is missing: this folder is no pack"),)
    try:
        data = listed(read_json(folder / LIST), LIST)
    except NotRead as error:
        return (Problem(LIST, str(error)),)
    if not isinstance(data, Listed):
        return data
    strange = names - {entry.path for entry in data.files} - {LIST}
    problems = [Problem(name, "does not belong to the pack") for name in sorted(strange)]
    files: dict[str, bytes] = {}
    room = LARGEST
    for entry in data.files:
        fault = _entry_fault(folder, entry.path, names)
        if fault:
            problems.append(Problem(entry.path, fault))
            continue
        size = (folder / entry.path).stat().st_size
        if size != entry.bytes:
            problems.append(Problem(entry.path, f"{size} bytes, should be {entry.bytes}"))
        room -= size
        if room < 0:
            words = f"is not read: a pack has at most {LARGEST} bytes altogether"
            problems.append(Problem(entry.path, words))
            continue
        found = files[entry.path] = plain_bytes(folder / entry.path, size)
        if sha256(found).hexdigest() != entry.sha256:
            problems.append(Problem(entry.path, "the SHA-256 is another: the file was changed"))
    return Pack(data, files, tuple(problems))


def _names(folder: Path) -> Iterator[str]:
    """Every file below the folder, links included but not followed."""
    for place, _, names in os.walk(folder, onerror=_told):
        for name in names:
            yield (Path(place) / name).relative_to(folder).as_posix()


def _told(error: OSError) -> None:
    raise error


def _entry_fault(folder: Path, path: str, names: set[str]) -> str | None:
    if PurePosixPath(path).is_absolute() or ".." in path.split("/"):
        return "is no path inside the pack"
    if path not in names:
        return "is missing"
    if not (folder / path).resolve().is_relative_to(folder.resolve()):
        return "is a link that leads out of the pack"
    if not stat.S_ISREG((folder / path).stat().st_mode):
        return "is not a file"
    return None


def around(pack: Pack, path: str) -> Pack:
    """What is needed to judge one file: it, what is said of it, the STEP file of its part."""
    parts = tuple(part for part in pack.data.parts if path in part.files.values())
    templates = tuple(
        each
        for each in pack.data.templates
        if path == each.dxf or any(path == paper.file for paper in each.papers)
    )
    steps = {part.files.get("step") for part in parts}
    files = {name: pack.files[name] for name in {path, *steps} if name in pack.files}
    assembly = pack.data.assembly
    if path not in assembly.files.values():
        assembly = ListedAssembly(files={}, pieces=())
    kept = {"parts": parts, "templates": templates, "assembly": assembly, "files": ()}
    return Pack(pack.data.model_copy(update=kept), files, ())


def file_faults(pack: Pack, path: str) -> Iterator[str]:
    """What is wrong inside one file of the pack."""
    try:
        for part in pack.data.parts:
            for kind, own in part.files.items():
                if own == path:
                    yield from _part_file(pack, part, kind, path)
        for state, own in pack.data.assembly.files.items():
            if own == path:
                from hangpost.generators.verify.step_files import assembly_faults

                yield from assembly_faults(pack.files[path], pack.data.assembly.pieces, state)
        yield from _template_file(pack, path)
        yield from _as_named(pack.files[path], path)
    except Unreadable as error:
        yield " ".join(str(error).split())


def _as_named(data: bytes, path: str) -> Iterator[str]:
    """Whether a file, described in pack.json or not, is at all what its name says."""
    if path.endswith(".dxf"):
        from hangpost.generators.verify.dxf_reader import read_dxf

        if not read_dxf(data).entities:
            yield "draws nothing"
    elif path.endswith((".csv", ".html")):
        try:
            text = data.decode("utf-8").rstrip()
        except UnicodeDecodeError:
            yield "is not UTF-8 text"
            return
        if path.endswith(".html") and not text.endswith("</html>"):
            yield "has no end"
        elif "\0" in text or not text:
            yield "is no table"


def _part_file(pack: Pack, part: ListedPart, kind: str, path: str) -> Iterator[str]:
    data = pack.files[path]
    if kind == "step":
        from hangpost.generators.verify.step_files import part_faults

        yield from part_faults(data, part)
    elif kind in ("dxf", "dxf_full", "dxf_r12"):
        from hangpost.generators.verify.cut_files import cut_faults

        yield from cut_faults(data, part, kind)
    elif kind in ("stl", "3mf"):
        from hangpost.generators.verify.mesh_files import stl_faults, three_mf_faults

        judge = stl_faults if kind == "stl" else three_mf_faults
        yield from judge(data, part, _solid(pack.files.get(part.files.get("step", ""))))


def _solid(data: bytes | None) -> Any:
    """The part's own solid, or None when its STEP file cannot be read (told where it belongs)."""
    from hangpost.generators.verify.step_files import imported

    try:
        return None if data is None else imported(data)
    except Unreadable:
        return None


def _template_file(pack: Pack, path: str) -> Iterator[str]:
    from hangpost.generators.verify.pdf_reader import read_pdf
    from hangpost.generators.verify.template_files import hole_faults, paper_faults

    file = None
    for template in pack.data.templates:
        if template.dxf == path:
            from hangpost.generators.verify.cut_files import template_faults

            yield from template_faults(pack.files[path], template)
        for paper in template.papers:
            if paper.file != path:
                continue
            if file is None:
                file = read_pdf(pack.files[path], paper.printer)
                yield from paper_faults(file, paper.paper)
            for what in hole_faults(file, template, paper):
                yield f"template {template.id}: {what}"
    if file is None and path.endswith(".pdf") and not read_pdf(pack.files[path]).pages:
        yield "has no pages"
