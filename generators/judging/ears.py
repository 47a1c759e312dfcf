"""The pin and the eyes of the two ears it stands in, alike on every bracket: shear, bearing, tear.

The two ears share a level force equally (the pin is in double shear); the weight rests on one of
them. Frame: the seat frame; the ear lies level, its root along u, the pin `reach` out (w).
Units: N, mm, MPa.
Sources: AISC 360-16 D5, F11.1, J4, J7; EN 1993-1-8:2005 3.13 for the pin; ASME BTH-1-2005
3-3.3 as a second opinion on the eye, and as the verdict where the hole is too loose for D5.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import lugs, pins
from hangpost.generators.strength.factors import allowable, factor


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
