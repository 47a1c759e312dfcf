"""A part as it stands in pack.json.

Its holes are told three times over, so that each file can be held against its own frame: `at` in
the plane of their panel, `flat_at` in the cut file (corner at 0, 0), `origin` and `axis` in the
STEP file. Units: mm, degrees, kg.
"""

from collections.abc import Mapping
from typing import Any

from hangpost.parts.flat import Bend, FlatPattern, Hole
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part, PrintedPart
from hangpost.parts.weld_ear import SEAMS, WeldEar

Data = dict[str, Any]


def part_data(
    part: Part, quantity: int, files: Mapping[str, str], *, least_hole: float = 0.0
) -> Data:
    """One entry of `parts`; `files` are its own, by kind; smaller holes are drilled, not cut."""
    flat = part.flat_pattern()
    data: Data = {
        "id": part.mark,
        "kind": part.kind,
        "hand": part.hand if part.handed else "either",
        "quantity": quantity,
        "material": part.material.name,
        "process": part.process,
        "thickness": part.thickness,
        "mass": part.mass,
        "volume": part.volume,
        "solid_box": [list(corner) for corner in part.box],
        "flat": None if flat is None else _flat(flat),
        "holes": _holes(part, flat, least_hole),
        "files": dict(files),
    }
    if isinstance(part, PrintedPart):
        data["print_frame"] = frame_data(part.print_frame)
    if isinstance(part, WeldEar) and part.weld_leg:
        data["weld"] = {"leg": part.weld_leg, "length": part.weld_length, "seams": SEAMS}
    return data


def _flat(flat: FlatPattern) -> Data:
    shown = flat.at_corner()
    return {
        "length": flat.length,
        "width": flat.width,
        "area": flat.area,
        "windows": len(flat.windows),
        "bends": [_bend(bend) for bend in shown.bends],
    }


def _bend(bend: Bend) -> Data:
    return {
        "angle": bend.angle,
        "radius": bend.radius,
        "allowance": bend.allowance,
        "up": bend.up,
        "start": list(bend.start),
        "end": list(bend.end),
    }


def _holes(part: Part, flat: FlatPattern | None, least: float) -> list[Data]:
    """Every hole where it is in its panel, in the cut file and in the solid."""
    names = [bore.hole.name for bore in part.bores]
    if len(set(names)) < len(names):
        raise ValueError(f"{part.mark}: two holes have the same name: {sorted(names)}")
    lying = {} if flat is None else {hole.name: hole for hole in flat.at_corner().holes}
    found = []
    for bore in part.bores:
        hole = bore.hole
        data = {**_hole(hole), "panel": bore.panel}
        if flat is not None:
            data["flat_at"] = [lying[hole.name].u, lying[hole.name].v]
            data["flat_angle"] = lying[hole.name].slot_angle
            data["drilled"] = hole.drilled(least)
        found.append({**data, "origin": list(bore.origin), "axis": list(bore.axis)})
    return found


def _hole(hole: Hole) -> Data:
    return {
        "name": hole.name,
        "at": [hole.u, hole.v],
        "diameter": hole.diameter,
        "slot_length": hole.slot_length,
        "slot_angle": hole.slot_angle,
        "use": hole.use,
    }


def frame_data(frame: Frame) -> Data:
    """A placement: its origin and the directions of u and v."""
    return {"origin": list(frame.origin), "u": list(frame.u), "v": list(frame.v)}
