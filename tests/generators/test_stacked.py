"""What is threaded on pins and bolts fills its gap, goes through its holes and lies on steel."""

import re
from dataclasses import replace
from functools import cache
from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.backing import backing
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Bought, LeafDesign
from hangpost.generators.hardware.kit import Kit, together
from hangpost.generators.hardware.picks import bolt_through, usual
from hangpost.generators.hardware.pins import gap_for, pin_list
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.of_site import _made_up
from hangpost.generators.survey.actuator import Eye
from hangpost.generators.survey.reading import read_shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.bodies import Arch, Bar, Body
from hangpost.parts.flat import Hole
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.spacer import SpacerBlock
from hangpost.parts.wedge import WedgeShim, tilts

from .family import design, survey

SHOP = read_shop(None)
EYE = Eye(pin=12.0, thickness=19.0, radius=15.0, to_body=60.0)
LEAST = 4.0  # thin end of a wedge: four printed walls and the chamfer; house


def millimetres(words: str) -> float:
    """The length at the end of what is asked for, "0.472 in (12 mm) long"."""
    return float(re.findall(r"\(([\d.]+) mm\)", words)[-1])


@given(wider=st.floats(0.0, 40.0), plate=st.sampled_from([6.35, 8.0, 9.525]))
def test_eye_washers_and_bushes_fill_the_gap_and_the_pin_goes_through_both_ears(
    wider: float, plate: float
) -> None:
    gap = gap_for(EYE, SHOP) + wider
    pin, *rest = pin_list(EYE, gap, plate, SHOP)
    filled = EYE.thickness + sum(each.quantity * millimetres(each.name) for each in rest)
    length = millimetres(pin.name.partition(" x ")[2].partition(" under")[0])

    assert gap - 1.01 <= filled <= gap + 0.11  # a bush under half a millimetre is left out
    assert wider < 1.0 or filled >= gap - 0.21  # bushes are told to a tenth
    assert gap + 2 * plate + 6.0 <= length + 0.06 < gap + 2 * plate + 6.0 + 25.4 / 16 + 0.12


@given(
    bolts=st.lists(st.tuples(st.floats(-90, 90), st.floats(-90, 90)), min_size=2, max_size=4),
    size=st.sampled_from(["3/8", "1/2", "M10", "M16"]),
)
def test_a_backing_plate_carries_its_washers_and_is_as_wide_beside_as_below_them(
    bolts: list[tuple[float, float]], size: str
) -> None:
    spread = [(40.0 * k + u / 9, 60.0 * k - v / 9) for k, (u, v) in enumerate(bolts)]
    holes = [Hole(str(k), u, v, 14.0, "post") for k, (u, v) in enumerate(spread)]
    bolt = bolt_through(size, 60.0, SHOP)
    (stock, *_) = (p for p in SHOP.plates if p.thickness >= 5.0)
    placed = backing(
        "post", holes, bolt=bolt, plate=stock, shop=SHOP, seat=Frame((0.0, 0.0, 0.0)), depth=90.0,
        rides="ground", use="post",
    )  # fmt: skip
    part = placed.item
    assert isinstance(part, BackingPlate)
    left, low, right, high = part.outline.bounds
    lands = {
        "left": min(u for u, _ in part.bolts) - left,
        "right": right - max(u for u, _ in part.bolts),
        "below": min(v for _, v in part.bolts) - low,
        "above": high - max(v for _, v in part.bolts),
    }
    through = sorted((u, v) for u, v, _ in (placed.frame.point((u, v, 0)) for u, v in part.bolts))

    assert lands == pytest.approx(dict.fromkeys(lands, lands["left"]))
    assert lands["left"] > bolt.head.washer_diameter / 2
    assert [x for at in through for x in at] == pytest.approx(
        [x for at in sorted(spread) for x in at]
    )
    assert placed.frame.point((0.0, 0.0, 0.0))[2] == pytest.approx(-90.0)


@pytest.mark.parametrize("lean", [(-1.1, 1.3), (0.7, -0.6)])
def test_wedges_are_as_thin_as_they_may_be_at_one_corner_and_nowhere_thinner(
    lean: tuple[float, float],
) -> None:
    table = f"{{ toward_leaf = {lean[0]}, toward_actuator = {lean[1]} }}"
    made = design(survey("square_steel", lean=table))
    (leaf,) = made.leaves
    angles = [p.item for p in leaf.placed if isinstance(p.item, PostAngle)]
    (height,) = {p.item.height for p in leaf.placed if isinstance(p.item, WedgeShim)}
    up, rise = (tan(radians(each)) for each in tilts(*lean))
    corners = [(u, way * a.top) for a in angles for u in a.seat for way in (1.0, -1.0)]

    assert up and rise
    assert _made_up(made.site.leaves[0]) >= height  # what the pins are looked for with
    assert min(height - up * u - rise * v for u, v in corners) == pytest.approx(LEAST)


@cache
def round_everywhere() -> LeafDesign:
    rail = {"frame": "round_tube", "member": '"1.90x0.145"'}
    (leaf,) = design(survey("round_steel", fixing='"clamp"', **rail)).leaves
    return leaf


