"""Outlines of lines and arcs against the DXF reader's own arithmetic, the kernel and geometry."""

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.parts.loop import Edge, Loop, Vertex, circle, rectangle, rounded, slot

coordinate = st.floats(-500, 500)
size = st.floats(1, 300)
bulge = st.floats(0.01, 3).flatmap(lambda b: st.sampled_from([b, -b]))


@given(x=coordinate, y=coordinate, dx=size, dy=size, k=bulge)
def test_arc_is_the_one_a_dxf_reader_sees(
    x: float, y: float, dx: float, dy: float, k: float
) -> None:
    """Reference: ezdxf.math reads the bulge as the DXF reference defines it."""
    from ezdxf.math import bulge_center, bulge_radius

    edge = Edge((x, y), (x + dx, y - dy), k)

    assert edge.radius == pytest.approx(bulge_radius(edge.start, edge.end, k))
    assert edge.centre == pytest.approx(tuple(bulge_center(edge.start, edge.end, k)), abs=1e-6)


def test_half_circle_turns_to_the_left_of_its_chord_when_counter_clockwise() -> None:
    edge = Edge((0.0, 0.0), (10.0, 0.0), 1.0)  # counter-clockwise: bulges to the right of the way

    assert edge.at(0.5) == pytest.approx((5.0, -5.0))
    assert edge.length == pytest.approx(5 * pi)


@given(w=size, h=size, share=st.floats(0.01, 0.49))
def test_rounded_rectangle_loses_four_corners(w: float, h: float, share: float) -> None:
    r = share * min(w, h)
    loop = rectangle(-w / 3, -h / 5, w - w / 3, h - h / 5, r)

    assert loop.area == pytest.approx(w * h - (4 - pi) * r**2)
    assert loop.bounds == pytest.approx((-w / 3, -h / 5, 2 * w / 3, 4 * h / 5))


@given(x=coordinate, y=coordinate, d=size, length=st.floats(0, 200), angle=st.floats(-180, 180))
def test_slot_is_a_rectangle_and_two_half_discs(
    x: float, y: float, d: float, length: float, angle: float
) -> None:
    assert slot(x, y, d, length, angle).area == pytest.approx(pi * d * d / 4 + d * length)


@given(d=size, length=st.floats(1, 200), angle=st.sampled_from([0.0, 90.0, -90.0]))
def test_slot_lies_along_its_angle(d: float, length: float, angle: float) -> None:
    left, bottom, right, top = slot(3.0, 5.0, d, length, angle).bounds

    long, short = length + d, d
    assert (right - left, top - bottom) == pytest.approx((short, long) if angle else (long, short))


def test_area_and_bounds_agree_with_the_kernel() -> None:
    """Reference: OCCT's own area and bounding box of the same wire."""
    import cadquery as cq

    from hangpost.parts.solids import wire

    loop = rounded([(0, 0, 7), (90, 0, 20), (70, 40, 0), (30, 25, 9), (-20, 60, 5)])
    face = cq.Face.makeFromWires(wire(loop))
    box = wire(loop).BoundingBox(1e-7)

    assert loop.area == pytest.approx(face.Area(), rel=1e-9)
    assert loop.bounds == pytest.approx((box.xmin, box.ymin, box.xmax, box.ymax), abs=1e-3)


def test_reentrant_corner_is_rounded_outward_into_the_notch() -> None:
    plain = rounded([(0, 0, 0), (40, 0, 0), (40, 30, 0), (20, 30, 0), (20, 10, 0), (0, 10, 0)])
    filled = rounded([(0, 0, 0), (40, 0, 0), (40, 30, 0), (20, 30, 0), (20, 10, 4), (0, 10, 0)])

    assert plain.area == pytest.approx(40 * 10 + 20 * 20)
    assert filled.area - plain.area == pytest.approx((1 - pi / 4) * 16)


corners = st.lists(st.tuples(st.floats(20, 80), st.floats(0, 3)), min_size=3, max_size=9)


