"""Clauses and table values against open code libraries, recorded by record_codes.py.

A value that this project had set down from memory is held here by somebody else's reading of the
same clause: pyaisc360 0.1.1 (AISC 360-16, with pages), civilpy 0.6.1 (NDS 2024), eurocodepy
2027.0.12 and pamd-eurocodes 0.3.0 (Eurocodes), bd-warehouse 0.4.0 (ISO sizes of fasteners).
"""

import csv
from pathlib import Path

import pytest

from hangpost.generators.judging.wood import WET_BEARING
from hangpost.generators.strength import bolts, plates, posts, timber, tubes, welds
from hangpost.generators.strength import timber_spacing as spacing
from hangpost.generators.strength.factors import factor
from hangpost.generators.strength.tables import row, table
from hangpost.parts.fastening import head_size
from hangpost.parts.tables import dressed, hole_fit, pipes
from hangpost.parts.u_bolt import NUT

LINES = Path(__file__).with_name("codes.csv").read_text(encoding="utf-8").splitlines()[1:]
CODES: dict[str, dict[str, float]] = {}
for line in csv.DictReader(LINES):
    CODES.setdefault(line["case"], {})[line["given"]] = float(line["value"])


def numbers(given: str) -> list[float]:
    return [float(part) for part in given.split()]


def held(case: str) -> pytest.MarkDecorator:
    return pytest.mark.parametrize(("given", "value"), CODES[case].items())


@pytest.mark.parametrize("which", ["fy", "fu"])
def test_steels_have_the_strengths_of_their_standards(which: str) -> None:
    """To 1 %: the metric tables round ksi; S355 has a lower Fu in older prints, kept."""
    for grade, value in CODES[f"steel {which}"].items():
        ours = plates.steel(grade)[0 if which == "fy" else 1]

        assert 0.95 * value < ours <= 1.01 * value, grade


def test_bolts_have_the_strengths_of_their_table() -> None:
    for which in ("fnt", "fnv in", "fnv out"):
        column = which.replace(" ", "_")
        for grade in ("A307", "A325"):
            ours = float(row("bolt_grades", grade)[column])
            assert ours == pytest.approx(CODES[f"bolt {which}"][grade], rel=8e-3)
        share = CODES[f"bolt {which}"]["share of Fu"]
        for name, entry in table("bolt_grades").items():
            if name not in {"A325", "A307", "SAE-2"}:  # by the rule for threaded parts
                assert float(entry[column]) == pytest.approx(share * float(entry["fu"]), abs=1), (
                    name
                )


@held("slip omega")
def test_slip_has_its_factor_by_hole(given: str, value: float) -> None:
    assert factor(f"resistance.{given}") == value


def test_slip_of_a_bolt() -> None:
    assert bolts.slip(28 * 4448.2216) == pytest.approx(CODES["slip"]["3/4 A325"], rel=1e-6)


def test_walls_of_tubes_have_their_factor() -> None:
    assert factor("resistance.tube_wall") == CODES["tube wall omega"][""]


@pytest.mark.parametrize(
    ("case", "ours"),
    [
        ("plate across", tubes.transverse_plate),
        ("plate across moment", tubes.transverse_plate_moment),
    ],
)
def test_plates_on_a_pipe(case: str, ours) -> None:
    for given, value in CODES[case].items():
        assert ours(*numbers(given)) == pytest.approx(value, rel=1e-5)


@held("uneven share")
def test_plate_across_a_soft_face_works_at_its_ends(given: str, value: float) -> None:
    fy, side, wall, plate_fy, plate = numbers(given)

    assert tubes.uneven_share(fy, side, wall, plate_fy=plate_fy, plate=plate) == pytest.approx(
        value
    )


@held("round stressed")
def test_round_tube_in_use_holds_less(given: str, value: float) -> None:
    assert tubes.round_stressed(float(given)) == pytest.approx(value)


