"""Lateral strength of lags and bolts: every recorded cell of NDS Table 12K, modes, reductions.

Cells are printed to 10 lbf: the value rounded half up must be the cell. Cells of the 1/4 in plate
are computed from the published formulas apart from this code (their block of the print is cut
off); the thin-plate cells were read.
"""

import csv
from math import floor
from pathlib import Path

import pytest

from hangpost.generators.strength import timber, yield_modes
from hangpost.generators.strength.inch import INCH, LBF, PSI


def recorded(name: str) -> list[dict[str, str]]:
    lines = Path(__file__).with_name(f"{name}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(lines[1:]))


def lag_lateral(row: dict[str, str], angle: float) -> float:
    """Z in lbf of one row of the table: 8 D penetration, root diameter, NDS rounding of Fe."""
    diameter, root, tip, fyb = yield_modes.lag(row["size"])
    modes = yield_modes.single_shear(
        diameter=root,
        main=yield_modes.lag_main_length(8 * diameter, tip),
        side=float(row["plate_in"]) * INCH,
        bearing_main=timber.bearing_at_angle(float(row["gravity"]), diameter, angle),
        bearing_side=float(row["fes_psi"]) * PSI,
        yield_strength=fyb,
        angle=angle,
    )
    return yield_modes.reference(modes)[1] / LBF


@pytest.mark.parametrize(
    "row", recorded("lag_lateral"), ids=lambda r: f"{r['plate_in']} {r['size']} {r['gravity']}"
)
def test_lateral_value_is_the_table(row: dict[str, str]) -> None:
    along, across = lag_lateral(row, 0), lag_lateral(row, 90)

    assert floor(along / 10 + 0.5) * 10 == float(row["along"])
    assert floor(across / 10 + 0.5) * 10 == float(row["across"])


@pytest.mark.parametrize(
    ("bearing", "angle", "expected"),
    [
        (
            5600,
            0,
            {"Im": 1996.4, "Is": 2017.3, "II": 919.4, "IIIm": 1057.3, "IIIs": 517.2, "IV": 540.4},
        ),
        (
            3150,
            90,
            {"Im": 898.4, "Is": 1613.8, "II": 432.3, "IIIm": 494.5, "IIIs": 322.7, "IV": 328.6},
        ),
    ],
)
def test_all_six_modes(bearing: float, angle: float, expected: dict[str, float]) -> None:
    """1/2 in lag, 1/4 in A36, G 0.50: the six values computed apart, printed to 0.1 lbf."""
    diameter, root, tip, fyb = yield_modes.lag("1/2")

    modes = yield_modes.single_shear(
        diameter=root,
        main=yield_modes.lag_main_length(8 * diameter, tip),
        side=0.25 * INCH,
        bearing_main=bearing * PSI,
        bearing_side=87000 * PSI,
        yield_strength=fyb,
        angle=angle,
    )

    assert {m: z / LBF for m, z in modes.items()} == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize(
    ("main", "size", "along", "across", "mode_across"),
    [
        (3.5, 0.625, 1207, 606, "II"),
        (3.5, 0.75, 1671, 681, "II"),
        (5.5, 0.625, 1207, 708, "IIIs"),
        (5.5, 0.75, 1671, 944, "IIIs"),
    ],
)
def test_bolt_with_one_steel_side(
    main: float, size: float, along: float, across: float, mode_across: str
) -> None:
    """NDS Table 12B (1/4 in A36, G 0.50, full body), computed apart and printed in whole lbf."""
    found = []
    for angle in (0, 90):
        modes = yield_modes.single_shear(
            diameter=size * INCH,
            main=main * INCH,
            side=0.25 * INCH,
            bearing_main=timber.bearing_at_angle(0.5, size * INCH, angle),
            bearing_side=87000 * PSI,
            yield_strength=yield_modes.BOLT_YIELD,
            angle=angle,
        )
        found.append(yield_modes.reference(modes))

    assert found[0] == ("IIIs", pytest.approx(along * LBF, abs=0.6 * LBF))
    assert found[1] == (mode_across, pytest.approx(across * LBF, abs=0.6 * LBF))


@pytest.mark.parametrize(
    ("angle", "terms"), [(0, (4.0, 3.6, 3.2)), (90, (5.0, 4.5, 4.0)), (45, (4.5, 4.05, 3.6))]
)
def test_reduction_terms_by_angle(angle: float, terms: tuple[float, float, float]) -> None:
    """NDS Table 12.3.1B as told in a university's lag-screw notes (0 and 90 degrees)."""
    assert yield_modes.reduction_terms(12.0, angle) == pytest.approx(terms)


@pytest.mark.parametrize(("root", "kd"), [(0.173, 2.23), (0.227, 2.77), (0.15, 2.2)])
def test_small_roots_have_one_reduction(root: float, kd: float) -> None:
    """NDS Table 12.3.1B note 1: KD = 10 Dr + 0.5 above 0.17 in, times K theta."""
    assert yield_modes.reduction_terms(root * INCH, 0) == pytest.approx((kd, kd, kd))
    assert yield_modes.reduction_terms(root * INCH, 90) == pytest.approx((1.25 * kd,) * 3)


def test_shank_in_place_of_root_would_be_sixty_per_cent_too_strong() -> None:
    """The known slip: D instead of Dr takes 517 to 826 lbf (1/2 in, G 0.50, 1/4 in plate)."""
    diameter, root, tip, fyb = yield_modes.lag("1/2")
    values = []
    for bearing_diameter in (root, diameter):
        modes = yield_modes.single_shear(
            diameter=bearing_diameter,
            main=yield_modes.lag_main_length(8 * diameter, tip),
            side=0.25 * INCH,
            bearing_main=5600 * PSI,
            bearing_side=87000 * PSI,
            yield_strength=fyb,
            angle=0,
        )
        values.append(yield_modes.reference(modes)[1] / LBF)

    assert values == pytest.approx([517, 826], abs=1)
