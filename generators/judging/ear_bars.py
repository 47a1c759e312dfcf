"""The ears of a bracket as bars on edge, and where they join their seat: bending, buckling, root.

The two ears share a level force equally; the weight rests on one of them. Frame: the seat frame;
the ear lies level, its root along u. Units: N, mm, MPa.
Sources: AISC 360-16 D2, E3, F11, H1; elastic stress at the root.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.ears import Ears, eye_checks, pin_checks
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.strength import lugs, plates
from hangpost.generators.strength.factors import allowable

SECTIONS = 6  # places along an ear that are looked at, root included


def ear_checks(bench: Bench, ears: Ears, loads: PinLoads) -> Iterator[Check]:
    """Every check of the pin, the eyes of the ears and the ears as bars."""
    yield from pin_checks(bench, ears, loads)
    yield from eye_checks(bench, ears, loads)
    yield from bar_checks(bench, ears, loads)


def ear_actions(ears: Ears, force: Floats, share: float) -> tuple[Floats, Floats, Floats]:
    """Axial force, moment on edge and moment on the flat at a section of the fuller-loaded ear."""
    _, middle = ears.section(share)
    along = ears.length * share
    axial = force[:, 2] / 2
    strong = force[:, 2] / 2 * (ears.pin_u - middle) - force[:, 0] / 2 * along
    return axial, strong, force[:, 1] * along


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    """What acts on a section of an ear and what it may take, each as a pair."""

    depth: float
    axial: tuple[float, float]
    strong: tuple[float, float]
    weak: tuple[float, float]


def bar_checks(bench: Bench, ears: Ears, loads: PinLoads) -> Iterator[Check]:
    """The ear as a bar on edge, and the stress where it joins its seat."""
    fy, t = bench.steel[0], ears.thickness
    found: list[tuple[float, int, float, _Bar]] = []
    for k in range(SECTIONS, 0, -1):
        share = k / SECTIONS
        depth, _ = ears.section(share)
        pulled = allowable(lugs.gross_yield(fy, depth, t), "yield")
        pushed = allowable(plates.axial_strength(fy, depth, t, ears.length), "yield")
        edge = allowable(plates.strong_axis_moment(fy, depth, t, ears.length), "yield")
        flat = allowable(plates.weak_axis_moment(fy, depth, t), "yield")
        axial, strong, weak = ear_actions(ears, loads.force, share)
        capacity = np.where(axial > 0, pulled, pushed)
        use = np.abs(axial) / capacity + np.abs(strong) / edge + np.abs(weak) / flat
        row = int(np.argmax(use))
        bar = _Bar(
            depth=depth,
            axial=(float(axial[row]), float(capacity[row])),
            strong=(float(strong[row]), edge),
            weak=(float(weak[row]), flat),
        )
        found.append((float(use[row]), row, share, bar))
    _, row, share, bar = max(found, key=lambda each: each[0])
    (axial_f, axial_c), (strong_m, strong_c), (weak_m, weak_c) = bar.axial, bar.strong, bar.weak
    where = "at its root" if share == 1.0 else f"at {share:.2f} of the way from pin to root"
    yield bench.used(
        f"{ears.of} ear bending",
        f"ear of the {ears.of} as a bar on edge, {where}, depth {bar.depth:.0f} mm: "
        f"{loads.words(row)}",
        share=plates.interaction(axial_f / axial_c, strong_m / strong_c, weak_m / weak_c),
        source="AISC 360-16 F11, E3 and D2, ratios added (on the safe side of H1-1)",
        working=f"N/Nc + M/Mc + m/mc = {abs(axial_f):.0f}/{axial_c:.0f} + {abs(strong_m):.0f}/"
        f"{strong_c:.0f} + {abs(weak_m):.0f}/{weak_c:.0f}, t = {t:.2f}, Lb = {ears.length:.0f}",
    )
    yield _root(bench, ears, loads)


def _root(bench: Bench, ears: Ears, loads: PinLoads) -> Check:
    fy, t, depth = bench.steel[0], ears.thickness, ears.depth
    axial, strong, weak = ear_actions(ears, loads.force, 1.0)
    shear = np.abs(loads.force[:, 0]) / 2
    direct = (
        np.abs(axial) / (depth * t)
        + np.abs(strong) / plates.elastic_modulus(depth, t)
        + np.abs(weak) / plates.elastic_modulus(t, depth)
    )
    row = int(np.argmax(np.hypot(direct, np.sqrt(3) * shear / (depth * t))))
    stress = plates.root_stress(
        depth,
        t,
        axial=float(axial[row]),
        strong=float(strong[row]),
        weak=float(weak[row]),
        shear=float(shear[row]),
    )
    return bench.held(
        f"{ears.of} {ears.joint} stress",
        f"largest stress at the {ears.joint} where an ear of the {ears.of} joins its seat: "
        f"{loads.words(row)}",
        demand=stress,
        allowed=allowable(fy, "yield"),
        unit="MPa",
        source="elastic, von Mises; AISC 360-16 Omega 1.67 on Fy",
        working=f"N = {axial[row]:.0f}, M = {strong[row]:.0f}, m = {weak[row]:.0f}, V = "
        f"{shear[row]:.0f} on {depth:.1f} x {t:.2f}",
    )
