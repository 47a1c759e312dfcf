"""What a shop and a maker ask of solids and prints, over every part of one pack: STEP- and MSH-.

STEP files are imported by cadquery (OCCT) and read as text; 3MF by lib3mf, STL by trimesh. The
volume of a bent part is its blank's and what each bend adds: V = t (A + sum l (a (R + t/2) - BA)).
"""

import io
import re
from importlib.metadata import version
from math import hypot, radians

import cadquery as cq
import lib3mf
import pytest
import trimesh
from OCP.BRepAdaptor import BRepAdaptor_Surface

from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.part import Part

from .family import design, survey
from .tampered import Built


@pytest.fixture(scope="module")
def imported(built: Built, tmp_path_factory: pytest.TempPathFactory):
    """Every part's STEP file as another program has it, by mark."""
    folder, found = tmp_path_factory.mktemp("steps"), {}
    for entry in built.data["parts"]:
        path = folder / f"{entry['id']}.step"
        path.write_bytes(built.files[entry["files"]["step"]])
        found[entry["id"]] = cq.importers.importStep(str(path)).val()
    return found


def test_every_part_file_holds_one_valid_solid_as_large_as_its_record(built: Built, imported):
    """STEP-01, STEP-02: volume within a thousandth, box within 0.01 mm, millimetres."""
    for entry in built.data["parts"]:
        shape = imported[entry["id"]]
        assert shape.isValid() and len(shape.Solids()) == 1, entry["id"]
        assert shape.Volume() == pytest.approx(entry["volume"], rel=1e-3)
        box = shape.BoundingBox(1e-4)
        (a, b, c), (d, e, f) = entry["solid_box"]
        assert (box.xmin, box.ymin, box.zmin) == pytest.approx((a, b, c), abs=0.01), entry["id"]
        assert (box.xmax, box.ymax, box.zmax) == pytest.approx((d, e, f), abs=0.01), entry["id"]
        assert b"SI_UNIT(.MILLI.,.METRE.)" in built.files[entry["files"]["step"]]


