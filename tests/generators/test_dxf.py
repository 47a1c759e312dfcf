"""Cut files and template DXF read back by three programs that did not write them.

dxfgrabber and GDAL (through pyogrio) know nothing of ezdxf; the CAD kernel measures the area.
Limits: 0.01 mm on positions and sizes (issue 2).
"""

import io
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import dxfgrabber
import ezdxf
import numpy as np
import pyogrio
import pytest
from ezdxf import recover
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.verify.dxf_reader import opening, read_dxf
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.flat_faults import FaultyPattern, faults
from hangpost.generators.writers.template_dxf import template_dxf
from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.folded import FoldedPlate
from hangpost.parts.loop import Loop, Vertex, circle, rectangle
from hangpost.parts.solids import wire

PROFILES = ("cut", "full", "r12")


def grabbed(data: bytes) -> Any:
    return dxfgrabber.read(io.StringIO(data.decode("utf-8")))


def box_plate(**changes: Any) -> FlatPattern:
    plate = FlatPattern(
        thickness=5.0,
        outline=rectangle(-30, -20, 90, 60, 8),
        holes=(Hole("A", 0, 10, 12, "post"), Hole("B", 50, 20, 10, "post", 14.0, 25.0)),
    )
    return replace(plate, **changes)


@pytest.mark.parametrize("profile", PROFILES)
def test_audit_finds_nothing_and_mends_nothing(plate: FoldedPlate, profile: Any) -> None:
    data = flat_dxf(plate.flat_pattern(), profile)

    document, auditor = recover.read(io.BytesIO(data))
    assert not auditor.has_errors and not auditor.has_fixes
    assert document.dxfversion == ("AC1009" if profile == "r12" else "AC1024")


@pytest.mark.parametrize("profile", PROFILES)
def test_holes_as_another_reader_finds_them(plate: FoldedPlate, profile: Any) -> None:
    flat = plate.flat_pattern().at_corner()
    drawing = grabbed(flat_dxf(plate.flat_pattern(), profile))

    rings = [e for e in drawing.entities if e.dxftype == "CIRCLE"]
    found = sorted((e.center[0], e.center[1], 2 * e.radius) for e in rings)
    wanted = sorted((h.u, h.v, h.diameter) for h in flat.holes if not h.slot_length)
    assert np.allclose(found, wanted, atol=1e-5)
    loops = [e for e in drawing.entities if e.dxftype in ("LWPOLYLINE", "POLYLINE")]
    slots = [e for e in loops if sum(abs(abs(b) - 1) < 1e-9 for b in e.bulge) == 2]
    assert len(slots) == 2
    for hole in (h for h in flat.holes if h.slot_length):
        middles = [np.mean([p[:2] for p in e.points], axis=0) for e in slots]
        assert min(math.dist(m, (hole.u, hole.v)) for m in middles) < 1e-5


@pytest.mark.parametrize("profile", PROFILES)
def test_every_cut_entity_is_one_closed_loop_without_splines_or_text(
    plate: FoldedPlate, profile: Any
) -> None:
    drawing = grabbed(flat_dxf(plate.flat_pattern(), profile))

    cut = [e for e in drawing.entities if e.layer == "CUT"]
    assert {e.dxftype for e in cut} <= {"LWPOLYLINE", "POLYLINE", "CIRCLE"}
    assert all(e.is_closed for e in cut if e.dxftype != "CIRCLE")
    assert len(cut) == 1 + 1 + 4  # outline, window, holes
    rest = {e.dxftype for e in drawing.entities if e.layer != "CUT"}
    assert rest == ({"LINE"} if profile == "full" else set())


def test_units_are_said_everywhere(plate: FoldedPlate) -> None:
    document = ezdxf.read(io.StringIO(flat_dxf(plate.flat_pattern()).decode()))

    assert document.header["$INSUNITS"] == 4 and document.header["$MEASUREMENT"] == 1
    assert document.modelspace().units == 4
    assert document.block_records.get("*Model_Space").dxf.units == 4


def test_extents_are_the_flat_and_lie_in_the_positive_quadrant(plate: FoldedPlate) -> None:
    flat = plate.flat_pattern()
    for profile in PROFILES:
        drawing = grabbed(flat_dxf(flat, profile))  # type: ignore[arg-type]

        assert drawing.header["$EXTMIN"][:2] == pytest.approx((0, 0), abs=1e-6)
        assert drawing.header["$EXTMAX"][:2] == pytest.approx((flat.length, flat.width), abs=1e-5)
        corners = [
            p for e in drawing.entities if e.dxftype in ("LWPOLYLINE", "POLYLINE") for p in e.points
        ]
        assert min(p[0] for p in corners) >= 0 and min(p[1] for p in corners) >= 0


