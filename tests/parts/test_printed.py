"""Every printed part as a printer gets it: meshed in its print pose and looked at by trimesh."""

from math import radians, sin

import numpy as np
import pytest

from hangpost.parts.part import PrintedPart
from hangpost.parts.saddle import SaddleBlock, SleeveBore
from hangpost.parts.solids import located
from hangpost.parts.spacer import SpacerBlock
from hangpost.parts.wedge import WedgeShim
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig

EAR = WeldEar(
    id="ear",
    plate_thickness=10.0,
    pin=17.0,
    pin_u=45.0,
    reach=90.0,
    tip=25.0,
    root=(-35.0, 42.0),
    outside=114.3,
)
PARTS: list[PrintedPart] = [
    SpacerBlock(
        id="block", centre=(-30.0, 12.0), width=70.0, length=130.0, height=19.0, corner=6.0,
        bores_at=((-42.0, -25.0), (-22.0, 50.0)), bore=19.5,
    ),
    SaddleBlock(
        id="saddle", outside=88.9, width=96.0, length=150.0, height=20.0, depth=24.0,
        sleeves=(SleeveBore(0.0, -50.0, 18.0), SleeveBore(3.0, 40.0, 18.0)),
    ),
    WedgeShim(
        id="wedge", tilt_u=0.8, tilt_v=-2.1, centre=(-40.0, 95.0), width=90.0, length=130.0, height=14.0,
        bores_at=((-50.0, 60.0), (-30.0, 130.0)), bore=19.0,
    ),
    WeldJig.for_ear(EAR, id="jig", gap=26.0, bore=16.4, nose=14.0),
]  # fmt: skip


@pytest.mark.parametrize(
    "part", [*PARTS, *(p.mirrored() for p in PARTS)], ids=lambda p: f"{p.id}-{p.hand}"
)
def test_print_pose_is_watertight_flat_on_the_bed_and_free_of_overhangs(part: PrintedPart) -> None:
    """MSH-01, MSH-02, MSH-04, MSH-05: one watertight body, z from 0, bores upright and round, no overhang."""
    import trimesh

    points, faces = located(part.solid(), part.print_frame).tessellate(0.02, 0.1)
    mesh = trimesh.Trimesh([(p.x, p.y, p.z) for p in points], faces)

    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1
    assert mesh.euler_number == 2 - 2 * len(part.bores)
    assert mesh.volume == pytest.approx(part.volume, rel=5e-3)
    assert mesh.bounds[0][2] == pytest.approx(0.0, abs=1e-6)
    assert mesh.bounds[1][2] == pytest.approx(part.thickness, abs=1e-3)
    assert all(abs(part.print_frame.direction(b.axis)[2]) == pytest.approx(1.0) for b in part.bores)
    heights = mesh.triangles_center[:, 2]
    steep = mesh.face_normals[:, 2] < -sin(radians(48))  # more than 45 degrees, and the facets
    assert not np.any(steep & (heights > 1e-6))
    on_bed = mesh.area_faces[steep & (heights < 1e-6)].sum()
    level = mesh.area_faces[(mesh.face_normals[:, 2] > 0.99) & (heights > 1e-6)].sum()
    assert on_bed > 0.85 * level  # the chamfer takes a little of the side that lies down
    lying = mesh.vertices[mesh.vertices[:, 2] < 1e-6]
    foot = lying.max(axis=0) - lying.min(axis=0)
    whole = mesh.bounds[1] - mesh.bounds[0]
    assert all(1.0 <= b - a <= 2.0 + 1e-6 for a, b in zip(foot[:2], whole[:2], strict=True))
