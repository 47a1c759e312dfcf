"""Faults planted in the templates on paper are found: moved, scaled, cropped, turned, lost."""

import io
import json
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from hangpost.generators import files as pack_files
from hangpost.generators.writers.paper import PAPERS, Printer
from hangpost.generators.writers.template import template_book

from .tampered import Built, problems, tamper


def pdf_changed(change: Callable[[pikepdf.Pdf], None]) -> Callable[[bytes], bytes]:
    def changed(data: bytes) -> bytes:
        stream = io.BytesIO()
        with pikepdf.open(io.BytesIO(data)) as pdf:
            change(pdf)
            pdf.save(stream)
        return stream.getvalue()

    return changed


def scaled(pdf: pikepdf.Pdf) -> None:
    """What "fit to page" does, but in the file."""
    for page in pdf.pages:
        page.contents_add(pikepdf.Stream(pdf, b"q 0.97 0 0 0.97 9 12 cm"), prepend=True)
        page.contents_add(pikepdf.Stream(pdf, b"Q"))


def hidden_scale(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.UserUnit = 1.03


def let_scale(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.ViewerPreferences


def cropped(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.CropBox = pikepdf.Array([0, 0, 500, 700])


def turned(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        page.obj.Rotate = 180


def page_lost(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]


PDF_FAULTS = {
    "scaled": (scaled, "check bar"),
    "hidden scale": (hidden_scale, "scaled"),
    "lets the printer scale": (let_scale, "PrintScaling"),
    "cropped": (cropped, "sheet"),
    "turned": (turned, "turned"),
    "page lost": (page_lost, "hole"),
}


@pytest.mark.parametrize("fault", PDF_FAULTS)
def test_a_template_that_would_print_wrong_is_found(pack: Path, built: Built, fault: str) -> None:
    change, words = PDF_FAULTS[fault]
    path = built.data["templates"][0]["file"]
    tamper(pack, path, pdf_changed(change))

    assert words in problems(pack, path)


def moved_template(built: Built, printer: Printer | None = None, by: float = 0.3) -> bytes:
    """The template file of the first paper, drawn anew with one hole moved."""
    from dataclasses import replace

    sheets = [s for leaf in built.design.leaves for s in pack_files.for_hand(leaf)]
    first = sheets[0].holes[0]
    sheets[0] = replace(sheets[0], holes=(replace(first, u=first.u + by), *sheets[0].holes[1:]))
    paper = PAPERS[built.data["templates"][0]["papers"][0]["paper"]]
    book = (
        template_book(sheets, built.stamp, paper)
        if printer is None
        else template_book(sheets, built.stamp, paper, printer)
    )
    return book.pdf()


def test_a_moved_hole_on_paper_is_found(pack: Path, built: Built) -> None:
    path = built.data["templates"][0]["file"]
    tamper(pack, path, lambda _: moved_template(built))

    said = problems(pack, path)
    assert "is not drawn" in said and "the row of hole" in said


def test_a_moved_hole_is_found_although_pack_json_was_moved_with_it(
    pack: Path, built: Built
) -> None:
    path = built.data["templates"][0]["file"]
    tamper(pack, path, lambda _: moved_template(built))
    data = json.loads((pack / "pack.json").read_bytes())
    name = data["templates"][0]["holes"][0]["name"]
    for page in data["templates"][0]["papers"][0]["pages"]:
        for mark in page["marks"]:
            if mark["hole"] == name:
                mark["x" if not page["turned"] else "y"] += 0.3 * (
                    -1 if page["kind"] == "exit" else 1
                )
    (pack / "pack.json").write_text(json.dumps(data))

    assert "do not lie to each other" in problems(pack, path)


def test_sheets_made_for_a_printer_are_judged_as_it_prints_them(pack: Path, built: Built) -> None:
    """Compensated sheets are true when printed (issue 5): 0.993 across, 1.004 along."""
    printer = Printer(x=0.993, y=1.004)
    sheets = [s for leaf in built.design.leaves for s in pack_files.for_hand(leaf)]
    paper = built.data["templates"][0]["papers"][0]
    book = template_book(sheets, built.stamp, PAPERS[paper["paper"]], printer)
    tamper(pack, paper["file"], lambda _: book.pdf())
    data = json.loads((pack / "pack.json").read_bytes())
    for template in data["templates"]:
        template["papers"][0]["printer"] = [0.993, 1.004]
        template["papers"][0]["pages"] = [page.data() for page in book.pages_of(template["id"])]
    (pack / "pack.json").write_text(json.dumps(data))

    assert problems(pack, paper["file"]) == ""
    tamper(pack, paper["file"], lambda _: moved_template(built, printer))
    assert "is not drawn" in problems(pack, paper["file"])


def test_an_exit_of_a_hole_that_does_not_go_through_is_found(pack: Path) -> None:
    """Whoever drilled there would come out where nothing is."""
    data = json.loads((pack / "pack.json").read_bytes())
    sheet = next(t for t in data["templates"] if any(page["kind"] == "exit" for page in t["pages"]))
    hole = sheet["holes"][0]
    assert hole["depth"] == 0.0
    hole["depth"] = 17.0
    (pack / "pack.json").write_text(json.dumps(data))

    found = problems(pack, sheet["file"])
    assert f"hole {hole['name']} does not go through and has no exit" in found
