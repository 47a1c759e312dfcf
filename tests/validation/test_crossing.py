"""The frame of a leaf as a grid of beams, against closed forms of textbooks on statics."""

import numpy as np
import pytest

from hangpost.generators.strength.crossing import Grid


def test_two_crossing_beams_share_a_load_by_their_stiffness() -> None:
    """S. Timoshenko, Strength of Materials, Part I: beams that cross deflect alike there (memory).

    Of simple beams 48 E I / L^3 in the middle, 3 E I L / (a b)^2 elsewhere (Roark, Table 8.1).
    """
    grid = Grid(rails=(0.0, 400.0, 900.0), stiles=(0.0, 700.0, 1400.0), torsion=0.0)
    held = [(rail, x) for rail in range(3) for x in grid.stiles if (rail, x) != (1, 700.0)]
    force, couple = grid.moments(700.0, (0.0, 1.0, 0.0), held)
    rail, stile = 48 / 1400**3, 3 * 900 / (400 * 500) ** 2

    ends = np.abs(force)
    assert ends.max() == pytest.approx(stile / (rail + stile) * 400 * 500 / 900)
    assert np.isclose(ends, rail / (rail + stile) * 1400 / 4).any()
    assert np.abs(couple).max() == pytest.approx(0.5)  # half to either side of the middle


def test_a_beam_over_two_equal_spans() -> None:
    """AISC Steel Construction Manual, Table 3-23, 29: one span loaded, 13/64 P l at the load."""
    grid = Grid(rails=(0.0, 500.0), stiles=(0.0, 800.0, 1600.0), torsion=0.0)
    held = [(rail, x) for rail in (0, 1) for x in grid.stiles]
    force, _ = grid.moments(400.0, (1.0, 0.0), held)

    assert np.abs(force).max() == pytest.approx(13 / 64 * 800)
    assert np.isclose(np.abs(force), 3 / 32 * 800).any()  # over the middle bearing


def test_one_rail_is_a_simple_beam_though_it_may_turn_on_itself() -> None:
    """Any textbook on statics: P a b / l, and of a couple the shares a / l and b / l."""
    grid = Grid(rails=(600.0,), stiles=(50.0, 1050.0), torsion=0.58)
    force, couple = grid.moments(350.0, (1.0,), [(0, 50.0), (0, 1050.0)])

    assert sorted(np.abs(force)) == pytest.approx([0.0, 0.0, 210.0, 210.0])
    assert sorted(np.abs(couple)) == pytest.approx([0.0, 0.0, 0.3, 0.7])


@pytest.mark.parametrize("torsion", [0.05, 0.58, 0.77])
def test_a_frame_warped_by_its_corners(torsion: float) -> None:
    """Slope-deflection with its symmetry, by hand: of a square each member takes half of P.

    In a frame a x b with corners up and down by d the members a shear with
    V = 48 t d / (a^2 (6 b + 2 t a)), t = GJ / EI; the two at a corner take P; M = V a / 2.
    """
    a, b = 900.0, 400.0
    grid = Grid(rails=(0.0, b), stiles=(0.0, a), torsion=torsion)
    force, _ = grid.moments(0.0, (1.0, 0.0), [(0, a), (1, 0.0), (1, a)])
    shears = [1 / (m**2 * (6 * n + 2 * torsion * m)) for m, n in ((a, b), (b, a))]
    moments = [v / sum(shears) * m / 2 for v, m in zip(shears, (a, b), strict=True)]

    assert np.abs(force) == pytest.approx(np.repeat(moments, 4))


def test_torsion_takes_something_off_the_loaded_rail() -> None:
    rails, stiles = (125.0, 600.0, 1175.0), (25.0, 1175.0, 2325.0, 3475.0)
    held = [(rail, x) for rail in (0, 2) for x in (25.0, 3475.0)]
    bearing, welded = (
        np.abs(Grid(rails=rails, stiles=stiles, torsion=t).moments(900.0, (0, 1, 0), held)[0])
        for t in (0.0, 0.58)
    )

    assert 0.7 * bearing.max() < welded.max() < bearing.max()
