"""The choice of stock: it passes, nothing lighter that was tried does, limits are kept and told."""

from dataclasses import replace

import pytest

from hangpost.generators.hardware.build import design_gate, leaf_kit
from hangpost.generators.hardware.design import Design
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.hardware.head_room import room_over_heads
from hangpost.generators.hardware.slots import needed
from hangpost.generators.judging import trials
from hangpost.generators.judging.candidates import NECKS, Job
from hangpost.generators.judging.choose import choose, with_reasons
from hangpost.generators.judging.judge import judge_leaf
from hangpost.generators.judging.stock import Stock, StockError
from hangpost.generators.judging.trials import search, trial
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.reading import survey_from_bytes
from hangpost.generators.survey.site import Site
from hangpost.generators.survey.starter import starter
from hangpost.generators.swing import bodies_of, swung

from .family import design, survey
from .judged_gates import SHOP, demo, solved


def job(site: Site | None = None) -> Job:
    site = site or demo()
    (problem, mount), *_ = solve_gate(site, SHOP)
    return Job(site=site, shop=SHOP, hung=site.leaves[0], problem=problem, mount=mount)


def whole(site: Site) -> Design:
    found = solve_gate(site, SHOP)
    chosen = choose(site, SHOP, found)
    return with_reasons(design_gate(site, SHOP, found, [c.picks for c in chosen]), chosen)


def test_the_example_passes_every_check() -> None:
    design = whole(demo())
    checks = judge_leaf(demo(), SHOP, demo().leaves[0], design.leaves[0])

    assert [c.id for c in checks if c.status == "fail"] == []
    assert any("lightest of" in reason for reason in design.leaves[0].reasons)


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("leaves", [1, 2])
@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_starters_on_timber_pass_every_check(units: str, leaves: int, toward: str) -> None:
    text = starter(units=units, post="timber", toward=toward, leaves=leaves)
    site = survey_from_bytes(text.encode(), file="x.toml").site
    design = whole(site)
    for hung, leaf in zip(site.leaves, design.leaves, strict=True):
        checks = judge_leaf(site, SHOP, hung, leaf)
        assert [c.id for c in checks if c.status == "fail"] == []


@pytest.mark.parametrize("end", ["post", "leaf"])
def test_nothing_lighter_that_was_tried_passes(end: str) -> None:
    best, tried = search(job(), end, Stock.of(SHOP))

    assert best.passed
    assert best.whole
    assert all(one.mass >= best.mass for one in tried if one.whole)
    assert any(one.mass < best.mass for one in tried if not one.passed)


def test_lighter_bolts_that_allow_only_shorter_slots_are_not_taken() -> None:
    best, tried = search(job(), "leaf", Stock.of(SHOP))
    asked = needed(job().mount, best.picks, "leaf")
    at = job()
    kit = leaf_kit(at.hung, SHOP, at.problem, at.mount, best.picks)
    slots = [h.slot_length for f in kit.fixings for _, h in f.holes if h.slot_length]

    assert asked is not None
    assert min(slots) >= asked
    assert all(one.short for one in tried if one.passed and one.mass < best.mass)


def test_where_no_usual_neck_holds_and_spares_the_pin_one_between_them_is_taken() -> None:
    """A higher neck is stronger and bends the pin more: between too weak and too high is room."""
    at = replace(job(), hung=demo().changed({"actuator.thrust": 3000.0}).leaves[0])
    best, tried = search(at, "leaf", Stock.of(SHOP, ["3/8 in plate"]))
    usual = [one for one in tried if one.picks.leaf_neck in NECKS]
    short = {one.worst.id.rpartition("bracket ")[2] for one in usual if one.worst}

    assert best.whole and min(NECKS) < best.picks.leaf_neck < max(NECKS)
    assert not any(one.passed for one in usual)
    assert {"neck bending", "pin shear and bending"} <= short


