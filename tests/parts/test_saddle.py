"""Saddle blocks: the right radius, room for sleeves, how they lie on the printer."""

from dataclasses import replace
from math import acos, degrees, radians, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts import tables
from hangpost.parts.flat import ParameterError
from hangpost.parts.saddle import SaddleBlock, SleeveBore


@pytest.fixture
def saddle() -> SaddleBlock:
    return SaddleBlock(
        id="saddle", outside=88.9, width=96.0, length=150.0, height=20.0, depth=24.0,
        sleeves=(SleeveBore(0.0, -50.0, 18.0), SleeveBore(3.0, 40.0, 18.0), SleeveBore(-12.0, 5.0, 9.0, "post")),
    )  # fmt: skip


@pytest.fixture
def clamp() -> SaddleBlock:
    """A half of a split clamp: its bolts pass beside the tube."""
    return SaddleBlock(
        id="clamp", outside=42.2, width=90.0, length=50.0, height=12.0, depth=20.0,
        sleeves=(SleeveBore(-33.0, 4.0, 13.0), SleeveBore(33.0, 4.0, 13.0)),
    )  # fmt: skip


def test_blocks_are_what_they_say(saddle, clamp, sound) -> None:
    sound(saddle)
    sound(clamp)


def test_left_hand_is_the_mirror_image(saddle, handed) -> None:
    handed(saddle)


@pytest.fixture
def leaning(saddle: SaddleBlock) -> SaddleBlock:
    """For a post that leans two ways, its bores following its middle."""
    return replace(saddle, lean=(-1.4, 2.1), width=104.0)


def test_a_block_for_a_leaning_post_is_what_it_says_in_both_hands(leaning, sound, handed) -> None:
    for made in (leaning, replace(leaning, lean=(0.9, -1.6))):
        sound(made)
        handed(made)


def test_seat_and_bores_stay_plumb_and_the_hollow_follows_the_post(leaning: SaddleBlock) -> None:
    """By the solid's own faces: within 0.05 degrees; the hollow a true cylinder at the lean."""
    solid = leaning.solid()
    flats = [f for f in solid.Faces() if f.geomType() == "PLANE"]
    seat = max(flats, key=lambda f: f.Center().z)
    tubes = [f for f in solid.Faces() if f.geomType() == "CYLINDER"]
    hollow = max(tubes, key=lambda f: f.Area())
    way = hollow._geomAdaptor().Cylinder().Axis().Direction()

    assert degrees(acos(min(seat.normalAt().z, 1.0))) < 0.05
    assert hollow._geomAdaptor().Cylinder().Radius() == pytest.approx(leaning.radius)
    assert way.X() / way.Y() == pytest.approx(tan(radians(-1.4)), abs=1e-9)
    assert way.Z() / way.Y() == pytest.approx(tan(radians(2.1)), abs=1e-9)
    for tube in tubes:
        if tube._geomAdaptor().Cylinder().Radius() < 10.0:
            bore = tube._geomAdaptor().Cylinder().Axis().Direction()
            assert abs(bore.Z()) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("lean", [(0.0, 0.0), (-1.4, 2.1), (2.5, -2.5)])
def test_the_post_at_its_lean_lies_in_the_hollow_by_a_boolean(
    saddle: SaddleBlock, lean: tuple[float, float]
) -> None:
    """The kernel's cylinder for the post: nothing of it in the block, the fit and no more around."""
    from hangpost.parts.solids import cylinder

    made = replace(saddle, lean=lean, width=106.0)
    a, b = (tan(radians(angle)) for angle in lean)
    n = sqrt(1 + a * a + b * b)
    way, far = (a / n, 1 / n, b / n), 400.0
    start = (-far * way[0], -far * way[1], -88.9 / 2 - far * way[2])
    solid = made.solid()
    post, thicker = (cylinder(start, way, 88.9 / 2 + more, 2 * far) for more in (0.0, 0.41))

    assert solid.intersect(post).Volume() < 1e-3
    assert solid.intersect(thicker).Volume() > 100.0  # 0.2 of fit: it touches on the nearest line


@given(u=st.floats(-30, 30), v=st.floats(-70, 70), a=st.floats(-3, 3), b=st.floats(-3, 3))
def test_underside_is_the_hollow_radius_off_the_leaning_axis(
    u: float, v: float, a: float, b: float
) -> None:
    made = SaddleBlock(
        id="s", outside=88.9, width=110.0, length=150.0, height=24.0, depth=24.0, sleeves=(),
        lean=(a, b),
    )  # fmt: skip
    w = made.surface(u, v)
    if w <= -made.depth:
        return
    ways = tan(radians(a)), 1.0, tan(radians(b))
    n = sqrt(sum(x * x for x in ways))
    off = (u, v, w + 88.9 / 2 + 0.2 / sqrt(1 - (ways[2] / n) ** 2))
    along = sum(x * y / n for x, y in zip(off, ways, strict=True))

    assert sqrt(sum(x * x for x in off) - along**2) == pytest.approx(88.9 / 2 + 0.2, abs=1e-9)


