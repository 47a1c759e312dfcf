"""What is drilled when, from where, and what must never be drilled: read off the sheets."""

from dataclasses import replace
from functools import cache
from itertools import product
from math import inf

import pytest

from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import Template
from hangpost.generators.hardware.picks import usual
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.survey.display import both
from hangpost.generators.writers.face import exit_face, flat_face
from hangpost.generators.writers.hole_marks import LAST, drill_words
from hangpost.generators.writers.installation_steps import steps
from hangpost.generators.writers.paper import PAPERS
from hangpost.generators.writers.template import template_book
from hangpost.generators.writers.views import looking
from hangpost.generators.writers.wrap import Wrap, faces

from .family import LOCK, SHOP, design, survey
from .template_faces import POST, STAMP, drilling

look = looking(cache(lambda part: part.solid()))


@cache
def made(**gate: str):
    """A gate of the family, designed; its one leaf."""
    return design(survey(**gate)).leaves[0]


@cache
def bolted(**gate: str):
    """The same with bolts through the post."""
    read = survey(**gate).site
    picks = replace(usual(SHOP), post_kind="hex bolt", post_size="3/8")
    return design_gate(read, SHOP, solve_gate(read, SHOP), [picks]).leaves[0]


def sheet(leaf, id: str) -> Template:
    return next(t for t in leaf.templates if t.id == id)


def told(leaf, units: str = "in") -> dict[str, str]:
    """What each step says, by its heading."""
    hung = design(survey()).site.leaves[0]
    return {s.heading: " ".join(s.words) for s in steps(leaf, hung, look, units)}


@pytest.mark.parametrize("post", ["timber", "square_steel"])
def test_round_holes_beside_slots_are_drilled_last_through_the_bracket(post):
    leaf = made(post=post)
    holes = sheet(leaf, "post-face").holes
    first = {h.name for h in holes if h.slot_length}
    last = {h.name for h in holes if h.last}

    assert first and last and first.isdisjoint(last) and len(first | last) == len(holes)
    said = told(leaf)
    before, after = said["Drill the posts"], said["Mount the post bracket"]
    assert f"leave {', '.join(h.name for h in holes if h.last)}" in before
    drilled, kept = before.split("post-face: leave")
    assert all(name in drilled and name not in kept for name in first)
    assert f"Now drill through the bracket {', '.join(h.name for h in holes if h.last)}" in after


@pytest.mark.parametrize("toward", ["actuator", "away"])
def test_the_leaf_is_drilled_when_the_actuator_is_tied_and_not_before(toward):
    leaf = made(toward=toward)
    said = told(leaf)
    mount, slots = leaf.mount, sheet(leaf, "leaf-face").holes
    tying = said["Tie the actuator, then drill the leaf"]
    tied = min(mount.open_length, mount.closed_length)

    assert "leaf-face" not in said["Drill the posts"]
    assert f"until {both(tied, 'in')} is left from pin to pin" in tying
    travel = max(h.slot_length for h in slots)
    # drilled from paper, the bracket is slid to the same length; slots give half either way
    assert f"{both(travel / 2, 'in')} either way, until pin to pin is {both(tied, 'in')}" in tying


def test_a_bracket_without_slots_is_never_drilled_from_paper_alone():
    leaf = made(frame="timber")
    assert all(h.last for h in sheet(leaf, "leaf-face").holes)
    tying = told(leaf)["Tie the actuator, then drill the leaf"]
    assert "Never drill the leaf from leaf-face alone" in tying
    (front, *_) = faces(sheet(leaf, "leaf-face"), "in")
    assert any("clamp the bracket first" in remark for remark in front.remarks)


def test_the_pin_of_the_post_bracket_is_placed_by_two_sizes_from_the_hinge_axis():
    for toward in ("actuator", "away"):
        leaf = made(toward=toward)
        px, py = leaf.mount.post_pivot
        side = "behind the hinge axis, away from" if px < 0 else "past the hinge axis, towards"
        said = told(leaf)["Mount the post bracket"]
        assert f"{both(abs(px), 'in')} {side} the latch, and {both(py, 'in')} from" in said


def test_a_blind_hole_has_no_exit():
    """A pocket for a lock's bolt ends in the post: nothing is drilled behind it."""
    blind = (*POST.holes, drilling("L", 70.0, 0.0, 24.0, depth=17.0))
    flat = replace(POST, holes=blind)
    assert "L" in [m.hole.name for m in flat_face(flat, "in").marks]
    assert "L" not in [m.hole.name for m in exit_face(flat, "in").marks]
    wrapped = Wrap(replace(flat, wrap_diameter=141.0, edges=(), edge_names=()))
    names = [h.name for h in wrapped.holes]
    assert "L" in names and "Lx" not in names and names.count("Ax") == 1
    only = replace(POST, holes=blind[-1:])
    assert [f.kind for f in faces(only, "in")] == ["entry"]


