"""Gates of every kind for the tests: the starter's gate with some lines changed, designed."""

from collections.abc import Iterable

from hangpost.generators.checks import Check
from hangpost.generators.fitting.fits import fit_checks
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import Survey, survey_from_bytes
from hangpost.generators.survey.shop import Drawings, Shop
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.starter import starter
from hangpost.generators.swing import bodies_of, clearance_checks, reached, seated, swung

POSTS = ("timber", "round_steel", "square_steel")
TOWARD = ("actuator", "away")
FRAMES = ("square_tube", "round_tube", "timber")
MEMBERS = {"square_tube": "2x2x1/8", "round_tube": "1.66x0.14", "timber": "2x4"}
SLIM = {"to_actuator_face": '"5/8"'}  # hinges in front of the middle of a slim post
COARSE = 7.5  # degrees
SHOP = Shop(drawings=Drawings(paper=("a3",)))


LOCK = """
[lock]
post = {{ kind = "{kind}", size = "{size}" }}
bolt_diameter = "5/8"
bolt_height = "30"
bolt_to_leaf_face = "1"
throw = "1 1/2"
gap = "1 3/4"
sag = "3/8"
"""
DOUBLE_LOCK = """
[lock]
bolt_diameter = "5/8"
bolt_height = "30"
bolt_to_leaf_face = "1"
throw = "1 1/2"
sag = "3/8"
"""
SEPARATE = '[choice]\nextension = "separate"\n'


def survey(
    post: str = "timber",
    toward: str = "actuator",
    hand: str = "right",
    frame: str = "square_tube",
    *,
    leaves: int = 1,
    more: str = "",
    **swaps: str,
) -> Survey:
    """The starter's gate with some lines of it changed: `key="new value"`, unless commented."""
    text = starter(post=post, toward=toward, leaves=leaves)  # type: ignore[arg-type]
    lines = {"hand": f'"{hand}"', "frame": f'"{frame}"', "member": f'"{MEMBERS[frame]}"', **swaps}
    if frame == "timber":
        lines["rails"] = '["6", "25", "47"]'
    made = []
    for line in text.splitlines():
        key = line.partition("=")[0].strip().removeprefix("#")
        made.append(f"{key} = {lines[key]}" if key in lines and "=" in line else line)
    return survey_from_bytes("\n".join([*made, more, ""]).encode(), file="site.toml")


def design(read: Survey | Site) -> Design:
    site = read if isinstance(read, Site) else read.site
    solved = solve_gate(site, SHOP)
    return design_gate(site, SHOP, solved, [usual(SHOP)] * len(solved))


def failed(checks: Iterable[Check]) -> list[str]:
    return [f"{c.id}: {c.value:.3f}, {c.limit:.3f}" for c in checks if c.status == "fail"]


def fouled(leaf: LeafDesign, shelf: Shelf) -> list[str]:
    bodies = bodies_of(leaf, shelf.mesh)
    swept = swung(leaf, bodies, COARSE)
    socket, still = reached(leaf, bodies), seated(leaf, bodies)
    return failed(clearance_checks(leaf, SHOP, swept, socket, still))


def fits(made: Design) -> list[str]:
    pairs = zip(made.site.leaves, made.leaves, strict=True)
    return [line for hung, leaf in pairs for line in failed(fit_checks(made.site, hung, leaf))]
