"""Pictures without a display: silhouettes, hiding, the camera, the file."""

from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image

from hangpost.generators.report.painter import Camera, Thing, paint
from hangpost.generators.report.png import png
from hangpost.parts.solids import block, cylinder

from .report_made import Made


def thing(solid: Any, colour: tuple[float, float, float]) -> Thing:
    corners, triangles = solid.tessellate(0.01, 0.05)
    points = np.array([c.toTuple() for c in corners])
    return Thing(points, np.array(triangles), colour)


OUTLINE = 0.02  # the line around a thing adds a pixel to it
RED, BLUE = (0.9, 0.1, 0.1), (0.1, 0.1, 0.9)


def inked(picture: np.ndarray) -> np.ndarray:
    return (picture < 250).any(axis=2)


def test_silhouette_of_a_block_is_its_rectangle() -> None:
    picture = paint([thing(block((0, 0, 0), (120, 50, 70)), RED)], Camera(turn=0, rise=0), 400, 300)
    rows, columns = np.nonzero(inked(picture))

    # 120 x 70 straight on, the longer way filling 92 % of 400 pixels.
    assert np.ptp(columns) + 1 == pytest.approx(368, abs=2)
    assert np.ptp(rows) + 1 == pytest.approx(368 * 70 / 120, abs=2)
    assert inked(picture).sum() == pytest.approx(368 * 368 * 70 / 120, rel=OUTLINE)


def test_silhouette_of_a_tube_from_above_is_its_ring() -> None:
    tube = cylinder((0, 0, 0), (0, 0, 1), 50, 30).cut(cylinder((0, 0, 0), (0, 0, 1), 30, 30))
    picture = paint([thing(tube, RED)], Camera(turn=0, rise=90), 600, 600)
    scale = 0.92 * 600 / 100

    assert inked(picture).sum() == pytest.approx(np.pi * (50**2 - 30**2) * scale**2, rel=OUTLINE)


def test_what_is_nearer_hides_what_is_behind_whatever_the_order() -> None:
    near = thing(block((0, -100, 0), (40, -60, 40)), RED)
    far = thing(block((-40, 60, -40), (80, 100, 80)), BLUE)
    one = paint([near, far], Camera(turn=0, rise=0), 200, 200)
    two = paint([far, near], Camera(turn=0, rise=0), 200, 200)

    assert (one == two).all()
    assert one[100, 100, 0] > 2 * one[100, 100, 2]  # red in the middle
    assert one[20, 20, 2] > 2 * one[20, 20, 0]  # blue around it


@pytest.mark.parametrize(("turn", "rise"), [(0, 0), (90, 0), (35, 20), (208, 25), (300, 90)])
def test_camera_looks_along_square_axes(turn: float, rise: float) -> None:
    right, up, toward = Camera(turn=turn, rise=rise).axes
    a, b = np.radians([turn, rise])

    assert np.cross(right, up) == pytest.approx(toward, abs=1e-12)
    assert right @ right == pytest.approx(1) and right @ up == pytest.approx(0, abs=1e-12)
    assert up[2] >= 0 and right[2] == 0
    # Straight on the eye stands at -y; it goes round with the clock reversed, and up.
    assert toward == pytest.approx(
        [np.sin(a) * np.cos(b), -np.cos(a) * np.cos(b), np.sin(b)], abs=1e-12
    )


def test_turning_the_camera_is_turning_the_thing_the_other_way() -> None:
    a = thing(block((0, 0, 0), (120, 50, 70)), RED)
    back = np.column_stack([-a.vertices[:, 0], -a.vertices[:, 1], a.vertices[:, 2]])
    one = paint([a], Camera(turn=215, rise=30), 200, 150)
    two = paint([Thing(back, a.faces, RED)], Camera(turn=35, rise=30), 200, 150)

    assert np.abs(one.astype(int) - two).max() <= 2


def test_picture_file_is_read_by_another_reader_pixel_for_pixel() -> None:
    pixels = np.random.default_rng(7).integers(0, 256, (37, 53, 3), dtype=np.uint8)
    pixels[10:20] = 255

    assert (np.asarray(Image.open(BytesIO(png(pixels)))) == pixels).all()


def test_every_picture_of_the_pack_shows_something(report: Made) -> None:
    pictures = {path: data for path, data in report.files.items() if path.endswith(".png")}

    assert len(pictures) == 3 + len(report.design.parts)
    for data in pictures.values():
        share = inked(np.asarray(Image.open(BytesIO(data)).convert("RGB"))).mean()
        assert 0.01 < share < 0.9
