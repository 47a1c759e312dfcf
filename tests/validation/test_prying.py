"""Prying of bolts: a plate that passes as a cantilever, and whose bolts hold its pull, also pries.

EN 1993-1-8:2005 Table 6.2, T-stub with bolts: mode 1 two hinges, mode 2 one hinge and the bolts,
mode 3 the bolts. The formulas are from memory and held here by statics: a linear programme over
the pull, the bolt, the edge that presses and the two hinges.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

size = st.floats(min_value=5.0, max_value=80.0)


def modes(m: float, n: float, plate: float, bolt: float) -> float:
    """One side of a T-stub: m from root to bolt, n on to the edge that presses."""
    return min(2 * plate / m, (plate + n * bolt) / (m + n), bolt)


def by_statics(m: float, n: float, plate: float, bolt: float) -> float:
    """Greatest pull F = T - Q with |F m - Q n| and Q n within the plate's moment, T in the bolt's."""
    found = linprog(
        [-1.0, 1.0],  # of T and Q
        A_ub=[[m, -m - n], [-m, m + n], [0.0, n]],
        b_ub=[plate, plate, plate],
        bounds=[(0.0, bolt), (0.0, None)],
    )
    assert found.status == 0
    return float(-found.fun)


@given(m=size, n=size, plate=st.floats(1e4, 1e6), bolt=st.floats(500.0, 5e4))
def test_modes_of_a_tee_stub_are_statics(m: float, n: float, plate: float, bolt: float) -> None:
    assert modes(m, n, plate, bolt) == pytest.approx(by_statics(m, n, plate, bolt), rel=1e-6)


@given(m=size, n=size, plate=st.floats(1e4, 1e6), bolt=st.floats(500.0, 5e4))
def test_cantilever_and_bolt_alone_never_hold_more_than_the_stub(
    m: float, n: float, plate: float, bolt: float
) -> None:
    """The two checks that this program makes: pull times m in the plate, the pull in the bolt."""
    assert min(plate / m, bolt) <= by_statics(m, n, plate, bolt) * (1 + 1e-9)
