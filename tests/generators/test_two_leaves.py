"""Two leaves past each other: closed forms for thick leaves, and orders that cannot work."""

from dataclasses import replace
from functools import cache
from math import atan2, degrees, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.checks import Check
from hangpost.generators.errands import Meshing, errands
from hangpost.generators.hardware.design import Design
from hangpost.generators.pivots import kinematics
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.units import INCH
from hangpost.generators.swing import bodies_of, seated
from hangpost.generators.two_leaves import courses, opened, passing
from hangpost.generators.writers.mesh import Mesh
from hangpost.parts.bodies import Body
from hangpost.parts.crossing_plate import CrossingPlate
from hangpost.parts.part import Part

from .family import DOUBLE_LOCK, design, survey

CHORD = 0.02  # flat boxes have none; what the search itself may miss by


def two(more: str = "", **changes: object) -> Site:
    dotted = {key.replace("__", "."): value for key, value in changes.items()}
    return survey(leaves=2, more=more).site.changed(dotted)


@cache
def made_of(site: Site) -> Design:
    return design(site)


def measured(made: Design, **changes: float) -> Design:
    """The same hardware on leaves that measure otherwise."""
    values = {f"leaf.{n}.{key}": value for n in (1, 2) for key, value in changes.items()}
    return replace(made, site=made.site.changed(values))


def checks(made: Design, shelf: Shelf) -> dict[str, Check]:
    found, _ = passing(made, shelf.mesh)
    return {check.id.removeprefix("clearance: two leaves, "): check for check in found}


@given(
    st.floats(-600, -20), st.floats(40, 500), st.floats(500, 1500), st.floats(-60, 160),
    st.floats(-115, 115),
)  # fmt: skip
def test_angle_of_a_length_is_the_length_of_that_angle(
    px: float, py: float, gx: float, gy: float, angle: float
) -> None:
    between = degrees(atan2(py, px) - atan2(gy, gx)) - angle
    if not 1.0 < between < 179.0:
        return  # past dead centre
    length = float(kinematics.length(px, py, gx, gy, angle))

    assert kinematics.angle_of(px, py, gx, gy, length) == pytest.approx(angle, abs=1e-4)


@pytest.mark.parametrize("toward", ["actuator", "away"])
@pytest.mark.parametrize(("thickness", "offset"), [(51.0, 0.0), (160.0, 25.0), (160.0, -25.0)])
def test_the_corner_of_a_thick_leaf_sweeps_more_than_its_closed_length(
    thickness: float, offset: float, toward: str, shelf: Shelf
) -> None:
    """Closed form: the corner that crosses the line of the hinges is hypot(width, y) from its own."""
    made = made_of(survey(toward=toward, leaves=2).site)
    made = measured(made, thickness=thickness, axis_offset=offset)
    width, gap = float(made.site.leaf[0].width), float(made.site.meeting.gap)
    behind = thickness / 2 - offset if toward == "actuator" else thickness / 2 + offset
    radius = hypot(width, behind)
    found = checks(made, shelf)

    for name in ("right-hand leaf by itself", "left-hand leaf by itself"):
        assert found[name].value == pytest.approx(width + gap - radius, abs=CHORD)
    together = 2 * width + gap - 2 * radius  # both corners meet on the line
    assert found["both together"].value == pytest.approx(together, abs=CHORD)


def test_a_leaf_too_thick_for_its_gap_is_found(shelf: Shelf) -> None:
    thin = made_of(two(meeting__gap=4.0))
    thick = measured(thin, thickness=220.0)

    assert {c.status for c in checks(thin, shelf).values()} == {"pass"}
    assert "fail" in {c.status for c in checks(thick, shelf).values()}


def test_a_leaf_longer_than_measured_is_found(shelf: Shelf) -> None:
    made = made_of(two())
    first, second = made.leaves
    near = replace(made, leaves=(first, replace(second, shift=second.shift - 45.0)))

    assert {c.status for c in checks(made, shelf).values()} == {"pass"}
    found = checks(near, shelf)
    assert {c.status for c in found.values()} == {"fail"}
    assert "in one another" in found["both together"].what


def test_leaves_that_lap_need_their_delay(shelf: Shelf) -> None:
    held = checks(made_of(two(meeting__overlap=20.0)), shelf)
    at_once = checks(made_of(two(meeting__overlap=20.0, meeting__delay=0.0)), shelf)

    assert {c.status for c in held.values()} == {"pass"}
    assert list(held) == ["left-hand leaf by itself", "both together, one held back 3 s"]
    assert at_once["both together"].status == "fail"
    assert "lap strip" in at_once["both together"].what


