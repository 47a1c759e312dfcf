"""Distances in timber and what a row of fasteners loses: NDS rules.

The parallel edge distance was read; the other distances and the group factor are from memory, so
each is held by a second road too (limits, symmetry, a table value).
"""

import pytest

from hangpost.generators.strength import patterns
from hangpost.generators.strength import timber_spacing as spacing
from hangpost.generators.strength.inch import INCH, PSI


@pytest.mark.parametrize(("slenderness", "rows", "edge"), [(5, 100, 18), (7, 30, 18), (7, 50, 25)])
def test_edge_distance_along_the_grain(slenderness: float, rows: float, edge: float) -> None:
    """NDS Table 12.5.1C: 1.5 D; above l/D 6 at least half the row spacing (12 mm bolt)."""
    assert spacing.edge_parallel(12, slenderness, rows) == edge


def test_edge_distance_across_the_grain() -> None:
    """NDS Table 12.5.1C, memory; the loaded edge's 4 D is also the project's own design rule."""
    assert spacing.edge_across(12, loaded=True) == 48
    assert spacing.edge_across(12, loaded=False) == 18


@pytest.mark.parametrize(
    ("direction", "diameters"), [("across", 4), ("compression", 4), ("tension", 7)]
)
def test_end_distance(direction: str, diameters: float) -> None:
    """NDS Table 12.5.1A, softwood, memory."""
    assert spacing.end_distance(10, direction) == 10 * diameters


@pytest.mark.parametrize(
    ("slenderness", "factor"), [(1, 2.5), (2, 2.5), (4, 3.75), (6, 5.0), (9, 5.0)]
)
def test_row_spacing_across_the_grain(slenderness: float, factor: float) -> None:
    """NDS Table 12.5.1D, memory: (5 l + 10 D)/8 between the two ends, and it meets them."""
    assert spacing.row_spacing_across(10, slenderness) == pytest.approx(10 * factor)


def test_spacing_in_a_row_and_between_rows_along_the_grain() -> None:
    """NDS Tables 12.5.1B and D, memory."""
    assert spacing.spacing_in_row(12.7) == pytest.approx(50.8)
    assert spacing.row_spacing_parallel(12.7) == pytest.approx(19.05)


def test_geometry_factor_falls_to_the_least_and_then_forbids() -> None:
    """NDS 12.5.1: actual over full distance."""
    assert spacing.geometry_factor(60, 48, 24) == 1.0
    assert spacing.geometry_factor(36, 48, 24) == 0.75
    assert spacing.geometry_factor(23, 48, 24) == 0.0


def row(count: int) -> float:
    """Cg of the NDS table's own example: D 1 in, s 4 in, Am 5 in2 (1.4e6 psi), Am/As 12."""
    return spacing.group_factor(
        count=count,
        spacing=4 * INCH,
        diameter=INCH,
        main_stiffness=1.4e6 * PSI * 5 * INCH**2,
        side_stiffness=30e6 * PSI * 5 / 12 * INCH**2,
    )


@pytest.mark.parametrize(("count", "factor"), [(2, 0.97), (3, 0.89), (4, 0.80)])
def test_group_factor_is_the_tables_first_line(count: int, factor: float) -> None:
    """NDS Table 11.3.6C (steel sides), Am/As 12, Am 5 in2: two figures, memory."""
    assert row(count) == pytest.approx(factor, abs=0.006)


def test_group_factor_of_one_is_one_and_falls_with_the_number() -> None:
    values = [row(n) for n in range(1, 9)]

    assert values[0] == 1.0
    assert values == sorted(values, reverse=True)
    assert all(v > 0 for v in values)


def test_shear_of_a_post_pulled_across() -> None:
    """NDS Eq. 3.4-6 by hand: 2/3 x 1.1 x 140 x 90 (90/140)2 = 3818 N; full depth is plain shear."""
    assert spacing.connection_shear(1.1, 140, 140, 90) == pytest.approx(3818.6, abs=0.1)
    assert spacing.connection_shear(1.1, 140, 140, 140) == pytest.approx(2 / 3 * 1.1 * 140 * 140)


def test_columns_keep_four_diameters_to_both_edges() -> None:
    """6x6 dressed (139.7 mm): two columns of 3/8 in lags, one of 1/2 in, none of 3/4 in."""
    two = patterns.columns(139.7, 9.525)

    assert two == pytest.approx((-31.75, 31.75))  # 139.7 / 2 - 4 D
    assert patterns.columns(139.7, 12.7) == (0.0,)
    assert patterns.columns(139.7, 19.05) == ()


@pytest.mark.parametrize(("breadth", "count"), [(151.0, 1), (153.0, 2), (101.0, 0), (102.0, 1)])
def test_number_of_columns_changes_where_the_rule_says(breadth: float, count: int) -> None:
    """12.7 mm lags: 8 D of edges (101.6) for one column, 12 D (152.4) for two."""
    assert len(patterns.columns(breadth, 12.7)) == count


def test_rows_stand_off_the_ears_on_both_sides() -> None:
    along = patterns.rows(2, first=45, spacing=38)

    assert along == (-83, -45, 45, 83)
    assert patterns.grid((-30, 30), (45,)) == ((-30, 45), (30, 45))


def test_rows_are_added_until_the_group_holds() -> None:
    """Load 10 against 3 a row: four rows; with a reserve of 0.8 five."""
    assert patterns.fewest_rows(lambda n: 10 / (3 * n), range(1, 9))[0] == 4
    assert patterns.fewest_rows(lambda n: 10 / (3 * n), range(1, 9), reserve=0.8)[0] == 5


def test_rows_that_never_hold_are_told() -> None:
    chosen, failed = patterns.fewest_rows(lambda n: 10 / n, range(1, 4))

    assert chosen is None
    assert failed == ((1, 10.0), (2, 5.0), (3, 10 / 3))
