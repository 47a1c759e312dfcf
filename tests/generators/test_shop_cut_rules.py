"""What a fabricator's process asks of a flat: DXF-11, DXF-12 and DXF-14, over every part of three gates.

Shapes by shapely, files read by ezdxf. The thresholds are those of fabricators' guides (common
practice, no source): two thicknesses from a hole to a bend, four for a flange.
"""

import io
from dataclasses import replace
from math import atan2, cos, degrees, hypot, pi, radians, sin

import ezdxf
import pytest
from shapely import LineString, Point, Polygon, box
from shapely.affinity import rotate, translate

from hangpost.generators.manifest_part import part_data
from hangpost.generators.verify.cut_files import cut_faults
from hangpost.generators.verify.listed import ListedPart
from hangpost.generators.writers.drawing_notes import notes
from hangpost.generators.writers.dxf import flat_dxf
from hangpost.generators.writers.lists import cut_length
from hangpost.generators.writers.nesting import nest_dxf, nests

from .shop_gates import PROFILES, every_gate, flats, gate


def plate_of(flat):
    return Polygon(flat.outline.points(0.01), [w.points(0.01) for w in flat.windows])


def strip(bend, long=0.0):
    """The bent zone: its allowance wide, as long as its line and `long` more on either side."""
    (ax, ay), (bx, by) = bend.start, bend.end
    apart, half = hypot(bx - ax, by - ay), bend.allowance / 2
    line = LineString([(-long, 0.0), (apart + long, 0.0)])
    zone = box(line.bounds[0], -half, line.bounds[2], half)
    turned = rotate(zone, degrees(atan2(by - ay, bx - ax)), origin=(0, 0))
    return translate(turned, ax, ay)


@every_gate
def test_holes_and_flanges_keep_off_the_bends_and_partial_bends_are_relieved(name):
    """DXF-11: two thicknesses from a hole to the bent zone, flanges of four, relief at the ends."""
    bends = 0
    for part, flat in flats(name):
        t, plate = flat.thickness, plate_of(flat)
        for bend in flat.bends:
            bends += 1
            zone = strip(bend)
            for hole in flat.holes:
                assert Polygon(hole.loop.points(0.01)).distance(zone) >= 2 * t - 0.02, part.mark
            # nothing of the plate goes on beside the bent zone, beyond either end of its line
            met = strip(bend, 500.0).intersection(plate).buffer(0)
            pieces = getattr(met, "geoms", [met])
            own = next(p for p in pieces if p.distance(zone.centroid) < 0.01)
            assert own.difference(zone.buffer(0.02)).area < 0.05, part.mark
            flange = max(
                abs((x - bend.start[0]) * ny + (y - bend.start[1]) * nx)
                for x, y in flat.outline.points(0.01)
                for nx, ny in [normal(bend)]
            )
            assert flange >= 4 * t
    assert bends or name == "round post welded, mm"


def normal(bend):
    (ax, ay), (bx, by) = bend.start, bend.end
    apart = hypot(bx - ax, by - ay)
    return (bx - ax) / apart, -(by - ay) / apart


@every_gate
def test_washers_cover_their_slots_and_lie_on_flat_metal_at_both_ends_of_the_travel(name):
    """DXF-12."""
    seen = 0
    design = gate(name)[0]
    for fixing in (f for leaf in design.leaves for f in leaf.fixings):
        for part, flat in flats(name):
            slots = [h for h in flat.holes if h.slot_length and h.use == fixing.name]
            if not part.id.startswith(f"{fixing.name}-bracket"):
                continue
            metal = plate_of(flat)
            for slot in slots:
                seen += 1
                a = radians(slot.slot_angle)
                for way in (-0.5, 0.5):
                    at = (
                        slot.u + way * slot.slot_length * cos(a),
                        slot.v + way * slot.slot_length * sin(a),
                    )
                    washer = footprint(fixing, slot, at)
                    beside = washer.difference(metal.buffer(0.05)).area
                    assert beside <= 0.02 * washer.area, (part.mark, slot.name)  # round corners
                    assert not any(washer.intersects(strip(bend)) for bend in flat.bends)
                    head = fixing.fastener.head.washer_diameter / 2
                    assert metal.buffer(0.05).covers(Point(at).buffer(head))
                    assert washer.covers(Polygon(slot.loop.points(0.05))), (part.mark, slot.name)
    assert seen or name == "round post welded, mm"