def test_the_pocket_of_a_lock_on_a_round_post_is_told_with_its_depth_on_its_mark():
    lock = LOCK.format(kind="round_steel", size="4").replace('throw = "1 1/2"', 'throw = "2 1/2"')
    latch = sheet(made(more=lock), "latch-face")
    pocket = next(h for h in latch.holes if h.name == "L")
    book = template_book([latch], STAMP, PAPERS["a3"])
    words = [i.text for s in book.sheets for i in s.items if hasattr(i, "text")]
    assert f"{both(pocket.depth, 'in')} deep" in words and "Lx" not in words
    # a bit that is at hand, in sixteenths, and the lock's bolt of 5/8 in goes in
    assert pocket.diameter * 16 / 25.4 == pytest.approx(round(pocket.diameter * 16 / 25.4))
    assert 5 / 8 * 25.4 < pocket.diameter < 5 / 8 * 25.4 + 10.0


@pytest.mark.parametrize("height", ["25", "24 3/4", "25 1/4"])
@pytest.mark.parametrize("frame", ["square_tube", "round_tube"])
def test_the_datum_of_a_leaf_is_where_the_sheet_says_when_the_rail_is_off_the_pins(height, frame):
    """Rail at 25 in; pins beside it: the holes lie on the rail, the datum on the pins' height."""
    leaf = design(_with_pins_at(height, frame)).leaves[0]
    face = sheet(leaf, "leaf-face")
    off = 25 * 25.4 - leaf.mount.height
    assert all(h.v == pytest.approx(off, abs=0.01) for h in face.holes)
    assert face.height == pytest.approx(leaf.mount.height)
    if abs(off) < 0.05:
        assert face.datum.startswith("rail's")
    else:
        way = "below" if off > 0 else "above"
        assert face.datum.startswith(f"{both(abs(off), 'in')} {way} the rail's")
    low, high = face.outline.bounds[1], face.outline.bounds[3]
    assert low >= off - 25.4 - 0.01 and high <= off + 25.4 + 0.01  # a rail of 2 in


def _with_pins_at(height: str, frame: str):
    """The starter's gate with its pins at a height; `height` alone would change the leaf's too."""
    from hangpost.generators.survey.reading import survey_from_bytes

    text = survey(frame=frame).text
    head, tail = text.rsplit("\nheight = ", 1)
    return survey_from_bytes(
        f'{head}\nheight = "{height}"\n{tail.split(chr(10), 1)[1]}'.encode(), file="site.toml"
    )


def test_slots_are_told_not_to_be_cut_and_what_is_last_is_marked_so():
    slotted = (*POST.holes[:4], *(drilling(n, 43.0, v) for n, v in (("Y", 10.0), ("Z", -10.0))))
    post = replace(POST, holes=tuple(replace(h, last=not h.slot_length) for h in slotted))
    for face in faces(post, "mm"):
        assert any("Do not cut them here" in r for r in face.remarks)
        assert any("Drill A, B, C, D first; Y, Z last" in r for r in face.remarks)
    book = template_book([post], STAMP, PAPERS["a4"])
    words = [i.text for s in book.sheets[:1] for i in s.items if hasattr(i, "text")]
    assert words.count(LAST) == 2
    table = [i.text for s in book.sheets for i in s.items if hasattr(i, "text")]
    assert table.count("last") == 4 and table.count("first") == 8  # entry and exit


def test_an_exit_face_is_not_called_by_the_name_of_the_entry_face():
    front, back = flat_face(POST, "in"), exit_face(POST, "in")
    assert front.title == POST.face
    assert "EXIT FACE" in back.title and "towards the actuator" not in back.title


def test_a_leaning_post_is_checked_as_it_was_surveyed_and_not_for_plumb():
    leaf = made()
    plumb = design(survey()).site.leaves[0]
    lean = "{ toward_leaf = 0.5, toward_actuator = -0.7 }"
    leaning = design(survey(lean=lean)).site.leaves[0]
    said = [" ".join(steps(leaf, hung, look, "mm")[0].words) for hung in (plumb, leaning)]
    assert said[0].startswith("Post plumb both ways,")
    assert said[1].startswith(
        "Post leaning as surveyed, 0.5° towards the leaf and 0.7° away from the actuator side,"
    )


