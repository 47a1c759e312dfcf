"""A handful of gates as whole packs: written, read back, every name told once."""

import pytest

from hangpost.generators import files as pack_files
from hangpost.generators import manifest
from hangpost.generators.judged import judged
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import Survey
from hangpost.generators.verify import verify
from hangpost.generators.writers.outbox import deliver
from hangpost.generators.writers.stamp import Stamp

from .family import DOUBLE_LOCK, SEPARATE, design, survey


@pytest.mark.parametrize(
    "read",
    [
        survey("round_steel", "away", "left", "round_tube", more=SEPARATE, fixing='"clamp"'),
        survey("square_steel", "actuator", "right", leaves=2, more=DOUBLE_LOCK, fixing='"weld"'),
    ],
    ids=["clamped round post, push, left", "double gate, welded, locked"],
)
def test_whole_packs_are_written_and_verify(
    read: Survey, shelf: Shelf, tmp_path: pytest.TempPathFactory
) -> None:
    made = design(read)
    stamp = Stamp(
        job=read.site.job,
        site_sha256=read.sha256,
        version="0",
        record=read.text,
        revision="A",
        units="in",
    )
    written = pack_files.reckoned(made, shelf, lambda *_: None)
    pack_files.drawn(made, shelf, stamp, lambda *_: None, written)
    pack_files.built(made, (), (), shelf, stamp, lambda *_: None, written)
    checks, clearances = judged(made, shelf, lambda *_: None)
    data = manifest.manifest(
        made,
        site_sha256=read.sha256,
        checks=checks,
        clearances=clearances,
        files=written.files,
        part_files=written.parts,
        template_files=written.templates,
    )
    out = tmp_path / "pack"  # type: ignore[operator]
    deliver(out, {**written.files, "pack.json": manifest.as_bytes(data)})

    assert [str(problem) for problem in verify(out).problems] == []
    if read.site.is_double:
        ids = [check["id"] for check in data["checks"]]
        assert len(set(ids)) == len(ids)
        pieces = {piece["name"] for piece in data["assembly"]["pieces"]}
        assert {name for row in data["clearances"] for name in row["pair"]} <= pieces
        marks = [part["id"] for part in data["parts"]]
        assert len(set(marks)) == len(marks)
        assert {"lock-receiver-LH", "post-ear-LH", "post-ear-RH"} <= set(marks)
