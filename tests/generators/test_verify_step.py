"""Faults planted in STEP files, of parts and of the assembly, are found."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from hangpost.generators.writers.step import part_step

from .tampered import Built, path_of, problems, tamper


def test_the_other_hand_is_found(pack: Path, built: Built) -> None:
    part = next(p for p, _ in built.design.parts if p.handed)
    path = next(p["files"]["step"] for p in built.data["parts"] if p["id"] == part.mark)
    tamper(pack, path, lambda _: part_step(part.mark, part.mirrored().solid()))

    assert "hole" in problems(pack, path)


STEP_FAULTS: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "larger hole": (lambda d: re.sub(rb"(CYLINDRICAL_SURFACE\('',#\d+,)([0-9.]+)\)", lambda m: m[1] + b"%f)" % (float(m[2]) + 0.1), d), "no round face"),
    "renamed": (lambda d: d.replace(b"PRODUCT('", b"PRODUCT('X-"), "names the product"),
    "inches": (lambda d: d.replace(b"SI_UNIT(.MILLI.,.METRE.)", b"SI_UNIT($,.METRE.)"), "millimetres"),
    "broken off": (lambda d: d[: len(d) // 2], "STEP"),
}  # fmt: skip


@pytest.mark.parametrize("fault", STEP_FAULTS)
def test_a_fault_in_a_step_file_is_found(pack: Path, built: Built, fault: str) -> None:
    change, words = STEP_FAULTS[fault]
    path = path_of(built, "step")
    tamper(pack, path, change)

    assert words in problems(pack, path)


def test_a_piece_out_of_place_or_missing_in_the_assembly_is_found(pack: Path, built: Built) -> None:
    path = "fabricate/assembly.step"
    tamper(pack, path, lambda _: built.files["fabricate/assembly-open.step"])

    said = problems(pack, path)
    assert "leaf stands at" in said and "hanging post" not in said
    tamper(pack, path, lambda d: built.files[path].replace(b"'leaf pin'", b"'no pin'"))
    said = problems(pack, path)
    assert "leaf pin is missing" in said and "no pin does not belong" in said
