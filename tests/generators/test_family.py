"""Every post, every leaf, both directions, both hands: it is made, it fits, nothing fouls.

The sweeps here take coarse steps; they are refined between the steps all the same. A left-hand
gate is the mirror image of a right-hand one, part for part, so it is swept once only.
"""

from dataclasses import replace
from itertools import product

import pytest

from hangpost.generators.fitting.pins import IN_LINE, pin_lines
from hangpost.generators.hardware.build import design_leaf
from hangpost.generators.hardware.design import Design, LeafDesign
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots import kinematics
from hangpost.generators.shelf import Shelf
from hangpost.generators.swing import bodies_of, swung
from hangpost.parts.part import Part, SheetPart

from .family import FRAMES, POSTS, SHOP, TOWARD, design, fits, fouled, survey


@pytest.mark.parametrize(("post", "toward", "frame"), list(product(POSTS, TOWARD, FRAMES)))
def test_every_gate_is_made_fits_and_swings_free_in_both_hands(
    post: str, toward: str, frame: str, shelf: Shelf
) -> None:
    """STEP-04, STEP-06, GEO-08: no piece meets another anywhere in the swing; pins in line."""
    right = design(survey(post, toward, "right", frame))
    (leaf,) = right.leaves
    left_site = survey(post, toward, "left", frame).site
    (other,) = (
        design_leaf(
            left_site.leaves[0], SHOP, leaf.problem, leaf.mount, usual(SHOP), left_site.choice
        ),
    )
    left = Design(site=left_site, shop=SHOP, leaves=(other,))

    assert fits(right) == [] and fits(left) == []
    assert fouled(leaf, shelf) == []
    for made in (right, left):
        assert_pins_coaxial(made.leaves[0])
    assert_mirrored(leaf, other)


def assert_pins_coaxial(leaf: LeafDesign) -> None:
    """In the assembly, closed and open: the bores of both ends about the actuator's eyes."""
    for angle in (0.0, leaf.mount.curve[-1].angle):
        for end, eye in (("post", "actuator post eye"), ("leaf", "actuator leaf eye")):
            names = [name for name, _ in pin_lines(leaf, end)]
            carriers = [p for p in leaf.placed if p.name in names]
            held = next(p for p in leaf.placed if p.name == eye)
            x, y, _ = leaf.standing(held, angle).origin

            assert len(names) == 2
            for placed in carriers:
                part = placed.for_hand(leaf.hand).item
                assert isinstance(part, Part)
                for bore in part.bores:
                    if bore.hole.use == "pin":
                        u, v, _ = leaf.standing(placed, angle).point(bore.origin)
                        assert abs(u - x) < IN_LINE and abs(v - y) < IN_LINE


def assert_mirrored(right: LeafDesign, left: LeafDesign) -> None:
    """Volumes equal, holes mirrored in u, the flat of one hand the mirror of the other's."""
    assert [p.name for p in right.placed] == [p.name for p in left.placed]
    for one, two in zip(right.placed, left.placed, strict=True):
        x, y, z = right.standing(one, 20.0).origin
        a, b, c = left.standing(two, 20.0).origin
        assert (a, b, c) == pytest.approx((-x, y, z), abs=1e-9)
    for one, two in zip(right.made, left.made, strict=True):
        assert one.volume == pytest.approx(two.volume, rel=1e-12)
        mine = {(h.hole.name, round(-h.origin[0], 6), round(h.origin[1], 6)) for h in one.bores}
        assert mine == {
            (h.hole.name, round(h.origin[0], 6), round(h.origin[1], 6)) for h in two.bores
        }
        if isinstance(one, SheetPart) and isinstance(two, SheetPart):
            flat, turned = one.flat_pattern(), two.flat_pattern()
            assert flat.outline.mirrored(across_x=True).bounds == pytest.approx(
                turned.outline.bounds
            )
            assert flat.area == pytest.approx(turned.area, rel=1e-12)


def test_left_hand_flat_folds_to_the_mirrored_solid(shelf: Shelf) -> None:
    """STEP-05: the kernel's mirror image of the right-hand solid and the left-hand solid are one body."""
    (leaf,) = design(survey("timber", "away")).leaves
    part = next(p for p in leaf.made if p.handed)
    image = shelf.solid(part).mirror("YZ")
    other = shelf.solid(part.mirrored())

    assert image.cut(other).Volume() == pytest.approx(0.0, abs=1e-3)
    assert other.cut(image).Volume() == pytest.approx(0.0, abs=1e-3)


def test_left_hand_gate_keeps_the_same_distances(shelf: Shelf) -> None:
    read = survey("round_steel", "away", frame="round_tube")
    (right,) = design(read).leaves
    left = replace(right, hand="left")
    near = ("actuator body", "leaf-bracket", "post-bracket-upper", "leaf")
    some = tuple(p for p in right.placed if p.name in near)

    found = [
        [row.least for row in swung(replace(leaf, placed=some), bodies_of(leaf, shelf.mesh), 15.0)]
        for leaf in (right, left)
    ]
    assert found[0] == pytest.approx(found[1], abs=0.05)  # the meshes' chord


@pytest.mark.parametrize(("px", "py", "gx", "gy"), [(-150, 180, 880, 95), (60, 150, 820, 110)])
def test_push_is_pull_run_backwards_in_a_mirror(px: float, py: float, gx: float, gy: float) -> None:
    """The post turned about the leaf: the same lengths and levers at t and at t - opening."""
    opening = 92.0
    qx, qy = kinematics.turned(px, py, -opening)  # the post pivot as the open leaf sees it
    for t in (0.0, 31.0, 60.5, 92.0):
        pull = kinematics.length(px, py, gx, gy, t)
        push = kinematics.length(qx, qy, gx, gy, t - opening)
        assert push == pytest.approx(pull, rel=1e-12)
        lever = kinematics.leverage(px, py, gx, gy, t)
        assert kinematics.leverage(qx, qy, gx, gy, t - opening) == pytest.approx(lever, rel=1e-12)
