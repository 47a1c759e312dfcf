"""Bend allowance against DIN 6935, trade handbooks and another unfolding tool's test case."""

from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts.bends import allowance, k_factor


@pytest.mark.parametrize(
    ("radius", "thickness", "k", "length", "u"),
    # DIN 6935, 90 degrees, computed from its formula: factor k, neutral fibre, and the value u in
    # flat = a + b + u with outside dimensions.
    [
        (3, 3, 0.65, 6.2439, -5.7561),
        (6, 6, 0.65, 12.4878, -11.5122),
        (3, 5, 0.5391, 6.8293, -9.1707),
        (10, 5, 0.8005, 18.8516, -11.1484),
    ],
)
def test_square_bend_by_din_6935(
    radius: float, thickness: float, k: float, length: float, u: float
) -> None:
    fibre = allowance(90, radius, thickness, None)

    assert 2 * k_factor(radius, thickness) == pytest.approx(k, abs=6e-5)
    assert fibre == pytest.approx(length, abs=6e-5)
    assert fibre - 2 * (radius + thickness) == pytest.approx(u, abs=6e-5)


def test_din_factor_reaches_one_half_thickness_beyond_five_thicknesses() -> None:
    """DIN 6935: k = 1 for r / s above 5, the neutral fibre in the middle (K = 0.5)."""
    assert k_factor(5.02 * 4, 4) == 0.5
    assert k_factor(5 * 4, 4) == pytest.approx(0.5, abs=1e-3)


def test_soft_steel_bend_by_handbook_formula() -> None:
    """L = 0.64 T + 1.57 R (K = 0.407), T = R = 0.250 in: 0.5525 in. Machinery's Handbook, memory."""
    assert allowance(90, 0.25, 0.25, 0.407) == pytest.approx(0.5525, abs=2e-4)


def test_flat_of_another_unfolder() -> None:
    """FreeCAD SheetMetal README: T 2, K 0.38, R 1.64, bend line at 50: BA, straight leg, flange."""
    fibre = allowance(90, 1.64, 2, 0.38)

    assert fibre == pytest.approx(3.770, abs=5e-4)
    assert 50 - fibre / 2 == pytest.approx(48.115, abs=5e-4)  # half the bend lies on either side
    assert 50 - fibre / 2 + 1.64 + 2 == pytest.approx(51.755, abs=5e-4)


@given(angle=st.floats(1, 150), r=st.floats(0.5, 30), t=st.floats(1, 15))
def test_din_and_k_factor_name_the_same_fibre(angle: float, r: float, t: float) -> None:
    """CAD handbooks: DIN's k is twice the K-factor, BA = A (R + K T)."""
    k = k_factor(r, t)

    assert 0 <= k <= 0.5
    assert allowance(angle, r, t, None) == pytest.approx(radians(angle) * (r + k * t))
    assert allowance(angle, r, t, None) == pytest.approx(allowance(angle, r, t, k))


@given(angle=st.floats(1, 90), r=st.floats(0.5, 30), t=st.floats(1, 15), k=st.floats(0.3, 0.5))
def test_deduction_is_never_negative(angle: float, r: float, t: float, k: float) -> None:
    """BD = 2 (R + T) tan(A/2) - BA: the flat is never longer than the outside legs."""
    assert 2 * (r + t) * tan(radians(angle) / 2) - allowance(angle, r, t, k) >= 0