def test_products_carry_mark_revision_and_what_made_them(built: Built):
    """STEP-03: the version of a product is the id of its formation (ISO 10303-41)."""
    paths = {p["id"]: p["files"]["step"] for p in built.data["parts"]}
    for mark, path in paths.items():
        text = built.files[path].decode("ascii")
        assert re.findall(r"= ?PRODUCT\('([^']*)'", text) == [mark]
        assert re.findall(r"PRODUCT_DEFINITION_FORMATION\('([^']*)'", text) == ["A"]
        assert f"'hangpost {version('hangpost')}'" in text.partition("DATA;")[0]
    for path in built.data["assembly"]["files"].values():
        text = built.files[path].decode("ascii")
        assert set(re.findall(r"PRODUCT_DEFINITION_FORMATION\('([^']*)'", text)) == {"A"}
        uses = re.findall(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+','([^']*)'", text)
        assert len(uses) == len(set(uses)) > len(paths)  # STEP-04: every piece by its own name


def cylinders(shape):
    """Radii of the round faces."""
    faces = (f for f in shape.Faces() if f.geomType() == "CYLINDER")
    return [BRepAdaptor_Surface(f.wrapped).Cylinder().Radius() for f in faces]


def test_bent_parts_are_one_thickness_with_the_radii_of_their_bend_table(built: Built, imported):
    """STEP-05: and the solid is the blank folded, in volume and where its holes are."""
    bent = [p for p, _ in built.design.parts if p.flat_pattern() and p.flat_pattern().bends]
    assert len(bent) >= 3
    for part in bent:
        flat, shape = part.flat_pattern(), imported[part.mark]
        t, radii = flat.thickness, cylinders(shape)
        more = 0.0
        for bend in flat.bends:
            for wanted in (bend.radius, bend.radius + t):  # inside and outside of the bend
                assert any(abs(r - wanted) < 1e-4 for r in radii), part.mark
            line = hypot(bend.end[0] - bend.start[0], bend.end[1] - bend.start[1])
            more += line * (radians(bend.angle) * (bend.radius + t / 2) - bend.allowance)
        folded = t * (flat.area + more)
        near = 2e-3 if isinstance(part, LockReceiver) else 1e-6  # its mouth is bevelled
        assert shape.Volume() == pytest.approx(folded, rel=near), part.mark
        for bore in (b for b in part.bores if not b.hole.slot_length):
            axes = [
                BRepAdaptor_Surface(f.wrapped).Cylinder()
                for f in shape.Faces()
                if f.geomType() == "CYLINDER"
            ]
            near = [
                c
                for c in axes
                if abs(c.Radius() - bore.hole.diameter / 2) < 1e-4
                and off_axis(c.Axis().Location(), bore) < 0.02
            ]
            assert near, (part.mark, bore.hole.name)


def off_axis(point, bore) -> float:
    """Distance of a point from the axis of a bore."""
    way = [p - o for p, o in zip((point.X(), point.Y(), point.Z()), bore.origin, strict=True)]
    along = sum(w * a for w, a in zip(way, bore.axis, strict=True))
    return sum((w - along * a) ** 2 for w, a in zip(way, bore.axis, strict=True)) ** 0.5


@pytest.mark.parametrize("post", ["timber", "round_steel", "square_steel"])
def test_every_fastener_goes_through_all_that_it_holds(post: str):
    """STEP-06: on its bolt's line each plate, shim and washer has a hole that the bolt passes."""
    lean = "{ toward_leaf = 0.4, toward_actuator = 0.9 }"
    (leaf,) = design(survey(post, lean=lean)).leaves
    met = set()
    for fixing in leaf.fixings:
        for name, hole in fixing.holes:
            line = fixing.seat.point((hole.u, hole.v, 0.0))
            for placed in leaf.placed:
                if not isinstance(placed.item, Part) or placed.rides != fixing.rides:
                    continue
                for bore in placed.item.bores:
                    axis = placed.frame.direction(bore.axis)
                    turn = abs(sum(a * b for a, b in zip(axis, fixing.seat.w, strict=True)))
                    at = placed.frame.point(bore.origin)
                    way = [p - q for p, q in zip(at, line, strict=True)]
                    along = sum(w * n for w, n in zip(way, fixing.seat.w, strict=True))
                    off = [w - along * n for w, n in zip(way, fixing.seat.w, strict=True)]
                    away = sum(o * o for o in off) ** 0.5
                    if turn < 0.99 or away > 8.0 or abs(along) > 400.0:
                        continue
                    met.add(placed.item.id)
                    room = (bore.hole.diameter - fixing.fastener.diameter) / 2
                    assert 0.0 <= away <= room + 1e-9, (fixing.name, name, placed.name)
    shim = {"timber": "wedge", "round_steel": "saddle", "square_steel": "post-backing"}[post]
    assert {"leaf-bracket", "post-bracket-upper", "post-bracket-lower"} <= met
    assert any(mark.startswith(shim) for mark in met), met


def test_prints_carry_mark_material_revision_and_what_made_them(built: Built):
    """MSH-03, MSH-08: millimetres, no placement; the STL of the same name has the same box."""
    prints = [p["files"] for p in built.data["parts"] if "3mf" in p["files"]]
    assert prints
    for files in prints:
        wrapper = lib3mf.get_wrapper()
        model = wrapper.CreateModel()
        model.QueryReader("3mf").ReadFromBuffer(built.files[files["3mf"]])
        mark = next(p["id"] for p in built.data["parts"] if p["files"] == files)
        group = model.GetMetaDataGroup()
        told = {
            group.GetMetaData(k).GetName(): group.GetMetaData(k).GetValue()
            for k in range(group.GetMetaDataCount())
        }
        assert told["Title"] == mark and told["Application"] == f"hangpost {version('hangpost')}"
        assert re.fullmatch(r"ASA.*; revision A", told["Description"])
        assert files["3mf"].endswith("_mm.3mf") and files["stl"].endswith("_mm.stl")
        mesh = trimesh.load(io.BytesIO(built.files[files["stl"]]), file_type="stl")
        box = model.GetOutbox()
        assert mesh.bounds[0] == pytest.approx(list(box.MinCoordinate), abs=1e-4)
        assert mesh.bounds[1] == pytest.approx(list(box.MaxCoordinate), abs=1e-4)
        assert mesh.bounds[0][2] == pytest.approx(0.0, abs=1e-6)  # MSH-02