def test_bolts_in_the_way_of_the_actuator_s_body_are_not_taken(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    free, _ = search(job(), "leaf", Stock.of(SHOP))
    bolts = SHOP.fasteners.bolts
    roomy = bolts[bolts.index(free.picks.leaf_size) + 1]
    rooms = dict.fromkeys(bolts, 9.9) | {roomy: 10.3}

    def room(problem: object, mount: object, fixings: tuple[Fixing, ...]) -> float:
        return rooms[fixings[0].fastener.size]

    monkeypatch.setattr(trials, "room_over_heads", room)
    best, tried = search(job(), "leaf", Stock.of(SHOP))

    assert best.whole
    assert best.picks.leaf_size == roomy
    assert all(one.tight for one in tried if one.passed and one.picks.leaf_size != roomy)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_room_over_the_heads_is_what_the_sweep_of_the_meshes_finds(toward: str, hand: str) -> None:
    leaf = design(survey(toward=toward, hand=hand)).leaves[0]
    swept = swung(leaf, bodies_of(leaf, Shelf().mesh), 2.0)
    (least,) = (c.least for c in swept if c.pair == ("actuator body", "leaf hex bolts"))

    assert room_over_heads(leaf.problem, leaf.mount, leaf.fixings) == pytest.approx(least, abs=0.4)


def test_the_same_site_gives_the_same_choice() -> None:
    site, found = solved()

    assert choose(site, SHOP, found) == choose(site, SHOP, found)


def test_more_reserve_never_makes_it_lighter() -> None:
    masses = []
    for reserve in (1.0, 1.1, 1.3):
        shop = SHOP.model_copy(update={"reserve": reserve})
        masses.append(search(replace(job(), shop=shop), "post", Stock.of(shop))[0].mass)

    assert masses == sorted(masses)


def test_stock_limits_the_plate_and_says_what_would_do() -> None:
    site, found = solved()
    (chosen,) = choose(site, SHOP, found, ["3/16 in plate"])

    assert chosen.picks.post_plate.thickness == pytest.approx(3 / 16 * 25.4)
    assert chosen.picks.leaf_plate.thickness == pytest.approx(3 / 16 * 25.4)
    assert not chosen.passed
    told = " ".join(chosen.reasons)
    assert "% over" in told and "With the whole stock" in told


def test_what_the_stock_lacks_is_told_apart_with_what_would_do() -> None:
    site, found = solved()
    (chosen,) = choose(site, SHOP, found, ["3/16 in plate"])
    (fine,) = choose(site, SHOP, found)

    assert fine.passed and fine.short == ()
    assert set(chosen.short) <= set(chosen.reasons)
    asked = [words for words in chosen.short if 'Nothing of the stock "3/16 in plate"' in words]
    assert asked and all(" % over (" in words and "at most" in words for words in asked)
    helped = [words for words in chosen.short if words.startswith("With the whole stock")]
    assert len(helped) == len(asked)


def test_lag_screws_alone_leave_nothing_for_a_steel_post() -> None:
    text = starter(post="square_steel")
    site = survey_from_bytes(text.encode(), file="x.toml").site
    with pytest.raises(StockError, match="timber only"):
        choose(site, SHOP, solve_gate(site, SHOP), ["1/2 lag screws"])


def test_stock_limits_the_fasteners() -> None:
    stock = Stock.of(SHOP, ["1/2 lag screws", "3/8 in plate"])

    assert stock.post == (("lag screw", "1/2"),)
    assert [round(float(p.thickness), 3) for p in stock.plates] == [9.525]
    assert stock.leaf == SHOP.fasteners.bolts  # the leaf's bolts were not spoken of
    assert Stock.of(SHOP, ["1/2 in bolts"]).post == (("hex bolt", "1/2"),)
    assert Stock.of(SHOP, ["1/2 in bolts"]).leaf == ("1/2",)


@pytest.mark.parametrize("words", ["17 mm plate", "M33 bolts", "plate", "1/4 in sheet", "x plate"])
def test_a_limit_that_names_nothing_is_refused(words: str) -> None:
    with pytest.raises(StockError, match="--stock"):
        Stock.of(SHOP, [words])


def test_what_cannot_be_made_is_refused_and_not_an_error() -> None:
    one = job()
    best, _ = search(one, "post", Stock.of(SHOP))
    wide = trial(one, "post", replace(best.picks, post_size="3/4"))  # 4 D to both edges: no room

    assert wide.refused
    assert not wide.passed


@pytest.mark.parametrize("end", ["post", "leaf"])
def test_what_is_passed_over_is_no_better_than_what_was_tried(
    end: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With ears that fail everywhere only some fasteners are tried: the answer is that of all."""
    one = job(demo().changed({"actuator.thrust": 40_000.0}))
    best, tried = search(one, end, Stock.of(SHOP))
    monkeypatch.setattr(trials, "_of_the_ears", lambda check: False)
    every, more = search(one, end, Stock.of(SHOP))

    assert not best.passed
    assert len(tried) < len(more) if end == "leaf" else len(tried) <= len(more)
    assert (best.picks, best.over) == (every.picks, pytest.approx(every.over))