@held("square stressed")
def test_square_tube_in_use_holds_less(given: str, value: float) -> None:
    assert tubes.square_stressed(*numbers(given)) == pytest.approx(value)


@held("tube shaft")
def test_shaft_of_a_square_tube(given: str, value: float) -> None:
    assert posts.shaft_of_tube(*numbers(given)) == pytest.approx(value)


@held("round shaft")
def test_shaft_of_a_pipe_is_near_the_rule_of_thumb(given: str, value: float) -> None:
    """The exact elastic one is some per cent below the standard's, which counts on full yield."""
    outside, wall = numbers(given)

    assert 0.9 * value < posts.round_tube(outside, wall).torsion / (outside / 2) < value


@held("square twisted")
def test_stress_of_a_twisted_square_tube(given: str, value: float) -> None:
    assert posts.twisted_square(*numbers(given)) == pytest.approx(value)


@held("round twisted")
def test_stress_of_a_twisted_pipe(given: str, value: float) -> None:
    assert posts.twisted_round(*numbers(given)) == pytest.approx(value, rel=1e-6)


def test_shear_of_the_plate_beside_its_weld() -> None:
    """58 ksi, 1 mm2: 0.6 Fu."""
    found = welds.base_metal_strength(CODES["steel fu"]["A36"], 1.0)

    assert found == pytest.approx(CODES["shear"]["A36 rupture"])


@pytest.mark.parametrize("species", CODES["timber Fb"])
def test_timbers_are_no_stronger_than_listed(species: str) -> None:
    """Posts of No. 2: ours are the listed or less; 1 % for MPa with two decimals."""
    fb, modulus, fv = posts.timber_values(species)
    fc_perp = float(row("species", species)["fc_perp"])

    for ours, which in ((fb, "Fb"), (modulus, "E"), (fv, "Fv"), (fc_perp, "Fc_perp")):
        assert 0.79 * CODES[f"timber {which}"][species] < ours
        assert ours <= 1.01 * CODES[f"timber {which}"][species], which
    assert CODES["timber wet Fc_perp"][species] == WET_BEARING


def test_no_timber_is_taken_stronger_than_the_weakest_european_class_for_good() -> None:
    """EN 338 C14, kmod 0.6 for lasting loads, gamma M 1.3: 6.46 MPa. Ours are values for ten years.

    This holds the species that no library lists, too.
    """
    for species in table("species"):
        assert posts.timber_values(species)[0] <= CODES["en bending"]["C14"] * 0.6 / 1.3, species


def test_a_drier_or_shorter_load_counts_as_listed() -> None:
    for name, value in CODES["duration"].items():
        assert factor(f"duration.{name}") == value
    assert CODES["wet lateral"][""] == timber.WET_LATERAL


@held("en torsion")
def test_torque_of_a_timber_is_below_the_european(given: str, value: float) -> None:
    """The same stress by EN 1995-1-1 6.1.8 may be 1.15 and 1.3 times as high: left out."""
    ours = posts.timber_torque(1.0, *numbers(given))

    assert 1.1 * ours < value < 1.35 * ours


def en(name: str, angle: int) -> float:
    return CODES["en bolt"][f"{name} {angle}"]


@pytest.mark.parametrize("d", [8.0, 9.525, 12.7, 16.0])
def test_distances_in_timber_are_the_worse_of_two_codes(d: float) -> None:
    full, least_end = CODES["distance full"], CODES["en bolt"]["a3,t mm"]

    assert spacing.edge_parallel(d, 5.0) == max(full["edge"], en("a4,t", 0), en("a4,c", 0)) * d
    assert spacing.edge_across(d, loaded=True) == max(full["edge"], en("a4,t", 90)) * d
    assert spacing.edge_across(d, loaded=False) == max(full["edge"], en("a4,c", 90)) * d
    end = max(full["end"] * d, en("a3,t", 0) * d, least_end)
    assert spacing.end_distance(d, "tension") == spacing.end_distance(d, "across") == end
    assert spacing.spacing_in_row(d, across=False) == max(full["in row"], en("a1", 0)) * d
    assert spacing.spacing_in_row(d, across=True) == max(full["in row"], en("a2", 90)) * d
    for slender in (1.0, 4.0, 9.0):
        assert spacing.row_spacing_across(d, slender) >= en("a1", 90) * d


