"""Welds and flat bars: AISC tables and formulas, the line method against textbook closed forms."""

import csv
from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.strength import plates, weld_lines, welds
from hangpost.generators.strength.factors import allowable
from hangpost.generators.strength.inch import INCH, LBF, PSI

KIP = 1000 * LBF
KSI = 1000 * PSI
MODULUS = 29_000 * KSI


def library(case: str) -> list[dict[str, str]]:
    lines = Path(__file__).with_name("libraries.csv").read_text(encoding="utf-8").splitlines()
    return [r for r in csv.DictReader(lines[1:]) if r["case"] == case]


def test_quarter_inch_fillet() -> None:
    """AISC J2.4, E70: 3.71 kip/in allowable, 5.57 with the load-factor method's 0.75."""
    nominal = welds.fillet_strength(70 * KSI, 0.25 * INCH)

    assert allowable(nominal, "weld") / (KIP / INCH) == pytest.approx(3.71, abs=0.006)
    assert 0.75 * nominal / (KIP / INCH) == pytest.approx(5.57, abs=0.006)


@pytest.mark.parametrize(("angle", "factor"), [(90, 1.5), (45, 1.2973), (0, 1.0)])
def test_fillet_is_stronger_across(angle: float, factor: float) -> None:
    """AISC J2-5, 1 + 0.5 sin^1.5: 1.5 at 90 degrees; a print rounds 45 degrees to 1.2925 (0.4 %)."""
    assert welds.direction_factor(angle) == pytest.approx(factor, abs=1e-4)


def test_fillet_at_45_degrees_against_the_print() -> None:
    assert welds.direction_factor(45) == pytest.approx(1.2925, rel=4e-3)


@pytest.mark.parametrize(
    ("thinner", "leg"),
    [
        (0.2, 1 / 8),
        (0.25, 1 / 8),
        (0.3, 3 / 16),
        (0.5, 3 / 16),
        (0.625, 1 / 4),
        (0.75, 1 / 4),
        (1.0, 5 / 16),
    ],
)
def test_least_leg_by_the_thinner_part(thinner: float, leg: float) -> None:
    """AISC Table J2.4."""
    assert welds.least_leg(thinner * INCH) == pytest.approx(leg * INCH)


@pytest.mark.parametrize("case", library("weld box"), ids=lambda r: r["given"])
def test_box_weld_agrees_with_a_library(case: dict[str, str]) -> None:
    """The library cuts the runs into short pieces and takes their middles: 0.1 %."""
    width, height, fx, fy, fz, x, y, z = (float(v) for v in case["given"].split())
    a, b = width / 2, height / 2
    box = np.array([[-a, -b, 0], [a, -b, 0], [a, b, 0], [-a, b, 0], [-a, -b, 0]])

    found = weld_lines.force_per_length([box], np.array([[fx, fy, fz]]), np.array([x, y, z]))

    assert found[0] == pytest.approx(float(case["value"]), rel=1e-3)


def test_flat_bar_moduli() -> None:
    """4 x 1/4 in: S and Z strong .6667 and 1.000, weak .04167 and .0625 in3, computed apart."""
    found = (
        plates.elastic_modulus(4, 0.25),
        plates.plastic_modulus(4, 0.25),
        plates.elastic_modulus(0.25, 4),
        plates.plastic_modulus(0.25, 4),
    )

    assert found == pytest.approx((0.6667, 1.0, 0.04167, 0.0625), rel=1e-3)


def test_lateral_buckling_limits_of_a36() -> None:
    """AISC F11: 0.08 E/Fy = 64.4 and 1.9 E/Fy = 1530.6."""
    assert plates.slenderness_limits(36, modulus=29_000) == pytest.approx((64.4, 1530.6), abs=0.06)


@pytest.mark.parametrize(
    ("depth", "thickness", "unbraced", "nominal", "allowed"),
    [
        (5.0, 3.0, 72.0, 675.0, 404.2),  # the bar of Design Example F.12: yields
        (3.0, 0.375, 8.0, 29.6, 17.73),  # inelastic buckling
        (4.0, 0.25, 60.0, 9.57, 5.73),  # elastic buckling
    ],
)
def test_bars_on_edge(
    depth: float, thickness: float, unbraced: float, nominal: float, allowed: float
) -> None:
    """AISC F11, A36, kip in: computed apart to four figures."""
    found = plates.strong_axis_moment(
        36 * KSI, depth * INCH, thickness * INCH, unbraced * INCH, modulus=MODULUS
    )

    assert found / (KIP * INCH) == pytest.approx(nominal, rel=2e-3)
    assert allowable(found, "yield") / (KIP * INCH) == pytest.approx(allowed, rel=2e-3)


def test_weak_axis_moment_never_buckles() -> None:
    assert plates.weak_axis_moment(250, 80, 10) == pytest.approx(250 * 80 * 100 / 4)


def test_ear_in_compression_has_the_code_curve() -> None:
    """AISC E3 by hand: 60 x 10 bar, 100 mm, K 2, Fy 250: KL/r 69.3, Fe 411, Fcr 194 MPa."""
    slenderness = 2 * 100 / (10 / 12**0.5)
    euler = pi**2 * 200_000 / slenderness**2

    assert slenderness == pytest.approx(69.28, abs=0.01)
    assert euler == pytest.approx(411.2, abs=0.1)
    assert plates.axial_strength(250, 60, 10, 100) == pytest.approx(193.8 * 600, rel=1e-3)