def test_what_is_said_of_parts_of_the_bracket_is_not_said_for_those_of_the_lock():
    """A welded bracket has no saddles, whatever holds the receiver on its round latch post."""
    lock = LOCK.format(kind="round_steel", size="4")
    said = told(made(post="round_steel", fixing='"weld"', more=lock))["Mount the post bracket"]
    assert "saddle" not in said.lower() and "plate washer" not in said
    assert "Weld:" in said and "jig" in said and "SAF-12" in said
    clamped = told(made(post="round_steel", more=lock))["Mount the post bracket"]
    assert "bracket, saddle block, post, saddle block" in clamped and "Weld:" not in clamped


LEANING = {"post": "timber", "lean": "{ toward_leaf = 0.5, toward_actuator = -0.7 }"}
SADDLED = {"post": "round_steel", "fixing": '"saddle"'}
KINDS = {"bracket": "post bracket angle", "plate washer where the hole is a slot": "plate washer"}


def reach(leaf, kind: str, *, behind: bool) -> float:
    """How far from the heads the pieces of a kind reach along a post's bolts, which run in -y."""
    if kind == "post":
        paper = next(t for t in leaf.templates if not t.tied)
        return (paper.wrap_diameter or paper.depth) - leaf.mount.post_face
    found = []
    for each in leaf.placed:
        of_kind = kind == getattr(each.item, "kind", "") and each.rides == "ground"
        if of_kind and ("behind" in each.name) is behind:
            found += [each.frame.point(c)[1] for c in product(*zip(*each.item.box, strict=True))]
    return -min(found, default=inf)


@pytest.mark.parametrize("gate", [{"post": "timber"}, {"post": "square_steel"}, LEANING, SADDLED])
def test_pieces_are_told_in_the_order_in_which_a_bolt_goes_through_them(gate):
    """Each piece reaches farther from the bolt's head than the one that is named before it."""
    leaf = bolted(**gate)
    words = told(leaf)["Mount the post bracket"].split("from its head: ")[1].split(".")[0]
    named = [word for word in words.split(", ") if word != "thick end as marked"]
    assert named[0] == "washer" and named[-2:] == ["washer", "nut"]

    kinds = [KINDS.get(word, word) for word in named[1:-2]]
    past = [reach(leaf, k, behind=k in kinds[:n]) for n, k in enumerate(kinds)]

    assert "post" in kinds and past == sorted(past)
    assert len(set(past)) == len(past)


@pytest.mark.parametrize("gate", [{"post": "timber"}, {"post": "square_steel"}, LEANING, SADDLED])
def test_a_bolt_through_a_post_is_the_shortest_that_its_nut_is_on(gate):
    """1.2 d of self-locking nut (ASME B18.16.6, ISO 7040; memory), and a thread or more past it."""
    leaf = bolted(**gate)
    post = next(each for each in leaf.fixings if each.name == "post")
    last = max(
        reach(leaf, k, behind=k == "saddle block") for k in ("saddle block", "backing plate")
    )
    held = (
        post.seat.origin[1]
        + post.over
        - post.under
        + last
        + 2 * post.fastener.head.washer_thickness
    )
    lengths = SHOP.fasteners.lengths("bolt", post.fastener.size)

    nut = 1.2 * post.fastener.diameter + 25.4 / 16  # 16 threads an inch on 3/8 in (ASME B1.1)
    assert post.fastener.length == min(each for each in lengths if each - held > nut)


def test_a_drill_that_is_a_fraction_is_told_without_a_difference():
    assert drill_words("drill", 11.1125, "in") == "drill 7/16 in = Ø11.11 mm"
    assert drill_words("drill", 11.0, "mm") == "drill Ø11 mm = 7/16 in (+0.11 mm)"


@pytest.mark.parametrize("post", ["timber", "square_steel"])
def test_the_sheet_of_a_leaning_flat_post_hangs_plumb_and_not_by_the_edge(post):
    """The seats stand plumb on their wedges: over 300 mm an edge that leans 1 degree is 5 mm off."""
    said = [
        " ".join(flat_face(sheet(made(post=post, **lean), "post-face"), "mm").remarks)
        for lean in ({}, {"lean": "{ toward_leaf = 1.0, toward_actuator = 0.0 }"})
    ]
    assert "hang the sheet plumb" not in said[0]
    assert "hang the sheet plumb" in said[1] and "drill level" in said[1]