def footprint(fixing, slot, at):
    washer = fixing.slot_washer
    if washer is None:
        return Point(at).buffer(fixing.fastener.head.washer_diameter / 2, quad_segs=64)
    whole = box(-washer.half_length, -washer.half_width, washer.far_length, washer.half_width)
    return translate(rotate(whole, slot.slot_angle, origin=(0, 0)), *at)


@every_gate
def test_no_corner_of_a_post_bracket_is_sharp_where_the_cable_may_lie(name):
    """GEO-14: its outside corners are rounded, 2 mm at the least."""
    seen = 0
    for part, flat in flats(name):
        if not part.id.startswith("post-bracket"):
            continue
        edges = flat.outline.edges
        for edge, after in zip(edges, (*edges[1:], edges[0]), strict=True):
            if edge.bulge or after.bulge:
                continue
            (ax, ay), (bx, by), (cx, cy) = edge.start, edge.end, after.end
            cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
            turn = degrees(atan2(cross, (bx - ax) * (cx - bx) + (by - ay) * (cy - by)))
            assert turn < 30.0, (part.mark, edge.end)
        for edge in (e for e in edges if e.bulge > 0 and degrees(abs(e.sweep)) > 30.0):
            seen += 1
            assert edge.radius >= 2.0, (part.mark, edge.start)
    assert seen or name == "round post welded, mm"


@every_gate
def test_holes_that_the_process_does_not_cut_are_crosses_to_drill(name):
    """DXF-14: no circle under the process's limit, a cross on ETCH, a note to DRILL."""
    design = gate(name)[0]
    limit = {"process": "plasma", "smallest_hole": 15.5}
    cutting = design.shop.cutting.model_copy(update=limit)
    shop = design.shop.model_copy(update={"cutting": cutting})
    crosses = 0
    for part, flat in flats(name):
        small = [
            h
            for h in flat.holes
            if not h.slot_length and h.diameter < max(15.5, 1.5 * flat.thickness)
        ]
        least = shop.cutting.least_hole(flat.thickness)
        cut = flat.as_cut(least)
        corner = {h.name: h for h in flat.at_corner().holes}
        told = ListedPart.model_validate(part_data(part, 1, {}, least_hole=least))
        for profile, kind in zip(PROFILES, ("dxf", "dxf_full", "dxf_r12"), strict=True):
            data = flat_dxf(cut, profile)
            space = ezdxf.read(io.StringIO(data.decode())).modelspace()
            rings = [(c.dxf.center.x, c.dxf.center.y) for c in space.query("CIRCLE")]
            for hole in small:
                assert not [c for c in rings if hypot(c[0] - hole.u, c[1] - hole.v) < 0.1]
            assert len(rings) == sum(not h.slot_length for h in flat.holes) - len(small)
            etched = list(space.query('LINE[layer=="ETCH"]'))
            assert len(etched) == (0 if profile == "cut" else 2 * len(small)), part.mark
            for line in etched:
                middle = (line.dxf.start + line.dxf.end) / 2
                own = min(
                    (corner[h.name] for h in small),
                    key=lambda h: hypot(h.u - middle.x, h.v - middle.y),
                )
                assert hypot(own.u - middle.x, own.v - middle.y) < 1e-5
                assert (line.dxf.end - line.dxf.start).magnitude < own.diameter  # drilled away
            assert list(cut_faults(data, told, kind)) == []
            whole = list(cut_faults(flat_dxf(flat, profile), told, kind))
            bare = list(cut_faults(flat_dxf(replace(cut, marked=()), profile), told, kind))
            assert bool(whole) == bool(small)
            assert bool(bare) == bool(small and profile != "cut")
        said = " ".join(notes(part, shop))
        assert ("DRILL" in said) == bool(small)
        assert all(f"{h.name} Ø" in said for h in small)
        assert cut_length(flat) - cut_length(cut) == pytest.approx(
            sum(pi * h.diameter for h in small)
        )
        crosses += 2 * len(small)
    sheets = [ezdxf.read(io.StringIO(nest_dxf(n).decode())) for n in nests(design.parts, shop)]
    drawn = sum(len(s.modelspace().query('LINE[layer=="ETCH"]')) for s in sheets)
    counts = {p.mark: n for p, n in design.parts}
    assert drawn == sum(
        2 * counts[p.mark]
        for p, f in flats(name)
        for _ in f.as_cut(shop.cutting.least_hole(f.thickness)).marked
    )
    assert crosses >= 4
