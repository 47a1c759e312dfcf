"""Every number on a drawing is one of its part, in mm and in inches: DRW-07.

The words are those that pdfium finds in the PDF. What a part may say of itself is worked out here
from its blank, its box and its bores, with the deduction of every handbook (memory) for a bend.
"""

import re
from itertools import chain
from math import hypot, pi, tan

import pytest

from hangpost.generators.writers.cautions import cautions
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.wedge import WedgeShim
from hangpost.parts.weld_ear import WeldEar

from .shop_gates import drawn, every_gate, gate

NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.]*\d)")
FRACTION = re.compile(r"(?<![\d.])(\d+)/(\d+)(?= in)")
PAIR = re.compile(r"(\d+(?:\.\d+)?) \[(\d+(?:\.\d+)?)\]")
SLACKS = (0.3, 0.2, 0.8, 0.5)  # cut, hole, across a bend, printed; the last is the edge break too


def lengths(part, shop):
    """Every length that the sheet may tell, in mm."""
    low, high = part.box
    yield from part.extent
    yield part.thickness
    for bore in part.bores:
        for k in range(3):
            yield from (abs(bore.origin[k]), bore.origin[k] - low[k], high[k] - bore.origin[k])
        yield bore.hole.diameter
        yield bore.hole.diameter + bore.hole.slot_length
    if part.process == "print":
        yield round(part.thickness, 1)  # its steel sleeves, as the list has them
    flat = part.flat_pattern()
    if flat is not None:
        yield from blank(flat.at_corner())
        yield shop.cutting.least_hole(part.thickness)
    if isinstance(part, WedgeShim):
        yield from part.ends
        up = [tan(tilt * pi / 180) for tilt in (part.tilt_u, part.tilt_v)]
        for bore in part.bores:  # a sleeve stands on the wall where the wall is nearest
            u, v, r = *bore.origin[:2], bore.hole.diameter / 2
            yield round(part.height - up[0] * u - up[1] * v - r * hypot(*up), 1)
    if isinstance(part, SaddleBlock):
        yield from (part.outside, part.outside / 2 + part.fit)
    if isinstance(part, LockReceiver):
        yield part.bevel
    if isinstance(part, WeldEar):
        yield from (part.weld_leg, part.weld_length)
    yield from SLACKS
    if shop.finish == "galvanised":
        yield from (shop.fits.zinc, 25.0)


def blank(flat):
    yield from (flat.length, flat.width, 0.0)
    for edge in flat.outline.edges:
        yield from edge.start
        if edge.bulge:
            yield edge.radius
    for hole in flat.holes:
        yield from (hole.u, hole.v)
    for bend in flat.bends:
        taken = 2 * (bend.radius + flat.thickness) * tan(bend.angle * pi / 360) - bend.allowance
        yield from (*bend.start, bend.radius, taken)


def plain_numbers(part, quantity, sheets, shop):
    """Numbers that are no length: mass, angles, K-factors, counts, scale, sheets."""
    flat = part.flat_pattern()
    yield from (part.mass, part.mass / 0.45359237, quantity, 0)
    yield from range(1, max(8, len(part.bores) + 1))  # counts, items of the notes, sheets
    if flat is not None:
        yield len(flat.outline.edges)
        yield from range(len(flat.outline.edges))
        for bend in flat.bends:
            inside, slack = 180 - bend.angle, shop.bending.angle_tolerance
            yield from (bend.angle, inside, slack, inside - slack, inside + slack)
            yield (bend.allowance / (bend.angle * pi / 180) - bend.radius) / flat.thickness
    yield shop.bending.angle_tolerance
    yield from (1 / sheet.scale for sheet in sheets)
    if isinstance(part, WedgeShim):
        yield from (abs(part.tilt_u), abs(part.tilt_v))
    if isinstance(part, SaddleBlock):
        yield from map(abs, part.lean)
    yield from (5, 40, 70, 45)  # walls, filling in %, ksi of the electrode, degrees of a bevel


def strangers(part, quantity, sheets, words, shop):
    """Numbers on the sheet that are none of the part's."""
    told = [*chain(lengths(part, shop))]
    told += [v + way * s for v in list(told) for s in SLACKS for way in (-1, 1)]
    numbers = [*plain_numbers(part, quantity, sheets, shop)]
    for said in (
        part.mark,
        *(shop.steel.grade, "7e" * 6, "hangpost 0.1.0", cautions("always")[0].text),
    ):
        words = words.replace(said, " ")
    for over, under in FRACTION.findall(words):  # a weld's leg, to the nearest 16th
        if any(abs(int(over) / int(under) - v / 25.4) <= 1 / 32 for v in told):
            words = words.replace(f"{over}/{under}", " ")
    found = []
    for text in NUMBER.findall(words):
        value = float(text)
        places = len(text.partition(".")[2])
        near = 0.51 * 10.0**-places
        known = any(
            abs(value - v) <= near + 1e-6
            for v in chain(numbers, told if places <= 2 else (), (v / 25.4 for v in told))
        )
        if not known:
            found.append(text)
    return found


@every_gate
def test_every_number_on_the_sheet_is_one_of_the_part(name):
    shop = gate(name)[0].shop
    for part, quantity, sheets, words in drawn(name):
        assert strangers(part, quantity, sheets, words, shop) == [], part.mark
        for value in (part.thickness + 1.37, part.extent[0] + 7.91):  # a wrong one is found
            said = f"{value:.2f} [{value / 25.4:.3f}]"
            assert strangers(part, quantity, sheets, f"{words} {said}", shop), said


@every_gate
def test_both_units_of_every_size_agree(name):
    inches = gate(name)[0].shop.drawings.units == "in"
    for part, _, _, words in drawn(name):
        pairs = [(float(a), float(b)) for a, b in PAIR.findall(words)]
        assert len(pairs) >= 4
        for first, second in pairs:
            inch, metric = (first, second) if inches else (second, first)
            assert inch == pytest.approx(metric / 25.4, abs=0.0005 + 0.005 / 25.4 + 1e-6), part.mark
