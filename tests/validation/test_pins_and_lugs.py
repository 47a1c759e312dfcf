"""Pin and ear: AISC Example D.7 as a whole, ASME BTH-1 lug rows that reproduce, pin shear and bending.

Inch examples are given inch sizes; the code's own 16 mm of D5.1 is 0.63 in.
"""

from math import pi

import pytest

from hangpost.generators.strength import lugs, pins
from hangpost.generators.strength.factors import allowable
from hangpost.generators.strength.inch import INCH, LBF, PSI

KIP = 1000 * LBF
KSI = 1000 * PSI


def test_pin_connected_plate_of_the_design_examples() -> None:
    """AISC Design Examples D.7: A36, w 4.25, t 0.5, d 1, a 2.25 in (hole 1.03): 94.5, 95.7, 76.5 kip."""
    thickness, side = 0.5 * INCH, (4.25 - 1.03) / 2 * INCH
    fu, fy = 58 * KSI, 36 * KSI

    older = lugs.tension_rupture(fu, thickness, 2 * side)  # the 2005 print: be = 2t + 0.63
    newer = lugs.tension_rupture(fu, thickness, side)  # 2016: the edge there is, 1.61 in
    shear = lugs.shear_rupture(fu, thickness, 1.0 * INCH, 2.25 * INCH)
    gross = lugs.gross_yield(fy, 4.25 * INCH, thickness)

    assert older / KIP == pytest.approx(94.5, abs=0.06)
    assert newer / KIP == pytest.approx(93.4, abs=0.06)
    assert shear / KIP == pytest.approx(95.7, abs=0.06)
    assert gross / KIP == pytest.approx(76.5, abs=0.06)


def test_governing_limit_of_the_design_example_is_gross_yield() -> None:
    """ASD of the same example: 76.5/1.67 = 45.8 kip is less than 93.4/2 and 95.7/2."""
    limits = {
        "yield": allowable(lugs.gross_yield(36 * KSI, 4.25 * INCH, 0.5 * INCH), "yield"),
        "tension": allowable(lugs.tension_rupture(58 * KSI, 0.5 * INCH, 1.61 * INCH), "rupture"),
        "shear": allowable(lugs.shear_rupture(58 * KSI, 0.5 * INCH, INCH, 2.25 * INCH), "rupture"),
        "bearing": allowable(lugs.bearing(36 * KSI, 0.5 * INCH, INCH), "bearing"),
    }

    assert limits["yield"] / KIP == pytest.approx(45.8, abs=0.05)
    assert limits["bearing"] / KIP == pytest.approx(16.2, abs=0.05)  # 1.8 x 36 x 0.5 / 2


def test_dimensional_rules_of_pin_plates() -> None:
    """AISC D5.1, D5.2 as used in D.7: be = 2t + 0.63 in, hole at most 1/32 in over the pin."""
    assert lugs.effective_width(0.5 * INCH, 3 * INCH) == pytest.approx(1.63 * INCH, rel=1e-3)
    assert lugs.largest_hole(25.4) == pytest.approx(26.4)


def test_lug_of_the_lifting_standard() -> None:
    """ASME BTH-1 worked sheet: t .75, be 1.0625, R 1.5, Dp .75, Dh .875 in, 58/36 ksi, Nd 3.

    Cr .85835, beff .9321 in, Pt 19.334, Pb 17.031 kip printed; Pv 20.003 computed apart (the
    sheet's own Pv does not follow from its inputs).
    """
    t, be, radius, pin, hole = (v * INCH for v in (0.75, 1.0625, 1.5, 0.75, 0.875))
    fu, fy = 58 * KSI, 36 * KSI

    assert lugs.fit_factor(pin, hole) == pytest.approx(0.85835, abs=1e-5)
    assert lugs.effective_width_bth(fy, fu, t, be, hole) / INCH == pytest.approx(0.9321, abs=1e-4)
    assert lugs.tension_bth(fy, fu, t, be, pin, hole, nd=3) / KIP == pytest.approx(19.334, abs=2e-3)
    assert lugs.fracture_bth(fu, t, be, radius, pin, hole, nd=3) / KIP == pytest.approx(
        17.031, abs=2e-3
    )
    assert lugs.shear_bth(fu, t, be, pin, hole, nd=3) / KIP == pytest.approx(20.003, abs=2e-3)


def test_small_metric_lug_of_the_lifting_standard() -> None:
    """ASME BTH-1-2005 sheet: t 5, a = be 6.5, Dp 10, Dh 12, R 12.5 mm, Nd 2: 2.06, 1.78, 1.96 kip."""
    fu, fy = 58 * KSI, 36 * KSI

    found = (
        lugs.tension_bth(fy, fu, 5, 6.5, 10, 12, nd=2),
        lugs.fracture_bth(fu, 5, 6.5, 12.5, 10, 12, nd=2),
        lugs.shear_bth(fu, 5, 6.5, 10, 12, nd=2, edge_radius=12.5),
    )

    assert [f / KIP for f in found] == pytest.approx([2.065, 1.783, 1.962], abs=3e-3)


def test_turning_pin_may_press_half_as_hard() -> None:
    """ASME BTH-1 Eq. 3-53 and 3-54 (the second from memory): 1.25 against 0.63."""
    still = 1.25 * 250 / 3 * 12.7 * 10
    turning = lugs.bearing_turning_bth(250, 10, 12.7, nd=3)

    assert turning / still == pytest.approx(0.63 / 1.25)


def test_tight_pin_loses_nothing() -> None:
    """ASME BTH-1 3-47: Cr is 1 above Dp/Dh of 0.9."""
    assert lugs.fit_factor(12.0, 13.0) == 1.0
    assert lugs.fit_factor(12.0, 13.5) < 1.0


def test_half_inch_pin_in_double_shear() -> None:
    """AISC J4.2 with 58 ksi, ASD: 6.83 kip, computed apart."""
    assert allowable(pins.double_shear(58 * KSI, 0.5 * INCH), "rupture") / KIP == pytest.approx(
        6.83, abs=0.005
    )


def test_pin_bending_moment_is_the_beam_under_spread_loads() -> None:
    """Statics from first principles: spread load on eye, reactions spread on the ears."""
    force, eye, gap, ear = 1000.0, 19.0, 3.5, 8.0
    arm_of_reaction = eye / 2 + gap + ear / 2
    expected = force / 2 * arm_of_reaction - force / 2 * eye / 4

    assert pins.bending_moment(force, eye=eye, gap=gap, ear=ear) == pytest.approx(expected)


def test_round_bar_bends_at_1_6_of_its_yield_moment() -> None:
    """AISC F11.1: Z/S of a round is 16/(3 pi) = 1.70, so 1.6 governs."""
    assert pins.plastic_modulus(20) / pins.elastic_modulus(20) == pytest.approx(16 / (3 * pi))
    assert pins.bending_strength(250, 20) == pytest.approx(1.6 * 250 * pi * 20**3 / 32)


def test_shear_and_bending_of_a_pin_add_as_squares() -> None:
    """EN 1993-1-8 3.13.2(3)."""
    assert pins.shear_and_bending(0.6, 0.8) == pytest.approx(1.0)