def test_bend_lines_lie_on_layers_of_their_own_and_end_on_the_outline(plate: FoldedPlate) -> None:
    drawing = grabbed(flat_dxf(plate.flat_pattern(), "full"))

    lines = {e.layer: e for e in drawing.entities if e.dxftype == "LINE"}
    assert set(lines) == {"BEND_UP", "BEND_DOWN"}
    up, down = lines["BEND_UP"], lines["BEND_DOWN"]
    assert abs(up.end[0] - up.start[0]) == pytest.approx(90) and up.start[1] == up.end[1]
    assert abs(down.end[0] - down.start[0]) == pytest.approx(70) and down.start[1] == down.end[1]
    layers = drawing.layers
    assert layers["BEND_UP"].color != layers["BEND_DOWN"].color
    assert layers["BEND_UP"].linetype != layers["BEND_DOWN"].linetype


def test_gdal_reads_the_same_outline_and_area(plate: FoldedPlate, tmp_path: Path) -> None:
    flat = plate.flat_pattern()
    path = tmp_path / "plate_mm.dxf"
    path.write_bytes(flat_dxf(flat))

    _, _, shapes, _ = pyogrio.raw.read(path)
    rings = [shoelace(ring_of(wkb)) for wkb in shapes]
    net = 2 * max(rings) - sum(rings)
    assert len(rings) == 6
    assert net == pytest.approx(flat.area, rel=1e-3)  # GDAL cuts arcs into chords


def test_area_is_the_face_of_the_solid(plate: FoldedPlate) -> None:
    import cadquery as cq

    flat = plate.flat_pattern()
    loops = [
        e.loop if e.kind != "CIRCLE" else circle(*e.vertices[0].point, e.diameter)
        for e in read_dxf(flat_dxf(flat)).entities
    ]
    loops.sort(key=lambda loop: -loop.area)
    face = cq.Face.makeFromWires(wire(loops[0]), [wire(loop) for loop in loops[1:]])

    assert face.Area() == pytest.approx(flat.area, rel=1e-6)


def test_etched_strokes_are_lines_in_the_full_profile_only(plate: FoldedPlate) -> None:
    strokes = [[(20.0, 10.0), (26.0, 18.0), (32.0, 10.0)]]

    full = grabbed(flat_dxf(plate.flat_pattern(), "full", etched=strokes))
    etched = [e for e in full.entities if e.layer == "ETCH"]
    assert [e.dxftype for e in etched] == ["LWPOLYLINE"] and not etched[0].is_closed
    left, bottom, _, _ = plate.flat_pattern().outline.bounds
    assert etched[0].points[1][:2] == pytest.approx((26 - left, 18 - bottom))
    cut = grabbed(flat_dxf(plate.flat_pattern(), "cut", etched=strokes))
    assert not [e for e in cut.entities if e.layer == "ETCH"]


def test_the_library_is_left_as_it_was(plate: FoldedPlate) -> None:
    ezdxf.options.write_fixed_meta_data_for_testing = False  # as a program that uses us has it
    flat_dxf(plate.flat_pattern())
    with pytest.raises(FaultyPattern):
        flat_dxf(box_plate(holes=(Hole("A", 500, 0, 12, "post"),)))

    assert not ezdxf.options.write_fixed_meta_data_for_testing


def test_a_sound_pattern_has_no_faults(plate: FoldedPlate) -> None:
    assert faults(plate.flat_pattern()) == []
    assert faults(box_plate()) == []


BOW_TIE = Loop((Vertex(0, 40), Vertex(100, 0), Vertex(100, 60), Vertex(0, 0)))
FAULTY = {
    "hole outside": ({"holes": (Hole("A", 200, 10, 12, "post"),)}, "outside"),
    "hole over the edge": ({"holes": (Hole("A", 88, 10, 12, "post"),)}, "cross"),
    "same hole twice": ({"holes": (Hole("A", 0, 10, 12, "post"), Hole("B", 0, 10, 12, "post"))}, "coincide"),
    "holes that overlap": ({"holes": (Hole("A", 0, 10, 12, "post"), Hole("B", 8, 10, 12, "post"))}, "cross"),
    "hole in a hole": ({"holes": (Hole("A", 0, 10, 30, "post"), Hole("B", 2, 10, 6, "post"))}, "one in the other"),
    "hole in the window": ({"windows": (rectangle(-12, 0, 14, 24, 2),)}, "one in the other"),
    "window on the outline": ({"windows": (rectangle(-30, 30, -10, 44),)}, "cross"),
    "clockwise": ({"outline": Loop(rectangle(-30, -20, 90, 60).vertices[::-1])}, "counter-clockwise"),
    "crossing itself": ({"outline": BOW_TIE, "holes": ()}, "self"),
    "not a number": ({"holes": (Hole("A", math.nan, 10, 12, "post"),)}, "not a number"),
    "no size": ({"holes": (Hole("A", 0, 10, -12, "post"),)}, "hole A"),
    "short edge": ({"outline": Loop((*rectangle(-30, -20, 90, 60).vertices, Vertex(-30, -19.999)))}, "shorter"),
    "loose bend": ({"bends": (Bend((-30, 30), (70, 30), 90, 6, 12, True),)}, "bend 1"),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTY)
