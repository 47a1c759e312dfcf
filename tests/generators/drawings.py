"""Gates whose parts and assembly are drawn, for the tests of drawings; solids made once."""

import io
from functools import cache
from pathlib import Path

import pdfplumber

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.writers.drawing import Drawn, part_sheets
from hangpost.generators.writers.ink import Box
from hangpost.generators.writers.layout import inside
from hangpost.generators.writers.paper import pdf
from hangpost.generators.writers.sheet import Sheet
from hangpost.generators.writers.stamp import Stamp
from hangpost.generators.writers.views import looking

GATE = Path(__file__).with_name("gate.toml").read_text(encoding="utf-8")
EXAMPLE = (Path(__file__).parents[2] / "cli" / "demo.toml").read_text(encoding="utf-8")
CASES = {
    "right, pull, inches": (GATE, "in", "letter"),
    "left, pull, mm": (GATE.replace('hand = "right"', 'hand = "left"'), "mm", "a4"),
    "right, push, mm on a3": (GATE.replace('toward = "actuator"', 'toward = "away"'), "mm", "a3"),
}
PUSH_IN_INCHES = {"push, inches": (CASES["right, push, mm on a3"][0], "in", "letter")}
WHOLE = {**CASES, **PUSH_IN_INCHES, "shipped example": (EXAMPLE, "in", "letter")}


@cache
def solid(part):
    """Each solid built once."""
    return part.solid()


LOOK = looking(solid)


@cache
def gate(case: str):
    """The design, the shop, the stamp and every part as it is drawn."""
    text, units, paper = WHOLE[case]
    site = site_from_bytes(text.encode())
    shop = read_shop(None)
    drawings = shop.drawings.model_copy(update={"units": units, "paper": (paper,)})
    shop = shop.model_copy(update={"drawings": drawings})
    solved = solve_gate(site, shop)
    design = design_gate(site, shop, solved, [usual(shop)] * len(solved))
    stamp = Stamp(
        job=site.job, site_sha256="5c" * 32, version="0.1.0", record=text, units=units, revision="B"
    )
    made = tuple(Drawn(part=p, quantity=n, look=LOOK) for p, n in design.parts)
    return design, shop, stamp, made


@cache
def sheets(case: str):
    """Every part's sheets."""
    _, shop, stamp, made = gate(case)
    return tuple((drawn, part_sheets(drawn, shop, stamp)) for drawn in made)


def text_of(drawn_sheets) -> str:
    data = pdf(drawn_sheets, title="t", subject="s", maker="m")
    with pdfplumber.open(io.BytesIO(data)) as read:
        return "\n".join(page.extract_text() for page in read.pages)


def strays(sheet: Sheet, field: Box) -> list[str]:
    """In words, whatever lies outside the field of a sheet."""
    return [
        f"{type(item).__name__} {getattr(item, 'text', '')} at "
        + ", ".join(f"{c:.1f}" for c in item.box)
        for item in sheet.items
        if not inside(item.box, field, 1e-3)
    ]
