"""Wraps against the reference figures and against rolling."""

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.parts import tables
from hangpost.parts.flat import ParameterError
from hangpost.parts.wrap import Wrap


@pytest.mark.parametrize(
    ("nps", "length"),
    # pi x outside diameter of 2.875, 3.500, 4.000 and 4.500 in: geometry (one web table is wrong)
    [("2-1/2", 229.41), ("3", 279.29), ("3-1/2", 319.19), ("4", 359.08)],
)
def test_wrap_is_pi_times_the_outside_diameter(nps: str, length: float) -> None:
    pipe = tables.pipe(nps)

    assert Wrap(outside=pipe.outside, paper=0.0).length == pytest.approx(length, abs=0.01)


def test_paper_adds_pi_times_its_thickness() -> None:
    """0.1 mm paper, neutral at its middle: 0.314 mm."""
    thin, none = Wrap(outside=100.0, paper=0.1), Wrap(outside=100.0, paper=0.0)

    assert thin.length - none.length == pytest.approx(0.314, abs=1e-3)


@given(outside=st.floats(40, 220), share=st.floats(-0.95, 0.95), paper=st.floats(0, 0.3))
def test_rolled_on_the_post_the_marks_lie_on_the_drill(
    outside: float, share: float, paper: float
) -> None:
    """Roll the strip on a cylinder: entry and exit lie on one level line square to the seat."""
    wrap = Wrap(outside=outside, paper=paper)
    u = share * outside / 2

    def rolled(arc: float) -> tuple[float, float]:
        turn = arc / (outside / 2 + paper / 2)
        return (outside / 2 * sin(turn), outside / 2 * cos(turn))

    (u_in, w_in), (u_out, w_out) = rolled(wrap.entry(u)), rolled(wrap.exit(u))
    assert (u_in, u_out) == pytest.approx((u, u), abs=1e-9)
    assert w_in == pytest.approx(-w_out) and w_in > 0
    assert w_in - outside / 2 == pytest.approx(wrap.height(u))
    assert abs(wrap.exit(u)) <= wrap.length / 2 + 1e-9
    assert wrap.angle(wrap.arc(33.0)) == pytest.approx(33.0)


def test_quarter_lines_and_tape() -> None:
    wrap = Wrap.round(circumference=11 * 25.4, paper=0.0)

    assert wrap.outside == pytest.approx(88.93, abs=0.01)  # an 11 in tape is about a 3 1/2 in post
    assert wrap.quarters == pytest.approx((-69.85, 69.85, 139.7))
    assert wrap.exit(0.0) == pytest.approx(wrap.length / 2)


def test_wrap_for_three_inches_on_a_three_and_a_half_inch_post_shows_at_the_butt_line() -> None:
    """Half an inch of diameter is 1.571 in of circumference: the butt lines miss by 39.9 mm."""
    assert Wrap(outside=88.9).length - Wrap(outside=76.2).length == pytest.approx(39.9, abs=0.05)


def test_hole_that_misses_the_post_is_refused() -> None:
    with pytest.raises(ParameterError, match="misses"):
        Wrap(outside=88.9).entry(45.0)
    with pytest.raises(ParameterError):
        Wrap(outside=float("nan"))
    assert Wrap(outside=88.9).length == pytest.approx(pi * 89.0)