def test_a_faulty_pattern_is_told_and_not_written(name: str) -> None:
    changes, words = FAULTY[name]
    pattern = box_plate(**changes)

    assert any(words in fault for fault in faults(pattern)), faults(pattern)
    with pytest.raises(FaultyPattern, match="flat pattern"):
        flat_dxf(pattern)


@given(
    at=st.tuples(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3)),
    turn=st.floats(-180, 180),
    size=st.floats(3, 40),
    travel=st.floats(0.5, 60),
)
def test_any_slot_comes_back_as_it_was(
    at: tuple[float, float], turn: float, size: float, travel: float
) -> None:
    hole = Hole("A", at[0], at[1], size, "post", travel, turn)
    outline = rectangle(at[0] - 120, at[1] - 130, at[0] + 110, at[1] + 140)
    flat = FlatPattern(thickness=5, outline=outline, holes=(hole,))
    found = [opening(e) for e in read_dxf(flat_dxf(flat)).entities]
    slots = [o for o in found if o is not None and o.length]

    assert len(slots) == 1
    slot = slots[0]
    assert math.dist(slot.at, (120, 130)) < 1e-4
    assert slot.diameter == pytest.approx(size, abs=1e-4) and slot.length == pytest.approx(
        travel, abs=1e-4
    )
    assert abs((slot.angle - turn + 90) % 180 - 90) < 0.01


def template() -> Template:
    return Template(
        id="post-face",
        part_id="post-bracket",
        face="hanging post, face towards the actuator",
        datum="leaf-side edge of the post at pin height",
        holes=(
            Drilling(name="A", u=-38.1, v=52.5, diameter=9.5, pilot=6.0, slot_length=16.0),
            Drilling(name="B", u=-96.4, v=-71.25, diameter=6.0),
        ),
        outline=rectangle(-120, -95, 8, 95, 6),
        edges=(0.0, -139.7),
        edge_names=("leaf side", "far side"),
        height=660.0,
        right_side="leaf side",
    )


def test_template_holes_lie_at_their_distances_from_the_datum() -> None:
    drawing = grabbed(template_dxf(template()))

    found = sorted((*e.center[:2], 2 * e.radius) for e in drawing.entities if e.layer == "HOLES")
    assert np.allclose(found, [(-96.4, -71.25, 6.0), (-38.1, 52.5, 9.5)], atol=1e-6)
    crosses = [e for e in drawing.entities if e.layer == "CENTRES"]
    for u, v in ((-38.1, 52.5), (-96.4, -71.25)):
        near = [e for e in crosses if math.dist(np.add(e.start[:2], e.end[:2]) / 2, (u, v)) < 1e-6]
        assert len(near) == 2
        assert all(math.dist(e.start[:2], e.end[:2]) >= 10 for e in near)  # PDF-05: 10 mm hairlines
    edges = {e.start[0] for e in drawing.entities if e.layer == "EDGES" and e.start[0] == e.end[0]}
    assert edges == {0.0, -139.7}
    words = [e.text for e in drawing.entities if e.layer == "TEXT"]
    assert "A" in words and any("datum" in w for w in words)


def ring_of(wkb: bytes) -> Any:
    """Points of a WKB line or polygon (OGC simple features, little endian)."""
    kind = int.from_bytes(wkb[1:5], "little")
    start = {2: 5, 3: 9, 1002: 5, 1003: 9, 0x80000002: 5, 0x80000003: 9}[kind]
    count = int.from_bytes(wkb[start : start + 4], "little")
    wide = 3 if kind > 1000 else 2
    points = np.frombuffer(wkb, "<f8", count * wide, start + 4).reshape(count, wide)
    return points[:, :2]


def shoelace(ring: Any) -> float:
    x, y = ring.T
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2)


def test_the_plain_reader_refuses_what_is_no_dxf() -> None:
    from hangpost.generators.verify.problem import Unreadable

    data = flat_dxf(box_plate())
    for damaged in (b"", b"hello\nworld\n", data[: len(data) // 2], data.replace(b"EOF", b"EOX")):
        with pytest.raises(Unreadable):
            read_dxf(damaged)
