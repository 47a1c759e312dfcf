"""Three gates with every part drawn, for the points of a shop: both hands, inches and mm."""

import io
from functools import cache
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.starter import starter
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.paper import pdf
from hangpost.generators.writers.stamp import Stamp

HERE = Path(__file__)
GATES = {
    "timber, lock, inches": (HERE.parents[2] / "cli" / "demo.toml", "in", "letter"),
    "round post welded, mm": ("round_steel", "mm", "a4"),
    "leaning timber, mm": ("timber", "mm", "a3"),
}
PROFILES = ("cut", "full", "r12")
every_gate = pytest.mark.parametrize("name", GATES)
every_profile = pytest.mark.parametrize("profile", PROFILES)


def text_of_site(source) -> str:
    if isinstance(source, Path):
        return source.read_text(encoding="utf-8")
    if source == "timber":
        upright = "lean = { toward_leaf = 0.0, toward_actuator = 0.0 }"
        leaning = "lean = { toward_leaf = 0.4, toward_actuator = 1.1 }"
        return starter(post="timber").replace(upright, leaning)
    return starter(post=source).replace('#fixing = "saddle"', 'fixing = "weld"')


@cache
def gate(name):
    source, units, paper = GATES[name]
    text = text_of_site(source)
    site, shop = site_from_bytes(text.encode()), read_shop(None)
    drawings = shop.drawings.model_copy(update={"units": units, "paper": (paper,)})
    shop = shop.model_copy(update={"drawings": drawings})
    solved = solve_gate(site, shop)
    return design_gate(site, shop, solved, [usual(shop)] * len(solved)), text, Shelf()


def flats(name):
    return [(p, p.flat_pattern()) for p, _ in gate(name)[0].parts if p.flat_pattern() is not None]


def document(flat, profile="cut"):
    """A cut file as ezdxf reads it."""
    return ezdxf.read(io.StringIO(flat_dxf(flat, profile).decode()))


def words_of(sheets) -> str:
    """The words on sheets as another reader finds them in the PDF."""
    read = pypdfium2.PdfDocument(pdf(sheets, title="t", subject="s", maker="m"))
    return " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in read)


@cache
def drawn(name):
    """Every part with its sheets and the words on them."""
    design, text, shelf = gate(name)
    stamp = Stamp(
        job=design.site.job,
        site_sha256="7e" * 32,
        version="0.1.0",
        record=text,
        revision="C",
        units=design.shop.drawings.units,
    )
    found = []
    for part, quantity in design.parts:
        sheets = part_sheets(
            Drawn(part=part, quantity=quantity, look=shelf.look), design.shop, stamp
        )
        found.append((part, quantity, sheets, words_of(sheets)))
    return found
