"""Blanks of the brackets against DIN 6935: a K-factor that is doubled anywhere shows here."""

from dataclasses import replace
from math import log10, pi

import pytest

from hangpost.parts.leaf_bracket import LobedChannel
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import PostAngle

from .judged_gates import SHOP, designed

CUT = 0.3  # mm: what the drawing lets a cut edge be out


def made(kind: type[SheetPart]) -> SheetPart:
    items = (placed.item for placed in designed().leaves[0].placed)
    return next(item for item in items if type(item) is kind)


def short(radius: float, thickness: float) -> float:
    """What a square bend takes off both outside legs together.

    DIN 6935, printed with the opening angle 90: u = pi/2 (r + k s/2) - 2 (r + s), k = 0.65 + 0.5
    log10(r/s); for r = s = 6 mm a table worked out by it has -11.5122.
    """
    k = 0.65 + 0.5 * log10(radius / thickness)
    return 2 * (radius + thickness) - pi / 2 * (radius + k * thickness / 2)


def legs(part: SheetPart) -> tuple[float, ...]:
    """The outside legs of a bracket, as a tape finds them on the bent part."""
    if isinstance(part, PostAngle):  # up the seat from the ear's face, out along the ear
        return part.top - part.gap / 2, part.reach + part.tip
    assert isinstance(part, LobedChannel)  # an ear, the web between the ears' faces, an ear
    ear = part.reach + part.tip
    return ear, part.gap + 2 * part.plate_thickness, ear


@pytest.mark.parametrize("kind", [PostAngle, LobedChannel])
def test_blank_is_the_outside_legs_less_what_din_6935_takes_off(kind: type[SheetPart]) -> None:
    part = made(kind)
    bends = part.flat_pattern().bends
    expected = sum(legs(part)) - len(bends) * short(bends[0].radius, part.thickness)

    assert short(6.0, 6.0) == pytest.approx(11.5122, abs=5e-5)
    assert min(abs(v - expected) for v in sizes(part)) < CUT


@pytest.mark.parametrize("kind", [PostAngle, LobedChannel])
def test_a_doubled_k_factor_would_be_seen(kind: type[SheetPart]) -> None:
    """Half of DIN's k is the K-factor of a press brake: k itself in its place is double."""
    part = made(kind)
    bend = part.flat_pattern().bends[0]
    k = 0.65 + 0.5 * log10(bend.radius / part.thickness)
    doubled, half = (replace(part, k_factor=each) for each in (k, k / 2))
    expected = sum(legs(part)) - len(part.flat_pattern().bends) * short(bend.radius, part.thickness)

    assert min(abs(v - expected) for v in sizes(half)) < CUT
    assert min(abs(v - expected) for v in sizes(doubled)) > 5 * CUT


def sizes(part: SheetPart) -> tuple[float, float]:
    flat = part.flat_pattern()
    return flat.length, flat.width


def test_stock_plate_bends_by_din_unless_the_shop_knows_its_own() -> None:
    assert all(plate.k_factor is None for plate in SHOP.plates)
