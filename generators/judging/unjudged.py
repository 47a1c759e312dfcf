"""What no rule of this program covers is told, never passed in silence: a check that warns."""

from math import nan

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.parts.part import Part


def unjudged(bench: Bench, part: Part) -> Check:
    """A part that no judge knows."""
    return not_judged(bench, f"{part.id}", f"{part.id} ({part.kind})")


def unheld(bench: Bench, part: Part) -> Check:
    """A seat of which nobody told the fasteners."""
    return not_judged(bench, f"{part.id} fasteners", f"the fasteners of {part.id}")


def not_judged(bench: Bench, name: str, words: str) -> Check:
    """The check that warns, about anything in words."""
    return bench.fits(
        "strength",
        f"{name} not judged",
        f"not judged: no rule of this program covers {words}; let a competent person look at it",
        value=nan,
        least=0.0,
        unit="",
        source="house: nothing passes in silence",
        warning=True,
    )
