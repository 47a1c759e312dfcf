"""The pivot map: its region is what the search calls usable, its edges are what stops there."""

import re
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from math import hypot, isclose
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely import Point, Polygon

from hangpost.generators.pivots.constraints import CONSTRAINTS, margins
from hangpost.generators.pivots.contours import length, middle
from hangpost.generators.pivots.excluding import exclude
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.pivots.linear import propagate, worst_spare
from hangpost.generators.pivots.map_fields import FAR
from hangpost.generators.pivots.map_svg import map_svg
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.pairs import tie
from hangpost.generators.pivots.pivot_map import PivotMap, pivot_map
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.pivots.search import ranges
from hangpost.generators.pivots.solve import solve
from hangpost.generators.pivots.ways_out import NoPivots, no_pivots
from hangpost.generators.survey.reading import site_from_bytes
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.starter import starter

CELL = 2.0  # mm; more than a cell of the maps below


@cache
def mapped(toward: str) -> tuple[Problem, Mount, PivotMap]:
    site = site_from_bytes(starter(units="mm", toward=toward).encode())
    problem, mount = solve_gate(site, Shop())[0]
    assert mount.sure is not None
    return problem, mount, pivot_map(problem, mount.sure.sources, mount)


@cache
def hopeless() -> NoPivots:
    problem, _, _ = mapped("actuator")
    return no_pivots(replace(problem, opening=125.0))


def worst_margins(problem: Problem, x: np.ndarray, y: np.ndarray) -> dict[str, np.ndarray]:
    angles = tuple(float(a) for a in swing(problem.direction, problem.opening, problem.opening / 6))
    return margins(problem, tie(problem, x, y), angles)


def polygons(found: PivotMap) -> list[Polygon]:
    return [Polygon(outline) for outline in found.outlines]


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_inside_the_outline_every_constraint_is_kept_and_outside_one_is_not(toward: str) -> None:
    """GEO-05: the region of usable post pivots."""
    problem, _, found = mapped(toward)
    chance = np.random.default_rng(5)
    x, y = chance.uniform(*found.across, 3000), chance.uniform(*found.along, 3000)
    left = worst_margins(problem, x, y)
    least = np.nanmin(np.stack([np.nan_to_num(v, nan=-1e9) for v in left.values()]), axis=0)
    regions = polygons(found)
    judged = 0
    for px, py, margin in zip(x, y, least, strict=True):
        at = Point(px, py)
        if any(region.exterior.distance(at) < CELL for region in regions):
            continue
        judged += 1
        assert any(region.contains(at) for region in regions) is bool(margin >= -1e-6)

    assert judged > 2000
    assert isclose(found.area, sum(region.area for region in regions), rel_tol=1e-6)


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_each_edge_carries_the_name_of_what_fails_beyond_it(toward: str) -> None:
    problem, _, found = mapped(toward)
    assert len({edge.name for edge in found.edges}) >= 3

    for edge in found.edges:
        if length(edge.line) < 4.0 * CELL:
            continue
        at = middle(edge.line)
        a, b = min(
            pairwise(edge.line),
            key=lambda s: hypot((s[0][0] + s[1][0]) / 2 - at[0], (s[0][1] + s[1][1]) / 2 - at[1]),
        )
        run = hypot(b[0] - a[0], b[1] - a[1])
        out = ((b[1] - a[1]) / run, -(b[0] - a[0]) / run)  # the region lies to the left
        x, y = np.array([at[0] + 2.0 * out[0]]), np.array([at[1] + 2.0 * out[1]])
        left = worst_margins(problem, x, y)

        assert not float(left[edge.name][0]) >= 0.0, edge.name
    assert set(found.idle).isdisjoint(edge.name for edge in found.edges)
    assert set(found.idle) | {e.name for e in found.edges} == {c.name for c in CONSTRAINTS}


def test_chosen_safest_and_runners_up_lie_in_the_region_and_the_chosen_where_it_is_sure() -> None:
    for toward in ("actuator", "away"):
        _, mount, found = mapped(toward)
        regions = polygons(found)
        for mark in found.marks:
            assert min(region.distance(Point(mark.at)) for region in regions) < 0.5, mark
        chosen = next(mark for mark in found.marks if mark.kind == "chosen")
        assert chosen.at == mount.post_pivot
        assert "safest" in chosen.words
        assert any(Polygon(ring).contains(Point(chosen.at)) for ring in found.sure)
        assert len([m for m in found.marks if m.kind == "runner-up"]) == len(mount.runners_up)


def test_where_it_is_sure_the_worst_case_has_something_left() -> None:
    problem, mount, found = mapped("actuator")
    assert mount.sure is not None
    chance = np.random.default_rng(2)
    x, y = chance.uniform(*found.across, 2000), chance.uniform(*found.along, 2000)
    worst = worst_spare(problem, propagate(problem, tie(problem, x, y), mount.sure.sources))
    sure = [Polygon(ring) for ring in found.sure]
    inside = np.array(
        [any(s.buffer(-CELL).contains(Point(p)) for s in sure) for p in zip(x, y, strict=True)]
    )

    assert inside.sum() > 50
    assert (worst[inside] >= 0.0).all()