@pytest.mark.parametrize(("speed", "fails"), [(1.0, False), (0.8, True)])
def test_a_slow_leaf_that_should_close_first_arrives_too_late(
    speed: float, fails: bool, shelf: Shelf
) -> None:
    """Opening is sound: the slow one only follows; closing it comes after the one it must stop."""
    site = two(meeting__overlap=20.0)
    made = made_of(site)
    first, second = made.leaves
    late = replace(first, mount=replace(first.mount, swing_time=first.mount.swing_time / speed))
    found = checks(replace(made, leaves=(late, second)), shelf)

    assert ("fail" in {c.status for c in found.values()}) == fails
    assert not fails or [n for n, c in found.items() if c.status == "fail"] == [
        "both closing, one held back 3 s"
    ]


def test_receiver_on_the_second_leaf_lets_the_first_out_first(shelf: Shelf) -> None:
    site = two(DOUBLE_LOCK)
    held, at_once = made_of(site), design(site.changed({"meeting.delay": 0.0}))

    assert {c.status for c in checks(held, shelf).values()} == {"pass"}
    fouled = checks(at_once, shelf)["both together"]
    assert fouled.status == "fail" and "left-hand lock receiver" in fouled.what
    assert "leaf 1 opens first and closes last" in " ".join(held.leaves[0].reasons)


@pytest.mark.parametrize("frame", ["round_tube", "square_tube"])
@pytest.mark.parametrize("off", [-4.0, 3.0])
def test_the_receiver_stands_over_the_middle_of_a_stile_beside_the_bolt(
    off: float, frame: str, shelf: Shelf
) -> None:
    """Its anchors go through a round stile's middle, the opening stays at the bolt.

    In a square one they keep 2.5 diameters to its edges, the round corner in it (house).
    """
    site = survey(leaves=2, frame=frame, more=DOUBLE_LOCK).site
    thick = float(site.leaf[1].thickness)
    made = design(site.changed({"lock.bolt_to_leaf_face": thick / 2 + off}))
    leaf = made.leaves[1]
    (placed,) = (p for p in leaf.placed if isinstance(p.item, CrossingPlate))
    plate, seat = placed.item, placed.frame
    assert isinstance(plate, CrossingPlate)
    middle = float(site.leaf[1].axis_offset)

    for u, v in plate.bolts:
        beside = abs(seat.point((u, v, 0.0))[1] - middle)
        if frame == "round_tube":
            assert beside == pytest.approx(0.0)
        edge = float(site.leaf[1].rail_depth) / 2 - beside
        assert edge >= 2.5 * 3 / 8 * INCH - 1e-9 or beside == pytest.approx(0.0)
    assert seat.point((0.0, 0.0, 0.0))[1] == pytest.approx(middle - off)
    rows = seated(leaf, bodies_of(leaf, shelf.mesh))
    latched = [row for row in rows if any("latch" in name or "cross" in name for name in row.pair)]
    assert latched and max(row.overlap for row in latched) < 30.0


def test_what_is_swung_past_each_other_is_foreseen(shelf: Shelf) -> None:
    """What nobody asked the second process for would load the CAD kernel into this one too."""
    made, asked = made_of(two()), set()

    def meshed(item: Part | Body) -> Mesh:
        asked.add(Meshing(item))
        return shelf.mesh(item)

    passing(made, meshed)
    assert asked and asked <= set(errands(made))


def test_what_closes_last_opens_first_and_only_that_is_held_back() -> None:
    """The lock's leaf shuts against the receiver's stop on the other; a lap is on the last one."""
    locked, lapped, free = two(DOUBLE_LOCK), two(meeting__overlap=20.0), two()
    other = two(meeting__overlap=20.0, meeting__first_to_close=2)

    assert [s.opens_first for s in (locked, lapped, other, free)] == [1, 2, 1, None]
    assert locked.delay > 0.0 and lapped.delay > 0.0 and free.delay == 0.0


def test_the_leaf_with_the_lock_cannot_close_first() -> None:
    with pytest.raises(SurveyError, match="first_to_close"):
        survey(leaves=2, gap='"1 1/2"\noverlap = "3/4"\nfirst_to_close = 1', more=DOUBLE_LOCK)


def test_courses_begin_closed_or_open_and_end_the_other_way() -> None:
    made = made_of(two(meeting__overlap=20.0))
    first, second = made.leaves
    made = replace(made, leaves=(first, replace(second, mount=replace(second.mount, swing_time=5))))
    for course in courses(made):
        end = course.ends(made.leaves)
        for number, leaf in enumerate(made.leaves):
            opening = leaf.mount.curve[-1].angle
            moves = course.starts[number] < end
            ways = (course.angle(made.leaves, number, t) for t in (0.0, end))
            shut, wide = sorted(ways, key=abs)
            assert shut == 0.0 and wide == (opening if moves else 0.0)
    assert opened(first, 0.5) == pytest.approx(
        kinematics.angle_of(
            *first.mount.post_pivot,
            *first.mount.leaf_pivot,
            (first.mount.closed_length + first.mount.open_length) / 2,
        )
    )
