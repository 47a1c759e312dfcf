"""STL and 3MF read back by trimesh and by the 3MF consortium's own library (lib3mf).

Limits: volume 0.5 % and a box of 0.05 mm, lowest point 0 (shop checklist MSH-01 to MSH-03).
"""

import io
from importlib.metadata import version
from typing import Any

import lib3mf
import numpy as np
import pytest
import trimesh

from hangpost.generators.writers.mesh import Mesh, meshed, on_bed, stl, three_mf
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.frame import Frame
from hangpost.parts.solids import block, cylinder, folded_solid
from hangpost.parts.spacer import SpacerBlock


@pytest.fixture(scope="module")
def spacer() -> SpacerBlock:
    return SpacerBlock(
        id="spacer", width=70, length=110, height=14, corner=6, bores_at=((-18, 30), (12, -35)), bore=16.3
    )  # fmt: skip


@pytest.fixture(scope="module")
def lying(spacer: SpacerBlock) -> Mesh:
    return on_bed(meshed(spacer.solid()), spacer.print_frame)


def loaded(data: bytes) -> Any:
    return trimesh.load(io.BytesIO(data), file_type="stl", force="mesh")


def read_3mf(data: bytes) -> Any:
    wrapper = lib3mf.get_wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert reader.GetWarningCount() == 0
    return wrapper, model


def test_stl_is_closed_one_body_and_as_large_as_the_part(spacer: SpacerBlock, lying: Mesh) -> None:
    """MSH-01."""
    mesh = loaded(stl(lying, spacer.mark))

    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1
    assert mesh.volume == pytest.approx(spacer.volume, rel=1e-3)
    assert mesh.euler_number == 2 - 2 * 2  # a block with two holes
    assert mesh.extents == pytest.approx((70, 110, 14), abs=1e-4)
    assert np.all(mesh.area_faces > 0)


def test_printed_part_lies_on_the_bed_in_the_positive_corner(lying: Mesh) -> None:
    """MSH-02."""
    least, _ = lying.bounds

    assert least.tolist() == [0.0, 0.0, 0.0]


def test_on_bed_turns_the_part_as_its_print_frame_says() -> None:
    mesh = meshed(block((10, 20, 30), (14, 26, 41)))
    standing = Frame((0, 0, 0), (0, 0, 1), (1, 0, 0))  # u up, v along x

    turned = on_bed(mesh, standing)
    assert turned.bounds[1] == pytest.approx((6, 11, 4))
    assert turned.bounds[0].tolist() == [0, 0, 0]


def test_bores_keep_their_diameter(spacer: SpacerBlock, lying: Mesh) -> None:
    mesh = loaded(stl(lying, "x"))

    cut = trimesh.intersections.mesh_plane(mesh, plane_normal=(0, 0, 1), plane_origin=(0, 0, 7))
    middles = cut[:, :, :2].mean(axis=1)  # of the chords: where the mesh lies farthest inside
    for centre in ((35 - 18, 55 + 30), (35 + 12, 55 - 35)):
        away = np.linalg.norm(middles - centre, axis=1)
        corners = np.linalg.norm(cut[:, :, :2].reshape(-1, 2) - centre, axis=1)
        assert corners.min() == pytest.approx(16.3 / 2, abs=0.02)
        assert 16.3 / 2 - 0.02 < away.min() <= 16.3 / 2  # MSH-04: chords within 0.02 mm
        assert np.count_nonzero(away < 16.3 / 2 + 0.01) >= 60


def test_3mf_says_millimetre_name_and_what_made_it(spacer: SpacerBlock, lying: Mesh) -> None:
    """MSH-03, MSH-08."""
    wrapper, model = read_3mf(three_mf(lying, spacer.mark, "ASA & more <solid>"))

    assert (
        model.GetUnit() == wrapper.ModelUnit.MilliMeter
        if hasattr(wrapper, "ModelUnit")
        else model.GetUnit() == 1
    )
    objects = model.GetMeshObjects()
    assert objects.Count() == 1
    objects.MoveNext()
    only = objects.GetCurrentMeshObject()
    assert only.GetName() == spacer.mark and only.IsManifoldAndOriented()
    metadata = model.GetMetaDataGroup()
    told = {
        metadata.GetMetaData(k).GetName(): metadata.GetMetaData(k).GetValue()
        for k in range(metadata.GetMetaDataCount())
    }
    assert told["Title"] == spacer.mark and told["Application"] == f"hangpost {version('hangpost')}"
    assert told["Description"] == "ASA & more <solid>"
    items = model.GetBuildItems()
    assert items.Count() == 1
    items.MoveNext()
    assert not items.GetCurrent().HasObjectTransform()


def test_3mf_and_stl_hold_the_same_numbers(spacer: SpacerBlock, lying: Mesh) -> None:
    _, model = read_3mf(three_mf(lying, spacer.mark))
    objects = model.GetMeshObjects()
    objects.MoveNext()
    corners = np.array([v.Coordinates[:] for v in objects.GetCurrentMeshObject().GetVertices()])

    mesh = loaded(stl(lying, spacer.mark))
    assert corners.min(0) == pytest.approx(mesh.bounds[0], abs=1e-4)
    assert corners.max(0) == pytest.approx(mesh.bounds[1], abs=1e-4)
    assert len(corners) == len(lying.vertices)


def test_mesh_of_a_bent_plate_is_closed_and_close_to_it(plate: FoldedPlate) -> None:
    mesh = meshed(folded_solid(plate))
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)

    assert mesh.is_closed and other.is_watertight
    assert mesh.volume == pytest.approx(float(other.volume), rel=1e-9)
    assert mesh.volume == pytest.approx(plate.volume, rel=1e-3)
    assert mesh.chord == 0.05


def test_flat_faced_bodies_have_no_chord_error() -> None:
    assert meshed(block((0, 0, 0), (1, 2, 3))).chord == 0
    assert meshed(cylinder((0, 0, 0), (0, 0, 1), 5, 10)).chord == 0.05


def test_meshing_again_gives_the_same_mesh_whatever_was_asked_before(plate: FoldedPlate) -> None:
    solid = folded_solid(plate)
    first = meshed(solid)
    solid.tessellate(0.005, 0.02)  # the kernel keeps the finest mesh it ever made of a shape
    second = meshed(solid)

    assert np.array_equal(first.vertices, second.vertices)
    assert np.array_equal(first.faces, second.faces)


def test_an_open_surface_is_not_closed() -> None:
    mesh = meshed(block((0, 0, 0), (1, 2, 3)))

    assert mesh.is_closed
    assert not Mesh(mesh.vertices, mesh.faces[1:]).is_closed
    flipped = mesh.faces.copy()
    flipped[0] = flipped[0][::-1]
    assert not Mesh(mesh.vertices, flipped).is_closed


def test_placed_mesh_keeps_its_volume_and_lands_where_the_frame_says() -> None:
    mesh = meshed(block((0, 0, 0), (4, 6, 11)))
    frame = Frame((100, 50, 7), (0, 1, 0), (0, 0, 1))

    placed = mesh.placed(frame)
    assert placed.volume == pytest.approx(4 * 6 * 11)
    assert placed.bounds[0] == pytest.approx((100, 50, 7))
    assert placed.bounds[1] == pytest.approx((111, 54, 13))