@pytest.mark.parametrize("rides", ["ground", "leaf"])
def test_legs_of_u_bolts_come_out_in_the_middle_of_their_holes(rides: str) -> None:
    leaf = round_everywhere()
    (placed,) = (
        p for p in leaf.placed if p.rides == rides and isinstance(p.item, Body)
        and any(isinstance(shape, Arch) for shape in p.item.shapes)
    )  # fmt: skip
    name = "post" if rides == "ground" else "leaf"
    (fixing,) = (f for f in leaf.fixings if f.name == name)
    legs = [
        s for s in placed.item.shapes
        if isinstance(s, Bar) and s.radius == pytest.approx(fixing.fastener.diameter / 2)
    ]  # fmt: skip
    found = sorted(
        (round(x, 6), round(z, 6)) for x, _, z in (placed.frame.point(s.start) for s in legs)
    )
    holes = (fixing.seat.point((h.u, h.v, 0.0)) for _, h in fixing.holes)

    assert found == [
        pytest.approx(at) for at in sorted((round(x, 6), round(z, 6)) for x, _, z in holes)
    ]


@cache
def bolted(post: str, frame: str) -> tuple[HungLeaf, LeafDesign]:
    rails = {"rails": '["6", "25", "47"]'} if frame == "timber" else {}
    lean = "{ toward_leaf = 0.4, toward_actuator = 0.9 }"
    site = survey(post, frame=frame, lean=lean, **rails).site
    picks = replace(usual(SHOP), post_kind="hex bolt")
    (leaf,) = design_gate(site, SHOP, solve_gate(site, SHOP), [picks]).leaves
    return site.leaves[0], leaf


@pytest.mark.parametrize(
    ("post", "frame"),
    [("square_steel", "square_tube"), ("round_steel", "timber"), ("timber", "square_tube")],
)
def test_through_bolts_stand_out_behind_by_their_washer_and_nut(post: str, frame: str) -> None:
    """Nuts are 0.8 to 0.9 of the diameter high, ISO 4032; a thread that is longer does no harm."""
    hung, leaf = bolted(post, frame)
    looked_at = 0
    for fixing in (f for f in leaf.fixings if f.is_through and not f.instead):
        bolt, seat, met = fixing.fastener, fixing.seat, []
        for _, hole in fixing.holes:
            line = seat.point((hole.u, hole.v, 0.0))
            for placed in (p for p in leaf.placed if isinstance(p.item, Part)):
                for bore in placed.item.bores:
                    axis, at = placed.frame.direction(bore.axis), placed.frame.point(bore.origin)
                    way = [p - q for p, q in zip(at, line, strict=True)]
                    deep = sum(w * n for w, n in zip(way, seat.w, strict=True))
                    off = sum(w * w for w in way) - deep**2
                    turn = sum(a * n for a, n in zip(axis, seat.w, strict=True))
                    if abs(turn) > 0.99 and off < 64.0 and abs(deep) < 400.0:
                        met += [deep, deep + turn * placed.item.thickness]
        if fixing.rides == "leaf":
            met.append(float(hung.leaf.axis_offset - hung.leaf.rail_depth / 2) - seat.origin[1])
        elif post == "timber":
            met.append(-float(hung.post.depth))
        under = max(met) + bolt.head.washer_thickness  # the washer lies on what stands out most
        behind = min(met) - (under - bolt.length)

        assert fixing.over == pytest.approx(max(met) + fixing.under, abs=1e-6)
        assert behind >= bolt.head.washer_thickness + 0.85 * bolt.diameter, fixing.name
        looked_at += 1
    assert looked_at == 2


@pytest.mark.parametrize("over", [0.0, 6.0])
def test_a_recess_before_the_rail_is_filled_up_to_the_bracket_and_drilled_within_the_rail(
    over: float,
) -> None:
    """Boards stand 9.525 mm past a 2 x 2 in rail in their middle; pins beside the rail's line."""
    site = survey(thickness='"2 3/4"').site
    height = float(site.leaves[0].leaf.rails[1]) + over
    site = site.changed({"actuator.height": height})
    (leaf,) = design(site).leaves
    hung = site.leaves[0].leaf
    rail = float(hung.axis_offset + hung.rail_depth / 2)
    channel = next(p for p in leaf.placed if p.item.__class__.__name__ == "LobedChannel")
    blocks = [p for p in leaf.placed if isinstance(p.item, SpacerBlock)]
    (sheet,) = (t for t in leaf.templates if t.id == "leaf-face")
    _, low, _, high = sheet.outline.bounds
    line = float(hung.rails[1]) - height  # of the rail in the sheet, up from the pins

    assert blocks and channel.frame.origin[1] == pytest.approx(rail + 9.525)
    for block in blocks:
        faces = sorted(block.frame.point((0.0, 0.0, w))[1] for w in (0.0, block.item.height))
        assert faces == pytest.approx([rail, rail + 9.525])
    half = channel.item.half_height  # outlined is what lies on the rail and on the bracket
    assert (low, high) == pytest.approx((max(-half, line - 25.4), min(half, line + 25.4)))


def test_what_is_bought_twice_is_counted_once_and_nothing_is_lost() -> None:
    nut, bolt = Bought(name="nut M12", quantity=3), Bought(name="bolt M12", quantity=2)
    other = replace(nut, quantity=4, finish="stainless")
    made = together([Kit(bought=(nut, bolt)), Kit(bought=(replace(nut, quantity=5), other))])

    assert {(b.name, b.finish): b.quantity for b in made.bought} == {
        ("nut M12", nut.finish): 8, ("bolt M12", bolt.finish): 2, ("nut M12", "stainless"): 4,
    }  # fmt: skip
