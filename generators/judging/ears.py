"""The pin and the two ears it stands in, alike on every bracket: shear, bearing, bending, root.

The two ears share a level force equally (the pin is in double shear); the weight rests on one of
them. Frame: the seat frame; the ear lies level, its root along u, the pin `reach` out (w).
Units: N, mm, MPa.
Sources: AISC 360-16 D5, E3, F11, H1, J4, J7; EN 1993-1-8:2005 3.13 for the pin; ASME BTH-1-2005
3-3.3 as a second opinion on the eye, and as the verdict where the hole is too loose for D5.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.strength import lugs, pins, plates
from hangpost.generators.strength.factors import allowable, factor

SECTIONS = 6  # places along an ear that are looked at, root included


@dataclass(frozen=True, slots=True, kw_only=True)
class Ears:
    """Two like ears and their pin, as a judge sees them."""

    of: str  # "post bracket"
    thickness: float
    hole: float
    tip: float  # radius about the pin
    gap: float  # clear between the ears
    reach: float  # pin to the seat
    start: float  # reach at which the bend or weld ends and the flat of the ear begins
    pin_u: float
    root: tuple[float, float]  # least and greatest u
    eye: float  # thickness of the actuator's eye
    pin: float  # diameter
    joint: str = "bend"  # how an ear joins its seat: "bend", or the "root" of a welded one

    @property
    def length(self) -> float:
        """From the start of the flat to the pin."""
        return self.reach - self.start

    @property
    def depth(self) -> float:
        """Width of the root: the depth of the ear as a bar on edge."""
        return self.root[1] - self.root[0]

    def section(self, share: float) -> tuple[float, float]:
        """Depth and middle u of the ear at a share of the way from pin to root."""
        middle = (self.root[0] + self.root[1]) / 2
        wide = 2 * self.tip + (self.depth - 2 * self.tip) * share
        return wide, self.pin_u + (middle - self.pin_u) * share


def ear_checks(bench: Bench, ears: Ears, loads: PinLoads) -> Iterator[Check]:
    """Every check of the pin, the eyes of the ears and the ears as bars."""
    yield from pin_checks(bench, ears, loads)
    yield from eye_checks(bench, ears, loads)
    yield from bar_checks(bench, ears, loads)


def pin_checks(bench: Bench, ears: Ears, loads: PinLoads) -> Iterator[Check]:
    """The pin in double shear, bent over its gaps, and both together."""
    row = int(np.argmax(loads.level))
    force, when = float(loads.level[row]), loads.words(row)
    fy, d = float(bench.shop.fasteners.pin_yield), ears.pin
    shear = allowable(pins.double_shear(fy, d), "yield")
    yield bench.held(
        f"{ears.of} pin shear",
        f"pin of the {ears.of} in double shear: {when}",
        demand=force,
        allowed=shear,
        unit="N",
        source="AISC 360-16 J4.2(a), yielding of both planes",
        working=f"2 x 0.6 Fy A / 1.67 = 2 x 0.6 x {fy:.0f} x {pins.area(d):.1f} / 1.67",
    )
    side = max(0.0, (ears.gap - ears.eye) / 2)
    moment = pins.bending_moment(force, eye=ears.eye, gap=side, ear=ears.thickness)
    bending = allowable(pins.bending_strength(fy, d), "yield")
    yield bench.held(
        f"{ears.of} pin bending",
        f"pin of the {ears.of} bent over the gap of {side:.1f} mm beside the eye: {when}",
        demand=moment,
        allowed=bending,
        unit="N mm",
        source="EN 1993-1-8:2005 Fig. 3.11 (moment), AISC 360-16 F11.1 (strength)",
        working=f"M = F (b + 4c + 2a) / 8 = {force:.0f} x ({ears.eye:.1f} + 4 x {side:.1f} + "
        f"2 x {ears.thickness:.2f}) / 8; Fy min(Z, 1.6 S) / 1.67, d = {d:.2f}",
    )
    yield bench.used(
        f"{ears.of} pin shear and bending",
        f"pin of the {ears.of} in shear and bending together: {when}",
        share=pins.shear_and_bending(force / shear, moment / bending),
        source="EN 1993-1-8:2005 3.13.2(3)",
        working=f"sqrt(({force:.0f}/{shear:.0f})^2 + ({moment:.0f}/{bending:.0f})^2)",
    )


def eye_checks(bench: Bench, ears: Ears, loads: PinLoads) -> Iterator[Check]:
    """The metal about the pin: AISC first, BTH-1 as second opinion."""
    row = int(np.argmax(loads.level))
    half, when = float(loads.level[row]) / 2, loads.words(row)
    (fy, fu), t, d, hole = bench.steel, ears.thickness, ears.pin, ears.hole
    nd = factor("design.category_a")
    edge = ears.tip - hole / 2
    # D5.2(d) wants a = 4/3 be: with a round end no more of the width counts than that allows.
    side = min(edge, 0.75 * edge)
    loose = hole > lugs.largest_hole(d)
    opinion = "the verdict, as the hole is too loose for D5" if loose else "second opinion"
    rows = (
        (
            "bearing",
            allowable(lugs.bearing(fy, t, d), "bearing"),
            "AISC 360-16 Eq. J7-1",
            f"1.8 Fy d t / 2.00 = 1.8 x {fy:.0f} x {d:.2f} x {t:.2f} / 2.00",
            False,
        ),
        (
            "tear-out",
            allowable(lugs.shear_rupture(fu, t, d, edge), "rupture"),
            "AISC 360-16 Eq. D5-2",
            f"0.6 Fu 2t (a + d/2) / 2.00 = 0.6 x {fu:.0f} x 2 x {t:.2f} x ({edge:.1f} + "
            f"{d / 2:.2f}) / 2.00",
            False,
        ),
        (
            "net section",
            allowable(lugs.tension_rupture(fu, t, side), "rupture"),
            "AISC 360-16 Eq. D5-1",
            f"Fu 2t be / 2.00 = {fu:.0f} x 2 x {t:.2f} x {lugs.effective_width(t, side):.1f} / "
            "2.00, be held to 3/4 a",
            False,
        ),
        (
            "bearing under a turning pin",
            lugs.bearing_turning_bth(fy, t, d, nd=nd),
            "ASME BTH-1-2005 Eq. 3-54 (second opinion)",
            f"0.63 Fy d t / Nd = 0.63 x {fy:.0f} x {d:.2f} x {t:.2f} / {nd:g}",
            True,
        ),
        (
            "tear-out by BTH-1",
            lugs.shear_bth(fu, t, edge, d, hole, nd=nd, edge_radius=ears.tip),
            f"ASME BTH-1-2005 Eq. 3-49 to 3-52 ({opinion})",
            f"0.7 Fu Av / (1.2 Nd), Nd = {nd:g}, hole {hole:.2f}",
            not loose,
        ),
        (
            "net section by BTH-1",
            lugs.tension_bth(fy, fu, t, edge, d, hole, nd=nd),
            f"ASME BTH-1-2005 Eq. 3-45 ({opinion})",
            f"Cr Fu 2t beff / (1.2 Nd), Cr = {lugs.fit_factor(d, hole):.3f}, beff = "
            f"{lugs.effective_width_bth(fy, fu, t, edge, hole):.1f}",
            not loose,
        ),
        (
            "fracture beyond the pin by BTH-1",
            lugs.fracture_bth(fu, t, edge, ears.tip, d, hole, nd=nd),
            f"ASME BTH-1-2005 Eq. 3-48 ({opinion})",
            f"Cr Fu (1.13 (R - Dh/2) + 0.92 be / (1 + be/Dh)) t / (1.2 Nd), be = {edge:.1f}",
            not loose,
        ),
    )
    for name, allowed, source, working, warning in rows:
        yield bench.held(
            f"{ears.of} ear {name}",
            f"{name} at the pin in each ear of the {ears.of}: {when}",
            demand=half,
            allowed=allowed,
            unit="N",
            source=source,
            working=working,
            warning=warning,
        )


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