def test_leverage_lines_carry_their_leverage() -> None:
    problem, _, found = mapped("actuator")
    assert len(found.levels) >= 3

    for level in found.levels:
        for line in level.lines:
            x, y = (np.array(v) for v in zip(*line, strict=True))
            least = worst_margins(problem, x, y)["leverage"] + problem.needed_leverage
            near = np.abs(level.leverage - problem.needed_leverage) < FAR
            # Between grid lines 1 to 2 mm apart the least of two leverages has a corner.
            assert not near or float(np.median(np.abs(least - level.leverage))) < 0.05


def test_fixed_post_pivot_is_shown_among_the_places_it_might_have_had() -> None:
    problem, mount, found = mapped("actuator")
    x, y = mount.post_pivot
    held = replace(problem, fixed=replace(problem.fixed, px=x, py=y))
    again = pivot_map(held, (), solve(held))

    # One mark instead of seven gives a window of its own, so its grid lies elsewhere.
    assert isclose(again.area, found.area, rel_tol=0.02)


def test_same_gate_gives_the_same_drawing() -> None:
    problem, mount, found = mapped("actuator")
    assert mount.sure is not None
    again = pivot_map(problem, mount.sure.sources, mount)

    assert map_svg(again, problem, "a gate") == map_svg(found, problem, "a gate")


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_drawing_is_xml_that_names_every_edge_and_mark(toward: str) -> None:
    problem, mount, found = mapped(toward)
    text = map_svg(found, problem, "Müller & <son>")
    root = ElementTree.fromstring(text)
    said = " ".join("".join(node.itertext()) for node in root.iter() if node.tag.endswith("text"))

    for edge in found.edges:
        assert edge.name in said
    assert "chosen" in said and "runner-up 1" in said and "Müller & <son>" in said
    assert f"{mount.leverage_least:.0f}" in said
    assert "nan" not in text and "inf" not in text.replace("information", "")


def test_hopeless_gate_shows_what_excludes_what() -> None:
    stop = hopeless()
    found = pivot_map(stop.problem, nearest=stop.best[:2], excluding=stop.excluding)
    text = map_svg(found, stop.problem, "hopeless")
    said = " ".join(
        "".join(n.itertext()) for n in ElementTree.fromstring(text).iter() if n.tag.endswith("text")
    )

    assert not found.outlines
    assert found.excluding == stop.excluding
    assert len(found.excluding) >= 2
    for name in found.excluding:
        assert f"{name} kept" in said or not next(k for k in found.kept if k.name == name).outlines
    assert "nearest miss" in said
    assert " and ".join(found.excluding) in " ".join(found.sentences())


def test_constraints_that_exclude_each_other_are_kept_together_nowhere_and_fewer_are() -> None:
    stop = hopeless()
    chance = np.random.default_rng(11)
    (x0, x1), (y0, y1) = ranges(stop.problem)
    x, y = chance.uniform(x0 - 300, x1 + 300, 40_000), chance.uniform(y0, y1 + 300, 40_000)
    left = margins(stop.problem, tie(stop.problem, x, y), (0.0, stop.problem.opening))
    kept = {name: left[name] >= -1e-6 for name in stop.excluding}

    assert not np.logical_and.reduce(list(kept.values())).any()
    for some in combinations(stop.excluding, len(stop.excluding) - 1):
        assert np.logical_and.reduce([kept[name] for name in some]).any()


def test_exclude_names_the_smallest_set_and_nothing_when_there_is_a_place() -> None:
    fields = {
        "a": np.array([1.0, -1.0, 1.0, -1.0]),
        "b": np.array([-1.0, 1.0, 1.0, 1.0]),
        "c": np.array([1.0, 1.0, -2.0, 1.0]),
        "d": np.array([1.0, 1.0, 1.0, np.nan]),
    }

    assert exclude(fields) == ("a", "b", "c")
    assert exclude({**fields, "c": np.ones(4)}) == ()
    assert exclude({**fields, "e": np.full(4, -3.0)}) == ("e",)


def test_ways_out_are_ranked_and_each_is_verified() -> None:
    problem, _, _ = mapped("actuator")
    stop = no_pivots(replace(problem, opening=104.0))
    assert stop.ways_out

    efforts = [way.effort for way in stop.ways_out]
    assert efforts == sorted(efforts)
    for way in stop.ways_out:
        if way.change == "opening":
            again = solve(replace(stop.problem, opening=way.new))
            assert all(row.satisfied for row in again.rows)
    assert stop.data()["excluding"] == list(stop.excluding)


def test_maps_on_one_page_share_no_id_and_each_finds_its_own() -> None:
    ids: list[set[str]] = []
    for toward in ("actuator", "away"):
        problem, _, found = mapped(toward)
        drawn = map_svg(found, problem, "gate")
        own = set(re.findall(r'\bid="([^"]+)"', drawn))
        used = set(re.findall(r"url\(#([^)]+)\)", drawn))
        assert used
        assert used <= own
        ids.append(own)

    assert len(ids[0]) > 3
    assert not ids[0] & ids[1]


def test_who_works_in_inches_reads_them_first_where_there_are_no_pivots() -> None:
    problem, _, _ = mapped("actuator")
    narrow = replace(problem, opening=125.0)
    said = {units: str(no_pivots(narrow, briefly=True, units=units)) for units in ("mm", "in")}

    assert re.search(r"\d mm \([\d /]+ in\)", said["mm"])
    assert not re.search(r"\d mm \(", said["in"]) and re.search(r"\d in \([\d.]+ mm\)", said["in"])