@pytest.mark.parametrize("d", [10.0, 12.7, 16.0, 20.0])
def test_bolts_in_steel_stand_no_closer_than_in_europe(d: float) -> None:
    """EN 1993-1-8 Table 3.3: p1 2.2 d0 and e1 1.2 d0, d0 the hole, 2 mm over the bolt."""
    rules = CODES["en steel bolt"]

    assert bolts.least_spacing(d) >= rules["p1"] * (d + 2.0) - 0.8  # within the hole's own play
    assert bolts.least_edge(d) >= rules["e1"] * d


@held("hex wrench")
def test_metric_heads_have_their_wrench(given: str, value: float) -> None:
    if given in {"M6", "M8", "M10", "M12", "M16", "M20"}:
        assert head_size(given).across_flats == value


@pytest.mark.parametrize("size", ["M6", "M8", "M10", "M12", "M16", "M20"])
def test_metric_heads_and_wide_washers(size: str) -> None:
    """Heights there are the greatest allowed, ours nominal: a tenth below at most."""
    head = head_size(size)

    assert head.washer_diameter == CODES["washer wide"][size]
    for ours, case in ((head.head_height, "hex head"), (head.washer_thickness, "washer wide thickness")):  # fmt: skip
        assert 0.8 * CODES[case][size] < ours <= CODES[case][size]


@pytest.mark.parametrize("size", ["M5", "M6", "M8", "M10", "M16", "M20", "M24", "M30"])
def test_metric_holes_are_no_tighter_than_listed(size: str) -> None:
    """To 0.5 mm: the library rounds some up."""
    fit = hole_fit(size)

    for ours, case in ((fit.close, "fine"), (fit.normal, "medium"), (fit.loose, "coarse")):
        assert ours == pytest.approx(CODES[f"hole {case}"][size], abs=0.5)


@held("tap hole")
def test_tapping_holes_of_coarse_threads(given: str, value: float) -> None:
    """0.85 d, as the sheets say: within 3 % of the listed drills from M8 up."""
    if given not in {"M5", "M6"}:
        assert 0.85 * float(given[1:]) == pytest.approx(value, rel=0.03)


@pytest.mark.parametrize("size", table("bolts"))
def test_bolts_have_their_coarse_pitch(size: str) -> None:
    assert float(row("bolts", size)["pitch"]) == pytest.approx(CODES["pitch"][size], rel=1e-4)


@pytest.mark.parametrize("pipe", pipes(), ids=lambda pipe: pipe.nps)
def test_pipes_are_the_standards(pipe) -> None:
    """ASME B36.10M: to 0.1 mm, which is what the library's own rounding leaves."""
    name = pipe.nps.replace("-", " ") if pipe.nps not in CODES["pipe outside"] else pipe.nps

    assert pipe.outside / 25.4 == pytest.approx(CODES["pipe outside"][name], abs=0.004)
    for schedule in ("40", "80"):
        listed = CODES["pipe wall"][f"{name} {schedule}"]
        assert pipe.wall(schedule) / 25.4 == pytest.approx(listed, abs=0.004)


@held("dressed")
def test_dressed_timber_is_the_standards(given: str, value: float) -> None:
    assert dressed(int(given)) == pytest.approx(value * 25.4)


@held("nut")
def test_nuts_are_as_high_as_the_sheets_take_them(given: str, value: float) -> None:
    """0.85 of the diameter from M8 up: ISO 4032 gives the greatest height, within a tenth."""
    if given not in {"M5", "M6"}:
        assert value == pytest.approx(NUT * float(given[1:]), rel=0.1)
