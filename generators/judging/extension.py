"""A pivot extension: two plates that carry the pin past the bracket, each held by two bolts.

Each plate takes half of the level force at its far end; its two bolts, in single shear into the
ear it lies on, take the force and its moment. Frame: the seat frame, u and reach in plan. Units:
N, mm, MPa. Sources: AISC 360-16 F11, J3.6, J3.10; elastic bolt group (AISC Manual part 7).
"""

from collections.abc import Iterator
from math import hypot

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.ears import Ears, eye_checks, pin_checks
from hangpost.generators.judging.group import Group
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, plates
from hangpost.generators.strength.factors import allowable
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.tables import shank

OF = "pivot extension"


def extension_checks(
    bench: Bench, plate: PivotExtension, ear: float, loads: PinLoads
) -> Iterator[Check]:
    """Pin and eye at the far end, the plate as a bar, its bolts; `ear` is the bracket's plate."""
    eye = bench.hung.actuator.post_eye
    ends = Ears(
        of=OF,
        thickness=plate.plate_thickness,
        hole=plate.pin,
        tip=plate.tip,
        gap=float(eye.thickness + 2 * bench.shop.clearances.ear_side),
        reach=plate.far[1],
        start=0.0,
        pin_u=plate.far[0],
        root=(-plate.boss, plate.boss),
        eye=float(eye.thickness),
        pin=float(eye.pin),
    )
    yield from pin_checks(bench, ends, loads)
    yield from eye_checks(bench, ends, loads)
    yield _bar(bench, plate, loads)
    yield from _bolts(bench, plate, ear, loads)


def _bar(bench: Bench, plate: PivotExtension, loads: PinLoads) -> Check:
    """The plate bent on edge at the bolt nearer to the pin, its hole taken out."""
    t, depth, hole = plate.plate_thickness, 2 * plate.boss, plate.first_hole
    ways = [(plate.far[0] - u, plate.far[1] - w) for u, w in ((0.0, 0.0), plate.second)]
    du, dw = min(ways, key=lambda way: hypot(*way))
    moment = np.abs(du * loads.force[:, 2] - dw * loads.force[:, 0]) / 2
    row = int(np.argmax(moment))
    fy = bench.steel[0]
    net = fy * t * (depth**2 - hole**3 / depth) / 6
    whole = plates.strong_axis_moment(fy, depth, t, hypot(du, dw))
    return bench.held(
        f"{OF} bending",
        f"plate of the {OF} bent on edge at its nearer bolt: {loads.words(row)}",
        demand=float(moment[row]),
        allowed=allowable(min(net, whole), "yield"),
        unit="N mm",
        source="AISC 360-16 F11; elastic at the net section",
        working=f"M = F/2 x lever = {moment[row]:.0f}; min(Fy S net, F11) / 1.67 on {depth:.1f} x "
        f"{t:.2f}, hole {hole:.1f}, Lb {hypot(du, dw):.0f}",
    )


def _bolts(bench: Bench, plate: PivotExtension, ear: float, loads: PinLoads) -> Iterator[Check]:
    group = Group(points=((0.0, 0.0), plate.second), slides=(False, False))
    u, w = group.in_plane(loads.force[:, 0] / 2, loads.force[:, 2] / 2, plate.far)
    shear = np.hypot(u, w).max(axis=1)
    row = int(np.argmax(shear))
    force, when = float(shear[row]), loads.words(row)
    d = max(
        shank(size)
        for size in bench.shop.fasteners.bolts
        if bench.shop.pin_hole(shank(size)) <= plate.first_hole + 0.05
    )
    fnv, fu = bench.bolt_grade[1], bench.steel[1]
    yield bench.held(
        f"{OF} bolt shear",
        f"bolt of the {OF} between plate and ear: {when}",
        demand=force,
        allowed=allowable(bolts.shear(fnv, d), "bolt"),
        unit="N",
        source="AISC 360-16 Eq. J3-1",
        working=f"Fnv Ab / 2.00 = {fnv:.0f} x {bolts.shank_area(d):.1f} / 2.00, one plane a plate",
    )
    t, clear = min(plate.plate_thickness, ear), plate.boss - plate.first_hole / 2
    nominal = min(bolts.bearing(fu, d, t), bolts.tear_out(fu, clear, t))
    yield bench.held(
        f"{OF} bolt bearing",
        f"bolt of the {OF} on plate and ear, the thinner of them: {when}",
        demand=force,
        allowed=allowable(nominal, "bearing"),
        unit="N",
        source="AISC 360-16 Eq. J3-6a, c",
        working=f"min(2.4 d, 1.2 lc) t Fu / 2.00, d = {d:.2f}, lc = {clear:.1f}, t = {t:.2f}",
    )
