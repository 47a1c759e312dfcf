"""The clearance engine's short cuts: none promises more than the distance, and few angles are measured."""

from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from hangpost.generators.clearance import Moving, sweep
from hangpost.generators.clearance.meeting import Meeting
from hangpost.generators.clearance.solid import Solid, box_gap, facet_gap, reversed_places, slab
from hangpost.parts.frame import Frame, turned

SWING = [float(a) for a in range(91)]


def still(angle: float) -> Frame:
    return Frame()


@settings(max_examples=40, deadline=None)
@given(
    turn=st.floats(-180, 180),
    at=st.tuples(st.floats(-300, 300), st.floats(-300, 300), st.floats(-80, 80)),
    way=st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1)),
)
def test_no_short_cut_promises_more_than_the_distance(turn: float, at: Any, way: Any) -> None:
    """What lets an angle be passed over: boxes, facets by themselves, slabs in any direction."""
    fork = trimesh.util.concatenate(
        [
            trimesh.creation.box(bounds=b)
            for b in ([(0, 0, 20), (120, 60, 26)], [(0, 0, -26), (120, 60, -20)])
        ]
    )
    eye = trimesh.creation.annulus(r_min=7, r_max=19, height=22)
    a = Solid(Moving(name="fork", vertices=fork.vertices, faces=fork.faces, pose=still))
    b = Solid(
        Moving(name="eye", vertices=eye.vertices, faces=eye.faces, pose=lambda _: turned(turn, at))
    )
    meeting = Meeting(a, b, (0.0,))
    places = meeting.seen(0.0)[None]
    true = meeting.gap(0.0)
    length = float(np.linalg.norm(way))

    back = reversed_places(places)
    assert np.allclose(back[0] @ places[0], np.eye(4), atol=1e-9)
    assert box_gap(a, b, places)[0] <= true + 1e-9
    assert facet_gap(a, b, places, 1e3)[0] <= true + 1e-9
    assert facet_gap(b, a, back, 1e3)[0] <= true + 1e-9
    assert facet_gap(a, b, places, 1e3)[0] >= box_gap(a, b, places)[0] - 1e-9
    for enough in (true / 2, true + 1.0):
        told = min(facet_gap(a, b, places, 1e3)[0], enough)
        assert facet_gap(a, b, places, enough)[0] == pytest.approx(told)
    if length > 0.1:
        assert slab(a, b, places, np.array(way) / length)[0] <= true + 1e-9


def test_an_eye_between_two_ears_is_measured_at_few_angles(monkeypatch: pytest.MonkeyPatch) -> None:
    ears = (
        [(-40, -20, 12), (60, 20, 18)],
        [(-40, -20, -18), (60, 20, -12)],
        [(50, -20, -18), (60, 20, 18)],
    )
    fork = trimesh.boolean.union([trimesh.creation.box(bounds=b) for b in ears], engine="manifold")
    ring = trimesh.creation.annulus(r_min=7, r_max=19, height=22)
    eye = Moving(name="eye", vertices=ring.vertices, faces=ring.faces, pose=turned)
    body = Moving(name="fork", vertices=fork.vertices, faces=fork.faces, pose=still)
    looked: list[float] = []
    real = Meeting.gap

    def counted(self: Meeting, angle: float) -> float:
        looked.append(angle)
        return real(self, angle)

    monkeypatch.setattr(Meeting, "gap", counted)
    (row,) = sweep([eye, body], SWING, [("eye", "fork")])
    assert row.least == pytest.approx(1.0)
    assert len(set(looked)) < 15  # of 91
    assert row.at_angle == 0.0  # as near at every angle: told where the gate is closed
    (row,) = sweep([eye, body], SWING[::-1], [("eye", "fork")])
    assert row.at_angle == 90.0
