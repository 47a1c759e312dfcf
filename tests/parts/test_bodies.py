"""Bodies that the CAD kernel has stumbled over are made all the same, to the volume by hand."""

from math import pi

import pytest

from hangpost.generators.shelf import Shelf
from hangpost.parts.bodies import Bar, Body

# A leaf of round tube that was drawn at random: its fused solid was not valid, one of its faces
# got no facets, while the mirror image of the same leaf was sound.
RADIUS, BORE, LONG, TALL = 21.082, 17.907, 2740.025, 1920.875
LEAF = Body(
    name="leaf",
    shapes=(
        *(
            Bar(start=(-0.0, 0.0, z), axis=(-1.0, 0.0, 0.0), radius=RADIUS, length=LONG, bore=BORE)
            for z in (104.775, 511.175, 1984.375)
        ),
        *(
            Bar(start=(-x, 0.0, 84.1375), axis=(-0.0, 0.0, 1.0), radius=RADIUS, length=TALL)
            for x in (21.082, 2718.943)
        ),
    ),
)


@pytest.mark.parametrize("leaf", [LEAF, LEAF.mirrored()], ids=["drawn", "mirrored"])
def test_crossing_bars_of_one_thickness_make_a_sound_solid_and_mesh(leaf: Body) -> None:
    solid, mesh = leaf.solid(), Shelf().mesh(leaf)
    # Tubes and bars less what they share at the six crossings (the middle rails' ends are half
    # in a stile); two equal cylinders share 16 r^3 / 3 (Archimedes), so the sum bounds it.
    tubes = 3 * pi * (RADIUS**2 - BORE**2) * LONG
    bars = 2 * pi * RADIUS**2 * TALL
    most, least = tubes + bars, tubes + bars - 6 * 16 * RADIUS**3 / 3

    assert solid.isValid()
    assert least < solid.Volume() < most
    assert mesh.is_closed
    assert mesh.volume == pytest.approx(solid.Volume(), rel=0.02)
