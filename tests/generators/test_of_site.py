"""From a survey to the numbers of the search: inches to millimetres, loads to one torque."""

from math import isclose, pi

import pytest

from hangpost.generators.hardware.pins import ear_tip
from hangpost.generators.pivots.of_site import moving_torque, problem_of
from hangpost.generators.pivots.problem import Fixed
from hangpost.generators.pivots.solve import solve
from hangpost.generators.pivots.torque import hinges, slope, start, wind
from hangpost.generators.survey.reading import read_shop, site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site

# An invented gate.
SITE = """
units = "in"
job = "Millrace paddock"
[post]
kind = "timber"
size = "6x6"
[hinge]
hand = "left"
to_leaf_face = "1 1/2"
to_actuator_face = "2 3/4"
[leaf]
width = "11 ft"
height = "4 ft"
bottom = "4"
thickness = "2"
mass = "170 lb"
frame = "square_tube"
member = "2x2x1/8"
rails = ["10", "26", "44"]
fill = 0.35
[opening]
toward = "actuator"
angle = 92
[actuator]
retracted = "30 3/4"
stroke = "15 3/4"
thrust = "560 lbf"
speed = "0.6 in/s"
body_diameter = "3"
post_eye = { pin = "1/2", thickness = "3/4", radius = "3/4", to_body = "1 3/4" }
[[obstacle]]
name = "coping"
from = ["-2 ft", "3 ft"]
to = ["-3 ft", "5 ft"]
top = "12"
[[obstacle]]
name = "wall"
from = ["-2 ft", "3 ft"]
to = ["-3 ft", "5 ft"]
[[obstacle]]
name = "lintel"
from = ["-2 ft", "3 ft"]
to = ["-3 ft", "5 ft"]
bottom = "7 ft"
[fixed]
post_pivot = ["free", "6 3/4"]
"""


@pytest.fixture
def site() -> Site:
    return site_from_bytes(SITE.encode(), file="site.toml")


def test_survey_becomes_plain_millimetres_and_newtons(site: Site) -> None:
    problem = problem_of(site, Shop())

    assert (problem.direction, problem.opening) == ("pull", 92.0)
    box = problem.post.outline
    assert (box.right, box.top) == pytest.approx((-38.1, 69.85))
    assert (box.left, box.bottom) == pytest.approx((-38.1 - 139.7, 69.85 - 139.7))
    assert problem.leaf.width == pytest.approx(11 * 304.8)
    assert problem.leaf.face == pytest.approx(25.4)
    assert problem.actuator.thrust == pytest.approx(560 * 4.4482216152605)
    assert problem.actuator.body_end == pytest.approx(29 * 25.4)
    assert problem.brackets.ear_tip == pytest.approx(1.75 * 12.7)
    assert problem.limits.folded_clearance == pytest.approx(4.25 * 25.4)
    assert problem.fixed == Fixed(py=6.75 * 25.4)
    assert problem.height == pytest.approx(26 * 25.4)
    assert type(problem.leaf.width) is float  # nothing of the survey clings to it


def test_thick_plate_has_its_own_thickness_of_metal_about_a_thin_pin(site: Site) -> None:
    """The shop's rule for a web beside a hole (common practice, no source); 15 mm is metric."""
    shop, pin = read_shop(None, "mm"), 12.0
    problem = problem_of(site.changed({"actuator.post_eye.pin": pin}), shop)
    tips = {each.thickness: ear_tip(problem, shop, pin, each.thickness) for each in shop.plates}

    assert max(tips) == 15.0 and set(tips.values()) > {problem.brackets.ear_tip}
    assert all(tip - shop.pin_hole(pin) / 2 >= t * 1.0 for t, tip in tips.items())


def test_what_stays_below_or_above_the_actuator_is_no_obstacle_to_it(site: Site) -> None:
    problem = problem_of(site, Shop())

    assert [obstacle.name for obstacle in problem.obstacles] == ["wall"]
    assert problem.obstacles[0].outline.xmin == pytest.approx(-914.4)


def test_class_method_is_the_same_and_can_be_solved(site: Site) -> None:
    problem = problem_of(site, Shop(), 0)

    assert problem == problem_of(site, Shop())
    assert solve(problem).post_pivot[1] == pytest.approx(171.45)


def test_torque_worked_by_hand(site: Site) -> None:
    # 25 mph = 11.176 m/s; 0.613 x 11.176^2 = 76.566 Pa (ASCE 7-10 Eq. 29.3-1, all factors 1).
    # Face 3.3528 m x 1.2192 m, 35 % solid, lever 1.6764 m; 25 N at the latch edge, half as much
    # again to start.
    parts = moving_torque(site, site.leaves[0])

    assert parts.wind == pytest.approx(76.566 * 3.3528 * 1.2192 * 0.35 * 1.6764 * 1e3, rel=1e-4)
    assert parts.hinges == pytest.approx(25.0 * 3352.8)
    assert parts.start == pytest.approx(12.5 * 3352.8)
    assert parts.slope == 0.0
    assert problem_of(site, Shop()).torque == parts.total


def test_parts_of_the_torque() -> None:
    assert wind(pressure=1e-4, width=3000.0, height=1200.0, fill=0.5) == pytest.approx(270e3)
    assert hinges(pull=20.0, width=3000.0) == 60e3
    assert start(hinge_torque=60e3, factor=1.0) == 0.0
    # 100 kg at 1.5 m from an axis that leans 2 degrees: 980.665 N x 1.5 m x sin 2 = 51.34 N m.
    leaning = slope(mass=100.0, width=3000.0, lean=(2.0, 0.0), rise=0.0, opening=90.0)
    assert leaning == pytest.approx(51.337e3, rel=1e-4)
    # Lifted 50 mm over a quarter turn: 980.665 N x 50 mm / (pi / 2).
    rising = slope(mass=100.0, width=3000.0, lean=(0.0, 0.0), rise=50.0, opening=90.0)
    assert isclose(rising, 980.665 * 50.0 * 2.0 / pi)
