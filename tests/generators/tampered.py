"""A small gate's pack to tamper with; the checksums are mended, so that only the geometry can tell."""

import json
from collections.abc import Callable
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, survey_from_bytes
from hangpost.generators.verify import verify
from hangpost.generators.writers.stamp import Stamp

HAND = "left"  # so that nothing may forget to be mirrored


class Built:
    """A small gate's pack: what it was made from, and its files."""

    def __init__(self) -> None:
        """Everything but the sweep and the checks, which verifying does not read."""
        text = files("hangpost.cli").joinpath("demo.toml").read_text(encoding="utf-8")
        survey = survey_from_bytes(
            text.replace('hand = "right"', f'hand = "{HAND}"').encode(), file="site.toml"
        )
        shop = read_shop(None)
        solved = solve_gate(survey.site, shop)
        self.design: Design = design_gate(survey.site, shop, solved, [usual(shop)] * len(solved))
        self.shelf = Shelf()
        self.stamp = Stamp(
            job=survey.site.job,
            site_sha256=survey.sha256,
            version="0",
            record=survey.text,
            revision="A",
            units="in",
        )
        given = (self.shelf, self.stamp, lambda *_: None)
        written = pack_files.reckoned(self.design, self.shelf, lambda *_: None)
        pack_files.drawn(self.design, *given, written)
        pack_files.built(self.design, (), (), *given, written)
        self.data = manifest.manifest(
            self.design,
            site_sha256=survey.sha256,
            checks=(),
            clearances=(),
            files=written.files,
            part_files=written.parts,
            template_files=written.templates,
        )
        self.files = {**written.files, "pack.json": manifest.as_bytes(self.data)}


def tamper(pack: Path, path: str, change: Callable[[bytes], bytes]) -> None:
    """Change a file and mend its entry in pack.json."""
    before = (pack / path).read_bytes()
    after = change(before)
    assert after != before
    (pack / path).write_bytes(after)
    data = json.loads((pack / "pack.json").read_bytes())
    entry = next(e for e in data["files"] if e["path"] == path)
    entry |= {"sha256": sha256(after).hexdigest(), "bytes": len(after)}
    (pack / "pack.json").write_text(json.dumps(data))


def problems(pack: Path, path: str) -> str:
    """What is said of that file; nothing may be said of the others that are kept.

    To save time the pack is cut down to the file and the STEP file of its part.
    """
    data = json.loads((pack / "pack.json").read_bytes())
    owners = [p["files"] for p in data["parts"] if path in p["files"].values()]
    keep = {path, *(own["step"] for own in owners)}
    for entry in data["files"]:
        if entry["path"] not in keep:
            (pack / entry["path"]).unlink(missing_ok=True)
    data["files"] = [e for e in data["files"] if e["path"] in keep]
    (pack / "pack.json").write_text(json.dumps(data))
    verdict = verify(pack)
    assert {p.path for p in verdict.problems} <= {path}, verdict.problems
    return "\n".join(map(str, verdict.problems))


def part_of(built: Built, process: str) -> Any:
    return next(p for p, _ in built.design.parts if p.process == process)


def path_of(built: Built, kind: str, process: str = "cut") -> str:
    entry = next(p for p in built.data["parts"] if p["process"] == process and kind in p["files"])
    return str(entry["files"][kind])
