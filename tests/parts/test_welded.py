"""Ears and jig of the welded bracket: they fit the post and each other."""

from dataclasses import replace
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.ear import EarHole
from hangpost.parts.flat import ParameterError
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig


@pytest.fixture
def round_ear() -> WeldEar:
    return WeldEar(
        id="ear", plate_thickness=10.0, pin=17.0, pin_u=45.0, reach=90.0, tip=25.0, root=(-35.0, 42.0),
        outside=114.3, joins=(EarHole(u=10.0, reach=40.0, diameter=13.5, edge=20.0),),
    )  # fmt: skip


@pytest.fixture
def straight() -> WeldEar:
    return WeldEar(
        id="ear", plate_thickness=8.0, pin=17.0, pin_u=30.0, reach=90.0, tip=25.0, root=(-50.0, 50.0)
    )  # fmt: skip


def test_pieces_are_what_they_say(round_ear, straight, sound, holes_inside, handed) -> None:
    for ear in (round_ear, straight):
        sound(ear)
        holes_inside(ear)
        handed(ear)
        jig = WeldJig.for_ear(ear, id="jig", gap=26.0, bore=16.4, nose=14.0)
        sound(jig)
        handed(jig)


def test_back_edge_is_an_arc_of_the_post_and_its_fit(round_ear: WeldEar) -> None:
    """4 in pipe: outside diameter 4.500 in = 114.3 mm, ASME B36.10M."""
    arcs = [e for e in round_ear.outline.edges if e.bulge < 0]

    assert len(arcs) == 1
    assert arcs[0].radius == pytest.approx(4.5 * 25.4 / 2 + 0.5)
    assert arcs[0].centre == pytest.approx((0.0, -57.15), abs=1e-9)
    assert round_ear.weld_length == pytest.approx(arcs[0].length)


@given(u=st.floats(-35, 42))
def test_every_point_of_the_back_edge_is_the_fit_off_the_post(u: float) -> None:
    ear = WeldEar(
        id="ear",
        plate_thickness=10.0,
        pin=17.0,
        pin_u=45.0,
        reach=90.0,
        tip=25.0,
        root=(-35.0, 42.0),
        outside=114.3,
    )
    assert hypot(u, ear.back_edge(u) + 57.15) - 57.15 == pytest.approx(0.5)


def test_ear_for_three_inches_on_a_three_and_a_half_inch_post_is_found() -> None:
    ear = WeldEar(
        id="e",
        plate_thickness=8.0,
        pin=13.0,
        pin_u=0.0,
        reach=60.0,
        tip=22.0,
        root=(-30.0, 30.0),
        outside=76.2,
    )

    assert ear.gap_on(76.2) == pytest.approx(ear.fit)
    assert ear.gap_on(88.9) > ear.fit + 1.0


def test_jig_stands_on_the_post_and_holds_the_pin(round_ear: WeldEar) -> None:
    """The jig between the ears: its bore in line with theirs, its nose on the pipe, 15 mm off the seam."""
    import cadquery as cq

    jig = WeldJig.for_ear(round_ear, id="jig", gap=26.0, bore=16.4, nose=14.0)
    post = cq.Solid.makeCylinder(57.15, 60, cq.Vector(0, -57.15, -10), cq.Vector(0, 0, 1))
    solid = jig.solid()

    assert jig.bores[0].origin[:2] == round_ear.bores[0].origin[:2]
    assert solid.intersect(post).Volume() == pytest.approx(0.0, abs=1e-3)
    assert solid.distance(post) == pytest.approx(0.0, abs=1e-6)
    for u in (-30.0, 33.5):  # where it is tacked
        seam = cq.Vertex.makeVertex(u, round_ear.back_edge(u), 13.0)
        assert solid.distance(seam) >= 15.0


def test_mistakes_are_refused(round_ear: WeldEar, straight: WeldEar) -> None:
    with pytest.raises(ParameterError, match="root on the post"):
        replace(round_ear, root=(-55.0, 55.0))
    with pytest.raises(ParameterError) as told:
        replace(straight, tip=12.0, plate_thickness=2.0)
    for name in ("thickness", "pin edge"):
        assert name in str(told.value)
    with pytest.raises(ParameterError, match="nose on the post"):
        WeldJig.for_ear(round_ear, id="jig", gap=26.0, bore=16.4, nose=60.0)


def test_a_jig_whose_pin_is_too_near_the_seams_is_refused(straight: WeldEar) -> None:
    """Half the bore and 8 mm of plastic behind the pin, then 15 mm free for the tack (house)."""
    needed = 16.4 / 2 + 8.0 + 15.0
    for reach, made in ((needed + 0.1, True), (needed - 0.1, False)):
        ear = replace(straight, reach=reach)
        if made:
            assert WeldJig.for_ear(ear, id="jig", gap=26.0, bore=16.4, nose=14.0).reach == reach
            continue
        with pytest.raises(ParameterError, match="pin to the seams"):
            WeldJig.for_ear(ear, id="jig", gap=26.0, bore=16.4, nose=14.0)