@given(spokes=corners, across=st.booleans(), dx=coordinate, dy=coordinate)
@settings(max_examples=60)
def test_mirror_and_shift_keep_area_and_sense(
    spokes: list[tuple[float, float]], across: bool, dx: float, dy: float
) -> None:
    from math import cos, sin

    step = 2 * pi / len(spokes)
    loop = rounded([(r * cos(i * step), r * sin(i * step), c) for i, (r, c) in enumerate(spokes)])
    image = loop.mirrored(across_x=across)

    assert image.area == pytest.approx(loop.area) and loop.area > 0
    assert image.mirrored(across_x=across).bounds == pytest.approx(loop.bounds)
    assert loop.moved(dx, dy).area == pytest.approx(loop.area, rel=1e-6)
    left, bottom, right, top = loop.bounds
    mirrored = (-right, bottom, -left, top) if across else (left, -top, right, -bottom)
    assert image.bounds == pytest.approx(mirrored)


@given(d=size, tolerance=st.floats(0.001, 0.1))
def test_polygon_keeps_its_chord_error(d: float, tolerance: float) -> None:
    points = circle(1.0, 2.0, d).points(tolerance)
    pairs = zip(points, points[1:] + points[:1], strict=True)
    middles = [((a[0] + b[0]) / 2 - 1, (a[1] + b[1]) / 2 - 2) for a, b in pairs]

    assert all(abs(sqrt((x - 1) ** 2 + (y - 2) ** 2) - d / 2) < 1e-9 * d for x, y in points)
    assert max(d / 2 - sqrt(x * x + y * y) for x, y in middles) <= tolerance * 1.0001


def test_tidied_drops_only_corners_on_a_straight_line() -> None:
    loop = Loop((Vertex(0, 0), Vertex(4, 0), Vertex(9, 0, 0.3), Vertex(9, 7), Vertex(0, 7)))

    assert len(loop.tidied().vertices) == 4
    assert loop.tidied().area == pytest.approx(loop.area)


@given(x=coordinate, y=coordinate, dx=size, dy=size, k=bulge)
def test_bounds_of_an_arc_either_way_round(
    x: float, y: float, dx: float, dy: float, k: float
) -> None:
    edge = Edge((x, y), (x + dx, y - dy), k)
    points = [edge.at(i / 400) for i in range(401)]
    found = list(edge.extremes())

    slack = edge.radius * (edge.sweep / 800) ** 2 + 1e-9
    for axis in (0, 1):
        for side in (min, max):
            assert side(p[axis] for p in found) == pytest.approx(
                side(p[axis] for p in points), abs=slack
            )


def test_arc_that_goes_on_straight_along_its_chord_is_kept() -> None:
    loop = Loop((Vertex(0, 0, 1.0), Vertex(10, 0), Vertex(20, 0), Vertex(20, 30), Vertex(0, 30)))

    assert loop.tidied() == loop


def test_moments_and_inset_agree_with_the_kernel() -> None:
    """Reference: OCCT's centre of area, and its own mitred offset of the wire."""
    import cadquery as cq

    from hangpost.parts.solids import wire

    loop = rounded([(0, 0, 7), (90, 0, 20), (70, 40, 0), (45, 25, 9), (-20, 60, 5)])
    face = cq.Face.makeFromWires(wire(loop))
    centre = face.Center()

    assert [m / loop.area for m in loop.moments] == pytest.approx([centre.x, centre.y], rel=1e-9)
    (inner,) = wire(loop).offset2D(-2.5, "intersection")
    assert loop.inset_area(2.5) == pytest.approx(cq.Face.makeFromWires(inner).Area(), rel=1e-9)
    assert circle(3, 4, 20).inset_area(-1.5) == pytest.approx(pi * 11.5**2)


@given(x=coordinate, y=coordinate, k=bulge)
@settings(max_examples=40)
def test_distance_to_an_outline_agrees_with_the_kernel(x: float, y: float, k: float) -> None:
    """Reference: OCCT's distance from a vertex to the wire."""
    import cadquery as cq

    from hangpost.parts.solids import wire

    loop = Loop((Vertex(-100, -80, min(k, 0.9)), Vertex(150, -60), Vertex(90, 120, 0.4)))

    assert loop.distance(x, y) == pytest.approx(
        wire(loop).distance(cq.Vertex.makeVertex(x, y, 0)), abs=1e-6
    )