@pytest.mark.parametrize("nps", ["3", "3-1/2", "4", "6"])
def test_hollow_has_the_radius_of_the_pipe(saddle: SaddleBlock, nps: str) -> None:
    """ASME B36.10M: 3 in pipe is 3.500 in outside, 4 in 4.500, 6 in 6.625."""
    outside = {"3": 3.5, "3-1/2": 4.0, "4": 4.5, "6": 6.625}[nps] * 25.4
    made = replace(saddle, outside=tables.pipe(nps).outside, width=outside + 20, fit=0.0)

    faces = [f for f in made.solid().Faces() if f.geomType() == "CYLINDER"]
    hollow = max(faces, key=lambda f: f.Area())
    assert hollow._geomAdaptor().Cylinder().Radius() == pytest.approx(outside / 2)
    axis = hollow._geomAdaptor().Cylinder().Axis()
    assert axis.Location().Z() == pytest.approx(-outside / 2)
    assert abs(axis.Direction().Y()) == pytest.approx(1.0)
    assert made.gap_on(outside) == pytest.approx(0.0, abs=1e-9)


def test_saddle_for_three_inches_on_a_three_and_a_half_inch_post_is_found(
    saddle: SaddleBlock,
) -> None:
    wrong = replace(saddle, outside=3.000 * 25.4)

    assert wrong.gap_on(3.500 * 25.4) > 1.0
    assert replace(saddle, outside=3.500 * 25.4, fit=0.2).gap_on(3.500 * 25.4) < 0.25  # the fit


@given(outside=st.floats(60, 170), other=st.floats(60, 170))
@settings(max_examples=50)
def test_gap_is_none_on_its_own_post_and_grows_with_the_mistake(
    outside: float, other: float
) -> None:
    made = SaddleBlock(
        id="s",
        outside=outside,
        fit=0.0,
        width=outside + 10,
        length=80,
        height=20,
        depth=0.2 * outside,
        sleeves=(),
    )
    c = min(made.half_chord, other / 2)
    sag = [d / 2 - sqrt((d / 2) ** 2 - c**2) for d in (outside, other)]

    assert made.gap_on(outside) == pytest.approx(0, abs=1e-9)
    assert made.gap_on(other) == pytest.approx(abs(sag[0] - sag[1]), abs=1e-9)


def test_front_and_backing_saddle_hold_the_post_between_them_with_bores_in_line(
    saddle: SaddleBlock,
) -> None:
    back = saddle.backing(id="back", height=14.0)

    for front, rear in zip(saddle.bores, back.bores, strict=True):
        at = saddle.behind.point(rear.origin)
        assert at[:2] == pytest.approx(front.origin[:2])
    crest, far = (0.0, 0.0, 0.0), saddle.behind.point((0.0, 0.0, 0.0))
    assert crest[2] - far[2] == pytest.approx(88.9)


def test_print_pose_has_the_seat_on_the_bed_and_bores_upright(saddle: SaddleBlock) -> None:
    """Lying at z 0, largest flat down, bores vertical, no face that overhangs."""
    import cadquery as cq

    from hangpost.parts.solids import located

    lying = located(saddle.solid(), saddle.print_frame)
    box = lying.BoundingBox(1e-6)
    flats = [f for f in lying.Faces() if f.geomType() == "PLANE"]
    largest = max(flats, key=lambda f: f.Area())

    assert box.zmin == pytest.approx(0.0, abs=1e-5) and box.zmax == pytest.approx(44.0, abs=1e-4)
    assert largest.Center().z == pytest.approx(0.0) and largest.normalAt().z == pytest.approx(-1.0)
    for face in flats:
        down = -face.normalAt().z
        assert down < 0.7072 or face.Center().z == pytest.approx(0.0, abs=1e-6)
    assert isinstance(lying, cq.Shape)
    for bore in saddle.bores:
        assert abs(saddle.print_frame.direction(bore.axis)[2]) == pytest.approx(1.0)


def test_sleeve_reaches_from_the_post_to_the_seat(saddle: SaddleBlock, clamp: SaddleBlock) -> None:
    assert saddle.sleeve_length(saddle.sleeves[0]) == pytest.approx(20.0)
    assert clamp.sleeve_length(clamp.sleeves[0]) == pytest.approx(32.0)


def test_weak_blocks_are_refused_with_every_reason(saddle: SaddleBlock) -> None:
    with pytest.raises(ParameterError) as told:
        replace(saddle, width=70.0, height=1.0, depth=60.0, sleeves=(SleeveBore(34.0, 70.0, 18.0),))

    for name in ("height", "post past the arms", "arm", "wall beside a bore", "wall before a bore"):
        assert name in str(told.value)
    with pytest.raises(ParameterError, match="hollow's edge"):
        replace(saddle, sleeves=(SleeveBore(saddle.half_chord - 5, 0.0, 18.0),))
    with pytest.raises(ParameterError):
        replace(saddle, outside=float("nan"))


@pytest.mark.parametrize(("lean", "name"), [((0.0, 2.0), "height"), ((2.0, 0.0), "arm")])
def test_a_lean_takes_from_the_block_what_it_moves_the_post_at_its_ends(
    saddle: SaddleBlock, lean: tuple[float, float], name: str
) -> None:
    """75 mm from the middle a post at 2 degrees is 75 tan 2 = 2.619 mm off; walls keep 2.4."""
    plain = replace(saddle, sleeves=())
    needed = {
        "height": 2.4 + plain.chamfer,
        "arm": 2 * (sqrt(44.65**2 - (44.65 - 24.0) ** 2) + 2.4),
    }[name]
    more = {"height": 2.619, "arm": 2 * 2.619}[name]
    key = {"height": "height", "arm": "width"}[name]

    assert replace(plain, **{key: needed + 0.01})
    assert replace(plain, **{key: needed + more + 0.01}, lean=lean)
    for short in ({key: needed - 0.01}, {key: needed + more - 0.01, "lean": lean}):
        with pytest.raises(ParameterError, match=name):
            replace(plain, **short)
