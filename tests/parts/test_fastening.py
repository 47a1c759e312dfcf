"""Fasteners as things that take up room."""

import pytest

from hangpost.parts import tables
from hangpost.parts.fastening import Fastener, head_size

SIZES = [row["size"] for row in tables.rows("fasteners")]


@pytest.mark.parametrize("size", SIZES)
def test_washer_covers_the_clearance_hole_and_the_head(size: str) -> None:
    head = head_size(size)

    assert head.washer_diameter > tables.hole(size, "loose") + 2 * head.washer_thickness
    assert head.washer_diameter > head.across_flats > 1.4 * tables.shank(size)


@pytest.mark.parametrize("size", SIZES)
def test_head_is_about_two_thirds_of_the_shank_high(size: str) -> None:
    """Trade rule of hexagon heads: height 0.6 to 0.75 of the diameter; memory."""
    assert 0.6 <= head_size(size).head_height / tables.shank(size) <= 0.75


@pytest.mark.parametrize(
    ("size", "flats"),
    # ISO 272 widths across flats: M8 13, M10 16, M12 18, M16 24, M20 30 mm; memory.
    # ASME B18.2.1: 1 1/2 times the diameter from 5/16 (1/2 in) up to the next 1/16; memory.
    [
        ("M8", 13),
        ("M10", 16),
        ("M12", 18),
        ("M16", 24),
        ("M20", 30),
        ("5/16", 12.7),
        ("1/2", 19.05),
        ("3/4", 28.575),
    ],
)
def test_width_across_flats(size: str, flats: float) -> None:
    assert head_size(size).across_flats == pytest.approx(flats, abs=0.01)


def test_unlisted_size_names_those_listed() -> None:
    with pytest.raises(tables.SizeError, match="M12"):
        head_size("M13")


def test_body_stands_on_the_plate_and_reaches_down_its_length() -> None:
    bolt = Fastener(kind="hex bolt", size="M12", length=90.0)
    box = bolt.body("b", 10.0, -20.0, 8.0).solid().BoundingBox(1e-4)

    assert box.zmax == pytest.approx(8 + bolt.stack, abs=1e-2)
    assert box.zmin == pytest.approx(8 + bolt.head.washer_thickness - 90, abs=1e-2)
    assert (box.xmin + box.xmax) / 2 == pytest.approx(10, abs=1e-2)
    assert box.xmax - box.xmin == pytest.approx(37, abs=1e-2)


@pytest.mark.parametrize("size", SIZES)
def test_socket_goes_over_the_corners_of_the_head(size: str) -> None:
    bolt = Fastener(kind="lag screw", size=size, length=100.0)

    assert bolt.socket_radius >= bolt.head.across_flats / 3**0.5 + 2.0  # half across corners, wall


# NDS 2018 12.1.3.2 (memory): 1/32 to 1/16 in over a bolt in wood. Drills at hand: sixteenths above
# 3/8 in, whole and half millimetres (common practice, no source).
@pytest.mark.parametrize("size", ["3/8", "1/2", "5/8", "3/4", "M10", "M12", "M16", "M20"])
def test_the_drill_of_a_through_hole_is_one_that_is_at_hand(size: str) -> None:
    bolt = Fastener(kind="hex bolt", size=size, length=100.0)
    over = bolt.through_drill - bolt.diameter
    step = 0.5 if size.startswith("M") else 25.4 / 16

    assert 25.4 / 32 <= over <= 25.4 / 16 + 1e-9
    assert bolt.through_drill / step == pytest.approx(round(bolt.through_drill / step))