def test_von_mises_of_pure_shear() -> None:
    assert plates.von_mises(0, 100) == pytest.approx(173.205, abs=0.001)


def test_root_stress_adds_what_meets() -> None:
    """Plain statics of a 60 x 10 bar: 10 + 50 + 20 MPa direct, 15 MPa shear."""
    found = plates.root_stress(60, 10, axial=6000, strong=300_000, weak=20_000, shear=9000)

    assert found == pytest.approx((80**2 + 3 * 15**2) ** 0.5)


def test_plate_beside_a_weld_by_hand() -> None:
    """AISC J4.2(b) (memory): 0.6 Fu t."""
    assert welds.base_metal_strength(400, 6) == pytest.approx(1440)


def test_lines_in_space_are_the_textbook_lines_in_a_plane() -> None:
    """Two runs b along x, d apart (Blodgett; Shigley Table 9-1, 9-2): Iu and Ju by closed form."""
    b, d, t = 70.0, 12.0, np.array([[300.0, -900.0, 450.0]])
    seams = [np.array([[-b / 2, y, 0.0], [b / 2, y, 0.0]]) for y in (-d / 2, d / 2)]
    at = np.array([20.0, 5.0, 140.0])
    fx, fy, fz = t[0]
    mx, my, mz = np.cross(at, t[0])
    bending = (b * d**2 / 2, b**3 / 6)  # Iu about x and about y
    polar = b * (3 * d**2 + b**2) / 6
    by_hand = max(
        float(
            np.linalg.norm(
                (
                    fx / (2 * b) - mz * y / polar,
                    fy / (2 * b) + mz * x / polar,
                    fz / (2 * b) + mx * y / bending[0] - my * x / bending[1],
                )
            )
        )
        for x in (-b / 2, b / 2)
        for y in (-d / 2, d / 2)
    )

    assert weld_lines.force_per_length(seams, t, at)[0] == pytest.approx(by_hand)


def test_weld_round_a_tube_by_the_textbook() -> None:
    """Circle of lines (Blodgett; Shigley): Iu = pi r3, Ju = 2 pi r3; 96 chords are 0.1 % off."""
    r, force, lever = 40.0, 1000.0, 150.0
    turn = np.linspace(0.0, 2 * np.pi, 97)
    ring = [np.column_stack((r * np.cos(turn), r * np.sin(turn), 0 * turn))]
    bent = weld_lines.force_per_length(
        ring, np.array([[force, 0.0, 0.0]]), np.array([0.0, 0.0, lever])
    )
    twisted = weld_lines.force_per_length(
        ring, np.array([[force, 0.0, 0.0]]), np.array([0.0, -lever, 0.0])
    )
    direct = force / (2 * np.pi * r)

    assert bent[0] == pytest.approx(
        float(np.hypot(direct, force * lever * r / (np.pi * r**3))), rel=2e-3
    )
    assert twisted[0] == pytest.approx(direct + force * lever / (2 * np.pi * r**2), rel=2e-3)


@given(
    force=st.tuples(*[st.floats(-5000, 5000)] * 3),
    shift=st.tuples(*[st.floats(-80, 80)] * 3),
)
def test_lines_in_space_do_not_care_where_the_origin_is(
    force: tuple[float, float, float], shift: tuple[float, float, float]
) -> None:
    curve = np.linspace(-0.8, 0.7, 20)
    seam = np.column_stack((57 * np.sin(curve), np.full(20, 4.0), 57 * np.cos(curve)))
    seams = [seam, seam * np.array([1.0, -1.0, 1.0])]
    loads, at = np.array([force]), np.array([30.0, 0.0, 200.0])
    here = weld_lines.force_per_length(seams, loads, at)
    there = weld_lines.force_per_length([s + np.array(shift) for s in seams], loads, at + shift)

    assert there == pytest.approx(here, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("plate", "wall", "step", "leg"),
    [
        (6.35, 6.35, INCH / 16, 4.7625),  # 3/4 of 1/4 in: 3/16
        (9.525, 6.35, INCH / 16, 6.35),  # 3/4 of 3/8 in is 9/32; the wall holds it to 1/4
        (8.0, 10.0, 1.0, 6.0),
        (6.35, 2.0, 1.0, 3.175),  # Table J2.4: never under 1/8 in, the thin wall warns
    ],
)
def test_usual_leg_is_three_quarters_of_the_plate(
    plate: float, wall: float, step: float, leg: float
) -> None:
    """Memory: Blodgett's rule for two fillets as strong as the plate; AISC Table J2.4 below it."""
    assert welds.usual_leg(plate, wall, step=step) == pytest.approx(leg)


def test_usual_leg_is_about_as_strong_as_a_mild_plate() -> None:
    """Two fillets of 3/4 t, E70: 2 x 0.6 x 482 x 0.707 x 0.75 / 2.00 against 250 / 1.67 on 1 mm."""
    leg = welds.usual_leg(12.0, 30.0, step=0.5)
    pair = 2 * allowable(welds.fillet_strength(70 * KSI, leg), "weld")

    assert pair == pytest.approx(allowable(250.0 * 12.0, "yield"), rel=0.05)
